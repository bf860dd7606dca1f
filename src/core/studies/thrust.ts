import type { Arm3d } from "../arm/arm-frame.ts";
import { mainStiffnesses } from "../arm/stiffness.ts";
import { ARM_NAMES, type ArmName } from "../design/types.ts";
import type { CornerModel } from "../equilibrium/model.ts";
import { radToDeg } from "../units.ts";

/** Give of one wheel under a force forwards at one height, mm per N and ° per N. */
export interface ThrustGive {
  /** height of the force above the as-built ground, mm */
  atZMm: number;
  /** share of the force that each ball joint carries; they add up to 1 */
  share: Record<ArmName, number>;
  /** forward give where the force acts, mm/N */
  mmPerN: number;
  /** the steering axis leans back at the top by this much, °/N (caster) */
  casterDegPerN: number;
}

/**
 * Thrust test of one wheel: the hub hangs on its two ball joints, each held fore-aft by its arm (spatial frame, inner pivots held)
 * and the joint's own stiffness in series; a steering arm keeps it from turning about the line of the ball joints (toe is not
 * modelled). Linear in the force, as built; clearance adds the same at any force and is told apart.
 */
export interface ThrustTest {
  /** fore-aft stiffness of each arm at its ball joint, the joint in series, N/mm */
  stiffnessNPerMm: Record<ArmName, number>;
  /** driven through a shaft, or rolling over something: the force acts at the height of the wheel centre */
  atCentre: ThrustGive;
  /** motor or brake inside the hub: the force acts at the road */
  atRoad: ThrustGive;
  /** free fore-aft movement at the wheel centre by the outer joints' clearance, end to end, mm */
  playMm: number;
}

export function thrustTest(c: CornerModel, arms: Record<ArmName, Arm3d>): ThrustTest {
  const zOf = (name: ArmName): number => c.centre[1] + c.hubLever[name][1];
  const apart = zOf("upper") - zOf("lower");
  const give = {} as Record<ArmName, number>;
  for (const name of ARM_NAMES) give[name] = 1 / mainStiffnesses(arms[name]).foreAft + 1 / c.joints[`${name}Outer`].k;
  const at = (z: number): ThrustGive => {
    const upper = (z - zOf("lower")) / apart;
    const share = { upper, lower: 1 - upper };
    const move = { upper: share.upper * give.upper, lower: share.lower * give.lower };
    return {
      atZMm: z,
      share,
      mmPerN: share.upper * move.upper + share.lower * move.lower,
      casterDegPerN: radToDeg((move.lower - move.upper) / apart),
    };
  };
  const centre = at(c.centre[1]);
  const play = ARM_NAMES.reduce((sum, name) => sum + Math.abs(centre.share[name]) * c.joints[`${name}Outer`].clearance, 0);
  return {
    stiffnessNPerMm: { upper: 1 / give.upper, lower: 1 / give.lower },
    atCentre: centre,
    atRoad: at(0),
    playMm: 2 * play,
  };
}
