import type { V2 } from "../vec.ts";
import { TOUCH_REL } from "./tolerances.ts";

/**
 * Where two circles meet, told so that the caller can explain a failure.
 * `two`: `left` lies to the left of the line from centre 1 to centre 2, `right` to the right of it.
 * `apart` / `inside`: the circles miss each other by `missMm`: the gap between them, or how far the smaller
 * one lies inside the larger. `same`: one circle twice, every point of it is common.
 */
export type CircleMeeting =
  | { kind: "two"; left: V2; right: V2 }
  | { kind: "tangent"; at: V2 }
  | { kind: "apart"; missMm: number }
  | { kind: "inside"; missMm: number }
  | { kind: "same" };

/**
 * Share of the way from centre 1 to centre 2 at which the common chord crosses (may be outside 0..1);
 * `distanceSq` must be positive. From r1² - r2² = a² - (d - a)² with a counted from centre 1.
 */
export function chordShare(distanceSq: number, r1Sq: number, r2Sq: number): number {
  return (r1Sq - r2Sq + distanceSq) / (2 * distanceSq);
}

/**
 * Half the common chord over the distance of the centres, clamped to 0 where the circles do not reach each
 * other. Heron's product form: near tangency it keeps the digits that r1² - a² would cancel.
 * `reachSq` = (r1 + r2)², `foldSq` = (r1 - r2)².
 */
export function halfChordShare(distanceSq: number, reachSq: number, foldSq: number): number {
  const product = (reachSq - distanceSq) * (distanceSq - foldSq);
  return product > 0 ? Math.sqrt(product) / (2 * distanceSq) : 0;
}

/** Meeting points of two circles; centres and radii in mm, radii >= 0. Never NaN for finite input. */
export function circleCircle(c1: V2, r1: number, c2: V2, r2: number): CircleMeeting {
  const dx = c2[0] - c1[0];
  const dz = c2[1] - c1[1];
  const distanceSq = dx * dx + dz * dz;
  const distance = Math.sqrt(distanceSq);
  const touch = TOUCH_REL * Math.max(r1, r2, distance);
  const gap = distance - (r1 + r2);
  const depth = Math.abs(r1 - r2) - distance;
  if (gap > touch) return { kind: "apart", missMm: gap };
  if (depth > touch) return { kind: "inside", missMm: depth };
  if (distance <= touch) return { kind: "same" };
  if (gap > -touch || depth > -touch) {
    // along the line of centres, on the far side of centre 1 when circle 2 is the larger one around circle 1
    const sign = depth > -touch && r1 < r2 ? -1 : 1;
    const f = (sign * r1) / distance;
    return { kind: "tangent", at: [c1[0] + f * dx, c1[1] + f * dz] };
  }
  const along = chordShare(distanceSq, r1 * r1, r2 * r2);
  const across = halfChordShare(distanceSq, (r1 + r2) ** 2, (r1 - r2) ** 2);
  // brought back to length r1: where the centres all but coincide the shares are large and lose digits
  const back = r1 / (distance * Math.sqrt(along * along + across * across));
  const [ax, az, bx, bz] = [back * along * dx, back * along * dz, -back * across * dz, back * across * dx];
  return { kind: "two", left: [c1[0] + ax + bx, c1[1] + az + bz], right: [c1[0] + ax - bx, c1[1] + az - bz] };
}
