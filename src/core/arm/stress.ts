import type { V3 } from "../vec.ts";
import type { Arm3d, ArmPiece } from "./arm-frame.ts";
import type { LegName } from "./layout.ts";
import type { SectionProperties } from "./sections.ts";

/** Forces ON the arm in its own frame (x forward, y towards the ball joint, z up), N; the inner pivots react. */
export interface ArmLoads {
  ballJoint: V3;
  seat: V3 | null;
}

export interface StressAt {
  vonMisesMPa: number;
  leg: LegName;
  /** 0 front leg or beam, 1 rear leg, 2 stem */
  legIndex: 0 | 1 | 2;
  /** along the arm, 0 inner pivot .. 1 ball joint */
  fraction: number;
  /** in plain words */
  at: string;
}

export interface ArmStress {
  worst: StressAt;
  /** worst place of each leg, beam or stem */
  perMember: StressAt[];
}

/** End forces of every piece under the loads: 12 per piece, acting on its ends, in its own axes. */
export function armEndForces(a: Arm3d, loads: ArmLoads, out = new Float64Array(a.pieces.length * 12)): Float64Array {
  out.fill(0);
  for (let point = 0; point < 2; point++) {
    const force = point === 0 ? loads.ballJoint : loads.seat;
    if (!force) continue;
    for (let c = 0; c < 3; c++) {
      const f = force[c]!;
      if (f === 0) continue;
      const unit = a.unitForces[point * 3 + c]!;
      for (let i = 0; i < out.length; i++) out[i] = out[i]! + f * unit[i]!;
    }
  }
  return out;
}

/**
 * Largest von Mises stress of the arm and where: axial force, both bendings and torsion at the extreme points of each
 * piece's ends (they vary linearly in between), on the net section where there are holes. Shear from transverse force
 * is left out except where it bends the strips beside a hole.
 * @param loads `momentFactor` multiplies the bending moments: what compression adds to them (P-δ), from the planar solution
 */
export function armStress(a: Arm3d, loads: ArmLoads & { momentFactor?: number }): ArmStress {
  const f = armEndForces(a, loads);
  const factor = loads.momentFactor ?? 1;
  const perMember: StressAt[] = [];
  for (const piece of a.pieces) {
    for (const end of [0, 6]) {
      const vonMisesMPa = endStress(piece.section, f, piece.member * 12 + end, factor);
      const known = perMember.find((m) => m.legIndex === piece.legIndex);
      if (known && !(vonMisesMPa > known.vonMisesMPa)) continue;
      const fraction = end === 0 ? piece.from : piece.to;
      const here: StressAt = { vonMisesMPa, leg: piece.leg, legIndex: piece.legIndex, fraction, at: placeName(a, piece, fraction) };
      if (known) Object.assign(known, here);
      else perMember.push(here);
    }
  }
  const worst = perMember.reduce((w, m) => (m.vonMisesMPa > w.vonMisesMPa ? m : w));
  return { worst, perMember };
}

function endStress(s: SectionProperties, f: Float64Array, at: number, factor: number): number {
  const n = Math.abs(f[at]!);
  const t = Math.abs(f[at + 3]!);
  let mv = factor * Math.abs(f[at + 4]!);
  let mf = factor * Math.abs(f[at + 5]!);
  if (s.round) {
    mv = Math.sqrt(mv * mv + mf * mf);
    mf = 0;
  }
  const local = Math.abs(f[at + 2]!) * s.net.perShearVertical + Math.abs(f[at + 1]!) * s.net.perShearForeAft + t * s.net.perTorque;
  let worst = 0;
  for (const p of s.points) {
    const sigma = n * p.perN + mv * p.perMv + mf * p.perMf + local;
    const tau = t * p.perT;
    const square = sigma * sigma + 3 * tau * tau;
    if (square > worst) worst = square;
  }
  return Math.sqrt(worst);
}

/** share of the arm within which a place counts as a named one */
const NAMED = 2e-3;

function placeName(a: Arm3d, piece: ArmPiece, fraction: number): string {
  const names: Record<LegName, string> = { "leg front": "front leg", "leg rear": "rear leg", stem: "stem", beam: "beam" };
  const near = (f: number) => Math.abs(f - fraction) < NAMED;
  let place = "";
  if (a.seatFraction !== null && near(a.seatFraction)) place = "at the spring seat";
  else if (near(0)) place = "at the inner pivot";
  else if (near(a.plan.legEnd / a.lengthMm) && piece.leg !== "beam") place = a.plan.parallel ? "at the cross piece" : "where the legs meet";
  else place = "at the ball joint";
  return `${names[piece.leg]}, ${place}`;
}
