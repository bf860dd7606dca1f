import { plainLoad } from "../design/load.ts";
import type { Load } from "../design/types.ts";

export type Hand = "left" | "right";
/** Sign of the cornering level in a curve of that hand. */
export const handSign = (h: Hand): 1 | -1 => (h === "left" ? 1 : -1);

/** How a curve is driven, whatever its radius and the speed: what a speed is told for besides. */
export interface CurveOptions {
  hand: Hand;
  /** peak of the road's force over its steady value, see limits/shock.ts */
  shock: number;
  /** height of the road under each wheel, rolled over slowly, mm */
  bumpLeftMm: number;
  bumpRightMm: number;
  /** share of what the drive gives at each speed, 0..1, and slowing down by the brakes, g */
  throttle: number;
  brakeG: number;
}

/** A left-hand curve on a smooth level road, rolling along, where nothing else is said. */
export const curveOptions = (o: Partial<CurveOptions> = {}): CurveOptions => ({
  hand: "left",
  shock: 1,
  bumpLeftMm: 0,
  bumpRightMm: 0,
  throttle: 0,
  brakeG: 0,
  ...o,
});

/** The load at a cornering level, g, never negative. */
export const loadOn = (o: CurveOptions, lateralG: number): Load => plainLoad({ ...o, lateralG: handSign(o.hand) * lateralG });
