import type { V3 } from "../vec.ts";
import type { Arm3d, ArmPiece } from "./arm-frame.ts";
import { shearModulusMPa } from "./materials.ts";

/** Forces ON the arm in its own frame (x forward, y towards the ball joint, z up), N; the inner pivots react. */
export interface ArmLoads {
  ballJoint: V3;
  seat: V3 | null;
  /** from the anti-roll bar; absent: none */
  bar?: V3 | null;
}

/**
 * Bending up and down of the whole arm along its length, both legs together: moment about the fore-aft axis at places in
 * rising order, 0 inner pivot .. 1 ball joint, straight lines in between. N·mm, positive when it makes the arm sag (pulled below).
 */
export interface UprightMoments {
  fractions: ArrayLike<number>;
  momentNmm: ArrayLike<number>;
}

/** End forces of every piece (12 each, its own axes) under the push along the road, and under a couple about the arm; null: no couple. */
export interface AlongRoad {
  push: Float64Array;
  twist: Float64Array | null;
}

/** What every cross-section of an arm carries. */
export interface SectionForces {
  arm: Arm3d;
  upright: UprightMoments;
  /** end forces of every piece in plan (12 each, its own axes) */
  plan: Float64Array;
  /** torque of the front leg about itself, N·mm, the same all along; the rear leg has the opposite one */
  torqueNmm: number;
  /** end forces of every piece under a couple that the arm carries about itself, its own axes; null: there is none */
  twist: Float64Array | null;
}

/** Bending of the arm as long as it is straight: the loads times their distances (statics). */
function straightMoments(a: Arm3d, loads: ArmLoads): UprightMoments {
  const points: [number, number][] = [[1, loads.ballJoint[2]]];
  if (loads.seat && a.seatFraction !== null) points.push([a.seatFraction, loads.seat[2]]);
  if (loads.bar && a.barFraction !== null) points.push([a.barFraction, loads.bar[2]]);
  const fractions = [...new Set([0, ...points.map((p) => p[0])])].sort((p, q) => p - q);
  return { fractions, momentNmm: fractions.map((f) => points.reduce((sum, [at, n]) => sum + n * Math.max(0, at - f) * a.lengthMm, 0)) };
}

/** Moment at a place along the arm, N·mm. */
function momentAt(m: UprightMoments, fraction: number): number {
  const { fractions: f, momentNmm } = m;
  const last = f.length - 1;
  let i = 1;
  while (i < last && f[i]! < fraction) i++;
  const share = Math.min(1, Math.max(0, (fraction - f[i - 1]!) / (f[i]! - f[i - 1]!)));
  return momentNmm[i - 1]! + share * (momentNmm[i]! - momentNmm[i - 1]!);
}

/** Mean of the moment over the arm from its inner pivot to a place, N·mm. */
function meanMoment(m: UprightMoments, to: number): number {
  let sum = 0;
  let before = 0;
  let last = momentAt(m, 0);
  const end = momentAt(m, to);
  for (let i = 0; i < m.fractions.length; i++) {
    const f = m.fractions[i]!;
    if (f <= 0 || f >= to) continue;
    sum += ((f - before) * (last + m.momentNmm[i]!)) / 2;
    before = f;
    last = m.momentNmm[i]!;
  }
  return (sum + ((to - before) * (last + end)) / 2) / to;
}

/**
 * What the loads put on every cross-section. In plan (along the arm and fore and aft) the straight frame answers. Up and down the
 * moments are those given: of the solved bent arm, so that what bow, bar and pivot add is in them; without them the straight arm's.
 * (The force along the bent arm is taken as that along its chord: they differ by the square of the bow's slope.)
 *
 * Two angled legs share an upright moment alike, and each carries it by bending and by a torque about itself that is the same all
 * along. The torque follows from the fork not turning about the arm, by symmetry: with M/2 per leg and the leg at an angle β to
 * the arm, T = sin β GJ m / (EI cos² β + GJ sin² β), m the mean of M/2 over the leg; T = sin β M(0)/2 where the pins let go.
 * @param upright default: those of the straight arm under the loads
 * @param along what the push along the road does (`pushOnArm`, `twistOfArm`); default: the straight arm's answer to it, no couple
 */
export function sectionForces(a: Arm3d, loads: ArmLoads, upright: UprightMoments = straightMoments(a, loads), along?: AlongRoad): SectionForces {
  const plan = along ? along.push.slice() : new Float64Array(a.pieces.length * 12);
  [loads.ballJoint, loads.seat, loads.bar].forEach((force, point) => {
    if (!force) return;
    for (let c = 0; c < 2; c++) {
      if (along && point === 0 && c === 0) continue;
      const unit = a.planForces[2 * point + c]!;
      if (force[c] !== 0) for (let i = 0; i < plan.length; i++) plan[i] = plan[i]! + force[c]! * unit[i]!;
    }
  });
  return { arm: a, upright, plan, torqueNmm: legTorque(a, upright), twist: along?.twist ?? null };
}

function legTorque(a: Arm3d, upright: UprightMoments): number {
  const { sin, cos, legEnd } = a.plan;
  if (sin === 0) return 0;
  // the front leg runs backwards on its way out
  if (a.arm.pivotFreeAboutArm) return (-sin * momentAt(upright, 0)) / 2;
  const section = a.pieces[0]!.section;
  const ei = a.material.youngMPa * section.iVertical;
  const gj = shearModulusMPa(a.material) * section.torsion;
  return (-sin * gj * meanMoment(upright, legEnd / a.lengthMm)) / 2 / (ei * cos * cos + gj * sin * sin);
}

/**
 * Forces on the two ends of the part of a piece between two places (shares of the arm), 12 in the piece's own axes, acting on it.
 * In balance: moments run straight in between.
 */
export function partForces(s: SectionForces, piece: ArmPiece, from: number, to: number, out: Float64Array, at = 0): void {
  const { arm, plan } = s;
  const p = piece.member * 12;
  const axes = arm.solved.axes;
  const ex = axes[piece.member * 9]!;
  const ey = axes[piece.member * 9 + 1]!;
  const legs = piece.leg === "stem" ? 1 : arm.plan.legs;
  const torque = piece.leg === "leg front" ? s.torqueNmm : piece.leg === "leg rear" ? -s.torqueNmm : 0;
  // bending about the piece's own level axis: what the torque about the piece leaves of the moment about the fore-aft axis
  const bending = (f: number) => (ex * torque - momentAt(s.upright, f) / legs) / ey;
  const share = (f: number) => (f - piece.from) / (piece.to - piece.from);
  const aside = (f: number) => plan[p + 11]! * share(f) - plan[p + 5]! * (1 - share(f));
  const b0 = bending(from);
  const b1 = bending(to);
  const length = ((to - from) * arm.lengthMm) / ey;
  const upright = (b1 - b0) / length;
  out[at] = plan[p]!;
  out[at + 1] = plan[p + 1]!;
  out[at + 2] = -upright;
  out[at + 3] = -torque;
  out[at + 4] = -b0;
  out[at + 5] = -aside(from);
  out[at + 6] = plan[p + 6]!;
  out[at + 7] = plan[p + 7]!;
  out[at + 8] = upright;
  out[at + 9] = torque;
  out[at + 10] = b1;
  out[at + 11] = aside(to);
  const { twist } = s;
  if (!twist) return;
  for (const i of TWIST_ALIKE) out[at + i] = out[at + i]! + twist[p + i]!;
  // moments run straight between the ends
  for (const i of TWIST_MOMENTS) {
    const moment = (f: number) => twist[p + i + 6]! * share(f) - twist[p + i]! * (1 - share(f));
    out[at + i] = out[at + i]! - moment(from);
    out[at + i + 6] = out[at + i + 6]! + moment(to);
  }
}

/** Of the twelve end forces: those that are the same all along a piece, and the first end's moments that change along it. */
const TWIST_ALIKE = [0, 1, 2, 3, 6, 7, 8, 9] as const;
const TWIST_MOMENTS = [4, 5] as const;
