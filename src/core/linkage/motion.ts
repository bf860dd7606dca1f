import type { V2 } from "../vec.ts";
import type { CornerLinkage } from "./corner.ts";
import type { CornerPose } from "./position.ts";

/**
 * First and second derivatives of everything that moves, along the regular parameter of the closure (closure.ts):
 *
 *   r, q, w = lower arm, hub, upper arm as vectors; J = quarter turn counter-clockwise
 *   D = w·Jq, N = -w·Jr          turn of lower arm and of hub
 *   r' = D Jr, q' = N Jq, w' = r' + q'
 *   D' = w'·Jq - N w·q           because Jq' = J(N Jq) = -N q
 *   N' = -w'·Jr + D w·r
 *   a point x of the hub from the lower ball joint: X' = D Jr + N Jx, X'' = D' Jr - D² r + N' Jx - N² x
 *
 * Only ratios mean something: d/dz of f is f'/z', the second derivative is (f'' z' - f' z'')/z'³.
 */
export interface Motion {
  hubTurn: Rate;
  wheelCentre: PointRate;
  contact: PointRate;
  springLength: Rate;
}

export interface Rate {
  first: number;
  second: number;
}
export interface PointRate {
  first: V2;
  second: V2;
}

/** n/d that is never NaN for finite input: 0/0 is 0 (nothing moves), n/0 is infinite with the sign of n. */
export function ratio(n: number, d: number): number {
  if (d !== 0) return n / d;
  return n === 0 ? 0 : n > 0 ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY;
}

/** df/dz for two rates along the same parameter. */
export const slope = (f: Rate, z: Rate): number => ratio(f.first, z.first);
/** d²f/dz². */
export const curvature = (f: Rate, z: Rate): number => ratio(f.second * z.first - f.first * z.second, z.first * z.first * z.first);
/** The height of a point as a rate. */
export const height = (p: PointRate): Rate => ({ first: p.first[1], second: p.second[1] });
/** The outboard distance of a point as a rate. */
export const outboard = (p: PointRate): Rate => ({ first: p.first[0], second: p.second[0] });

const minus = (a: V2, b: V2): V2 => [a[0] - b[0], a[1] - b[1]];
const dot = (a: V2, b: V2): number => a[0] * b[0] + a[1] * b[1];
/** first vector · J second vector */
const dotTurned = (a: V2, b: V2): number => a[1] * b[0] - a[0] * b[1];

/** First and second derivatives of the corner at a pose along its one way of moving; their ratios are what has a meaning (`slope`, `curvature`). */
export function motionAt(linkage: CornerLinkage, pose: CornerPose): Motion {
  const r = minus(pose.lowerOuter, pose.lowerInner);
  const q = minus(pose.upperOuter, pose.lowerOuter);
  const w = minus(pose.upperOuter, pose.upperInner);
  const d = pose.lowerRate;
  const n = pose.hubRate;
  const w1: V2 = [-d * r[1] - n * q[1], d * r[0] + n * q[0]];
  const d1 = dotTurned(w1, q) - n * dot(w, q);
  const n1 = -dotTurned(w1, r) + d * dot(w, r);
  const onHub = (x: V2): PointRate => ({
    first: [-d * r[1] - n * x[1], d * r[0] + n * x[0]],
    second: [-d1 * r[1] - d * d * r[0] - n1 * x[1] - n * n * x[0], d1 * r[0] - d * d * r[1] + n1 * x[0] - n * n * x[1]],
  });
  const zero: V2 = [0, 0];
  const scaled = (p: PointRate, f: number): PointRate => ({ first: [f * p.first[0], f * p.first[1]], second: [f * p.second[0], f * p.second[1]] });
  const seat = linkage.corner.spring.seat;
  const seatRate =
    seat.on === "hub"
      ? onHub(minus(pose.springSeat, pose.lowerOuter))
      : seat.on === "lowerArm"
        ? scaled(onHub(zero), seat.fraction)
        : scaled(onHub(q), seat.fraction);
  return {
    hubTurn: { first: n, second: n1 },
    wheelCentre: onHub(minus(pose.wheelCentre, pose.lowerOuter)),
    contact: onHub(minus(pose.contact, pose.lowerOuter)),
    springLength: distanceRate(minus(pose.springSeat, pose.springTop), seatRate),
  };
}

/** Rate of the length of `v` whose end moves by `end`; 0 where the length is 0 and has no direction. */
function distanceRate(v: V2, end: PointRate): Rate {
  const l = Math.sqrt(dot(v, v));
  if (l === 0) return { first: 0, second: 0 };
  const first = dot(v, end.first) / l;
  return { first, second: (dot(end.first, end.first) + dot(v, end.second) - first * first) / l };
}
