import type { CornerLinkage } from "../../src/core/linkage/corner.ts";
import { motionAt, ratio } from "../../src/core/linkage/motion.ts";
import type { CornerPose } from "../../src/core/linkage/position.ts";
import type { V2 } from "../../src/core/vec.ts";

/** Forces of the rigid corner without weight, N, in corner coordinates (s outboard, z up). */
export interface CornerStatics {
  /** of the spring with its stops, pushing */
  springN: number;
  /** along the upper arm at its outer end, positive when the arm pushes the hub from inner towards outer pivot */
  upperArmPushN: number;
  /** force on the hub at each ball joint */
  upperOuterOnHub: V2;
  lowerOuterOnHub: V2;
  /** force of the chassis on each arm at its inner pivot */
  upperInnerOnArm: V2;
  lowerInnerOnArm: V2;
}

const minus = (a: V2, b: V2): V2 => [a[0] - b[0], a[1] - b[1]];
const plus = (a: V2, b: V2): V2 => [a[0] + b[0], a[1] + b[1]];
const cross = (a: V2, b: V2): number => a[0] * b[1] - a[1] * b[0];
const unit = (a: V2): V2 => {
  const l = Math.hypot(a[0], a[1]);
  return [a[0] / l, a[1] / l];
};

/**
 * Which forces hold the rigid corner when the road pushes with `force` (N) on the contact point: the spring force
 * from virtual work, F·dK = S·(-dL), then the free bodies one after the other. An arm without seat is a strut, so
 * the moment about the other arm's ball joint gives its force. Infinite where the spring has no lever (it cannot
 * hold the wheel) or a strut points at that joint.
 */
export function cornerStatics(linkage: CornerLinkage, pose: CornerPose, force: V2): CornerStatics {
  const motion = motionAt(linkage, pose);
  const k = motion.contact.first;
  const springN = ratio(-(force[0] * k[0] + force[1] * k[1]), motion.springLength.first);
  const push = unit(minus(pose.springSeat, pose.springTop));
  const spring: V2 = [springN * push[0], springN * push[1]];
  const seat = linkage.corner.spring.seat;
  const onHub: V2 = seat.on === "hub" ? plus(force, spring) : force;
  const seatOnUpper = seat.on === "upperArm";
  // the strut's line, its joint on the hub, and the joint about which its force has the only unknown moment
  const strut = seatOnUpper ? unit(minus(pose.lowerOuter, pose.lowerInner)) : unit(minus(pose.upperOuter, pose.upperInner));
  const [joint, about] = seatOnUpper ? [pose.lowerOuter, pose.upperOuter] : [pose.upperOuter, pose.lowerOuter];
  let moment = cross(minus(pose.contact, about), force);
  if (seat.on === "hub") moment += cross(minus(pose.springSeat, about), spring);
  const strutN = ratio(-moment, cross(minus(joint, about), strut));
  const strutForce: V2 = [strutN * strut[0], strutN * strut[1]];
  const other: V2 = [-onHub[0] - strutForce[0], -onHub[1] - strutForce[1]];
  const upperOuterOnHub = seatOnUpper ? other : strutForce;
  const lowerOuterOnHub = seatOnUpper ? strutForce : other;
  const upperDir = unit(minus(pose.upperOuter, pose.upperInner));
  return {
    springN,
    upperArmPushN: upperOuterOnHub[0] * upperDir[0] + upperOuterOnHub[1] * upperDir[1],
    upperOuterOnHub,
    lowerOuterOnHub,
    upperInnerOnArm: seatOnUpper ? minus(upperOuterOnHub, spring) : upperOuterOnHub,
    lowerInnerOnArm: seat.on === "lowerArm" ? minus(lowerOuterOnHub, spring) : lowerOuterOnHub,
  };
}
