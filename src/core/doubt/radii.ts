import { type Bench, solveLoad } from "../analyze.ts";
import { speedInCurve } from "../cornering.ts";
import { shockOn } from "../limits/shock.ts";
import { tyreHoldN } from "../limits/wheel.ts";
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

const pushed = (base: SafeBase, b: Bench): boolean => base.options.throttle > 0 && b.scenario.drive.onThisAxle;

/** Other radii than the base's own at which the safe speed must be asked. */
export function radiiToAsk(b: Bench, base: SafeBase, [fromM, toM]: readonly [number, number]): number[] {
  b.last = base.q;
  if (!pushed(base, b) && (tyreUsed(base, b, base.safe.lateralG, toM) ?? 1) < TYRE_FAR) return [];
  return byRatio(fromM, toM, RADII).filter((r) => r !== base.radiusM);
}

/** Side force on the worse tyre, N, at a level, with what holds it at a speed; null where there is no steady position. */
function sideForces(base: SafeBase, b: Bench, lateralG: number): [left: number, right: number] | null {
  const r = solveLoad(b, loadOn(base.options, lateralG));
  return r.ok ? [Math.abs(r.state.left.tyre.lateralN), Math.abs(r.state.right.tyre.lateralN)] : null;
}

/** How far the worse tyre is used towards leaving its rim under these side forces, N, at the speed of a level on a curve. */
function usedBy(base: SafeBase, b: Bench, force: readonly [number, number], lateralG: number, radiusM: number): number {
  const speed = speedInCurve(lateralG, radiusM);
  const shock = shockOn("tyreOffRim", base.options.shock);
  return Math.max(
    ...([0, 1] as const).map((i) => {
      const hold = tyreHoldN(b.model.corners[i].corner.tyre.seat, speed);
      return hold > 0 ? (shock * force[i]) / hold : Number.MAX_VALUE;
    }),
  );
}

/** The same where it is solved for; null where there is no steady position. */
function tyreUsed(base: SafeBase, b: Bench, lateralG: number, radiusM: number): number | null {
  const force = sideForces(base, b, lateralG);
  return force && usedBy(base, b, force, lateralG, radiusM);
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
  const forces = rest.q && rest.lateralG > 0 ? forcesBelow(base, b, rest) : null;
  return radiiM.map((radiusM) => (forces ? sooner(base, b, rest, forces, radiusM) : rest));
}

/** Levels up to the safe one at which the side forces are told: between them they are nearly straight over the level. */
const STEPS = 8;

/** Side forces at even levels up to the safe one; those below are worked out where they are asked for. */
function forcesBelow(base: SafeBase, b: Bench, rest: Found): (step: number) => readonly [number, number] {
  const known = new Map<number, readonly [number, number]>([[0, [0, 0]]]);
  b.last = rest.q;
  const at = (step: number): readonly [number, number] => {
    const told = known.get(step);
    if (told) return told;
    // one after the other from above, each next to the one before
    const above = step < STEPS ? at(step + 1) : null;
    const force = sideForces(base, b, (rest.lateralG * step) / STEPS) ?? above ?? ([0, 0] as const);
    known.set(step, force);
    return force;
  };
  return at;
}

/** Where a tyre leaves its rim before anything else gives. */
function sooner(base: SafeBase, b: Bench, rest: Found, forces: (step: number) => readonly [number, number], radiusM: number): SafeIn {
  const level = (step: number): number => (rest.lateralG * step) / STEPS;
  let step = STEPS;
  if (usedBy(base, b, forces(step), level(step), radiusM) < 1) return rest;
  while (step > 1 && usedBy(base, b, forces(step - 1), level(step - 1), radiusM) >= 1) step--;
  // straight between two levels: force over the level, which grows but slowly
  const [below, above] = [forces(step - 1), forces(step)];
  const perG = (force: readonly [number, number], s: number, i: 0 | 1): number => (s > 0 ? force[i] / level(s) : above[i] / level(step));
  const used = (a: number): number => {
    const f = a / level(1) - (step - 1);
    const force = ([0, 1] as const).map((i) => a * ((1 - f) * perG(below, step - 1, i) + f * perG(above, step, i))) as [number, number];
    return usedBy(base, b, force, a, radiusM);
  };
  let [lo, hi] = [level(step - 1), level(step)];
  while (hi - lo > LEVEL_G) {
    const mid = (lo + hi) / 2;
    if (used(mid) >= 1) hi = mid;
    else lo = mid;
  }
  return { lateralG: hi, limit: "tyreOffRim" };
}
