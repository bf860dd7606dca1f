import type { LimitName } from "../../core/analysis.ts";
import { fieldName, pathName } from "../../core/design/field-words.ts";
import { ARM_WORDS, JOINT_WORDS } from "../../core/design/part-words.ts";
import type { Run } from "../../core/design/tried.ts";
import { LIMITS } from "../../core/limits/records.ts";
import type { Contradiction, Explanation } from "../../core/runs/contradictions.ts";
import { drivenIn } from "../../core/runs/pace.ts";
import type { Belief, Told } from "../../core/runs/told.ts";
import { mpsToKmh } from "../../core/units.ts";
import { figures, fixed } from "../format.ts";

/** Runs and what they tell, in plain words. */

const PARTS: Readonly<Record<string, string>> = { ...JOINT_WORDS, ...ARM_WORDS };

/** "run 3 of 2026-11-21" */
export const runName = (run: Run, index: number): string => `run ${index + 1}${run.date === null ? "" : ` of ${run.date}`}`;

/** "18.0 km/h on 6 m, left-hand" */
export function paceWords(run: Run): string {
  const { speedMps } = drivenIn(run);
  return `${fixed(mpsToKmh(speedMps), 1)}\u2009km/h on ${figures(run.radiusM)}\u2009m, ${run.hand}-hand`;
}

/** What was seen in a run, of each limit. */
const SEEN: Readonly<Record<LimitName, string>> = {
  hubRetention: "hub pulled off",
  armYield: "arm broke or was bent for good",
  armSet: "arm stayed bent after a time",
  armBuckling: "arm buckled",
  tyreOffRim: "tyre left its rim",
  jointPullOut: "joint pulled apart",
  camber: "wheel leaned past your limit",
  springOnStop: "spring went onto its stop",
  wheelLift: "inner wheel lifted",
  sliding: "wheels slid",
  fit: "parts touched the body",
  belowRoad: "a part touched the road",
  hubHeat: "hub ran hot",
  wheelShift: "wheel shifted along the road",
  axisTilt: "steering axis tilted",
};
export const seenWords = (limit: LimitName): string => SEEN[limit];

/** "all held", "hub pulled off (right)" */
export function outcomeWords(run: Run): string {
  if (run.gave.length === 0) return "all held";
  return run.gave
    .map((g) => {
      const where = [g.at === null ? "" : PARTS[g.at], g.side ?? ""].filter(Boolean).join(", ");
      return `${seenWords(g.limit)}${where ? ` (${where})` : ""}`;
    })
    .join("; ");
}

/** Name and unit of a number that runs or a contradiction tell of; that of a material that is known by its name is none of the file's. */
function numberName(path: string): { name: string; unit: string } {
  const material = /^material\.(\w+)\.(youngMPa|yieldMPa)$/.exec(path);
  if (material) return { name: `${material[2] === "youngMPa" ? "stiffness" : "strength"} of ${material[1]}`, unit: "N/mm²" };
  return { name: pathName(path), unit: fieldName(path)?.unit ?? "" };
}

/** Figures that matter; frictions are small. */
const shown = (value: number): string => (Math.abs(value) < 0.2 ? fixed(value, 3) : figures(value));
const withUnit = (value: number, unit: string): string => `${shown(value)}${unit === "" ? "" : `\u2009${unit}`}`;

/** "hub, pull that strips the lip" and its unit beside it for a list */
export const numberWords = (path: string): string => numberName(path).name;

/** Two figures of a ±: 21, 5.1, 0.35, 0.011. */
const plusMinus = (sd: number): string => fixed(sd, sd >= 9.95 ? 0 : sd >= 0.995 ? 1 : sd >= 0.0995 ? 2 : 3);

/** "85 ± 21 N" */
export const beliefWords = (path: string, { value, sd }: Pick<Belief, "value" | "sd">): string => {
  const { unit } = numberName(path);
  return `${shown(value)} ± ${plusMinus(sd)}${unit === "" ? "" : `\u2009${unit}`}`;
};

/** "72 to 114 N" */
export const rangeWords = (path: string, { low, high }: Pick<Belief, "low" | "high">): string => `${shown(low)} to ${withUnit(high, numberName(path).unit)}`;

/** "above 72 N", "below 68 N", "0.05 to 0.08", "0.07" */
export function toldWords(path: string, t: Told): string {
  const { unit } = numberName(path);
  if (t.kind === "between") return `${shown(t.at)} to ${withUnit(t.high!, unit)}`;
  return `${t.kind === "held" ? "above " : t.kind === "gave" ? "below " : ""}${withUnit(t.at, unit)}`;
}

/** "hub lip, straight pull that strips it: from 85 to 61 N (2.4 of its ±)" */
function explanationWords(e: Explanation): string {
  const { name, unit } = e.key === "run" ? { name: "the run's own cornering", unit: "g" } : numberName(e.key);
  return `${name}: ${shown(e.to)} instead of ${withUnit(e.from, unit)}, ${fixed(Math.abs(e.sds), 1)} of its ± off`;
}

/** A run that contradicts the model, in words. */
export interface RunAgainst {
  said: string;
  /** inputs that would explain it, the most plausible first; or the one line that says that none does */
  explained: readonly string[];
}

/** Where a run and the model cannot both be right: what happened, against what, and what would explain it, the most plausible first. */
export function contradictionWords(c: Contradiction, run: Run): RunAgainst {
  const head = `${runName(run, c.run)} (${paceWords(run)})`;
  const limit = LIMITS[c.about.limit].words.row;
  let said: string;
  if (c.noHold !== null) said = `The car went round in ${head}, where the model finds no steady position: ${c.noHold}`;
  else if (c.strength === null) said = `“${seenWords(c.about.limit)}” was told of ${head}, where the model is far from it.`;
  else {
    const { path, asked, expected } = c.strength;
    const { name, unit } = numberName(path);
    const what = c.kind === "gave" ? `gave when ${withUnit(asked, unit)} was asked of it` : `held ${withUnit(asked, unit)}`;
    said = `${limit}: in ${head} it ${what}, while all else says ${beliefWords(path, expected)} (${name}). That comes about less than once in a thousand.`;
  }
  const explained = c.explanations.map(explanationWords);
  return { said, explained: explained.length > 0 ? explained : ["No single number explains it: look at what was noted of the run, and at the part."] };
}
