import type { LimitResult } from "../../src/core/analysis.ts";
import { type Bench, buildBench, limitsAt, solveLoad } from "../../src/core/analyze.ts";
import { lateralGAt } from "../../src/core/cornering.ts";
import type { Scenario } from "../../src/core/design/types.ts";
import type { AxleState } from "../../src/core/equilibrium/state.ts";
import { firstToGive } from "../../src/core/limits/limits.ts";
import { underShock } from "../../src/core/limits/shock.ts";
import { toTheEnd } from "../../src/core/steps.ts";
import { type CurveOptions, curveOptions, type Hand, loadOn } from "../../src/core/studies/curve-options.ts";
import { endOf, type MapEnd } from "../../src/core/studies/map-levels.ts";
import { type SafeSpeed, safeSpeedOf } from "../../src/core/studies/safe-speed.ts";
import { type SpeedMap, type SpeedMapOptions, speedMap } from "../../src/core/studies/speed-map.ts";

/** Maps made before, by what was asked: a whole one of a shipped car is dear, and test files of one process ask for the same ones. */
const maps = new Map<string, SpeedMap>();

/** The whole map at once; what is asked again is the same map, so leave it as it is. */
export function wholeSpeedMap(scenario: Scenario, options: Partial<SpeedMapOptions> = {}): SpeedMap {
  const key = JSON.stringify([scenario, options]);
  const map = maps.get(key) ?? toTheEnd(speedMap(scenario, options));
  maps.set(key, map);
  return map;
}

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
