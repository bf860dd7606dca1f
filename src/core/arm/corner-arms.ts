import { armLengthMm, armOf, seatFractionOn } from "../design/corner-geometry.ts";
import type { ArmName, Corner } from "../design/types.ts";
import { type Arm3d, arm3dOf } from "./arm-frame.ts";

/**
 * Spatial frames of a corner's two arms, each with the spring's seat where it stands on that arm; they depend on the design alone.
 * @param bar where the anti-roll bar takes hold of the lower arm, as a share of its length; null: there is none
 */
export function cornerArms3d(c: Corner, bar: number | null = null): Record<ArmName, Arm3d> {
  const make = (name: ArmName): Arm3d => arm3dOf(armOf(c, name), armLengthMm(c, name), seatFractionOn(c.spring.seat, name), name === "lower" ? bar : null);
  return { upper: make("upper"), lower: make("lower") };
}
