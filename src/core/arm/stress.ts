import type { Arm3d, ArmPiece } from "./arm-frame.ts";
import type { LegName } from "./layout.ts";
import { type AlongRoad, type ArmLoads, partForces, sectionForces, type UprightMoments } from "./section-forces.ts";
import type { SectionProperties } from "./sections.ts";

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

/**
 * Largest von Mises stress of the arm and where: axial force, both bendings and torsion at the extreme points of each
 * piece's ends and of every place in between at which a moment is told (moments run straight between them), on the net
 * section where there are holes. Shear from transverse force is left out except where it bends the strips beside a hole.
 * @param loads all three parts of the force at the ball joint, and what acts at spring seat and anti-roll bar, N
 * @param upright moments of the solved bent arm; default: those of the straight arm under the loads
 * @param along what the push along the road does to second order; default: the straight arm's answer to it
 */
export function armStress(a: Arm3d, loads: ArmLoads, upright?: UprightMoments, along?: AlongRoad): ArmStress {
  const s = sectionForces(a, loads, upright, along);
  // the highest of each leg or stem, and where
  const worst: { piece: ArmPiece; vonMisesMPa: number; fraction: number }[] = [];
  const see = (piece: ArmPiece, end: number, fraction: number): void => {
    const vonMisesMPa = endStress(piece.section, forces, end);
    const known = worst.find((m) => m.piece.legIndex === piece.legIndex);
    if (!known) worst.push({ piece, vonMisesMPa, fraction });
    else if (vonMisesMPa > (1 + SAME) * known.vonMisesMPa) {
      known.piece = piece;
      known.vonMisesMPa = vonMisesMPa;
      known.fraction = fraction;
    }
  };
  const { fractions } = s.upright;
  for (const piece of a.pieces) {
    const { net } = piece.section;
    // where shear adds to the stress, the two parts that meet at a place differ there
    const shear = net.perShearVertical > 0 || net.perShearForeAft > 0;
    let from = piece.from;
    for (let i = 0; i <= fractions.length; i++) {
      const place = i < fractions.length ? fractions[i]! : piece.to;
      if (i < fractions.length && !(place > piece.from + SAME && place < piece.to - SAME)) continue;
      partForces(s, piece, from, place, forces);
      if (shear || from === piece.from) see(piece, 0, from);
      see(piece, 6, place);
      from = place;
    }
  }
  const perMember = worst.map(
    ({ piece, vonMisesMPa, fraction }): StressAt => ({ vonMisesMPa, leg: piece.leg, legIndex: piece.legIndex, fraction, at: placeName(a, piece, fraction) }),
  );
  return { worst: perMember.reduce((w, m) => (m.vonMisesMPa > (1 + SAME) * w.vonMisesMPa ? m : w)), perMember };
}

/** Forces on both ends of the part at hand. */
const forces = new Float64Array(12);

function endStress(s: SectionProperties, f: Float64Array, at: number): number {
  const n = Math.abs(f[at]!);
  const t = Math.abs(f[at + 3]!);
  let mv = Math.abs(f[at + 4]!);
  let mf = Math.abs(f[at + 5]!);
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
/** places closer than this share of the arm are one, stresses closer than this share alike */
const SAME = 1e-9;

const LEG_WORDS: Readonly<Record<LegName, string>> = { "leg front": "front leg", "leg rear": "rear leg", stem: "stem", beam: "beam" };

function placeName(a: Arm3d, piece: ArmPiece, fraction: number): string {
  const near = (f: number) => Math.abs(f - fraction) < NAMED;
  let place = "";
  if (a.seatFraction !== null && near(a.seatFraction)) place = "at the spring seat";
  else if (a.barFraction !== null && near(a.barFraction)) place = "at the anti-roll bar";
  else if (near(0)) place = "at the inner pivot";
  else if (near(a.plan.legEnd / a.lengthMm) && piece.leg !== "beam") place = a.plan.parallel ? "at the cross piece" : "where the legs meet";
  else if (near(1)) place = "at the ball joint";
  else place = `${Math.round(100 * fraction)} % of the way to the ball joint`;
  return `${LEG_WORDS[piece.leg]}, ${place}`;
}
