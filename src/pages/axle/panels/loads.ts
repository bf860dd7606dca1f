import type { Load } from "../../../core/design/types.ts";
import type { LoadPhase } from "../../../state/load-end.ts";
import { h, setText } from "../../../ui/dom.ts";
import { term } from "../../../ui/help.ts";
import { createRuler } from "../../../ui/ruler.ts";
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
}

export interface LoadsHooks {
  cornering(g: number, phase: LoadPhase): void;
  bump(side: "left" | "right", mm: number, phase: LoadPhase): void;
  turnOver(): void;
  nextTrack(): void;
}

export interface Loads {
  update(model: LoadsModel): void;
}

export const G_MOST = 1.2;
const KMH_MOST = 36;
const BUMP_MOST = 12;

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
  const way = h("button", { type: "button", class: "link small", title: "turn the other way", onclick: () => hooks.turnOver() });
  const track = h("button", { type: "button", class: "link small", title: "next track", onclick: () => hooks.nextTrack() });
  const safe = h("p", { class: "safe-line" });
  const speedNote = h("span", { class: "speed-note" });
  root.append(
    h("div", { class: "load cornering" }, h("div", { class: "load-name" }, h("h2", {}, term("cornering", "Cornering")), way, speedNote, safe), cornering.el),
    h("div", { class: "load speed" }, h("div", { class: "load-name" }, h("h2", {}, term("safe", "Speed")), track), speed.el),
    h(
      "div",
      { class: "load bumps" },
      h("div", { class: "load-name" }, h("h2", {}, term("bump", "Bumps")), h("span", { class: "aside-term" }, "mm")),
      h("div", { class: "bump-rows" }, ...bumps.map((b) => h("div", { class: "bump-row" }, h("span", { class: "bump-side" }, b.side), b.ruler.el, b.value))),
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
      });
      const kmh = speedKmh(g, radius);
      const safeKmh = first === null ? null : speedKmh(first, radius);
      const safeWords = safeKmh === null ? "" : `safe below ${m.waits ? "…" : fixed(safeKmh, 1)}`;
      speed.update({
        value: kmh,
        posts: safeKmh === null ? [] : [{ at: safeKmh, words: safeWords }],
        givesFrom: safeKmh,
        hollowAt: null,
        valueWords: `${fixed(kmh, 1)} km/h`,
        endWords: m.endWords,
      });
      setText(speedNote, `${fixed(kmh, 1)} km/h at ${radiusWords}`);
      setText(safe, safeWords);
      for (const b of bumps) {
        const mm = b.side === "left" ? m.load.bumpLeftMm : m.load.bumpRightMm;
        b.ruler.update({ value: mm, posts: [], givesFrom: null, hollowAt: null, valueWords: `${fixed(mm, 1)} mm`, endWords: m.endWords });
        setText(b.value, fixed(mm, Number.isInteger(mm) ? 0 : 1));
      }
    },
  };
}
