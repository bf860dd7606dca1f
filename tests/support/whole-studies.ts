import type { LimitResult } from "../../src/core/analysis.ts";
import { type Bench, buildBench, limitsAt, solveLoad } from "../../src/core/analyze.ts";
import { lateralGAt } from "../../src/core/cornering.ts";
import type { Scenario } from "../../src/core/design/types.ts";
import type { AxleState } from "../../src/core/equilibrium/state.ts";
import { firstToGive } from "../../src/core/limits/limits.ts";
import { underShock } from "../../src/core/limits/shock.ts";
import { type ChangesOptions, type ChangesReport, studyChanges } from "../../src/core/studies/changes.ts";
import { type Hand, handSign } from "../../src/core/studies/cornering-table.ts";
import { endOf, type MapEnd } from "../../src/core/studies/map-levels.ts";
import { type CurveOptions, curveOptions, type SafeSpeed, safeSpeedOf } from "../../src/core/studies/safe-speed.ts";
import { type SpeedMap, type SpeedMapOptions, speedMap } from "../../src/core/studies/speed-map.ts";

/** The whole map at once. */
export function wholeSpeedMap(scenario: Scenario, options: Partial<SpeedMapOptions> = {}): SpeedMap {
  const run = speedMap(scenario, options);
  for (;;) {
    const step = run.next();
    if (step.done) return step.value;
  }
}

/** All single changes at once. */
export function allChanges(scenario: Scenario, options: Partial<ChangesOptions> = {}): ChangesReport | null {
  const run = studyChanges(scenario, options);
  for (;;) {
    const step = run.next();
    if (step.done) return step.value;
  }
}

type DirectPoint = { ok: true; lateralG: number; state: AxleState; limits: LimitResult[]; first: LimitResult } | { ok: false; lateralG: number; end: MapEnd };

/** One point of the map by its own equilibrium. */
export function directPoint(b: Bench, radiusM: number, speedMps: number, options: Partial<CurveOptions> = {}): DirectPoint {
  const o = curveOptions(options);
  const lateralG = lateralGAt(speedMps, radiusM);
  const r = solveLoad(b, { lateralG: handSign(o.hand) * lateralG, bumpLeftMm: o.bumpLeftMm, bumpRightMm: o.bumpRightMm });
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
