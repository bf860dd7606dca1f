import { positivePart, positiveSlope } from "../numerics/positive-part.ts";

/** A wheel's bearing against tilt: free within its play to either side, then linear. */
export interface Bearing {
  /** N·mm/rad beyond the play */
  k: number;
  /** to either side, rad */
  play: number;
  /** faint stiffness throughout, which centres the wheel while it carries nothing, N·mm/rad */
  kc: number;
}

/** Moment, N·mm, that tilts it by `tilt`, rad; the law's corner rounded over `w` rad. */
export const bearingMoment = ({ k, play, kc }: Bearing, tilt: number, w: number): number =>
  play === 0 ? k * tilt : Math.sign(tilt) * k * positivePart(Math.abs(tilt) - play, Math.min(w, play)) + kc * tilt;

/** Its derivative by the tilt, N·mm/rad. */
export const bearingSlope = ({ k, play, kc }: Bearing, tilt: number, w: number): number =>
  play === 0 ? k : k * positiveSlope(Math.abs(tilt) - play, Math.min(w, play)) + kc;

/**
 * Tilt, rad, at which a moment, N·mm, comes to rest by the sharp law: against the end of the play, and beyond it by 1/k. At no moment at all
 * it lies anywhere in its play; 0 is told.
 */
export const bearingTilt = ({ k, play }: Pick<Bearing, "k" | "play">, moment: number): number => Math.sign(moment) * play + moment / k;
