import { twistOfArm } from "../arm/along-road.ts";
import type { Arm3d } from "../arm/arm-frame.ts";
import { cornerArms3d } from "../arm/corner-arms.ts";
import { mainStiffnesses } from "../arm/stiffness.ts";
import { armStress } from "../arm/stress.ts";
import { jointNPerMm } from "../design/corner-geometry.ts";
import { cornerOf } from "../design/sides.ts";
import { ARM_NAMES, type ArmName, type Corner, type Scenario, SIDES, type Side } from "../design/types.ts";
import { radToDeg } from "../units.ts";
import { heightApart, pushOnJoints, thrustPerWheelN } from "./push.ts";

/**
 * What a push along the car does to one wheel and its arms; linear in the push, as built.
 *
 * The hub hangs on its two ball joints; a level steering rod across the car keeps it from turning about the line through them (toe is not
 * modelled). The rod has no force along the car and lies across it, so that the two joints share the push by its height alone:
 * F_upper = F (z - z_low)/(z_up - z_low), whatever the inclination of that line. By the same lever arms (reciprocity) the place of the push
 * moves by the sum of share times shift, and the hub turns only as seen from the side.
 *
 * Each joint's share runs first through the joint, then through the arm: their gives add, so the stiffness at the hub is
 * 1/(1/k_arm + 1/k_joint); the arm alone would be too stiff by k_arm/k_joint (1.5 % for a forked plastic arm). k_arm is that of the spatial
 * frame with its inner pivots held along the car and against turning about the upright axis; k_joint holds in every direction, as a ball
 * in its cup does (an assumption for a pin through the hub). Clearance adds a free movement and is told apart (`playMm`).
 */
interface ThrustGive {
  /** height of the push above the as-built ground, mm */
  atZMm: number;
  /** share of the push that each ball joint carries; they add up to 1 */
  share: Record<ArmName, number>;
  /** shift of the hub along the push where it acts, mm/N */
  mmPerN: number;
  /** the steering axis leans back at the top by this much under a push forwards, °/N (caster) */
  casterDegPerN: number;
}

export interface ThrustTest {
  /** fore-aft stiffness of each arm at the hub, the ball joint in series, N/mm */
  stiffnessNPerMm: Record<ArmName, number>;
  /** driven through a shaft, or rolling over something: the push acts at the height of the wheel centre */
  atCentre: ThrustGive;
  /** motor or brake inside the hub: the push acts at the road */
  atRoad: ThrustGive;
  /** free fore-aft movement at the wheel centre by the outer joints' clearance, end to end, mm */
  playMm: number;
}

/** Stiffness of each arm along the car at the hub, the ball joint in series, N/mm. */
function alongCar(c: Corner, arms: Record<ArmName, Arm3d>): Record<ArmName, number> {
  const at = (name: ArmName): number => 1 / (1 / mainStiffnesses(arms[name]).foreAft + 1 / jointNPerMm(c.joints[`${name}Outer`]));
  return { upper: at("upper"), lower: at("lower") };
}

/** What a newton forwards does at a height above the as-built ground, mm. */
function giveAt(c: Corner, stiffness: Record<ArmName, number>, zMm: number): ThrustGive {
  const apart = heightApart(c.upperOuter.zMm, c.lowerOuter.zMm);
  const share = pushOnJoints({ upper: c.upperOuter.zMm, lower: c.lowerOuter.zMm, centre: zMm, road: 0 }, [{ newton: 1, carriedBy: "body" }]);
  const move = { upper: share.upper / stiffness.upper, lower: share.lower / stiffness.lower };
  return {
    atZMm: zMm,
    share,
    mmPerN: share.upper * move.upper + share.lower * move.lower,
    casterDegPerN: radToDeg((move.lower - move.upper) / apart),
  };
}

/** Thrust test of one wheel on a rig. @param arms its spatial frames (`cornerArms3d`) */
export function thrustTest(c: Corner, arms: Record<ArmName, Arm3d>): ThrustTest {
  const stiffnessNPerMm = alongCar(c, arms);
  const atCentre = giveAt(c, stiffnessNPerMm, c.wheelCentre.zMm);
  const play = ARM_NAMES.reduce((sum, name) => sum + Math.abs(atCentre.share[name]) * c.joints[`${name}Outer`].clearanceMm, 0);
  return { stiffnessNPerMm, atCentre, atRoad: giveAt(c, stiffnessNPerMm, 0), playMm: 2 * play };
}

export interface ThrustOnArms {
  thrustN: number;
  /** share of each ball joint, forward on the hub's joint, N */
  forceN: Record<ArmName, number>;
  /** along the car at the hub, the ball joint in series, N/mm */
  stiffnessNPerMm: Record<ArmName, number>;
  /** forward shift of the hub at each ball joint, mm */
  shiftMm: Record<ArmName, number>;
  /** forward shift of the hub at the height of the wheel centre, mm */
  wheelShiftMm: number;
  /** turn of the hub seen from the side, top backwards positive, ° */
  casterChangeDeg: number;
  /** largest stress that the thrust alone makes in each arm over its yield */
  stressShare: Record<ArmName, number>;
}

/**
 * The drive's thrust on the arms of one wheel as built, where the scenario says that its last stage is carried (`Carrier`); for itself, without
 * what the arms carry besides.
 * @param thrustPerWheelN forward push of the road on this wheel, N; negative: braking
 * @param atHeightMm height above the as-built ground at which the hub feels it; default: that of what carries the drive
 */
export function thrustOnArms(s: Scenario, side: Side, thrustPerWheelN: number, atHeightMm?: number): ThrustOnArms {
  const c = cornerOf(s, side);
  const { carriedBy } = s.drive;
  const arms = cornerArms3d(c);
  const stiffnessNPerMm = alongCar(c, arms);
  const heights = { upper: c.upperOuter.zMm, lower: c.lowerOuter.zMm, centre: c.wheelCentre.zMm, road: 0 };
  const at = atHeightMm ?? (carriedBy === "hub" ? 0 : c.wheelCentre.zMm);
  const on = pushOnJoints({ ...heights, centre: at }, [{ newton: thrustPerWheelN, carriedBy: carriedBy === "hub" ? "body" : carriedBy }]);
  const centre = giveAt(c, stiffnessNPerMm, c.wheelCentre.zMm).share;
  const both = (f: (name: ArmName) => number): Record<ArmName, number> => ({ upper: f("upper"), lower: f("lower") });
  const forceN = both((n) => on[n]);
  const shiftMm = both((n) => forceN[n] / stiffnessNPerMm[n]);
  const stress = (n: ArmName): number => {
    const torque = on.torqueNmm[n];
    const push = arms[n].planForces[0]!.map((f) => f * forceN[n]);
    const along = { push, twist: torque === 0 ? null : twistOfArm(arms[n], torque) };
    return armStress(arms[n], { ballJoint: [forceN[n], 0, 0], seat: null }, undefined, along).worst.vonMisesMPa;
  };
  return {
    thrustN: thrustPerWheelN,
    forceN,
    stiffnessNPerMm,
    shiftMm,
    wheelShiftMm: centre.upper * shiftMm.upper + centre.lower * shiftMm.lower,
    casterChangeDeg: radToDeg((shiftMm.lower - shiftMm.upper) / heightApart(heights.upper, heights.lower)),
    stressShare: both((n) => stress(n) / arms[n].material.yieldMPa),
  };
}

/** What the hardest push of the drive does to the worse wheel of the axle, forwards positive. */
export interface FullPush {
  /** on each wheel, N */
  pushN: number;
  wheelShiftMm: number;
  /** of the steering axis seen from the side, top backwards positive, ° */
  axisTiltDeg: number;
}

/**
 * Full throttle from standing, as built and without what else the arms carry: what a design gives up or wins along the road, whatever the load
 * that is looked at. Null where the drive does not push this axle. Grip may allow less.
 */
export function atFullPush(s: Scenario): FullPush | null {
  if (!s.drive.onThisAxle) return null;
  const pushN = thrustPerWheelN(s);
  const each = SIDES.map((side) => thrustOnArms(s, side, pushN));
  const most = (f: (t: ThrustOnArms) => number): number => each.map(f).reduce((w, v) => (Math.abs(v) > Math.abs(w) ? v : w));
  return { pushN, wheelShiftMm: most((t) => t.wheelShiftMm), axisTiltDeg: most((t) => t.casterChangeDeg) };
}
