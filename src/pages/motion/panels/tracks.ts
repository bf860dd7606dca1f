import { scaleLinear } from "d3-scale";
import type { SaveKind } from "../../../ui/chart-tools.ts";
import { h, s, setAttr, setText } from "../../../ui/dom.ts";
import { createMeasure } from "../../../ui/overlay.ts";
import { withUnit } from "../../../view/format.ts";
import { limitShown, namingPlace, POST_GAP_PX, pathOf, postSides, rangeOf, runAt, type Track, type TracksModel } from "../picture/tracks.ts";
import { marginsOf } from "./scrubber.ts";
import { rowPicture } from "./track-picture.ts";
import { createTrackTools } from "./track-tools.ts";

export interface Tracks {
  el: HTMLElement;
  /** tables and files of the rows */
  tools: HTMLElement;
  update(model: TracksModel | null): void;
  at(timeS: number): void;
}

export interface TracksHooks {
  seek(clientX: number): void;
  /** a row as a picture of its own */
  saveRow(title: string, svg: SVGSVGElement, kind: SaveKind): void;
  saveRun(): void;
}

const NARROW_PX = 600;
const TOP = 20;
/** rows that share the height, and one more where throttle or brake is used */
const ROWS = 4;
const ROWS_MOST = 5;
const POST_SIZE_PX = 13;
const words = (t: Track, v: number): string => withUnit(v, t.digits, t.unit);

interface Row {
  group: SVGGElement;
  title: SVGTextElement;
  term: SVGTextElement;
  value: SVGTextElement;
  rule: SVGPathElement;
  limit: SVGPathElement;
  limitText: SVGTextElement;
  steady: SVGPathElement;
  steadyText: SVGTextElement;
  rival: SVGPathElement;
  pale: SVGPathElement;
  line: SVGPathElement;
  peak: SVGCircleElement;
  peakText: SVGTextElement;
  dot: SVGCircleElement;
  y: (v: number) => number;
  track: Track | null;
  past: boolean;
}

function makeRow(): Row {
  const row = {
    group: s("g", { class: "track" }),
    title: s("text", { class: "track-title" }),
    term: s("text", { class: "track-term" }),
    value: s("text", { class: "track-value" }),
    rule: s("path", { class: "track-rule" }),
    limit: s("path", { class: "track-limit" }),
    limitText: s("text", { class: "track-limit-text" }),
    steady: s("path", { class: "track-steady" }),
    steadyText: s("text", { class: "track-steady-text" }),
    rival: s("path", { class: "track-rival" }),
    pale: s("path", { class: "track-pale" }),
    line: s("path", { class: "track-line" }),
    peak: s("circle", { class: "track-peak", r: 4 }),
    peakText: s("text", { class: "track-peak-text" }),
    dot: s("circle", { class: "track-dot", r: 4 }),
    y: () => 0,
    track: null,
    past: false,
  };
  row.group.append(
    row.rule,
    row.limit,
    row.steady,
    row.rival,
    row.pale,
    row.line,
    row.limitText,
    row.steadyText,
    row.peak,
    row.peakText,
    row.dot,
    row.title,
    row.term,
    row.value,
  );
  return row;
}

/** The rows of the trace against one time axis, with the playhead through all of them. */
export function createTracks(hooks: TracksHooks): Tracks {
  const svg = s("svg", { class: "tracks", role: "img" });
  const posts = s("g", { class: "track-posts" });
  const head = s("path", { class: "track-head" });
  const rowsHome = s("g");
  const rivalName = s("text", { class: "track-rival-name" }, "B");
  svg.append(posts, rowsHome, rivalName, head);
  const el = h("div", { class: "tracks-box" }, svg);
  const measure = createMeasure(document.documentElement);
  const tools = createTrackTools({
    save: (key, kind) => {
      const i = model?.tracks.findIndex((t) => t.key === key) ?? -1;
      const track = model?.tracks[i];
      if (!model || !track) return;
      const high = rowHigh();
      const picture = rowPicture(svg, { row: i, top: TOP + i * high, high, width, endS: model.endS, x });
      el.append(picture);
      hooks.saveRow(`${track.title} ${model.wheel}`, picture, kind);
      picture.remove();
    },
    saveRun: () => hooks.saveRun(),
  });
  const rows = Array.from({ length: ROWS_MOST }, makeRow);
  /** px */
  const rowHigh = (): number => (height - TOP) / Math.max(ROWS, model?.tracks.length ?? 0);
  rowsHome.append(...rows.map((r) => r.group));
  let width = 0;
  let height = 0;
  let model: TracksModel | null = null;
  let now = 0;
  let x = (_t: number): number => 0;

  const drawRow = (row: Row, track: Track, top: number, high: number, wheel: string): void => {
    const narrow = width < NARROW_PX;
    const m = marginsOf(width);
    const range = rangeOf(track);
    row.track = track;
    const y = scaleLinear()
      .domain([range.min, range.max])
      .range([top + high - 9, top + (narrow ? 36 : 20)]);
    row.y = (v) => Math.max(top + 4, Math.min(top + high - 1, y(v)));
    const right = width - m.right;
    const textX = narrow ? m.left : 24;
    setAttr(row.title, "x", textX);
    setAttr(row.title, "y", top + (narrow ? 13 : high / 2 - 4));
    setText(row.title, track.title);
    setAttr(row.term, "x", textX);
    setAttr(row.term, "y", top + high / 2 + 12);
    setText(row.term, narrow ? "" : track.term || wheel);
    setAttr(row.value, "x", narrow ? right : textX);
    setAttr(row.value, "y", top + (narrow ? 13 : high / 2 + 30));
    setAttr(row.value, "text-anchor", narrow ? "end" : "start");
    setAttr(row.rule, "d", `M${narrow ? m.left : m.left} ${top + high}H${right}`);
    const inLimit = limitShown(track, range);
    const limitY = inLimit ? row.y(track.limit!) : 0;
    setAttr(row.limit, "d", inLimit ? `M${m.left} ${limitY.toFixed(1)}H${right}` : "");
    setText(row.limitText, inLimit ? `limit ${words(track, track.limit!)}` : "");
    setAttr(row.limitText, "x", m.left + 6);
    setAttr(row.limitText, "y", (limitY - 5).toFixed(1));
    const steadyY = track.steady === null ? 0 : row.y(track.steady);
    setAttr(row.steady, "d", track.steady === null ? "" : `M${m.left} ${steadyY.toFixed(1)}H${right}`);
    setText(row.steadyText, track.steady === null ? "" : `${words(track, track.steady)} steady`);
    setAttr(row.steadyText, "x", narrow ? right : right + 8);
    setAttr(row.steadyText, "y", (narrow ? steadyY - 4 : steadyY + 4).toFixed(1));
    setAttr(row.steadyText, "text-anchor", narrow ? "end" : "start");
    setAttr(row.line, "d", pathOf(track.line, x, row.y, 0, track.solidToS));
    setAttr(row.pale, "d", track.pale ? pathOf(track.pale, x, row.y, track.paleFromS, Number.POSITIVE_INFINITY) : "");
    setAttr(row.rival, "d", track.rival ? pathOf(track.rival, x, row.y, 0, Number.POSITIVE_INFINITY) : "");
    const p = track.peak;
    setAttr(row.peak, "display", p ? null : "none");
    row.past = p?.past ?? false;
    setText(row.peakText, p ? words(track, p.v) : "");
    if (p) {
      const px = x(p.t);
      const py = row.y(p.v);
      const low = track.steady !== null && p.v < track.steady;
      const toLeft = px > right - 60;
      setAttr(row.peak, "cx", px.toFixed(1));
      setAttr(row.peak, "cy", py.toFixed(1));
      setAttr(row.peakText, "x", (px + (toLeft ? -8 : 8)).toFixed(1));
      setAttr(row.peakText, "y", Math.max(top + 12, Math.min(top + high - 2, py + (low ? 14 : -3))).toFixed(1));
      setAttr(row.peakText, "text-anchor", toLeft ? "end" : "start");
    }
  };

  const drawPosts = (right: number): void => {
    const list = model?.posts ?? [];
    const sides = postSides(list, x, (text) => measure(text, POST_SIZE_PX, false), marginsOf(width).left, right);
    posts.replaceChildren(
      ...list.map((p, i) => {
        const at = x(p.t);
        const side = sides[i];
        const line = s("path", { d: `M${at.toFixed(1)} ${TOP - 14}V${height}` });
        if (!side) return s("g", { class: p.loud ? "loud" : "" }, line);
        const text = s("text", { x: (at + (side === "start" ? POST_GAP_PX : -POST_GAP_PX)).toFixed(1), y: TOP - 4, "text-anchor": side }, p.words);
        return s("g", { class: p.loud ? "loud" : "" }, line, text);
      }),
    );
  };

  const draw = (): void => {
    if (width < 60 || height < 60) return;
    setAttr(svg, "viewBox", `0 0 ${width} ${height}`);
    const m = marginsOf(width);
    const list = model?.tracks ?? [];
    const endS = model?.endS ?? 1;
    x = scaleLinear()
      .domain([0, Math.max(1e-6, endS)])
      .range([m.left, width - m.right]);
    const high = rowHigh();
    rows.forEach((row, i) => {
      const track = list[i];
      setAttr(row.group, "display", track ? null : "none");
      if (track) drawRow(row, track, TOP + i * high, high, model?.wheel ?? "");
      else row.track = null;
    });
    const named = namingPlace(list);
    const row = named && rows[named.row];
    setAttr(rivalName, "display", row ? null : "none");
    if (named && row) {
      const above = row.y(named.v) <= row.y(runAt(list[named.row]!.line, named.t) ?? named.v);
      setAttr(rivalName, "x", x(named.t).toFixed(1));
      setAttr(rivalName, "y", (row.y(named.v) + (above ? -5 : 14)).toFixed(1));
    }
    drawPosts(width - m.right);
    tools.update(
      model,
      list.map((_, i) => TOP + i * high),
      model?.whole ?? false,
    );
    setAttr(svg, "aria-label", model ? `Curves over time, ${model.wheel}. ${list.map(told).join(" ")}` : "Curves over time, none recorded yet");
    at();
  };
  const told = (t: Track): string =>
    `${t.title}: ${t.peak ? `peak ${words(t, t.peak.v)} at ${t.peak.t.toFixed(2)} s` : "no peak"}${t.steady === null ? "" : `, ${words(t, t.steady)} at rest`}${t.limit === null ? "" : `, limit ${words(t, t.limit)}`}.`;

  const at = (): void => {
    if (!model || width < 60) {
      setAttr(head, "d", "");
      return;
    }
    const px = x(now);
    setAttr(head, "d", `M${px.toFixed(1)} ${TOP - 14}V${height}`);
    for (const row of rows) {
      const { track } = row;
      if (!track) continue;
      const beyond = now > track.solidToS + 1e-9;
      const v = beyond ? (track.pale ? runAt(track.pale, now) : null) : runAt(track.line, now);
      setAttr(row.group, "class", `track${row.past ? " past" : ""}${beyond ? " beyond" : ""}`);
      // a row that has just lost its curve has no height for a value
      const y = v === null ? Number.NaN : row.y(v);
      setAttr(row.dot, "display", Number.isFinite(y) ? null : "none");
      if (Number.isFinite(y)) setAttr(row.dot, "transform", `translate(${px.toFixed(1)} ${y.toFixed(1)})`);
      setText(row.value, v === null ? "" : `${words(track, v)}${beyond ? " if it held" : ""}`);
    }
  };

  new ResizeObserver(() => {
    width = el.clientWidth;
    height = el.clientHeight;
    draw();
  }).observe(el);
  const showNear = (e: PointerEvent): void => {
    const y = e.clientY - svg.getBoundingClientRect().top - TOP;
    tools.near(y >= 0 && y < height - TOP ? Math.floor(y / Math.max(1, rowHigh())) : null);
  };
  let dragging: number | null = null;
  svg.addEventListener("pointerdown", (e) => {
    if (e.button !== 0 || !model || e.pointerType === "touch") return;
    dragging = e.pointerId;
    svg.setPointerCapture(e.pointerId);
    hooks.seek(e.clientX);
  });
  svg.addEventListener("pointermove", (e) => {
    if (dragging === e.pointerId) hooks.seek(e.clientX);
  });
  for (const name of ["pointerup", "pointercancel"] as const)
    svg.addEventListener(name, () => {
      dragging = null;
    });
  for (const over of [el, tools.el]) {
    over.addEventListener("pointermove", showNear);
    over.addEventListener("pointerleave", () => tools.near(null));
  }

  return {
    el,
    tools: tools.el,
    update(next) {
      model = next;
      draw();
    },
    at(timeS) {
      now = timeS;
      at();
    },
  };
}
