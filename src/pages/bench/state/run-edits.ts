import type { LimitName } from "../../../core/analysis.ts";
import { plainRun, type Run } from "../../../core/design/tried.ts";
import { ARM_NAMES, JOINT_NAMES, type Scenario, type Side } from "../../../core/design/types.ts";
import { drivenIn } from "../../../core/runs/pace.ts";
import { mpsToKmh } from "../../../core/units.ts";

/** Edits of the log of runs. */

export type Pace = Run["pace"];
export type PaceBy = Pace["by"];
export type Gave = Run["gave"][number];

/** A run to begin with, on a curve and by a pace that nobody drove yet. */
export const freshRun = (date: string, radiusM: number, hand: Side): Run => ({ ...plainRun(radiusM, hand, { by: "speed", kmh: 10 }), date });

export const withNewRun = (s: Scenario, run: Run): Scenario => ({ ...s, runs: [...s.runs, run] });
export const withRunAt = (s: Scenario, at: number, run: Run): Scenario => ({ ...s, runs: s.runs.map((r, i) => (i === at ? run : r)) });
export const withoutRun = (s: Scenario, at: number): Scenario => ({ ...s, runs: s.runs.filter((_, i) => i !== at) });

/** The number of a pace, in the unit of its kind. */
export const paceValue = (p: Pace): number => (p.by === "speed" ? p.kmh : p.by === "lap" ? p.seconds : p.g);
export const paceOf = (by: PaceBy, value: number): Pace => (by === "speed" ? { by, kmh: value } : by === "lap" ? { by, seconds: value } : { by, g: value });

/** figures of a pace that is told in another way */
const FIGURES = 4;

/** The same pace told in another way. */
export function toldBy(run: Run, by: PaceBy): Pace {
  const { speedMps, lateralG } = drivenIn(run);
  const round = (x: number): number => Number(x.toPrecision(FIGURES));
  if (by === "speed") return { by, kmh: Math.min(300, Math.max(0.1, round(mpsToKmh(speedMps)))) };
  if (by === "lap") return { by, seconds: Math.min(3600, Math.max(0.1, round((2 * Math.PI * run.radiusM) / Math.max(speedMps, 1e-6)))) };
  return { by, g: Math.min(5, round(lateralG)) };
}

/** Parts of a corner of which one gives; none: there is only one. */
export function partsOf(limit: LimitName): readonly NonNullable<Gave["at"]>[] {
  if (limit === "jointPullOut") return JOINT_NAMES;
  return limit === "armYield" || limit === "armSet" || limit === "armBuckling" ? ARM_NAMES : [];
}

/** A run in which a limit gave, or no more; where it gave stays as it was told, unless told anew. */
export function withGiven(run: Run, limit: LimitName, gave: boolean, where: Partial<Pick<Gave, "side" | "at">> = {}): Run {
  const before = run.gave.find((g) => g.limit === limit);
  if (!gave) return { ...run, gave: run.gave.filter((g) => g.limit !== limit) };
  const now: Gave = { limit, side: null, at: null, ...before, ...where };
  return { ...run, gave: before ? run.gave.map((g) => (g === before ? now : g)) : [...run.gave, now] };
}
