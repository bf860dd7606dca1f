import { speedInCurve } from "../cornering.ts";
import { cornerOf } from "../design/sides.ts";
import type { Scenario } from "../design/types.ts";
import { gearRatio, radPerSToRpm } from "./motors.ts";

/** Targets of an electronic differential: how fast each wheel of the axle must turn so that none is dragged. */
export interface WheelSpeeds {
  /** radius that the middle of the axle drives on, m */
  radiusM: number;
  carMps: number;
  innerMps: number;
  outerMps: number;
  innerRpm: number;
  outerRpm: number;
  innerMotorRpm: number;
  outerMotorRpm: number;
  /** outer over inner; a locked axle slips by what is above 1. Infinity when the inner wheel stands still */
  ratio: number;
  /** share of the middle speed that the outer wheel is faster and the inner one slower */
  share: number;
}

/** Distance of the wheels' mid-planes as built, mm. */
export function trackMm(s: Scenario): number {
  return cornerOf(s, "left").wheelCentre.sMm + cornerOf(s, "right").wheelCentre.sMm;
}

/**
 * v_outer / v_inner = (R + t/2) / (R - t/2): all points turn about one centre on the axle's line (Gillespie, Fundamentals of Vehicle Dynamics,
 * 1992, ch. 6). Inside R = t/2 the inner wheel turns backwards.
 */
export function wheelSpeeds(trackMillimetres: number, radiusM: number, carMps: number, wheelRadiusMm: number, gearRatio: number): WheelSpeeds {
  const share = trackMillimetres / 2000 / radiusM;
  const rpm = (v: number): number => radPerSToRpm((v * 1000) / wheelRadiusMm);
  const innerMps = carMps * (1 - share);
  const outerMps = carMps * (1 + share);
  return {
    radiusM,
    carMps,
    innerMps,
    outerMps,
    innerRpm: rpm(innerMps),
    outerRpm: rpm(outerMps),
    innerMotorRpm: rpm(innerMps) * gearRatio,
    outerMotorRpm: rpm(outerMps) * gearRatio,
    ratio: (1 + share) / (1 - share),
    share,
  };
}

/** Curve radii of the table, m: from turning on the spot of a model to nearly straight. */
export const TABLE_RADII_M: readonly number[] = [0.5, 0.75, 1, 1.5, 2, 3, 4, 6, 8, 12, 20];

/** The table of one axle at one car speed; the scenario's own curves are among its rows. */
export function wheelSpeedTable(s: Scenario, carMps: number, gearRatio: number, radiiM: readonly number[] = TABLE_RADII_M): WheelSpeeds[] {
  const all = [...new Set([...radiiM, ...s.tracks.map((t) => t.radiusM)])].sort((a, b) => a - b);
  return all.map((r) => wheelSpeeds(trackMm(s), r, carMps, s.corner.wheel.radiusMm, gearRatio));
}

/**
 * The same table where no speed is given: each curve at the highest speed that the drive reaches and that the tyres' grip holds there,
 * v = sqrt(grip · g · R). `radiusM` is told besides, m.
 */
export function wheelSpeedsHeld(s: Scenario, topMps: number, radiusM?: number): WheelSpeeds[] {
  const all = [...new Set([...TABLE_RADII_M, ...s.tracks.map((t) => t.radiusM), ...(radiusM === undefined ? [] : [radiusM])])].sort((a, b) => a - b);
  const held = (r: number): number => Math.min(topMps, speedInCurve(s.corner.tyre.friction, r));
  return all.map((r) => wheelSpeeds(trackMm(s), r, held(r), s.corner.wheel.radiusMm, gearRatio(s.drive)));
}
