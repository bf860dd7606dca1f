import type { V2 } from "../vec.ts";
import { bracketedRoot } from "./bracket.ts";
import { circleCircle } from "./circle-circle.ts";
import { CLOSURE_SIZE, type ClosureNumbers, COUPLER_RATE, CRANK_RATE, closeChain, closureSlopes, POINT_RISE, POINT_Z } from "./closure.ts";
import { CHANGE_POINT_COSINE, FOLD_REL } from "./tolerances.ts";

/**
 * Why a corner moves no further on the branch it was assembled in.
 * `upperArmInLine`: upper arm and hub stand in one line (dead centre), beyond it the hub would turn over;
 * `lowerArmInLine`: lower arm and hub do; `wheelTurnsBack`: the wheel centre has reached its highest or lowest
 * point (the instant centre is straight above or below it).
 */
export type LockReason = "upperArmInLine" | "lowerArmInLine" | "wheelTurnsBack";

const SENTENCES: Record<LockReason, string> = {
  upperArmInLine: "the upper arm and the hub come into one line and lock (dead centre)",
  lowerArmInLine: "the lower arm and the hub come into one line and lock (dead centre)",
  wheelTurnsBack: "the wheel centre has reached the end of its path and turns back",
};
/** Why the travel ends there, in words. */
export const lockSentence = (reason: LockReason): string => SENTENCES[reason];

/** Travel of the wheel centre against the chassis, mm, positive in bump; never crossed by any position solve. */
export interface TravelLimits {
  bumpMm: number;
  droopMm: number;
  bumpReason: LockReason;
  droopReason: LockReason;
  /** lower-arm angle at each end, rad, counter-clockwise from outboard */
  bumpAngleRad: number;
  droopAngleRad: number;
  /** upper arm and hub are to be put exactly in line there (all but the fold of two equal lengths, which has no direction) */
  bumpInLine: boolean;
  droopInLine: boolean;
}

const TURN = 2 * Math.PI;
/** Longest step of the search for the wheel centre's highest and lowest point, rad of lower arm or hub; touches between steps are looked at too. */
const SCAN_RAD = 0.06;
/** Steps of the search stop shrinking here, the end itself is next. */
const NEAR_END_RAD = 1e-12;

/** How far it is from `from` to `to` turning in direction `dir`, 0 < result <= one turn. */
function turnTo(from: number, to: number, dir: 1 | -1): number {
  const d = (dir * (to - from)) % TURN;
  return d > 0 ? d : d + TURN;
}

/** A crank angle at a dead centre; `exact`: coupler and rocker are in line there, not a hair before it. */
export interface InLine {
  angleRad: number;
  exact: boolean;
}

/** Where coupler and rocker stand in line: law of cosines in the triangle of crank pivot, rocker pivot and crank end. */
export function inLineAngles(g: ClosureNumbers): InLine[] {
  const gs = g.crankPivotS - g.rockerPivotS;
  const gz = g.crankPivotZ - g.rockerPivotZ;
  const groundSq = gs * gs + gz * gz;
  const scale = 2 * g.crankMm * Math.sqrt(groundSq);
  if (scale === 0) return [];
  const straight = Math.atan2(gz, gs);
  const base = groundSq + g.crankMm * g.crankMm;
  const foldLimitSq = Math.max(g.foldSq, FOLD_REL * FOLD_REL * g.reachSq);
  const angles: InLine[] = [];
  for (const distanceSq of [g.reachSq, foldLimitSq]) {
    const cosine = (distanceSq - base) / scale;
    if (Math.abs(cosine) > 1 + CHANGE_POINT_COSINE) continue;
    const half = Math.acos(Math.max(-1, Math.min(1, cosine)));
    const exact = distanceSq === g.reachSq || distanceSq === g.foldSq;
    angles.push({ angleRad: straight + half, exact }, { angleRad: straight - half, exact });
  }
  return angles;
}

/** Where crank and coupler stand in line on this branch. */
function crankInLineAngles(g: ClosureNumbers): InLine[] {
  const a: V2 = [g.crankPivotS, g.crankPivotZ];
  const d: V2 = [g.rockerPivotS, g.rockerPivotZ];
  const coupler = Math.sqrt(g.couplerSq);
  const rocker = Math.sqrt(g.rockerSq);
  const angles: InLine[] = [];
  for (const reach of [g.crankMm + coupler, g.crankMm - coupler]) {
    const meeting = circleCircle(a, Math.abs(reach), d, rocker);
    if (meeting.kind !== "two") continue;
    for (const c of [meeting.left, meeting.right]) {
      const f = g.crankMm / reach;
      const rs = f * (c[0] - a[0]);
      const rz = f * (c[1] - a[1]);
      const ns = d[0] - a[0] - rs;
      const nz = d[1] - a[1] - rz;
      const qs = c[0] - a[0] - rs;
      const qz = c[1] - a[1] - rz;
      if (g.branch * (ns * qz - nz * qs) > 0) angles.push({ angleRad: Math.atan2(rz, rs), exact: false });
    }
  }
  return angles;
}

interface End {
  turnRad: number;
  reason: LockReason;
  inLine: boolean;
}

/**
 * The first place within `end` at which the wheel centre stops rising (or sinking). Its rise along the regular
 * parameter changes sign there. The steps of the search are short in the turn of the lower arm and of the hub, and
 * against the distance to a dead centre, passed closely or met: there the hub turns ever faster. Where the rise
 * falls at the start of a step and grows at its end, its lowest value between is looked at.
 */
function turnBack(g: ClosureNumbers, home: number, dir: 1 | -1, end: number, out: Float64Array): number | null {
  closeChain(g, home, false, out);
  const sign = Math.sign(out[POINT_RISE]!);
  const rise = (turn: number): number => {
    closeChain(g, home + dir * turn, false, out);
    return sign * out[POINT_RISE]!;
  };
  // the regular parameter runs with the crank where the crank's rate is positive
  const along = sign * dir * Math.sign(out[CRANK_RATE]!);
  let turn = 0;
  let slopes = closureSlopes(g, out);
  while (turn < end) {
    const crankRate = out[CRANK_RATE]!;
    const hubPerArm = Math.abs(out[COUPLER_RATE]! / crankRate);
    const toDeadCentre = Math.abs((crankRate * crankRate) / slopes.crankRate);
    const step = SCAN_RAD * Math.min(1, 1 / hubPerArm, 8 * toDeadCentre);
    const next = step > NEAR_END_RAD ? Math.min(end, turn + step) : end;
    if (rise(next) <= 0) return bracketedRoot(rise, turn, next);
    const nextSlopes = closureSlopes(g, out);
    if (along * slopes.rise < 0 && along * nextSlopes.rise > 0) {
      const low = lowest(rise, turn, next);
      if (rise(low) <= 0) return bracketedRoot(rise, turn, low);
      rise(next);
    }
    turn = next;
    slopes = nextSlopes;
  }
  return null;
}

/** Place of the smallest value of `f` in a..b by golden section; stops as soon as f is not positive. */
function lowest(f: (x: number) => number, a: number, b: number): number {
  const share = (Math.sqrt(5) - 1) / 2;
  let x1 = b - share * (b - a);
  let x2 = a + share * (b - a);
  let f1 = f(x1);
  let f2 = f(x2);
  for (let i = 0; i < 60 && f1 > 0 && f2 > 0; i++) {
    if (f1 < f2) {
      b = x2;
      x2 = x1;
      f2 = f1;
      x1 = b - share * (b - a);
      f1 = f(x1);
    } else {
      a = x1;
      x1 = x2;
      f1 = f2;
      x2 = a + share * (b - a);
      f2 = f(x2);
    }
  }
  return f1 < f2 ? x1 : x2;
}

function endOfTravel(g: ClosureNumbers, home: number, dir: 1 | -1, out: Float64Array): End {
  let end: End = { turnRad: TURN, reason: "wheelTurnsBack", inLine: false };
  const consider = (angles: InLine[], reason: LockReason): void => {
    for (const { angleRad, exact } of angles) {
      const turnRad = turnTo(home, angleRad, dir);
      if (turnRad < end.turnRad) end = { turnRad, reason, inLine: exact };
    }
  };
  consider(inLineAngles(g), "upperArmInLine");
  consider(crankInLineAngles(g), "lowerArmInLine");
  const turnRad = turnBack(g, home, dir, end.turnRad, out);
  return turnRad === null ? end : { turnRad, reason: "wheelTurnsBack", inLine: false };
}

/**
 * Both ends of the travel that contains the lower-arm angle `homeRad` (no dead centre, wheel centre moving).
 * `zeroHeightMm`: height of the wheel centre that counts as travel 0. Between the ends travel and angle belong
 * to each other one to one. Dead centres are closed form, the turning point is bracketed.
 */
export function findTravelLimits(g: ClosureNumbers, homeRad: number, zeroHeightMm: number): TravelLimits {
  const out = new Float64Array(CLOSURE_SIZE);
  closeChain(g, homeRad, false, out);
  const up = out[POINT_RISE]! * out[CRANK_RATE]! > 0 ? 1 : -1;
  const travelAt = (end: End, dir: 1 | -1): { angle: number; travel: number } => {
    const angle = homeRad + dir * end.turnRad;
    closeChain(g, angle, end.inLine, out);
    return { angle, travel: out[POINT_Z]! - zeroHeightMm };
  };
  const bump = endOfTravel(g, homeRad, up, out);
  const droop = endOfTravel(g, homeRad, up === 1 ? -1 : 1, out);
  const b = travelAt(bump, up);
  const d = travelAt(droop, up === 1 ? -1 : 1);
  return {
    bumpMm: b.travel,
    droopMm: d.travel,
    bumpReason: bump.reason,
    droopReason: droop.reason,
    bumpAngleRad: b.angle,
    droopAngleRad: d.angle,
    bumpInLine: bump.inLine,
    droopInLine: droop.inLine,
  };
}
