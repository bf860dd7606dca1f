import type { Side } from "../../core/design/types.ts";
import { fixed, newtons } from "../../view/format.ts";
import type { HeroModel, StoryRow } from "./panels/sheet.ts";
import { type HubHold, heroWords, type Recorded, shockOf, storyOf } from "./story.ts";

/** The factor as its button says it, and as the speed map gets it. */
export const handed = (factor: number): number => Math.max(1, Math.round(factor * 10) / 10);

/** The big number of a run, what it is made of, and the button that hands it on. `mapShock`: what the speed map counts with now. */
export function heroOf(r: Recorded | null, side: Side, hub: HubHold | null, mapShock: number): HeroModel {
  const shock = r && shockOf(r);
  const factor = shock ? handed(shock.factor) : null;
  const said = factor === null ? "–" : `×${fixed(factor, 1)}`;
  return {
    title: "Road shock in this run",
    aside: "peak over steady",
    number: said,
    list: shock ? [`${newtons(shock.peakN)} at the peak,`, `${newtons(shock.steadyN)} steady,`, `${shock.side} wheel on the road`] : [],
    words: !r ? "" : r.trace.steadyReason ? `There is no answer at rest: ${r.trace.steadyReason}` : heroWords(r, side, hub).replaceAll("\u2009", "\u202f"),
    use:
      factor === null
        ? null
        : mapShock === factor
          ? { words: `The speed map counts with ${said}`, done: true }
          : { words: `Use ${said} on the speed map`, done: false },
  };
}

export const storyRows = (r: Recorded | null, side: Side, hub: HubHold | null): StoryRow[] =>
  r ? storyOf(r, side, hub).map((h, i) => ({ key: `${i}.${h.words}`, ...h })) : [];
