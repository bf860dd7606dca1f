import type { BenchKind } from "../design/tried.ts";
import { alongRoadLaw, hangLaw } from "./arm-laws.ts";
import type { CurveProblem } from "./curve.ts";
import type { OnBench } from "./good-rows.ts";
import { motorLaw, playLaw, pullApartLaw, pullOffLaw, pushOffLaw, tippingLaw, weightsLaw } from "./mean-laws.ts";
import type { MeansProblem } from "./means.ts";
import { pressSpringLaw } from "./spring-law.ts";
import { leanLaw, pressLaw, sidewaysLaw, tiltLaw } from "./wheel-laws.ts";

/** Laws in which a reading follows a load. */
export const CURVE_LAWS = {
  armHang: hangLaw,
  armAlongRoad: alongRoadLaw,
  wheelTilt: tiltLaw,
  springPress: pressSpringLaw,
  tyrePress: pressLaw,
  tyreTilt: leanLaw,
  tyreSideways: sidewaysLaw,
} as const satisfies Partial<Record<BenchKind, (b: OnBench) => CurveProblem>>;

/** Laws of means, and of parts that break. */
export const MEAN_LAWS = {
  pinPlay: playLaw,
  hubPullOff: pullOffLaw,
  jointPullOut: pullApartLaw,
  tyrePushOff: pushOffLaw,
  wheelWeights: weightsLaw,
  heightByTilting: tippingLaw,
  motor: motorLaw,
} as const satisfies Record<Exclude<BenchKind, keyof typeof CURVE_LAWS>, (b: OnBench) => MeansProblem>;

/** Whether a reading follows a load in this kind of test. */
export const isCurve = (kind: BenchKind): kind is keyof typeof CURVE_LAWS => Object.hasOwn(CURVE_LAWS, kind);
