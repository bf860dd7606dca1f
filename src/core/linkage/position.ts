import { DEG } from "../units.ts";
import type { V2 } from "../vec.ts";
import {
  ANGLE,
  CLOSURE_SIZE,
  type ClosureNumbers,
  COUPLER_RATE,
  CRANK_END_S,
  CRANK_END_Z,
  CRANK_RATE,
  closeChain,
  JOINT_S,
  JOINT_Z,
  POINT_RISE,
  POINT_S,
  POINT_Z,
  TURN_COS,
  TURN_SIN,
} from "./closure.ts";
import type { CornerLinkage } from "./corner.ts";
import { MEND_RAD } from "./tolerances.ts";
import { type LockReason, lockSentence } from "./travel.ts";

export interface Locked {
  ok: false;
  kind: "locked";
  end: "bump" | "droop";
  reason: LockReason;
  /** the travel at which it locks */
  limitMm: number;
  message: string;
}

export interface CornerPose {
  ok: true;
  travelMm: number;
  lowerAngleRad: number;
  /** turn of the hub from as built, counter-clockwise */
  hubTurnRad: number;
  /** against the chassis, static setting included */
  camberDeg: number;
  lowerInner: V2;
  lowerOuter: V2;
  upperInner: V2;
  upperOuter: V2;
  wheelCentre: V2;
  /** wheel centre minus radius times the unit vector up in the wheel plane (thin disc) */
  contact: V2;
  springTop: V2;
  springSeat: V2;
  springLengthMm: number;
  /**
   * speeds of lower arm and hub along the regular parameter of the closure (mm²): only their ratios mean something
   */
  lowerRate: number;
  hubRate: number;
}

/** What `positionInto` says: found, or locked at one of the two ends. */
export const FOUND = 0;
export const LOCKED_IN_BUMP = 1;
export const LOCKED_IN_DROOP = 2;

const NEWTON_STEPS = 12;
const ALL_STEPS = 140;

/**
 * Position at a travel of the wheel centre (mm against the chassis), allocation-free, into `out` (CLOSURE_SIZE
 * numbers, places named in closure.ts). `out[ANGLE]` is read as a first guess of the lower-arm angle when it lies
 * within the limits, so neighbouring travels cost two or three closures each. Newton with the exact slope inside
 * a bracket that only shrinks. Beyond a limit (or for NaN) nothing is computed, `out` stays as it was.
 */
export function positionInto(linkage: CornerLinkage, travelMm: number, out: Float64Array): number {
  const limits = linkage.limits;
  const g = linkage.closure;
  if (!(travelMm <= limits.bumpMm)) return LOCKED_IN_BUMP;
  if (!(travelMm >= limits.droopMm)) return LOCKED_IN_DROOP;
  let above = limits.bumpAngleRad;
  let below = limits.droopAngleRad;
  if (travelMm === limits.bumpMm || travelMm === limits.droopMm) {
    const top = travelMm === limits.bumpMm;
    closeChain(g, top ? above : below, top ? limits.bumpInLine : limits.droopInLine, out);
    return FOUND;
  }
  const target = linkage.zeroHeightMm + travelMm;
  const tolerance = linkage.heightToleranceMm;
  let angle = out[ANGLE]!;
  if (!((angle - above) * (angle - below) < 0)) angle = linkage.homeAngleRad;
  for (let i = 0; i < ALL_STEPS; i++) {
    closeChain(g, angle, false, out);
    const error = out[POINT_Z]! - target;
    if (error < tolerance && error > -tolerance) return FOUND;
    if (error < 0) below = angle;
    else above = angle;
    let next = angle - (error * out[CRANK_RATE]!) / out[POINT_RISE]!;
    if ((i >= NEWTON_STEPS && (i & 1) === 1) || !((next - above) * (next - below) < 0)) {
      next = 0.5 * (above + below);
      if (next === above || next === below) {
        mendHeight(g, error, out);
        return FOUND;
      }
    }
    angle = next;
  }
  return FOUND;
}

/**
 * A hair before a dead centre the hub turns by the root of what the lower arm does, and two neighbouring numbers of
 * its angle are too far apart for the asked height. The hub is turned about the lower ball joint by what is left
 * over; the lower arm's share of that motion is below its last digit. Keeps the hub's length exactly.
 */
function mendHeight(g: ClosureNumbers, error: number, out: Float64Array): void {
  const turn = (-error * out[COUPLER_RATE]!) / out[POINT_RISE]!;
  if (!(Math.abs(turn) < MEND_RAD)) return;
  const sin = out[TURN_SIN]! + turn * out[TURN_COS]!;
  const cos = out[TURN_COS]! - turn * out[TURN_SIN]!;
  out[TURN_COS] = cos;
  out[TURN_SIN] = sin;
  out[JOINT_S] = out[CRANK_END_S]! + cos * g.coupler0S - sin * g.coupler0Z;
  out[JOINT_Z] = out[CRANK_END_Z]! + sin * g.coupler0S + cos * g.coupler0Z;
  out[POINT_S] = out[CRANK_END_S]! + cos * g.pointS - sin * g.pointZ;
  out[POINT_Z] = out[CRANK_END_Z]! + sin * g.pointS + cos * g.pointZ;
}

/** Position at a travel of the wheel centre, mm against the chassis, positive in bump. */
export function positionAtTravel(linkage: CornerLinkage, travelMm: number): CornerPose | Locked {
  const out = new Float64Array(CLOSURE_SIZE).fill(Number.NaN);
  const status = positionInto(linkage, travelMm, out);
  if (status === FOUND) return poseFrom(linkage, out);
  return lockedAt(linkage, status === LOCKED_IN_BUMP ? "bump" : "droop");
}

/** Position at a lower-arm angle (rad, counter-clockwise from outboard), within the limits. * @internal for the tests
 */
export function positionAtLowerAngle(linkage: CornerLinkage, angleRad: number): CornerPose | Locked {
  const { bumpAngleRad, droopAngleRad, bumpInLine, droopInLine } = linkage.limits;
  const share = (angleRad - droopAngleRad) / (bumpAngleRad - droopAngleRad);
  if (!(share <= 1)) return lockedAt(linkage, "bump");
  if (!(share >= 0)) return lockedAt(linkage, "droop");
  const inLine = (share === 1 && bumpInLine) || (share === 0 && droopInLine);
  const out = new Float64Array(CLOSURE_SIZE);
  closeChain(linkage.closure, angleRad, inLine, out);
  return poseFrom(linkage, out);
}

/** The lock at one end of the travel, as it is told when a wish goes beyond it. */
export function lockedAt(linkage: CornerLinkage, end: "bump" | "droop"): Locked {
  const reason = end === "bump" ? linkage.limits.bumpReason : linkage.limits.droopReason;
  const limitMm = end === "bump" ? linkage.limits.bumpMm : linkage.limits.droopMm;
  return { ok: false, kind: "locked", end, reason, limitMm, message: `at ${limitMm.toFixed(1)} mm of travel ${lockSentence(reason)}` };
}

/** Everything that has a place, from a closed position. */
export function poseFrom(linkage: CornerLinkage, out: Float64Array): CornerPose {
  const { corner, local, closure } = linkage;
  const cos = out[TURN_COS]!;
  const sin = out[TURN_SIN]!;
  const lowerOuter: V2 = [out[CRANK_END_S]!, out[CRANK_END_Z]!];
  const upperOuter: V2 = [out[JOINT_S]!, out[JOINT_Z]!];
  const lowerInner: V2 = [closure.crankPivotS, closure.crankPivotZ];
  const upperInner: V2 = [closure.rockerPivotS, closure.rockerPivotZ];
  const onHub = (p: V2): V2 => [lowerOuter[0] + cos * p[0] - sin * p[1], lowerOuter[1] + sin * p[0] + cos * p[1]];
  const along = (a: V2, b: V2, f: number): V2 => [a[0] + f * (b[0] - a[0]), a[1] + f * (b[1] - a[1])];
  const seat = corner.spring.seat;
  const springSeat =
    seat.on === "hub"
      ? onHub(local.seat ?? [0, 0])
      : seat.on === "lowerArm"
        ? along(lowerInner, lowerOuter, seat.fraction)
        : along(upperInner, upperOuter, seat.fraction);
  const springTop: V2 = [corner.spring.top.sMm, corner.spring.top.zMm];
  const hubTurnRad = Math.atan2(sin, cos);
  return {
    ok: true,
    travelMm: out[POINT_Z]! - linkage.zeroHeightMm,
    lowerAngleRad: out[ANGLE]!,
    hubTurnRad,
    camberDeg: corner.hub.staticCamberDeg - hubTurnRad / DEG,
    lowerInner,
    lowerOuter,
    upperInner,
    upperOuter,
    wheelCentre: [out[POINT_S]!, out[POINT_Z]!],
    contact: onHub(local.contact),
    springTop,
    springSeat,
    springLengthMm: Math.sqrt((springSeat[0] - springTop[0]) ** 2 + (springSeat[1] - springTop[1]) ** 2),
    lowerRate: out[CRANK_RATE]!,
    hubRate: out[COUPLER_RATE]!,
  };
}
