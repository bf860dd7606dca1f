import { DEG, G } from "../../src/core/units.ts";

/**
 * The textbook's rigid estimates of cornering, as a comparison beside the solved axle (Gillespie, Fundamentals of
 * Vehicle Dynamics, 1992, ch. 6; Milliken & Milliken, Race Car Vehicle Dynamics, 1995, ch. 16 and 18). Any
 * consistent set of units will do; with mm and N: rates N/mm, stiffness N·mm/rad.
 */

/** Roll stiffness of an axle from the wheel rate of one side and the track: k t²/2, per rad. */
export const rollStiffnessFromWheelRate = (wheelRate: number, track: number): number => (wheelRate * track * track) / 2;

/** Springs one after the other: rates add as 1/k. An infinite rate is rigid, 0 makes the whole 0. */
export function inSeries(...rates: number[]): number {
  let give = 0;
  for (const k of rates) give += 1 / k;
  return 1 / give;
}

export interface RollBody {
  sprungMass: number;
  /** of the centre of gravity above the roll axis */
  rollArm: number;
  /** of all axles together, per rad */
  rollStiffness: number;
}

/** Roll angle per lateral acceleration, rad: 1/(K/(m d) - g); infinite or negative where the springs cannot carry the body over. */
export function rollPerAcceleration(b: RollBody, g = G): number {
  const stiffening = b.rollStiffness / (b.sprungMass * b.rollArm) - g;
  return stiffening === 0 ? Number.POSITIVE_INFINITY : 1 / stiffening;
}

export interface AxleTransferInput {
  /** share of the sprung mass on this axle */
  sprungMass: number;
  unsprungMass: number;
  unsprungHeight: number;
  rollCentreHeight: number;
  rollStiffness: number;
  track: number;
}

/** Load moved from the inner to the outer wheel of one axle, by the way it takes. */
export interface AxleTransfer {
  elastic: number;
  geometric: number;
  unsprung: number;
  total: number;
}

export function loadTransfer(axle: AxleTransferInput, lateralAcceleration: number, rollRad: number): AxleTransfer {
  const elastic = (axle.rollStiffness * rollRad) / axle.track;
  const geometric = (axle.sprungMass * lateralAcceleration * axle.rollCentreHeight) / axle.track;
  const unsprung = (axle.unsprungMass * lateralAcceleration * axle.unsprungHeight) / axle.track;
  return { elastic, geometric, unsprung, total: elastic + geometric + unsprung };
}

/** Static stability factor t/(2h): lateral g at which a rigid car tips (NHTSA, Rollover Prevention, 65 FR 34998, 2000). */
export const staticStabilityFactor = (track: number, cgHeight: number): number => track / (2 * cgHeight);
/** The slope on which it tips, °. */
export const tiltTableDeg = (stabilityFactor: number): number => Math.atan(stabilityFactor) / DEG;
