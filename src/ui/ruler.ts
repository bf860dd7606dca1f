import { listenRail } from "../input/rail.ts";
import { fixed } from "../view/format.ts";
import { marksOf, type Post, spacedPosts } from "../view/ruler.ts";
import { h, keyed, s, setAttr, setText } from "./dom.ts";

export interface RulerSpec {
  name: string;
  term: string;
  min: number;
  max: number;
  every: number;
  between: number;
  digits: number;
  unit: string;
  /** in front of every number */
  prefix?: string;
  /** steps of the keyboard: arrow, shift, page */
  step: number;
  fine: number;
  /** small ruler on one line: no numbers below */
  small?: boolean;
  onChange(value: number, phase: "move" | "end" | "cancel" | "key"): void;
}

interface RulerState {
  value: number;
  posts: readonly Post[];
  /** from here on something gives; null: nothing on this ruler */
  givesFrom: number | null;
  /** the last load that has an answer, when the present one has none */
  hollowAt: number | null;
  valueWords: string;
  /** how far the first post may be from where it stands; null: nothing is known of it */
  band?: { low: number; high: number } | null;
  /** what happens where the value was stopped short of the hand; null: it was not */
  endWords?: string | null;
}

export interface Ruler {
  el: HTMLElement;
  line: SVGSVGElement;
  update(state: RulerState): void;
}

const PAD = 7;
const BOB = "M0 0 C-3 -6 -8.5 -11 -8.5 -19 C-8.5 -26 -4 -29 0 -29 C4 -29 8.5 -26 8.5 -19 C8.5 -11 3 -6 0 0Z";
/** half the width of the bob, px */
const BOB_HALF = 9;
const SMALL_BOB = "M0 -2 L-5.5 -13 L5.5 -13Z";

/** the band of a post lies so far above the rail, half as high as its caps, px */
const BRACKET_UP = 6;
const CAP = 3;
const bracket = (from: number, to: number, y: number): string =>
  `M${from.toFixed(1)} ${y}H${to.toFixed(1)}M${from.toFixed(1)} ${y - CAP}v${2 * CAP}M${to.toFixed(1)} ${y - CAP}v${2 * CAP}`;

/** A load as a ruler: a bob for its pointer, and posts at the loads at which something gives. */
export function createRuler(spec: RulerSpec): Ruler {
  const height = spec.small ? 24 : 70;
  const base = spec.small ? 16 : 40;
  const line = s("svg", {
    class: `ruler${spec.small ? " small" : ""}`,
    role: "slider",
    tabindex: 0,
    "aria-label": spec.name,
    "aria-valuemin": spec.min,
    "aria-valuemax": spec.max,
    height,
  });
  const ticks = s("path", { class: "ticks" });
  const rail = s("path", { class: "rail" });
  const gives = s("path", { class: "gives" });
  const numbers = s("g", { class: "numbers" });
  const posts = s("g", { class: "posts" });
  const halo = s("path", { class: "whisker-halo" });
  const whisker = s("path", { class: "whisker" });
  const hollow = s("path", { class: "bob hollow", d: BOB });
  const bob = s("path", { class: "bob", d: spec.small ? SMALL_BOB : BOB });
  const value = s("text", { class: "ruler-value", y: 6, "text-anchor": "middle" });
  line.append(ticks, rail, gives, posts, halo, whisker, numbers, hollow, bob);
  if (!spec.small) line.append(value);
  const el = h("div", { class: `ruler-box${spec.small ? " small" : ""}` }, line);
  let width = 0;
  let state: RulerState | null = null;
  let dragging = false;
  /** where the hand pulls, while it does */
  let handAt: number | null = null;
  const toX = (v: number): number => PAD + ((Math.max(spec.min, Math.min(spec.max, v)) - spec.min) / (spec.max - spec.min)) * Math.max(1, width - 2 * PAD);
  const toValue = (x: number): number => {
    const v = spec.min + ((x - PAD) / Math.max(1, width - 2 * PAD)) * (spec.max - spec.min);
    return Math.max(spec.min, Math.min(spec.max, Math.round(v / spec.fine) * spec.fine));
  };
  const measure = (words: string): number => words.length * 6.4;

  const layout = (): void => {
    line.setAttribute("viewBox", `0 -${spec.small ? 0 : 8} ${width} ${height}`);
    const marks = marksOf(spec.min, spec.max, spec.every, spec.between);
    ticks.setAttribute("d", marks.map((m) => `M${toX(m.at).toFixed(1)} ${base}v${m.long ? 9 : 5}`).join(""));
    rail.setAttribute("d", `M${PAD} ${base}H${width - PAD}`);
    keyed(
      numbers,
      spec.small ? [] : marks.filter((m) => m.long),
      (m) => m.at.toFixed(3),
      () => s("text", { "text-anchor": "middle", y: base + 21 }),
      (t, m, i) => {
        setAttr(t, "x", toX(m.at).toFixed(1));
        setText(t, `${spec.prefix ?? ""}${fixed(m.at, spec.every < 1 ? 1 : 0).replace(/\.0$/, "")}${i === 0 ? ` ${spec.unit}` : ""}`);
      },
    );
  };

  const draw = (): void => {
    if (!state || width === 0) return;
    const x = toX(state.value);
    const lost = state.hollowAt === null ? null : toX(state.hollowAt);
    const shownAt = lost ?? (state.endWords && handAt !== null ? toX(handAt) : null);
    setAttr(bob, "transform", `translate(${x.toFixed(1)} ${base})`);
    bob.classList.toggle("pale", lost !== null);
    hollow.classList.toggle("off", shownAt === null || Boolean(spec.small));
    if (shownAt !== null) setAttr(hollow, "transform", `translate(${shownAt.toFixed(1)} ${base})`);
    const words = state.endWords ? `${state.valueWords}, ${state.endWords}` : state.valueWords;
    // the longer words lean to the side that has room
    const anchor = !state.endWords ? "middle" : x > width / 2 ? "end" : "start";
    setAttr(
      value,
      "x",
      (anchor === "middle" ? Math.max(22, Math.min(width - 22, x)) : Math.max(0, Math.min(width, x + (anchor === "end" ? 22 : -22)))).toFixed(1),
    );
    setAttr(value, "text-anchor", anchor);
    setText(value, words);
    // what lies past an end is told by the words
    const within = Math.max(spec.min, Math.min(spec.max, state.value));
    setAttr(line, "aria-valuenow", String(Math.round(within * 1000) / 1000));
    setAttr(line, "aria-valuetext", words);
    const from = state.givesFrom;
    setAttr(gives, "d", from === null || from >= spec.max ? "" : `M${toX(from).toFixed(1)} ${base}H${width - PAD}`);
    const band = state.band && state.band.low <= spec.max ? bracket(toX(state.band.low), toX(state.band.high), base - BRACKET_UP) : "";
    setAttr(halo, "d", band);
    setAttr(whisker, "d", band);
    const hangs = [x, ...(shownAt === null ? [] : [shownAt])].map((at): [number, number] => [at - BOB_HALF, at + BOB_HALF]);
    const ahead = state.posts.filter((p) => p.at <= spec.max);
    const placed = spec.small ? [] : spacedPosts(ahead, toX, measure, width, hangs);
    keyed(
      posts,
      placed,
      (p) => p.post.words,
      () => s("g", {}, s("path"), s("text", { y: base - 17 })),
      (g, p) => {
        setAttr(g.firstElementChild as Element, "d", `M${p.x.toFixed(1)} ${base}V${base - (p.align ? 27 : 11)}`);
        const t = g.lastElementChild as Element;
        setAttr(t, "x", (p.align === "end" ? p.x - 5 : p.x + 5).toFixed(1));
        setAttr(t, "text-anchor", p.align ?? "start");
        setText(t, p.align ? p.post.words : "");
      },
    );
  };

  new ResizeObserver(() => {
    const w = el.clientWidth;
    if (w === width) return;
    width = w;
    layout();
    draw();
  }).observe(el);

  const hand = listenRail(line, {
    start: () => line.focus({ preventScroll: true }),
    to: (x, phase) => {
      dragging = phase === "move";
      const to = toValue(x - line.getBoundingClientRect().left);
      handAt = dragging ? to : null;
      spec.onChange(to, phase);
    },
  });
  line.addEventListener("keydown", (e) => {
    if (e.key === "Escape" && dragging) {
      dragging = false;
      handAt = null;
      hand.drop();
      spec.onChange(0, "cancel");
      return;
    }
    if (!state) return;
    const step = e.shiftKey || e.altKey ? spec.fine : spec.step;
    const next = {
      ArrowLeft: state.value - step,
      ArrowDown: state.value - step,
      ArrowRight: state.value + step,
      ArrowUp: state.value + step,
      PageUp: state.value + spec.every,
      PageDown: state.value - spec.every,
      Home: spec.min,
      End: spec.max,
    }[e.key];
    if (next === undefined) return;
    e.preventDefault();
    const value = Math.max(spec.min, Math.min(spec.max, Math.round(next / spec.fine) * spec.fine));
    // the next press may come before the next frame
    state = { ...state, value };
    spec.onChange(value, "key");
  });

  return {
    el,
    line,
    update(next) {
      state = next;
      draw();
    },
  };
}
