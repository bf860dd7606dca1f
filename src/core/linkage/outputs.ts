import { DEG } from "../units.ts";
import type { V2 } from "../vec.ts";
import type { CornerLinkage } from "./corner.ts";
import { curvature, height, motionAt, outboard, type Rate, ratio, slope } from "./motion.ts";
import { type CornerPose, type Locked, positionAtTravel } from "./position.ts";
import { springForceAt } from "./spring-force.ts";
import { PARALLEL_SINE } from "./tolerances.ts";

/** A point that can run to infinity, where only its direction (unit vector) is left. */
export type PointOrFar = { kind: "point"; at: V2 } | { kind: "atInfinity"; direction: V2 };

/**
 * The kinematics of one corner at one travel, in corner coordinates against the chassis; the road is parallel to
 * the chassis and touches the contact point. A derivative is per mm of wheel-centre travel unless its name says
 * per mm at the contact. At the very end of a path where the wheel turns back derivatives are infinite, never NaN.
 */
export interface CornerKinematics {
  ok: true;
  pose: CornerPose;
  travelMm: number;
  /** positive: top outward */
  camberDeg: number;
  camberGainDegPerMm: number;
  /** contact point against as built, outboard positive (half-track change), mm */
  contactShiftMm: number;
  /** half-track change per mm of wheel-centre travel */
  contactShiftPerMm: number;
  /** rise of the contact point per mm of wheel-centre travel */
  contactRisePerMm: number;
  instantCentre: PointOrFar;
  /** level distance from the instant centre to the wheel centre, positive when the instant centre is on the inboard side; infinite for parallel arms */
  swingArmMm: number;
  /** height above the road of the roll centre of an axle whose other side stands the same, mm */
  rollCentreHeightMm: number;
  /** lean of the steering axis through the ball joints, positive when its top is inboard */
  kingpinInclinationDeg: number;
  /** contact point minus the place where the steering axis meets the road, positive when that is inboard, mm */
  scrubRadiusMm: number;
  springLengthMm: number;
  /** -d(spring length)/dz, positive when bump compresses the spring */
  motionRatio: number;
  motionRatioPerMm: number;
  motionRatioAtContact: number;
  motionRatioAtContactPerMm: number;
  springForceN: number;
  springRateNPerMm: number;
  /** k·MR² + F·dMR/dz at the wheel centre, stops included */
  wheelRateNPerMm: number;
  /** the same for travel of the contact point on a road without side force */
  wheelRateAtContactNPerMm: number;
}

/** Kinematics at a travel of the wheel centre against the chassis, mm, or the lock that lies before it. */
export function kinematicsAt(linkage: CornerLinkage, travelMm: number): CornerKinematics | Locked {
  const pose = positionAtTravel(linkage, travelMm);
  return pose.ok ? kinematicsOf(linkage, pose) : pose;
}

/** The figures of a rigid corner at a pose: rates over wheel travel, centres, wheel rate. */
export function kinematicsOf(linkage: CornerLinkage, pose: CornerPose): CornerKinematics {
  const motion = motionAt(linkage, pose);
  const rise = height(motion.wheelCentre);
  const contactRise = height(motion.contact);
  const contactOut = outboard(motion.contact);
  const spring = springForceAt(linkage.corner.spring, pose.springLengthMm);
  const squeeze: Rate = { first: -motion.springLength.first, second: -motion.springLength.second };
  const hub: V2 = [pose.upperOuter[0] - pose.lowerOuter[0], pose.upperOuter[1] - pose.lowerOuter[1]];
  const axisAtRoad = pose.lowerOuter[0] + ratio((pose.contact[1] - pose.lowerOuter[1]) * hub[0], hub[1]);
  const builtContact = linkage.corner.lowerOuter.sMm + linkage.local.contact[0];
  return {
    ok: true,
    pose,
    travelMm: pose.travelMm,
    camberDeg: pose.camberDeg,
    camberGainDegPerMm: -slope(motion.hubTurn, rise) / DEG,
    contactShiftMm: pose.contact[0] - builtContact,
    contactShiftPerMm: slope(contactOut, rise),
    contactRisePerMm: slope(contactRise, rise),
    instantCentre: instantCentreOf(pose),
    swingArmMm: isParallel(pose) ? Number.POSITIVE_INFINITY : ratio(rise.first, pose.hubRate),
    rollCentreHeightMm: ratio(pose.contact[0] * contactOut.first, contactRise.first),
    kingpinInclinationDeg: Math.atan2(-hub[0], hub[1]) / DEG,
    scrubRadiusMm: pose.contact[0] - axisAtRoad,
    springLengthMm: pose.springLengthMm,
    motionRatio: slope(squeeze, rise),
    motionRatioPerMm: curvature(squeeze, rise),
    motionRatioAtContact: slope(squeeze, contactRise),
    motionRatioAtContactPerMm: curvature(squeeze, contactRise),
    springForceN: spring.forceN,
    springRateNPerMm: spring.rateNPerMm,
    wheelRateNPerMm: rateThrough(spring.rateNPerMm, spring.forceN, squeeze, rise),
    wheelRateAtContactNPerMm: rateThrough(spring.rateNPerMm, spring.forceN, squeeze, contactRise),
  };
}

/**
 * k·MR² + F·dMR/dz (Barton & Fieldhouse, Automotive Chassis Engineering, 2018, eq. 3.29-3.33, with the preload term),
 * in one fraction so that two infinities never meet at the end of the path.
 */
function rateThrough(k: number, f: number, squeeze: Rate, z: Rate): number {
  const n = k * squeeze.first * squeeze.first * z.first + f * (squeeze.second * z.first - squeeze.first * z.second);
  return ratio(n, z.first * z.first * z.first);
}

function isParallel(pose: CornerPose): boolean {
  const lower = Math.hypot(pose.lowerOuter[0] - pose.lowerInner[0], pose.lowerOuter[1] - pose.lowerInner[1]);
  const upper = Math.hypot(pose.upperOuter[0] - pose.upperInner[0], pose.upperOuter[1] - pose.upperInner[1]);
  return Math.abs(pose.hubRate) <= PARALLEL_SINE * lower * upper;
}

/**
 * Front-view instant centre: where the lines of the two arms meet (A. B. W. Kennedy 1886; R. L. Norton, Design of
 * Machinery, sec. 6.3). On the line of the lower arm, D/N arm vectors inboard of its outer end.
 */
export function instantCentreOf(pose: CornerPose): PointOrFar {
  const r: V2 = [pose.lowerOuter[0] - pose.lowerInner[0], pose.lowerOuter[1] - pose.lowerInner[1]];
  if (isParallel(pose)) {
    const l = Math.hypot(r[0], r[1]);
    return { kind: "atInfinity", direction: [r[0] / l, r[1] / l] };
  }
  const f = pose.lowerRate / pose.hubRate;
  return { kind: "point", at: [pose.lowerOuter[0] - f * r[0], pose.lowerOuter[1] - f * r[1]] };
}
