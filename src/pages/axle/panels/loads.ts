import { pedals } from "../../../core/design/load.ts";
import type { Load } from "../../../core/design/types.ts";
import type { Band } from "../../../core/doubt/bands.ts";
import type { LoadPhase } from "../../../state/load-end.ts";
import { h, setAttr, setText } from "../../../ui/dom.ts";
import { term } from "../../../ui/help.ts";
import { createRuler } from "../../../ui/ruler.ts";
import { atMostWords, chanceWords, sdWords } from "../../../view/doubt-words.ts";
import { fixed } from "../../../view/format.ts";
import { gOfSpeed, type Post, speedKmh } from "../../../view/ruler.ts";

interface LoadsModel {
  load: Load;
  posts: readonly Post[];
  /** the posts are still those of a moment ago */
  waits: boolean;
  hollowG: number | null;
  /** what happens where the load was stopped; null: it was not */
  endWords: string | null;
  track: { name: string; radiusM: number };
  trackCount: number;
  /** of the safe speed, km/h; null: nothing is known of it */
  band: Band | null;
  /** the speed to drive at most; null: not known */
  atMost: { kmh: number; chance: number } | null;
}

export interface LoadsHooks {
  cornering(g: number, phase: LoadPhase): void;
  bump(side: "left" | "right", mm: number, phase: LoadPhase): void;
  pedal(pedal: "throttle" | "brakeG", value: number, phase: LoadPhase): void;
  turnOver(): void;
  nextTrack(): void;
}

export interface Loads {
  update(model: LoadsModel): void;
}

export const G_MOST = 1.2;
const KMH_MOST = 36;
const BUMP_MOST = 12;
const BRAKE_MOST = 1.5;

/** The load rulers: cornering, the same as speed on a track, and the road under each wheel. */
export function createLoads(root: HTMLElement, hooks: LoadsHooks): Loads {
  let direction = 1;
  let radius = 6;
  const cornering = createRuler({
    name: "cornering in g",
    term: "",
    min: 0,
    max: G_MOST,
    every: 0.2,
    between: 4,
    digits: 2,
    unit: "g",
    step: 0.05,
    fine: 0.01,
    onChange: (v, phase) => hooks.cornering(direction * v, phase),
  });
  const speed = createRuler({
    name: "speed in km/h",
    term: "",
    min: 0,
    max: KMH_MOST,
    every: 12,
    between: 6,
    digits: 1,
    unit: "",
    step: 1,
    fine: 0.1,
    onChange: (v, phase) => hooks.cornering((direction * Math.round(gOfSpeed(v, radius) * 1000)) / 1000, phase),
  });
  const bumps = (["left", "right"] as const).map((side) => ({
    side,
    ruler: createRuler({
      name: `road under the ${side} wheel in mm`,
      term: "",
      min: -BUMP_MOST,
      max: BUMP_MOST,
      every: 6,
      between: 3,
      digits: 1,
      unit: "mm",
      step: 1,
      fine: 0.5,
      small: true,
      onChange: (v, phase) => hooks.bump(side, v, phase),
    }),
    value: h("b", { class: "bump-value" }),
  }));
  const pedalRows = [
    {
      pedal: "throttle" as const,
      words: "throttle",
      ruler: createRuler({
        name: "throttle in %",
        term: "",
        min: 0,
        max: 100,
        every: 50,
        between: 5,
        digits: 0,
        unit: "%",
        step: 10,
        fine: 1,
        small: true,
        onChange: (v, phase) => hooks.pedal("throttle", v / 100, phase),
      }),
      value: h("b", { class: "bump-value" }),
      of: (load: Load): [number, string] => [100 * pedals(load).throttle, `${fixed(100 * pedals(load).throttle, 0)} %`],
    },
    {
      pedal: "brakeG" as const,
      words: "brake",
      ruler: createRuler({
        name: "braking in g",
        term: "",
        min: 0,
        max: BRAKE_MOST,
        every: 0.5,
        between: 5,
        digits: 2,
        unit: "g",
        step: 0.1,
        fine: 0.01,
        small: true,
        onChange: (v, phase) => hooks.pedal("brakeG", v, phase),
      }),
      value: h("b", { class: "bump-value" }),
      of: (load: Load): [number, string] => [pedals(load).brakeG, `${fixed(pedals(load).brakeG, 2)} g`],
    },
  ];
  const way = h("button", { type: "button", class: "link small", title: "turn the other way", onclick: () => hooks.turnOver() });
  const track = h("button", { type: "button", class: "link small", title: "next track", onclick: () => hooks.nextTrack() });
  const safeLine = (name: string) => {
    const [words, sure] = [h("span"), h("span", { class: "safe-sure" })];
    return { el: h("p", { class: name }, words, sure), words, sure };
  };
  const safe = safeLine("safe-line");
  const safeBelow = safeLine("safe-below");
  const atMost = h("p", { class: "at-most" });
  const speedNote = h("span", { class: "speed-note" });
  root.append(
    h("div", { class: "load cornering" }, h("div", { class: "load-name" }, h("h2", {}, term("cornering", "Cornering")), way, speedNote, safe.el), cornering.el),
    h("div", { class: "load speed" }, h("div", { class: "load-name" }, h("h2", {}, term("safe", "Speed")), track, safeBelow.el, atMost), speed.el),
    h(
      "div",
      { class: "load bumps" },
      h("div", { class: "load-name" }, h("h2", {}, term("bump", "Bumps")), h("span", { class: "aside-term" }, "mm")),
      h(
        "div",
        { class: "bump-rows" },
        ...bumps.map((b) =>
          h("div", { class: "bump-row" }, h("span", { class: "bump-side" }, h("span", { class: "bump-word" }, "bump "), b.side), b.ruler.el, b.value),
        ),
      ),
    ),
    h(
      "div",
      { class: "load bumps push" },
      h("div", { class: "load-name" }, h("h2", {}, term("throttle", "Push"))),
      h(
        "div",
        { class: "bump-rows" },
        ...pedalRows.map((p) => h("div", { class: "bump-row" }, h("span", { class: "bump-side" }, p.words), p.ruler.el, p.value)),
      ),
    ),
  );
  return {
    update(m) {
      direction = m.load.lateralG < 0 ? -1 : 1;
      radius = m.track.radiusM;
      const g = Math.abs(m.load.lateralG);
      const first = m.posts[0]?.at ?? null;
      setText(way, direction > 0 ? "left-hand curve" : "right-hand curve");
      const radiusWords = `${fixed(radius, 1)} m`;
      setText(track, `km/h at ${radiusWords}`);
      track.title = m.trackCount > 1 ? `${m.track.name}, ${radiusWords}; press for the next track` : m.track.name;
      cornering.update({
        value: g,
        posts: m.posts,
        givesFrom: first,
        hollowAt: m.hollowG === null ? null : Math.abs(m.hollowG),
        valueWords: `${fixed(g, 2)} g`,
        endWords: m.endWords,
        band: m.band && { low: gOfSpeed(m.band.low, radius), high: gOfSpeed(m.band.high, radius) },
      });
      const kmh = speedKmh(g, radius);
      const safeKmh = first === null ? null : speedKmh(first, radius);
      const safeWords = safeKmh === null ? "" : `safe below ${m.waits ? "…" : fixed(safeKmh, 1)}`;
      speed.update({
        value: kmh,
        posts: safeKmh === null ? [] : [{ at: safeKmh, words: "" }],
        givesFrom: safeKmh,
        hollowAt: null,
        valueWords: `${fixed(kmh, 1)} km/h`,
        endWords: m.endWords,
        band: m.band,
      });
      setText(speedNote, `${fixed(kmh, 1)} km/h at ${radiusWords}`);
      const sure = safeKmh === null || !m.band ? "" : ` ${sdWords(m.band.sd, 1, "")}`;
      for (const line of [safe, safeBelow]) {
        setText(line.words, safeWords);
        setText(line.sure, sure);
      }
      setText(atMost, m.atMost ? `at most ${fixed(m.atMost.kmh, 1)} (${chanceWords(m.atMost.chance)})` : "");
      setAttr(atMost, "title", m.atMost ? `drive at most ${atMostWords(m.atMost)} that something gives` : null);
      for (const b of bumps) {
        const mm = b.side === "left" ? m.load.bumpLeftMm : m.load.bumpRightMm;
        b.ruler.update({ value: mm, posts: [], givesFrom: null, hollowAt: null, valueWords: `${fixed(mm, 1)} mm`, endWords: m.endWords });
        setText(b.value, mm === 0 ? "0" : `${fixed(mm, Number.isInteger(mm) ? 0 : 1)} mm`);
      }
      for (const p of pedalRows) {
        const [value, words] = p.of(m.load);
        p.ruler.update({ value, posts: [], givesFrom: null, hollowAt: null, valueWords: words, endWords: null });
        setText(p.value, value === 0 ? "0" : words);
      }
    },
  };
}
