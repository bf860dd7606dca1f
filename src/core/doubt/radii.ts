import { type Bench, solveLoad } from "../analyze.ts";
import { speedInCurve } from "../cornering.ts";
import { SIDES } from "../design/types.ts";
import { shockOn } from "../limits/shock.ts";
import { tyreHoldN } from "../limits/wheel.ts";
import { tryBetween } from "../numerics/try-between.ts";
import { loadOn } from "../studies/curve-options.ts";
import { byRatio } from "../studies/speed-map.ts";
import { type Found, type SafeBase, type SafeIn, safeIn } from "./safe-in.ts";

/**
 * At which radii the safe speed is sampled. Where nothing that gives hangs on the speed besides the cornering level, one radius tells all: the
 * level is the same on each. It does not where a spinning tyre comes near to leaving its rim, or the drive pushes.
 */

/** Radii over a map where the speed itself counts: between them what is told is nearly straight. */
const RADII = 5;
/** A tyre that is used less than this at the fastest safe speed leaves its rim in no neighbour. */
const TYRE_FAR = 0.5;
/** The level at which a tyre leaves its rim is found to this, g. */
const LEVEL_G = 2e-4;
const TRIES = 20;

const pushed = (base: SafeBase, b: Bench): boolean => base.options.throttle > 0 && b.scenario.drive.onThisAxle;

/** Other radii than the base's own at which the safe speed must be asked. */
export function radiiToAsk(b: Bench, base: SafeBase, [fromM, toM]: readonly [number, number]): number[] {
  b.last = base.q;
  if (!pushed(base, b) && (tyreUsed(base, b, base.safe.lateralG, toM) ?? 1) < TYRE_FAR) return [];
  return byRatio(fromM, toM, RADII).filter((r) => r !== base.radiusM);
}

/** How far the worse tyre is used towards leaving its rim; null where there is no steady position. */
function tyreUsed(base: SafeBase, b: Bench, lateralG: number, radiusM: number): number | null {
  const r = solveLoad(b, loadOn(base.options, lateralG));
  if (!r.ok) return null;
  const speed = speedInCurve(lateralG, radiusM);
  const shock = shockOn("tyreOffRim", base.options.shock);
  return Math.max(
    ...SIDES.map((side, i) => {
      const hold = tyreHoldN(b.model.corners[i as 0 | 1].corner.tyre.seat, speed);
      return hold > 0 ? (shock * Math.abs(r.state[side].tyre.lateralN)) / hold : Number.MAX_VALUE;
    }),
  );
}

/** Safe levels of a neighbour of the base on several curves. @param off its inputs less those of the base; null: it is the base's own car */
export function safeOver(base: SafeBase, radiiM: readonly number[], b: Bench, off: Float64Array | null): SafeIn[] {
  if (radiiM.length === 1 && radiiM[0] === base.radiusM) return [safeIn(base, b, off)];
  if (pushed(base, b)) {
    let last: Found | null = null;
    return radiiM.map((radiusM) => {
      last = safeIn({ ...base, radiusM }, b, off, last);
      return last;
    });
  }
  // the tyres' seats alone hang on the speed: all else is looked for once
  const rest = safeIn({ ...base, leaveOut: [...base.leaveOut, "tyreOffRim"] }, b, off);
  return radiiM.map((radiusM) => sooner(base, b, rest, radiusM));
}

/** Where a tyre leaves its rim before anything else gives. */
function sooner(base: SafeBase, b: Bench, rest: Found, radiusM: number): SafeIn {
  if (!rest.q || rest.lateralG === 0) return rest;
  const used = (lateralG: number): number => tyreUsed(base, b, lateralG, radiusM) ?? Number.MAX_VALUE;
  b.last = rest.q;
  let [lo, hi] = [0, rest.lateralG];
  let fHi = used(hi) - 1;
  if (fHi < 0) return rest;
  let fLo = -1;
  for (let n = 0; n < TRIES && hi - lo > LEVEL_G; n++) {
    const a = tryBetween(n, lo, hi, fLo, Math.min(fHi, 1e3), LEVEL_G / 4);
    const f = used(a) - 1;
    if (f < 0) [lo, fLo] = [a, f];
    else [hi, fHi] = [a, f];
  }
  return { lateralG: hi, limit: "tyreOffRim" };
}
