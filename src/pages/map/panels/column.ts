import type { Scenario } from "../../../core/design/types.ts";
import type { Driving } from "../../../core/studies/driving.ts";
import { h, keyed, s, setAttr, setText } from "../../../ui/dom.ts";
import { createKnownHero } from "../../../ui/known-hero.ts";
import { createRuler } from "../../../ui/ruler.ts";
import { fixed } from "../../../view/format.ts";
import { beyondRuler, radiusWords, type SafeWords, shockWords } from "../../../view/map/words.ts";
import type { ChangeRow } from "../picture/change-rows.ts";
import { barScale, shownFirst } from "../picture/change-rows.ts";
import type { DrivenRow } from "../picture/driven.ts";

interface ColumnModel {
  radiusM: number;
  trackName: string;
  tracks: readonly { name: string; radiusM: number }[];
  safe: SafeWords | null;
  b: SafeWords | null;
  sentence: string;
  /** on which the map rests */
  guesses: number;
  /** the numbers belong to an older design */
  stale: boolean;
  driven: readonly DrivenRow[];
  shock: number;
  /** from the last motion run */
  motionShock: number | null;
  changes: {
    rows: readonly ChangeRow[];
    total: number;
    /** where the design stands now, in a sentence */
    now: string;
    /** the design that is B: its row leads to it */
    b: Scenario;
    aim: string;
    aims: readonly { key: string; words: string }[];
    /** "12 of 38 changes"; empty when all are told */
    progress: string;
    /** what a press beside it does; empty: nothing to do */
    act: "stop" | "go on" | "";
    share: number;
    stale: boolean;
    all: boolean;
    /** a bar for less than this stays short */
    little: number;
    /** said where nothing helps */
    note: string;
  };
}

export interface ColumnHooks {
  track(index: number): void;
  keepTrack(): void;
  dropTrack(): void;
  driving(driving: Driving): void;
  shock(value: number): void;
  aim(key: string): void;
  tryAsB(row: ChangeRow): void;
  /** to the drawing, where A and B stand one behind the other */
  seeB(): void;
  stopChanges(): void;
  showAll(): void;
}

export interface Column {
  el: HTMLElement;
  update(model: ColumnModel): void;
  /** brings what to change first into sight */
  toChanges(spare: boolean): void;
}

const BAR_W = 152;
const BAR_H = 11;
/** end of the ruler: hard landings give 5 to 6; more is counted with all the same, and said */
const SHOCK_MOST = 6;

/**
 * Right of the map: the safe speed, what the runs tell (`runs`), what to change first, and the road's shock; `stopped` says why the changes stay
 * away, `sure` how sure the speed is.
 */
export function createColumn(stopped: HTMLElement, runs: HTMLElement, sure: { hero: HTMLElement; section: HTMLElement }, hooks: ColumnHooks): Column {
  const title = h("h2", { class: "hero-title" });
  const name = h("span", { class: "aside-term" });
  const number = h("p", { class: "hero-number" });
  const also = h("li");
  const rival = h("li", { class: "hero-b" });
  const known = createKnownHero();
  const sentence = h("p", { class: "map-sentence" });
  const tracks = h("p", { class: "map-tracks", role: "group", "aria-label": "curve" });
  const driven = h("ul", { class: "map-driven", "aria-label": "how the curve is driven" });
  const safe = h(
    "section",
    { class: "map-safe-box", "aria-label": "safe speed" },
    h("div", { class: "head-row" }, title, name),
    h("div", { class: "hero-row" }, number, h("ul", { class: "hero-list" }, h("li", { class: "map-kmh" }, "km/h"), also, rival, known.el)),
    sure.hero,
    tracks,
    driven,
    sentence,
  );

  const heading = h("h2", { tabindex: -1 }, "What to change first");
  const now = h("p", { class: "map-note" });
  const aim = h("select", {
    class: "map-aim",
    "aria-label": "what the changes are for",
    onchange: (e: Event) => hooks.aim((e.target as HTMLSelectElement).value),
  });
  const list = h("ol", { class: "change-list" });
  const progressWords = h("span");
  const stop = h("button", { type: "button", class: "link", "data-act": "stop-changes", onclick: () => hooks.stopChanges() }, "stop");
  const line = h("span", { class: "map-line" });
  const progress = h("p", { class: "map-progress" }, progressWords, " ", stop, line);
  const note = h("p", { class: "map-note" });
  const more = h("button", { type: "button", class: "link small", "data-act": "all-changes", onclick: () => hooks.showAll() });
  const changes = h(
    "section",
    { class: "map-changes", "aria-label": "what to change first" },
    heading,
    h("p", { class: "map-aim-row" }, "one change, for ", aim),
    now,
    note,
    stopped,
    list,
    progress,
    more,
  );

  const ruler = createRuler({
    name: "road shock: peak over steady load",
    term: "",
    min: 1,
    max: SHOCK_MOST,
    every: 1,
    between: 5,
    digits: 1,
    unit: "",
    prefix: "×",
    step: 0.1,
    fine: 0.05,
    onChange: (v, phase) => {
      if (phase !== "cancel") hooks.shock(v);
    },
  });
  const beyond = h("p", { class: "map-note map-shock-beyond" });
  const shock = h(
    "section",
    { class: "map-shock", "aria-label": "road shock" },
    h("div", { class: "head-row" }, h("h2", {}, "Road shock"), h("span", { class: "aside-term" }, "peak over steady load")),
    ruler.el,
    beyond,
    h("p", { class: "map-note" }, "How much harder a knock pushes for an instant than the curve does all the time: on hub, arms, joints and the tyre's seat."),
  );
  const caution = h("p", { class: "caution" }, "Estimates for models. Start slower than the map allows and look at the parts after each run.");
  const el = h("aside", { class: "map-column", "aria-label": "safe speed and changes" }, safe, runs, changes, sure.section, shock, caution);

  const drawChanges = (m: ColumnModel["changes"]): void => {
    const best = shownFirst(m.rows);
    const rows = m.all ? m.rows : best;
    const scale = barScale(rows, m.little);
    const room = BAR_W - 56;
    keyed(
      list,
      rows,
      (r) => r.id,
      (r) =>
        h(
          "li",
          { "data-change": r.id },
          h("span", { class: "change-title" }, h("span"), h("b", { class: "change-worse" })),
          h("span", { class: "change-cost" }),
          h("span", { class: "change-kind" }),
          s("svg", { class: "change-bar", viewBox: `0 0 ${BAR_W} 46`, width: BAR_W, height: 46, "aria-hidden": "true" }, s("path"), s("rect"), s("text")),
          h("button", { type: "button", class: "link" }),
        ),
      (li, r, i) => {
        const [titleEl, cost, kind, bar, button] = li.children as unknown as [Element, Element, Element, Element, HTMLButtonElement];
        setText(titleEl.children[0] as Element, r.title);
        setText(titleEl.children[1] as Element, r.worse && `: ${r.worse}`);
        setText(kind, r.kind);
        setText(cost, m.all || i === 0 ? [r.cost, r.buys === null ? "" : r.next].filter(Boolean).join("; ") : "");
        const isB = r.scenario === m.b;
        setText(button, isB ? "see B on the axle" : "try as B");
        setAttr(button, "aria-label", `${isB ? "see B on the axle" : "try as B"}: ${r.title}, ${r.words}${r.worse && `; ${r.worse}`}`);
        li.classList.toggle("is-b", isB);
        button.onclick = () => (isB ? hooks.seeB() : hooks.tryAsB(r));
        const [zero, rect, text] = bar.children as unknown as [Element, Element, Element];
        const z = scale.zero * room + 1;
        const x = scale.at(r.buys ?? 0) * room + 1;
        setAttr(zero, "d", `M${z.toFixed(1)} 0V20`);
        setAttr(rect, "x", Math.min(z, x).toFixed(1));
        setAttr(rect, "y", 5);
        setAttr(rect, "width", Math.max(1, Math.abs(x - z)).toFixed(1));
        setAttr(rect, "height", BAR_H);
        setAttr(rect, "class", (r.buys ?? 0) >= 0 ? "full" : "hollow");
        setAttr(text, "x", (Math.max(x, z) + 5).toFixed(1));
        setAttr(text, "y", 15);
        setText(text, r.words);
      },
    );
    setText(note, m.note);
    note.hidden = m.note === "";
    setText(now, m.now);
    const shown = m.aims.map((a) => a.key).join();
    if (aim.dataset.keys !== shown) {
      aim.dataset.keys = shown;
      aim.replaceChildren(...m.aims.map((a) => h("option", { value: a.key }, a.words)));
    }
    if (aim.value !== m.aim) aim.value = m.aim;
    setText(progressWords, m.progress);
    progress.hidden = m.progress === "";
    setText(stop, m.act);
    stop.hidden = m.act === "";
    line.style.width = `${(100 * m.share).toFixed(1)}%`;
    list.classList.toggle("pale", m.stale);
    more.hidden = m.rows.length <= best.length;
    setText(more, m.all ? (best.length > 0 ? "only the best" : "hide them") : `all ${m.rows.length} changes`);
  };

  return {
    el,
    toChanges(spare) {
      changes.scrollIntoView({ block: spare ? "start" : "nearest" });
      heading.focus({ preventScroll: true });
    },
    update(m) {
      el.classList.toggle("stale", m.stale);
      const words = radiusWords(m.radiusM);
      setText(title, `Safe at ${words} m radius`);
      setText(name, m.trackName);
      setText(number, m.safe?.number ?? "–");
      setText(also, m.safe?.also ?? "");
      setText(rival, m.b ? `B ${m.b.number} km/h` : "");
      known.show(m.guesses);
      setText(sentence, m.sentence);
      const here = m.tracks.findIndex((t) => Math.abs(t.radiusM - m.radiusM) < 1e-6);
      keyed(
        tracks,
        [...m.tracks.map((t, i) => ({ key: `${i}.${t.name}`, words: t.name, index: i })), { key: here < 0 ? "keep" : "drop", words: "", index: -1 }],
        (t) => t.key,
        (t) =>
          h("button", {
            type: "button",
            class: t.index < 0 ? "link small" : "word-switch",
            "data-track": t.index < 0 ? t.key : String(t.index),
            onclick: () => (t.key === "keep" ? hooks.keepTrack() : t.key === "drop" ? hooks.dropTrack() : hooks.track(t.index)),
          }),
        (b, t) => {
          setText(b, t.index >= 0 ? t.words : t.key === "keep" ? `keep ${words} m as a track` : "remove this track");
          setAttr(b, "aria-pressed", t.index < 0 ? null : String(t.index === here));
        },
      );
      keyed(
        driven,
        m.driven,
        (r) => r.driving ?? "own",
        (r) =>
          h(
            "li",
            {},
            h("button", { type: "button", class: "word-switch", "data-driving": r.driving ?? "own", onclick: () => r.driving && hooks.driving(r.driving) }),
            h("b"),
            h("span", { class: "driven-gives" }),
          ),
        (li, r) => {
          const [button, speed, gives] = li.children as unknown as [HTMLButtonElement, Element, Element];
          setText(button, r.words);
          setAttr(button, "aria-pressed", String(r.chosen));
          button.disabled = r.driving === null;
          setText(speed, r.kmh);
          setText(gives, r.gives);
        },
      );
      drawChanges(m.changes);
      const past = beyondRuler(m.shock, m.motionShock, SHOCK_MOST);
      setText(beyond, past);
      beyond.hidden = past === "";
      ruler.update({
        value: m.shock,
        posts: m.motionShock === null ? [] : [{ at: m.motionShock, words: `last motion run ${fixed(m.motionShock, 1)}` }],
        givesFrom: null,
        hollowAt: null,
        valueWords: shockWords(m.shock),
      });
    },
  };
}
