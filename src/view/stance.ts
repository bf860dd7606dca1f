import { cornerOf } from "../core/design/sides.ts";
import { type Scenario, SIDES, type Side } from "../core/design/types.ts";
import { packedAsDrawn, type Stance } from "../core/studies/ride-height.ts";
import { withUnit } from "./format.ts";

/** How high the car stands, in words. */
export interface StanceWords {
  /** "stands 4.3 mm lower than built" */
  stands: string;
  /** what lets it stand as drawn: "pack the springs by 2.5 mm"; null: nothing has to, or no packing does */
  act: string | null;
  /** the whole sentence */
  sentence: string;
}

/** less is not told, mm */
const TOLD_MM = 0.05;
const mm = (v: number): string => withUnit(Math.abs(v), 1, "mm");
const way = (lower: number): string => (Math.abs(lower) < TOLD_MM ? "as built" : `${mm(lower)} ${lower > 0 ? "lower" : "higher"} than built`);

/** What is done to a spring to make it another one: packed, packing taken out, shortened. */
function springWords(before: Scenario, after: Scenario, side: Side, which: string): string {
  const [a, b] = [cornerOf(before, side).spring, cornerOf(after, side).spring];
  const pack = b.preloadMm - a.preloadMm;
  const longer = b.freeLengthMm - a.freeLengthMm;
  const out: string[] = [];
  if (pack >= TOLD_MM) out.push(`pack the ${which} by ${mm(pack)}`);
  if (pack <= -TOLD_MM) out.push(`take ${mm(pack)} of packing out of the ${which}`);
  if (longer <= -TOLD_MM) out.push(`shorten the ${which} by ${mm(longer)}`);
  return out.join(" and ");
}

export function stanceWords(s: Scenario, stance: Stance): StanceWords {
  const { left, right } = stance.lowerMm;
  const stands = way(left) === way(right) ? `stands ${way(right)}` : `stands ${way(left)} on the left, ${way(right)} on the right`;
  if (SIDES.every((side) => Math.abs(stance.lowerMm[side]) < TOLD_MM)) return { stands, act: null, sentence: `At rest it ${stands}.` };
  const after = packedAsDrawn(s, stance);
  if (!after) return { stands, act: null, sentence: `At rest it ${stands}; no packing of the springs brings it to where it is drawn.` };
  const alike = springWords(s, after, "left", "springs") === springWords(s, after, "right", "springs");
  const act = alike
    ? springWords(s, after, "right", "springs")
    : SIDES.map((side) => springWords(s, after, side, `${side} spring`))
        .filter((words) => words !== "")
        .join(" and ");
  return act === "" ? { stands, act: null, sentence: `At rest it ${stands}.` } : { stands, act, sentence: `At rest it ${stands}; ${act} to stand as drawn.` };
}
