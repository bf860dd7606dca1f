import type { LimitResult } from "../../src/core/analysis.ts";
import { type Bench, buildBench, limitsAt, solveLoad } from "../../src/core/analyze.ts";
import { lateralGAt } from "../../src/core/cornering.ts";
import type { Scenario } from "../../src/core/design/types.ts";
import type { AxleState } from "../../src/core/equilibrium/state.ts";
import { firstToGive } from "../../src/core/limits/limits.ts";
import { underShock } from "../../src/core/limits/shock.ts";
import { type ChangesOptions, type ChangesReport, studyChanges } from "../../src/core/studies/changes.ts";
import { type CurveOptions, curveOptions, type Hand, loadOn } from "../../src/core/studies/curve-options.ts";
import { endOf, type MapEnd } from "../../src/core/studies/map-levels.ts";
import { type SafeSpeed, safeSpeedOf } from "../../src/core/studies/safe-speed.ts";
import { type SpeedMap, type SpeedMapOptions, speedMap } from "../../src/core/studies/speed-map.ts";

/** What a study comes to. */
export function whole<T>(run: Generator<unknown, T>): T {
  for (;;) {
    const step = run.next();
    if (step.done) return step.value;
  }
}

/** The whole map at once. */
export const wholeSpeedMap = (scenario: Scenario, options: Partial<SpeedMapOptions> = {}): SpeedMap => whole(speedMap(scenario, options));

/** All single changes at once. */
export const allChanges = (scenario: Scenario, options: Partial<ChangesOptions> = {}): ChangesReport | null => whole(studyChanges(scenario, options));

type DirectPoint = { ok: true; lateralG: number; state: AxleState; limits: LimitResult[]; first: LimitResult } | { ok: false; lateralG: number; end: MapEnd };

/** One point of the map by its own equilibrium. */
export function directPoint(b: Bench, radiusM: number, speedMps: number, options: Partial<CurveOptions> = {}): DirectPoint {
  const o = curveOptions(options);
  const lateralG = lateralGAt(speedMps, radiusM);
  const r = solveLoad(b, loadOn(o, lateralG));
  if (!r.ok) return { ok: false, lateralG, end: endOf(r.reason, Math.abs(r.reason.atLoad.lateralG))! };
  const limits = underShock(limitsAt(b, r.state, speedMps), o.shock);
  return { ok: true, lateralG, state: r.state, limits, first: firstToGive(limits) };
}

/** The greatest safe speed of a curve, from a scenario alone. A car that finds no rest is safe at no speed. */
export function safeSpeed(scenario: Scenario, radiusM: number, hand: Hand, options: Partial<Omit<CurveOptions, "hand">> = {}): SafeSpeed {
  const b = buildBench(scenario);
  if (!b.rest.ok) return { radiusM, speedMps: 0, lateralG: 0, limit: null, end: endOf(b.rest.reason, 0) };
  return safeSpeedOf(b, radiusM, { ...options, hand });
}
