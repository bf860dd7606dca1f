import type { LimitResult } from "../analysis.ts";
import { type Bench, limitContext, solveLoad } from "../analyze.ts";
import { speedInCurve } from "../cornering.ts";
import { gripG } from "../equilibrium/solve.ts";
import { allLimits, firstToGive } from "../limits/limits.ts";
import { underShock } from "../limits/shock.ts";
import { tryBetween } from "../numerics/try-between.ts";
import { type CurveOptions, curveOptions, loadOn } from "./curve-options.ts";
import { endOf, type MapEnd } from "./map-levels.ts";

/** Answers for single points and single curves, each from its own equilibria: what the map is checked against, and what changes are ranked by. */
export interface SafeSpeed {
  radiusM: number;
  speedMps: number;
  lateralG: number;
  /** what gives there, with its numbers; null: the equilibrium ends first */
  limit: LimitResult | null;
  /** set when the equilibrium ends before any limit is reached */
  end: MapEnd | null;
}

/** Steps in which a first crossing is looked for; within one the worst utilization is taken to cross 1 at most once. */
const SCAN_STEPS = 24;
/** The crossing is found to this cornering level, g. */
const ROOT_G = 1e-7;
/** So it is where the axle falls over or holds no longer, which nothing but halving finds, g: 0.005 % of a speed. */
const JUMP_G = 1e-4;
/** More than this between two levels so near to each other is no slope, share of the limit. */
const JUMP = 0.01;

/** Hears of every level that is tried: what is used most there, with the unknowns. */
type OnLevel = (lateralG: number, worst: LimitResult, q: Float64Array) => void;

/** Highest speed on a curve up to which nothing gives: the first level at which a limit that is no caution reaches 1, by root finding. */
export function safeSpeedOf(b: Bench, radiusM: number, options: Partial<CurveOptions> = {}, onLevel?: OnLevel): SafeSpeed {
  const o = curveOptions(options);
  const grip = gripG(b.model);
  const speed = (a: number): number => speedInCurve(a, radiusM);
  let end: MapEnd | null = null;
  const worst = (a: number, buckling: boolean): LimitResult | null => {
    const r = solveLoad(b, loadOn(o, a));
    if (!r.ok) {
      end = endOf(r.reason, Math.abs(r.reason.atLoad.lateralG));
      return null;
    }
    const first = firstToGive(underShock(allLimits(limitContext(b, r.state, speed(a))!, buckling ? [] : ["armBuckling"]), o.shock));
    onLevel?.(a, first, r.q);
    return first;
  };
  const at = (a: number, limit: LimitResult | null): SafeSpeed => ({ radiusM, speedMps: speed(a), lateralG: a, limit, end: limit ? null : end });

  /** first level in [0, to] at which `worst` reaches 1, or null; `reached` is the last level with an equilibrium */
  const cross = (to: number, buckling: boolean, steps: number): { a: number; limit: LimitResult | null } => {
    let lo = 0;
    for (let i = 0; i <= steps; i++) {
      const hi = (to * i) / steps;
      const w = worst(hi, buckling);
      if (w && w.utilization < 1) {
        lo = hi;
        continue;
      }
      if (i === 0) return { a: 0, limit: w };
      return root(lo, hi, buckling);
    }
    return { a: to, limit: null };
  };

  /** Between a level where all holds and one where something gives or no equilibrium is left: bisection with secant guesses. */
  const root = (lo: number, hi: number, buckling: boolean): { a: number; limit: LimitResult | null } => {
    let fLo = (worst(lo, buckling)?.utilization ?? 0) - 1;
    // every trial comes up from below, as the load does on the road: where a part falls over in its play two positions can hold
    let below = b.last;
    let w = worst(hi, buckling);
    let fHi = w ? w.utilization - 1 : Number.NaN;
    const isJump = (): boolean => hi - lo <= JUMP_G && !(fHi - fLo < JUMP);
    for (let i = 0; i < 60 && hi - lo > ROOT_G && !isJump(); i++) {
      const mid = tryBetween(i, lo, hi, fLo, fHi, 0.3 * ROOT_G);
      b.last = below;
      const m = worst(mid, buckling);
      if (m && m.utilization < 1) {
        lo = mid;
        below = b.last;
        fLo = m.utilization - 1;
      } else {
        hi = mid;
        fHi = m ? m.utilization - 1 : Number.NaN;
        w = m;
      }
    }
    return w ? { a: hi, limit: w } : { a: lo, limit: null };
  };

  const first = cross(grip, false, SCAN_STEPS);
  if (first.a === grip && !first.limit) end = { atG: grip, kind: "slides", message: `The tyres let go at ${grip.toFixed(2)} g (friction).`, limit: "sliding" };
  const found = at(first.a, first.limit);
  // buckling costs most and gives seldom: asked for only at the end, and again from below when it has given
  const w = worst(first.a, true);
  if (w?.name !== "armBuckling" || w.utilization < 1) return found;
  const sooner = cross(first.a, true, SCAN_STEPS);
  return at(sooner.a, sooner.limit);
}
