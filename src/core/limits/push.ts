import type { PushReport } from "../analysis.ts";
import { pushOnArm, twistOfArm } from "../arm/along-road.ts";
import type { AlongRoad } from "../arm/section-forces.ts";
import { armLengthMm, armOf, jointNPerMm } from "../design/corner-geometry.ts";
import { ARM_NAMES, type ArmName, type JointName, type Side } from "../design/types.ts";
import { heightApart, type PushAsked, passedOn, pushAsked, pushOnJoints } from "../drive/push.ts";
import { radToDeg } from "../units.ts";
import { planeLoads, type SolvedArmLoads } from "./arm-loads.ts";
import { cornerOfContext, type LimitContext } from "./context.ts";

/**
 * The push along the road on a wheel at a solved load, and what it does to hub, joints and arms. It is small beside what holds the axle in the
 * front view, and square to it: the position there stays the one that was solved without it.
 */
export interface WheelPush extends PushReport {
  asked: PushAsked;
  /** resultant of the asked push and the side force over what the grip holds, 1 on the friction circle */
  gripUsed: number;
  /** radial pull of each joint; of two inner pins the worse one, counted twice, N */
  jointPullN: Record<JointName, number>;
  along: Record<ArmName, AlongRoad>;
  /** an arm that is pressed too hard to stand the push; null: both hold */
  folds: ArmName | null;
}

/** What is told once for a solved state, because several limits ask for it: what each arm carries in the plane, and the push on each wheel. */
interface Kept {
  plane: Record<Side, Partial<Record<ArmName, SolvedArmLoads>>>;
  push: Partial<Record<Side, WheelPush | null>>;
}

const kept = new WeakMap<LimitContext, Kept>();

function keptOf(x: LimitContext): Kept {
  let known = kept.get(x);
  if (!known) {
    known = { plane: { left: {}, right: {} }, push: {} };
    kept.set(x, known);
  }
  return known;
}

/** Push on a wheel; null where there is none. */
export function wheelPush(x: LimitContext, side: Side): WheelPush | null {
  const { push } = keptOf(x);
  if (push[side] === undefined) push[side] = pushOf(x, side);
  return push[side];
}

function pushOf(x: LimitContext, side: Side): WheelPush | null {
  const { scenario } = x.model;
  const asked = x.push ?? pushAsked(scenario, x.state.load, x.speedMps);
  if (asked.driveN === 0 && asked.brakeN === 0) return null;
  const { c, s } = cornerOfContext(x, side);
  const { share, gripUsed } = passedOn(asked, s.tyre.lateralN, s.tyre.verticalN, c.tyre.friction);
  const drive = { newton: share * asked.driveN, carriedBy: scenario.drive.carriedBy };
  const brake = { newton: share * asked.brakeN, carriedBy: scenario.brake.carriedBy };
  const [upper, lower] = [s.joints.upperOuter.hole, s.joints.lowerOuter.hole];
  const heights = { upper: upper[1], lower: lower[1], centre: s.wheelCentre[1], road: s.tyre.contact[1] };
  const onJoints = pushOnJoints(heights, [drive, brake]);

  const along = {} as Record<ArmName, AlongRoad>;
  const jointShiftMm = {} as Record<ArmName, number>;
  const jointForceN = {} as Record<JointName, number>;
  const jointPullN = {} as Record<JointName, number>;
  let folds: ArmName | null = null;
  for (const name of ARM_NAMES) {
    const arm3d = x.arms3d[side][name];
    const plane = planeOf(x, side, name);
    const [, alongArm, across] = plane.loads.ballJoint;
    const pushN = onJoints[name];
    const answer = pushOnArm(arm3d, { ...plane.loads, ballJoint: [pushN, alongArm, across] });
    if (!answer.holds) folds = name;
    const torque = onJoints.torqueNmm[name];
    along[name] = { push: answer.endForces, twist: torque === 0 ? null : twistOfArm(arm3d, torque) };
    const joint = c.corner.joints[`${name}Outer`];
    const outer = s.joints[`${name}Outer`].forceN;
    const space = Math.sqrt(outer * outer + pushN * pushN);
    // the pin lies where the force in space presses it
    jointShiftMm[name] = answer.shiftMm + pushN / jointNPerMm(joint) + (space > 0 ? (joint.clearanceMm * pushN) / space : 0);
    jointForceN[`${name}Outer`] = space;
    jointPullN[`${name}Outer`] = space;
    const inner = s.joints[`${name}Inner`];
    jointForceN[`${name}Inner`] = Math.sqrt(inner.forceN * inner.forceN + pushN * pushN);
    const arm = armOf(c.corner, name);
    jointPullN[`${name}Inner`] =
      arm.layout === "straight"
        ? inner.forceN
        : worsePinN(inner.force, unit(s.arms[name].nodes), pushN * armLengthMm(c.corner, name) - alongArm * answer.shiftMm, torque, arm.spreadMm);
  }
  const apart = heightApart(heights.upper, heights.lower);
  const turn = (jointShiftMm.lower - jointShiftMm.upper) / apart;
  const lever = (at: readonly [number, number]): number => c.sign * (at[0] - lower[0] - ((upper[0] - lower[0]) * (at[1] - heights.lower)) / apart);
  const leverOf = (p: { carriedBy: string }): number => lever(p.carriedBy === "hub" ? s.tyre.contact : s.wheelCentre);
  return {
    asked,
    askedN: asked.driveN + asked.brakeN,
    passedOnN: drive.newton + brake.newton,
    spinsOrLocks: share < 1,
    gripUsed,
    jointPushN: { upper: onJoints.upper, lower: onJoints.lower },
    armTwistNmm: onJoints.torqueNmm,
    jointShiftMm,
    wheelShiftMm: jointShiftMm.lower - turn * (heights.centre - heights.lower),
    axisTiltDeg: radToDeg(turn),
    steeringNmm: drive.newton * leverOf(drive) + brake.newton * leverOf(brake),
    jointForceN,
    jointPullN,
    along,
    folds,
  };
}

/** Direction of the arm's chord in the picture, from its inner to its outer end. */
function unit(nodes: readonly (readonly [number, number])[]): readonly [number, number] {
  const a = nodes[0]!;
  const b = nodes[nodes.length - 1]!;
  const l = Math.sqrt((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2);
  return [(b[0] - a[0]) / l, (b[1] - a[1]) / l];
}

/**
 * Two pins share the plane's force alike; the push turns the arm about the upright axis, so that one pin is pulled and the other pressed along
 * the arm, and a couple about the arm lifts one and lowers the other. Twice the worse one, since a joint's pull-out is told for both together.
 */
function worsePinN(force: readonly [number, number], dir: readonly [number, number], turnNmm: number, torqueNmm: number, spreadMm: number): number {
  const alongArm = force[0] * dir[0] + force[1] * dir[1];
  // up on either side of the car
  const across = (force[1] * dir[0] - force[0] * dir[1]) * Math.sign(dir[0] || 1);
  // the front pin first: it pushes outwards against a push forwards, and holds down what the couple of that push lifts
  const pin = (way: 1 | -1): number => Math.hypot(alongArm + (2 * way * turnNmm) / spreadMm, across + (2 * way * torqueNmm) / spreadMm);
  return Math.max(pin(1), pin(-1));
}

/** What the solved axle alone puts on an arm, N and N·mm. */
function planeOf(x: LimitContext, side: Side, name: ArmName): SolvedArmLoads {
  const plane = keptOf(x).plane[side];
  plane[name] ??= planeLoads(x, side, name);
  return plane[name];
}

/** All that the solved axle and the push put on an arm, N and N·mm. */
export function armLoads(x: LimitContext, side: Side, name: ArmName): SolvedArmLoads {
  const plane = planeOf(x, side, name);
  const push = wheelPush(x, side);
  if (!push) return plane;
  const [, alongArm, across] = plane.loads.ballJoint;
  return { ...plane, loads: { ...plane.loads, ballJoint: [push.jointPushN[name], alongArm, across] }, along: push.along[name] };
}

/** What a joint may be pulled apart by, N. */
export const jointPullN = (x: LimitContext, side: Side, name: JointName): number =>
  wheelPush(x, side)?.jointPullN[name] ?? cornerOfContext(x, side).s.joints[name].forceN;
