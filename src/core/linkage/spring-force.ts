import type { Spring } from "../design/types.ts";
import { positivePart, positiveSlope } from "../numerics/positive-part.ts";

/** The springs of one corner as numbers: rates in N/mm, lengths between their eyes in mm. */
export interface SpringLaw {
  /** of all springs side by side */
  k: number;
  /** no force at this length: free length and packing */
  free: number;
  bumpLength: number;
  bumpK: number;
  /** Infinity and 0 without a droop stop */
  droopLength: number;
  droopK: number;
}

/** All springs of a corner as one: rates in N/mm, lengths in mm; a stop that is not there is out of reach. */
export const springLaw = (s: Spring): SpringLaw => ({
  k: s.rateNPerMm * s.count,
  free: s.freeLengthMm + s.preloadMm,
  bumpLength: s.bumpStop.lengthMm,
  bumpK: s.bumpStop.rateNPerMm,
  droopLength: s.droopStop?.lengthMm ?? Number.POSITIVE_INFINITY,
  droopK: s.droopStop?.rateNPerMm ?? 0,
});

/** What a corner's springs and stops do at one length. */
export interface SpringForces {
  /** each at least 0, N */
  spring: number;
  bump: number;
  droop: number;
  /** all together, pushing positive, N */
  push: number;
  /** growth of the push by shortening, N/mm */
  rate: number;
}

/**
 * Force of the spring and its stops at a length, mm. The springs only push: nothing beyond free length + packing. The bump stop pushes below
 * its length, the droop stop pulls above its own; one stop of each kind per corner, whatever the number of springs (an assumption).
 * @param w half-width over which each corner of the law is rounded, mm; 0: sharp
 */
export function springForce(s: SpringLaw, length: number, w: number): SpringForces {
  const a = s.free - length;
  const b = s.bumpLength - length;
  const d = length - s.droopLength;
  const spring = s.k * positivePart(a, w);
  const bump = s.bumpK * positivePart(b, w);
  const droop = s.droopK === 0 ? 0 : s.droopK * positivePart(d, w);
  return {
    spring,
    bump,
    droop,
    push: spring + bump - droop,
    rate: s.k * positiveSlope(a, w) + s.bumpK * positiveSlope(b, w) + (s.droopK === 0 ? 0 : s.droopK * positiveSlope(d, w)),
  };
}

/** The sharp law of a corner's spring: force (N, pushing) and tangent rate (N/mm) at `lengthMm` between its eyes. */
export function springForceAt(spring: Spring, lengthMm: number): { forceN: number; rateNPerMm: number } {
  const { push, rate } = springForce(springLaw(spring), lengthMm, 0);
  return { forceN: push, rateNPerMm: rate };
}
