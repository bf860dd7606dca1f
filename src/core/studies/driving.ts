import type { Bench } from "../analyze.ts";
import { cornerOf } from "../design/sides.ts";
import { type Load, type Scenario, SIDES } from "../design/types.ts";
import { type CurveOptions, type SafeSpeed, safeSpeedOf } from "./safe-speed.ts";

/**
 * How a curve may be driven: rolling along, with all that the drive gives at the speed, or braking as hard as the tyres' grip allows. What
 * a wheel is asked for beyond its grip spins or locks it and does not reach the parts.
 */
export const DRIVINGS = ["coasting", "fullThrottle", "hardBraking"] as const;
export type Driving = (typeof DRIVINGS)[number];

/** Throttle (0..1) and brake (g) of a way of driving. */
export function pedalsOf(s: Scenario, driving: Driving): Required<Pick<Load, "throttle" | "brakeG">> {
  const grip = Math.max(...SIDES.map((side) => cornerOf(s, side).tyre.friction));
  return { throttle: driving === "fullThrottle" ? 1 : 0, brakeG: driving === "hardBraking" ? grip : 0 };
}

/** Highest speed on a curve for each way of driving it up to which nothing gives, and the way that is worst. */
export function safeSpeedsOf(
  b: Bench,
  radiusM: number,
  options: Partial<Omit<CurveOptions, "throttle" | "brakeG">> = {},
): { each: Record<Driving, SafeSpeed>; worst: Driving } {
  const each = {} as Record<Driving, SafeSpeed>;
  for (const driving of DRIVINGS) each[driving] = safeSpeedOf(b, radiusM, { ...options, ...pedalsOf(b.scenario, driving) });
  const worst = DRIVINGS.reduce((w, d) => (each[d].speedMps < each[w].speedMps ? d : w));
  return { each, worst };
}
