import { arm3dOf } from "../arm/arm-frame.ts";
import { mainStiffnesses } from "../arm/stiffness.ts";
import { armStress } from "../arm/stress.ts";
import { cornerOf } from "../design/sides.ts";
import type { ArmName, Scenario, Side } from "../design/types.ts";
import { radToDeg } from "../units.ts";

/**
 * What the drive's thrust does to the arms of one wheel, along the car.
 *
 * The motor sits on the body and turns the wheel through a shaft, so that the push of the road reaches the hub at the height of the wheel centre (a
 * motor on the hub would put it at the ground: set `atHeightMm` to 0). The two ball joints share it by their heights. The twist about the steering axis is
 * taken by the steering rod, which is not modelled; pins and their mounts are taken as stiff along the car.
 */
export interface ThrustOnArms {
  thrustN: number;
  /** share of each ball joint, forward on the hub's joint, N */
  forceN: Record<ArmName, number>;
  /** at the ball joint along the car, N/mm */
  stiffnessNPerMm: Record<ArmName, number>;
  /** forward shift of each ball joint, mm */
  shiftMm: Record<ArmName, number>;
  /** forward shift of the wheel centre, mm */
  wheelShiftMm: number;
  /** turn of the hub seen from the side, top backwards positive, ° */
  casterChangeDeg: number;
  /** largest stress that the thrust alone makes in each arm over its yield */
  stressShare: Record<ArmName, number>;
}

/**
 * @param thrustPerWheelN forward push of the road on this wheel, N; negative: braking
 * @param atHeightMm height above ground at which the hub feels it; default the wheel centre
 */
export function thrustOnArms(s: Scenario, side: Side, thrustPerWheelN: number, atHeightMm?: number): ThrustOnArms {
  const c = cornerOf(s, side);
  const z = atHeightMm ?? c.wheelCentre.zMm;
  const up = c.upperOuter.zMm;
  const low = c.lowerOuter.zMm;
  const toUpper = (z - low) / (up - low);
  const make = (name: ArmName) => {
    const [inner, outer] = name === "upper" ? [c.upperInner, c.upperOuter] : [c.lowerInner, c.lowerOuter];
    const length = Math.sqrt((outer.sMm - inner.sMm) ** 2 + (outer.zMm - inner.zMm) ** 2);
    const seat = c.spring.seat;
    const a = arm3dOf(name === "upper" ? c.upperArm : c.lowerArm, length, seat.on === `${name}Arm` && seat.on !== "hub" ? seat.fraction : null);
    const force = thrustPerWheelN * (name === "upper" ? toUpper : 1 - toUpper);
    const stiffness = mainStiffnesses(a).foreAft;
    const stress = armStress(a, { ballJoint: [force, 0, 0], seat: null }).worst.vonMisesMPa;
    return { force, stiffness, shift: force / stiffness, stressShare: stress / a.material.yieldMPa };
  };
  const upper = make("upper");
  const lower = make("lower");
  const turn = (lower.shift - upper.shift) / (up - low);
  return {
    thrustN: thrustPerWheelN,
    forceN: { upper: upper.force, lower: lower.force },
    stiffnessNPerMm: { upper: upper.stiffness, lower: lower.stiffness },
    shiftMm: { upper: upper.shift, lower: lower.shift },
    wheelShiftMm: lower.shift + ((upper.shift - lower.shift) * (c.wheelCentre.zMm - low)) / (up - low),
    casterChangeDeg: radToDeg(turn),
    stressShare: { upper: upper.stressShare, lower: lower.stressShare },
  };
}
