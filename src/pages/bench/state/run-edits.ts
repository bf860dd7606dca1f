import type { LimitName } from "../../../core/analysis.ts";
import { lateralGAt, speedInCurve } from "../../../core/cornering.ts";
import type { Run } from "../../../core/design/tried.ts";
import type { Scenario, Side } from "../../../core/design/types.ts";
import { kmhToMps, mpsToKmh } from "../../../core/units.ts";

/** Edits of the log of runs. */

export type Pace = Run["pace"];
export type PaceBy = Pace["by"];

/** A run to begin with, on a curve and by a pace that nobody drove yet. */
export const freshRun = (date: string, radiusM: number, hand: Side): Run => ({
  date,
  note: "",
  radiusM,
  hand,
  pace: { by: "speed", kmh: 10 },
  grip: null,
  bumpMm: 0,
  gave: [],
  hub: null,
  airCelsius: 20,
  taken: false,
});

export const withNewRun = (s: Scenario, run: Run): Scenario => ({ ...s, runs: [...s.runs, run] });
export const withRunAt = (s: Scenario, at: number, run: Run): Scenario => ({ ...s, runs: s.runs.map((r, i) => (i === at ? run : r)) });
export const withoutRun = (s: Scenario, at: number): Scenario => ({ ...s, runs: s.runs.filter((_, i) => i !== at) });

/** The number of a pace, in the unit of its kind. */
export const paceValue = (p: Pace): number => (p.by === "speed" ? p.kmh : p.by === "lap" ? p.seconds : p.g);
export const paceOf = (by: PaceBy, value: number): Pace => (by === "speed" ? { by, kmh: value } : by === "lap" ? { by, seconds: value } : { by, g: value });

/** Speed on the run's circle, m/s. */
export function runSpeed(run: Pick<Run, "pace" | "radiusM">): number {
  const { pace, radiusM } = run;
  if (pace.by === "speed") return kmhToMps(pace.kmh);
  if (pace.by === "lap") return (2 * Math.PI * radiusM) / pace.seconds;
  return speedInCurve(pace.g, radiusM);
}

/** Cornering of a run, g. */
export const runG = (run: Pick<Run, "pace" | "radiusM">): number => lateralGAt(runSpeed(run), run.radiusM);

/** The same pace told in another way. */
export function toldBy(run: Run, by: PaceBy): Pace {
  const v = runSpeed(run);
  const round = (x: number): number => Number(x.toPrecision(4));
  if (by === "speed") return { by, kmh: Math.min(300, Math.max(0.1, round(mpsToKmh(v)))) };
  if (by === "lap") return { by, seconds: Math.min(3600, Math.max(0.1, round((2 * Math.PI * run.radiusM) / Math.max(v, 1e-6)))) };
  return { by, g: Math.min(5, round(runG(run))) };
}

/** A run in which a limit gave, or no more; and on which side. */
export function withGiven(run: Run, limit: LimitName, gave: boolean, side: Side | null = null): Run {
  const others = run.gave.filter((g) => g.limit !== limit);
  return { ...run, gave: gave ? [...others, { limit, side }] : others };
}
