import { chordShare, halfChordShare } from "./circle-circle.ts";

/**
 * The one closed form behind every position here: a crank on pivot A carries a coupler, whose other end hangs
 * on a rocker from pivot D. In a corner: crank = lower arm, coupler = hub, rocker = upper arm.
 *
 *   r = B - A  crank, at angle a, B its outer end
 *   q = C - B  coupler, C the joint of coupler and rocker
 *   w = C - D  rocker
 *
 * C is the meeting point of the circle of the coupler about B and that of the rocker about D, on the side
 * `branch` of the line from B to D (+1: to the left of it), which never changes: the other side is another
 * assembly of the same parts.
 *
 * Speeds are given along a parameter that is regular at every position, dead centres included: the crank turns
 * with D = w·Jq and the coupler with N = -w·Jr (J = quarter turn counter-clockwise), because w·(D Jr + N Jq) = 0.
 * Any wanted derivative is a ratio of two of them, so that nothing becomes 0/0 where one arm stops.
 */
export interface ClosureNumbers {
  crankPivotS: number;
  crankPivotZ: number;
  rockerPivotS: number;
  rockerPivotZ: number;
  crankMm: number;
  couplerSq: number;
  rockerSq: number;
  /** (coupler + rocker)² and (coupler - rocker)² */
  reachSq: number;
  foldSq: number;
  branch: 1 | -1;
  /** coupler as built, from B to C */
  coupler0S: number;
  coupler0Z: number;
  /** the point followed (in a corner: the wheel centre), from B, coupler as built */
  pointS: number;
  pointZ: number;
}

/** Places in the result array. */
export const ANGLE = 0;
export const CRANK_END_S = 1;
export const CRANK_END_Z = 2;
export const JOINT_S = 3;
export const JOINT_Z = 4;
export const TURN_COS = 5;
export const TURN_SIN = 6;
export const POINT_S = 7;
export const POINT_Z = 8;
/** D, N and the rise of the followed point along the regular parameter */
export const CRANK_RATE = 9;
export const COUPLER_RATE = 10;
export const POINT_RISE = 11;
export const CLOSURE_SIZE = 12;

/** Gathers the numbers of a chain that `closeChain` closes: pivots and lengths in mm as built, `branch` the side of the joint of coupler and rocker (1: left of the line from crank end to rocker pivot), `point` fixed to the coupler. */
export function closureNumbers(
  crankPivot: readonly [number, number],
  rockerPivot: readonly [number, number],
  crankMm: number,
  couplerMm: number,
  rockerMm: number,
  branch: 1 | -1,
  coupler0: readonly [number, number],
  point: readonly [number, number],
): ClosureNumbers {
  return {
    crankPivotS: crankPivot[0],
    crankPivotZ: crankPivot[1],
    rockerPivotS: rockerPivot[0],
    rockerPivotZ: rockerPivot[1],
    crankMm,
    couplerSq: couplerMm * couplerMm,
    rockerSq: rockerMm * rockerMm,
    reachSq: (couplerMm + rockerMm) ** 2,
    foldSq: (couplerMm - rockerMm) ** 2,
    branch,
    coupler0S: coupler0[0],
    coupler0Z: coupler0[1],
    pointS: point[0],
    pointZ: point[1],
  };
}

/**
 * Closes the chain at crank angle `angle` (rad, counter-clockwise from +s) into `out` (CLOSURE_SIZE numbers).
 * Where coupler and rocker do not reach, the root is clamped: the caller stays within the limits, at which the
 * clamp only swallows rounding. `inLine` puts coupler and rocker exactly in line. Allocates nothing.
 */
export function closeChain(g: ClosureNumbers, angle: number, inLine: boolean, out: Float64Array): void {
  const rs = g.crankMm * Math.cos(angle);
  const rz = g.crankMm * Math.sin(angle);
  const bs = g.crankPivotS + rs;
  const bz = g.crankPivotZ + rz;
  const ns = g.rockerPivotS - bs;
  const nz = g.rockerPivotZ - bz;
  const distanceSq = ns * ns + nz * nz;
  const along = chordShare(distanceSq, g.couplerSq, g.rockerSq);
  const across = inLine ? 0 : g.branch * halfChordShare(distanceSq, g.reachSq, g.foldSq);
  const qs = along * ns - across * nz;
  const qz = along * nz + across * ns;
  const cos = (qs * g.coupler0S + qz * g.coupler0Z) / g.couplerSq;
  const sin = (g.coupler0S * qz - g.coupler0Z * qs) / g.couplerSq;
  const xs = cos * g.pointS - sin * g.pointZ;
  const ws = qs - ns;
  const wz = qz - nz;
  const crankRate = wz * qs - ws * qz;
  const couplerRate = ws * rz - wz * rs;
  out[ANGLE] = angle;
  out[CRANK_END_S] = bs;
  out[CRANK_END_Z] = bz;
  out[JOINT_S] = bs + qs;
  out[JOINT_Z] = bz + qz;
  out[TURN_COS] = cos;
  out[TURN_SIN] = sin;
  out[POINT_S] = bs + xs;
  out[POINT_Z] = bz + sin * g.pointS + cos * g.pointZ;
  out[CRANK_RATE] = crankRate;
  out[COUPLER_RATE] = couplerRate;
  out[POINT_RISE] = crankRate * rs + couplerRate * xs;
}

/**
 * Slopes along the regular parameter at a closed position: of the crank's rate, D', and of the followed point's rise,
 * D' r·s - D² r·z + N' x·s - N² x·z (derived in motion.ts; s and z are the unit vectors outboard and up).
 */
export function closureSlopes(g: ClosureNumbers, out: Float64Array): { crankRate: number; rise: number } {
  const d = out[CRANK_RATE]!;
  const n = out[COUPLER_RATE]!;
  const rs = out[CRANK_END_S]! - g.crankPivotS;
  const rz = out[CRANK_END_Z]! - g.crankPivotZ;
  const qs = out[JOINT_S]! - out[CRANK_END_S]!;
  const qz = out[JOINT_Z]! - out[CRANK_END_Z]!;
  const ws = out[JOINT_S]! - g.rockerPivotS;
  const wz = out[JOINT_Z]! - g.rockerPivotZ;
  const rq = rs * qs + rz * qz;
  // w'·Jq = D r·q + N q·q and w'·Jr = D r·r + N q·r
  const d1 = d * rq + n * (qs * qs + qz * qz) - n * (ws * qs + wz * qz);
  const n1 = d * (ws * rs + wz * rz) - d * (rs * rs + rz * rz) - n * rq;
  const xs = out[POINT_S]! - out[CRANK_END_S]!;
  const xz = out[POINT_Z]! - out[CRANK_END_Z]!;
  return { crankRate: d1, rise: d1 * rs - d * d * rz + n1 * xs - n * n * xz };
}
