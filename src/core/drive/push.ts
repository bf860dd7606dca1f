import { pedals } from "../design/load.ts";
import type { Carrier, Load, Scenario } from "../design/types.ts";
import { weightN } from "../units.ts";
import { driveLine, thrustN } from "./motors.ts";

/** Push of the road on a wheel along the road that drive and brake ask for, forwards positive, N; what the tyre passes on may be less. */
export interface PushAsked {
  driveN: number;
  /** 0 or negative */
  brakeN: number;
}

export const NO_PUSH: PushAsked = { driveN: 0, brakeN: 0 };

/** Push that the whole drive gives each driven wheel at a speed (m/s), N; none above the speed at which the motors run free. */
export const thrustPerWheelN = (s: Scenario, speedMps = 0): number =>
  Math.max(0, thrustN(driveLine(s.drive, s.corner.wheel.radiusMm, s.body.carMassKg), speedMps)) / s.drive.drivenWheels;

/** Push of the road on each braking wheel that slows the whole car down by so much (g), N, 0 or negative. */
export const brakePerWheelN = (s: Scenario, brakeG: number): number => (brakeG === 0 ? 0 : (-brakeG * weightN(s.body.carMassKg)) / s.brake.wheels);

/**
 * What each wheel of this axle is asked for: the throttle's share of what the drive gives at the speed, shared alike among the driven wheels,
 * and the force that slows the whole car down, shared alike among the braking ones. What rolling and air take off is not in it: it acts
 * elsewhere. Nor is the weight that goes from one axle to the other while the car gains or loses speed: a front view knows no wheelbase.
 */
export function pushAsked(s: Scenario, load: Load, speedMps: number): PushAsked {
  const { throttle, brakeG } = pedals(load);
  if (throttle === 0 && brakeG === 0) return NO_PUSH;
  return {
    driveN: s.drive.onThisAxle && throttle > 0 ? throttle * thrustPerWheelN(s, speedMps) : 0,
    brakeN: s.brake.onThisAxle ? brakePerWheelN(s, brakeG) : 0,
  };
}

/**
 * What the tyre passes on of the push it is asked for. Side and along-road force share one grip: √(Fx² + Fy²) ≤ μ Fz, the friction circle (J. P.
 * Pauwelussen, Essentials of Vehicle Dynamics, 2015, ch. 2: the envelope of combined slip, an ellipse that is a circle where grip is the
 * same both ways). A wheel that is asked for more spins or locks, and passes on what the circle leaves beside the side force.
 * @returns share of the push that reaches the road, 0..1, and how much of the grip is asked for, 1 on the circle
 */
export function passedOn(asked: PushAsked, sideN: number, verticalN: number, friction: number): { share: number; gripUsed: number } {
  const along = asked.driveN + asked.brakeN;
  const most = friction * verticalN;
  if (along === 0) return { share: 1, gripUsed: most > 0 ? Math.abs(sideN) / most : 0 };
  const left = Math.sqrt(Math.max(0, most * most - sideN * sideN));
  return { share: Math.min(1, left / Math.abs(along)), gripUsed: most > 0 ? Math.sqrt(along * along + sideN * sideN) / most : Number.MAX_VALUE };
}

/** Heights in the side view, all from one level, mm. */
export interface HubHeights {
  upper: number;
  lower: number;
  /** wheel centre */
  centre: number;
  road: number;
}

/** Ball joints nearer in height than this count as this far apart, mm. */
const LEAST_APART_MM = 0.5;

/** Height of the upper ball joint over the lower one, mm; a hub whose joints stand side by side would take any couple with endless forces. */
export const heightApart = (upper: number, lower: number): number =>
  Math.abs(upper - lower) < LEAST_APART_MM ? (upper < lower ? -LEAST_APART_MM : LEAST_APART_MM) : upper - lower;

/** What a push does to the hub's two ball joints and to the arms, N and N·mm. */
export interface PushOnJoints {
  /** forwards on each arm's ball joint, N */
  upper: number;
  lower: number;
  /** about the axle's axis on an arm that carries the last stage, N·mm; positive lowers its front end (the couple of a backward push) */
  torqueNmm: { upper: number; lower: number };
}

/**
 * Balance of the hub in the side view. The push F acts at the wheel's centre where the couple F·h (h: centre above road) is taken elsewhere, by
 * the body through a shaft or by an arm, and at the road where the hub itself takes it. The two ball joints share it by its height alone,
 * F_upper = F (z - z_low)/(z_up - z_low): the steering rod that keeps the hub from turning about the line through them is level and lies
 * across the car, so that it has no force along it and no moment about the axle's axis.
 */
export function pushOnJoints(h: HubHeights, pushes: readonly { newton: number; carriedBy: Carrier }[]): PushOnJoints {
  const out: PushOnJoints = { upper: 0, lower: 0, torqueNmm: { upper: 0, lower: 0 } };
  const apart = heightApart(h.upper, h.lower);
  for (const { newton, carriedBy } of pushes) {
    if (newton === 0) continue;
    const at = carriedBy === "hub" ? h.road : h.centre;
    const upper = (newton * (at - h.lower)) / apart;
    out.upper += upper;
    out.lower += newton - upper;
    // the road's push below the centre turns the stage's carrier up at the front
    if (carriedBy === "upperArm") out.torqueNmm.upper -= newton * (h.centre - h.road);
    if (carriedBy === "lowerArm") out.torqueNmm.lower -= newton * (h.centre - h.road);
  }
  return out;
}
