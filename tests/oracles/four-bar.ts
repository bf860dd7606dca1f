import {
  CLOSURE_SIZE,
  COUPLER_RATE,
  CRANK_END_S,
  CRANK_END_Z,
  CRANK_RATE,
  closeChain,
  closureNumbers,
  JOINT_S,
  JOINT_Z,
} from "../../src/core/linkage/closure.ts";
import type { V2 } from "../../src/core/vec.ts";

/**
 * The general four-bar: ground of length d along +x from the crank's pivot (0, 0) to the rocker's (d, 0), crank a,
 * coupler b, rocker c. The same closure as a corner's; here with the textbook's names, for checking and for links
 * that are not a wheel's. Angles in rad, counter-clockwise from +x.
 */
export interface FourBar {
  crank: number;
  coupler: number;
  rocker: number;
  ground: number;
}

/** `open`: the joint of coupler and rocker lies to the left of the line from crank end to rocker pivot; `crossed`: to the right. */
export type FourBarBranch = "open" | "crossed";

export interface FourBarPose {
  ok: true;
  couplerRad: number;
  rockerRad: number;
  crankEnd: V2;
  joint: V2;
  /** turn of coupler and of rocker per turn of the crank; infinite at the dead centre of coupler and rocker */
  couplerRatio: number;
  rockerRatio: number;
}

/** Coupler and rocker do not reach at this crank angle: they are `missMm` too short together, or differ by that too much. */
export interface FourBarOpen {
  ok: false;
  kind: "tooFar" | "tooNear";
  missMm: number;
}

export function fourBarPosition(f: FourBar, crankRad: number, branch: FourBarBranch): FourBarPose | FourBarOpen {
  const out = new Float64Array(CLOSURE_SIZE);
  const g = closureNumbers([0, 0], [f.ground, 0], f.crank, f.coupler, f.rocker, branch === "open" ? 1 : -1, [f.coupler, 0], [0, 0]);
  const bx = f.crank * Math.cos(crankRad);
  const bz = f.crank * Math.sin(crankRad);
  const distance = Math.hypot(f.ground - bx, bz);
  if (distance > f.coupler + f.rocker) return { ok: false, kind: "tooFar", missMm: distance - f.coupler - f.rocker };
  // crank end on the rocker's pivot: equal links could stand anywhere, so that no position is told either
  if (distance < Math.abs(f.coupler - f.rocker) || distance === 0) return { ok: false, kind: "tooNear", missMm: Math.abs(f.coupler - f.rocker) - distance };
  closeChain(g, crankRad, false, out);
  const crankEnd: V2 = [out[CRANK_END_S]!, out[CRANK_END_Z]!];
  const joint: V2 = [out[JOINT_S]!, out[JOINT_Z]!];
  const q: V2 = [joint[0] - crankEnd[0], joint[1] - crankEnd[1]];
  const w: V2 = [joint[0] - f.ground, joint[1]];
  const couplerRatio = out[COUPLER_RATE]! / out[CRANK_RATE]!;
  // w' = J r + ratio J q, and w' = rockerRatio J w
  const along = (w[0] * (crankEnd[0] + couplerRatio * q[0]) + w[1] * (crankEnd[1] + couplerRatio * q[1])) / (w[0] * w[0] + w[1] * w[1]);
  return { ok: true, couplerRad: Math.atan2(q[1], q[0]), rockerRad: Math.atan2(w[1], w[0]), crankEnd, joint, couplerRatio, rockerRatio: along };
}

/** Grashof's rule: shortest + longest against the other two. `turns`: some link can turn fully; `changePoint`: equal; `rocks`: none can. */
export function grashof(f: FourBar): "turns" | "changePoint" | "rocks" {
  const l = [f.crank, f.coupler, f.rocker, f.ground].sort((a, b) => a - b) as [number, number, number, number];
  const excess = l[0] + l[3] - l[1] - l[2];
  // a few roundings of the sum
  if (Math.abs(excess) <= 1e-12 * l[3]) return "changePoint";
  return excess < 0 ? "turns" : "rocks";
}

/**
 * Instant centres of the four-bar by Aronhold-Kennedy: coupler against ground (lines of crank and rocker) and crank
 * against rocker (coupler line with ground line); null at infinity.
 */
export function fourBarCentres(f: FourBar, pose: FourBarPose): { couplerGround: V2 | null; crankRocker: V2 | null } {
  const { crankEnd: b, joint: c } = pose;
  return { couplerGround: linesMeet([0, 0], b, [f.ground, 0], c), crankRocker: linesMeet(b, c, [0, 0], [f.ground, 0]) };
}

function linesMeet(p: V2, p2: V2, q: V2, q2: V2): V2 | null {
  const u: V2 = [p2[0] - p[0], p2[1] - p[1]];
  const v: V2 = [q2[0] - q[0], q2[1] - q[1]];
  const det = u[0] * v[1] - u[1] * v[0];
  if (Math.abs(det) <= 1e-13 * Math.hypot(u[0], u[1]) * Math.hypot(v[0], v[1])) return null;
  const t = ((q[0] - p[0]) * v[1] - (q[1] - p[1]) * v[0]) / det;
  return [p[0] + t * u[0], p[1] + t * u[1]];
}
