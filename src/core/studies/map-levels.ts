import { LIMIT_NAMES, type LimitName } from "../analysis.ts";
import { lateralGAt, speedInCurve } from "../cornering.ts";
import { cornerOf } from "../design/sides.ts";
import { type Scenario, SIDES, type TyreSeat } from "../design/types.ts";
import { driveLine } from "../drive/motors.ts";
import type { NoEquilibrium, NoEquilibriumKind } from "../equilibrium/state.ts";
import { type HeatNumbers, heatNumbers, heatShares, rubbing } from "../limits/hub-heat.ts";
import { failuresOf, isSpeedLimit, type LevelLimit, type SpeedLimit } from "../limits/records.ts";
import { shockOn } from "../limits/shock.ts";
import { tyreHoldN } from "../limits/wheel.ts";
import { type CorneringTable, pushOfKey, quantityKey } from "./cornering-table.ts";

/**
 * What a map's points are read from: the table of the sweep at even levels, with the speed put in where a limit needs it.
 */

/** Beyond this cornering level the axle has no equilibrium. */
export interface MapEnd {
  atG: number;
  kind: NoEquilibriumKind;
  message: string;
  /** the limit that it belongs to, where there is one */
  limit: LimitName | null;
}

/** The table resampled at even steps, worst wheel and shock already in. Plain data: goes through a worker's messages. */
export interface MapLevels {
  stepG: number;
  /** limits that count; the others are cautions */
  failures: readonly LimitName[];
  /** distance that is to stay free to the body, mm */
  clearanceMm: number;
  /** the last level; beyond it nothing is known */
  endG: number;
  utilization: Record<LevelLimit, Float64Array>;
  /** the drive's push, where the map is driven with any; null: the same push, or none, at every speed */
  pushed: PushedLevels | null;
  leanDeg: Float64Array;
  /** per side: side force on the tyre with the shock in, friction torque in the hub, pressure on the journal */
  sides: { lateralN: Float64Array; frictionNmm: Float64Array; pressureMPa: Float64Array; seat: TyreSeat; heat: HeatNumbers }[];
}

/** Limits that the drive's push changes, at some pushes from none to that of a standing start; in between straight. */
interface PushedLevels {
  /** of the drive on each wheel standing still, with the throttle in, N; it falls straight to none where the motors run free */
  standingN: number;
  noLoadMps: number;
  limits: Partial<Record<LevelLimit, { driveN: number[]; utilization: Float64Array[] }>>;
}

export interface SafePoint {
  radiusM: number;
  speedMps: number;
  lateralG: number;
  /** what gives there; null: nothing up to the highest level that was looked at */
  limit: LimitName | null;
}

/** Even levels of the resampled table. */
export const LEVELS = 1024;

/** What ends the map at a cornering level (g), as a limit where it is one; null: nothing does. */
export function endOf(end: NoEquilibrium | null, endG: number): MapEnd | null {
  if (!end) return null;
  const byKind: Partial<Record<NoEquilibriumKind, LimitName>> = { slides: "sliding", tips: "wheelLift", buckles: "armBuckling" };
  return { atG: endG, kind: end.kind, message: end.message, limit: byKind[end.kind] ?? null };
}

/** The table at even cornering levels, under a shock: a factor on what the road pushes. */
export function levelsOf(s: Scenario, t: CorneringTable, shock: number): MapLevels {
  const stepG = Math.max(t.endG, 1e-6) / (LEVELS - 1);
  const even = (keep: (v: number, old: number) => number, keys: (key: string) => boolean): Float64Array => {
    const out = new Float64Array(LEVELS);
    for (const series of t.series.values()) {
      if (!keys(series.key)) continue;
      let k = 0;
      const { aG, value } = series;
      for (let i = 0; i < LEVELS; i++) {
        const a = i * stepG;
        while (k + 2 < aG.length && aG[k + 1]! <= a) k++;
        const a0 = aG[k]!;
        const a1 = aG[Math.min(k + 1, aG.length - 1)]!;
        const f = a1 > a0 ? Math.min(1, (a - a0) / (a1 - a0)) : 0;
        const v = value[k]! + f * (value[Math.min(k + 1, aG.length - 1)]! - value[k]!);
        out[i] = keep(v, out[i]!);
      }
    }
    return out;
  };
  const larger = (v: number, old: number): number => Math.max(v, old);
  const utilization = {} as MapLevels["utilization"];
  const pushedLimits: PushedLevels["limits"] = {};
  const isOf = (name: LimitName, whole: string, push: number): boolean => {
    const at = pushOfKey(whole);
    return at.push === push && (at.key === name || at.key.startsWith(`${name}/`));
  };
  for (const name of LIMIT_NAMES) {
    if (isSpeedLimit(name)) continue;
    const k = shockOn(name, shock);
    const of = (push: number) =>
      even(
        (v, old) => Math.max(k * v, old),
        (key) => isOf(name, key, push),
      );
    utilization[name] = of(0);
    const told = t.pushes.map((_, i) => i).filter((i) => [...t.series.keys()].some((key) => key.includes("@") && isOf(name, key, i)));
    if (told.length > 0) pushedLimits[name] = { driveN: told.map((i) => t.pushes[i]!.driveN), utilization: told.map(of) };
  }
  const standingN = t.pushes.at(-1)!.driveN;
  const line = driveLine(s.drive, s.corner.wheel.radiusMm, s.body.carMassKg);
  const pushed: PushedLevels | null = t.pushes.length > 1 ? { standingN, noLoadMps: line.noLoadMps, limits: pushedLimits } : null;
  const sides = SIDES.map((side) => {
    const c = cornerOf(s, side);
    const k = shockOn("tyreOffRim", shock);
    const only = (key: string): ((k: string) => boolean) => {
      return (other) => other === key;
    };
    return {
      lateralN: even((v) => k * v, only(quantityKey("lateralN", side))),
      frictionNmm: even((v) => v, only(quantityKey("frictionNmm", side))),
      pressureMPa: even((v) => v, only(quantityKey("pressureMPa", side))),
      seat: c.tyre.seat,
      heat: heatNumbers(c.hub.heat, c.wheel.radiusMm),
    };
  });
  const leanDeg = even(
    (v, old) => larger(Math.abs(v), old),
    (key) => key.startsWith("leanDeg/"),
  );
  return { stepG, failures: failuresOf(s), clearanceMm: s.fit.clearanceMm, endG: t.endG, utilization, pushed, leanDeg, sides };
}

/** Value at a place between the levels, counted in levels from 0; straight between two. */
export function levelValue(values: Float64Array, at: number): number {
  const i = Math.min(LEVELS - 2, Math.floor(at));
  const f = Math.min(1, at - i);
  return values[i]! + f * (values[i + 1]! - values[i]!);
}

/** Utilization of the tyre's seat, the worse side, at a place of the levels and a speed. */
function tyreAt(l: MapLevels, at: number, speedMps: number): number {
  let worst = 0;
  for (const s of l.sides) {
    const demand = levelValue(s.lateralN, at);
    if (!(demand > 0)) continue;
    const hold = tyreHoldN(s.seat, speedMps);
    worst = Math.max(worst, hold > 0 ? demand / hold : MOST);
  }
  return Math.min(worst, MOST);
}

/** The hub that is worse used by heat or wear, as a share of what it bears, at a place between the levels and a speed in m/s. */
function heatAt(l: MapLevels, at: number, speedMps: number): number {
  let worst = 0;
  for (const { heat, frictionNmm, pressureMPa } of l.sides) {
    const r = rubbing(heat, levelValue(frictionNmm, at), levelValue(pressureMPa, at), speedMps);
    const { temperature, pv } = heatShares(heat, r.riseK, r.pv);
    worst = Math.max(worst, temperature, pv);
  }
  return worst;
}

/** A band that has lifted off holds nothing: its utilization is held at this, so that contours stay finite. */
const MOST = 100;

/** What reads each limit that needs the speed. */
const AT_SPEED: Record<SpeedLimit, (l: MapLevels, at: number, speedMps: number) => number> = { tyreOffRim: tyreAt, hubHeat: heatAt };

/** Utilization of a limit at a place of the levels (0 to LEVELS - 1) and a speed, m/s. */
export function usedAt(l: MapLevels, name: LimitName, at: number, speedMps: number): number {
  if (isSpeedLimit(name)) return AT_SPEED[name](l, at, speedMps);
  const told = l.pushed?.limits[name];
  if (!l.pushed || !told) return levelValue(l.utilization[name], at);
  const driveN = l.pushed.standingN * Math.max(0, 1 - speedMps / l.pushed.noLoadMps);
  const last = told.driveN.length - 1;
  let i = 1;
  while (i < last && told.driveN[i]! < driveN) i++;
  const [from, to] = [told.driveN[i - 1]!, told.driveN[i]!];
  const f = (driveN - from) / (to - from);
  return (1 - f) * levelValue(told.utilization[i - 1]!, at) + f * levelValue(told.utilization[i]!, at);
}

/** The part of a map that points are read from. */
export interface ReadMap {
  levels: MapLevels;
  end: MapEnd | null;
}

/** One point of the map from its levels, as the map's grids have it. */
export function mapPoint(map: ReadMap, radiusM: number, speedMps: number): Record<LimitName, number> & { lateralG: number; beyond: boolean } {
  const l = map.levels;
  const lateralG = lateralGAt(speedMps, radiusM);
  const at = Math.min(LEVELS - 1, lateralG / l.stepG);
  const out = {} as Record<LimitName, number>;
  for (const name of LIMIT_NAMES) out[name] = usedAt(l, name, at, speedMps);
  return { ...out, lateralG, beyond: map.end !== null && lateralG > map.end.atG };
}

/** Highest speed on a curve up to which nothing gives, from the map's own levels. */
export function safeSpeedAt(map: ReadMap, radiusM: number): SafePoint {
  const l = map.levels;
  const speed = (at: number): number => speedInCurve(at * l.stepG, radiusM);
  const value = (name: LimitName, at: number): number => usedAt(l, name, at, speed(at));
  let best: SafePoint | null = null;
  for (const name of l.failures) {
    let before = value(name, 0);
    if (before >= 1) return { radiusM, speedMps: 0, lateralG: 0, limit: name };
    const until = best ? Math.ceil(best.lateralG / l.stepG) : LEVELS - 1;
    for (let i = 1; i <= until; i++) {
      const now = value(name, i);
      if (now >= 1) {
        const at = i - 1 + (1 - before) / (now - before);
        if (!best || at * l.stepG < best.lateralG) best = { radiusM, speedMps: speed(at), lateralG: at * l.stepG, limit: name };
        break;
      }
      before = now;
    }
  }
  return best ?? { radiusM, speedMps: speedInCurve(l.endG, radiusM), lateralG: l.endG, limit: map.end?.limit ?? null };
}
