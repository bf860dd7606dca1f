import type { LimitName } from "../analysis.ts";
import type { Bench } from "../analyze.ts";
import { cornerOf } from "../design/sides.ts";
import { type Load, type Scenario, SIDES } from "../design/types.ts";
import type { CurveOptions } from "./curve-options.ts";
import { safeSpeedOf } from "./safe-speed.ts";

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

interface DrivingSpeed {
  speedMps: number;
  lateralG: number;
  /** what gives there; null: the axle finds no hold beyond */
  limit: LimitName | null;
}

export interface DrivingSpeeds {
  each: Record<Driving, DrivingSpeed>;
  worst: Driving;
}

/** The way of driving with the lowest speed; the first of those that are alike. */
export const worstDriving = (each: Readonly<Record<Driving, { speedMps: number }>>): Driving =>
  DRIVINGS.reduce((w, d) => (each[d].speedMps < each[w].speedMps - ALIKE_MPS ? d : w));

/** Whether all ways of driving are as fast. */
export const drivenAlike = (each: Readonly<Record<Driving, { speedMps: number }>>): boolean =>
  DRIVINGS.every((d) => Math.abs(each[d].speedMps - each.coasting.speedMps) < ALIKE_MPS);

/** speeds nearer to each other than this are told as one, m/s */
const ALIKE_MPS = 0.01;

/** Highest speed on a curve for each way of driving it up to which nothing gives, and the way that is worst; tells each way once it is known. */
export function* drivingSpeeds(b: Bench, radiusM: number, options: Partial<CurveOptions> = {}): Generator<Driving, DrivingSpeeds> {
  const each = {} as DrivingSpeeds["each"];
  for (const driving of DRIVINGS) {
    const safe = safeSpeedOf(b, radiusM, { ...options, ...pedalsOf(b.scenario, driving) });
    each[driving] = { speedMps: safe.speedMps, lateralG: safe.lateralG, limit: safe.limit?.name ?? safe.end?.limit ?? null };
    yield driving;
  }
  return { each, worst: worstDriving(each) };
}
