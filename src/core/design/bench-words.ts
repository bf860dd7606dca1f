import type { BenchKind } from "./tried.ts";

/** What the bench tests are called, everywhere. */
export const BENCH_WORDS: Readonly<Record<BenchKind, string>> = {
  armHang: "arm hung with weights",
  armAlongRoad: "arm pulled along the road",
  wheelTilt: "wheel tilted by a pull",
  pinPlay: "pin wiggled in its hole",
  springPress: "spring pressed on a scale",
  tyrePress: "tyre pressed flat",
  tyreTilt: "tyre tilted on the scale",
  tyreSideways: "tyre pulled sideways",
  hubPullOff: "wheel pulled off its hub",
  jointPullOut: "joint pulled apart",
  tyrePushOff: "tyre pushed off its rim",
  wheelWeights: "weight on each wheel",
  heightByTilting: "car tilted until it tips",
  motor: "motor with a lever on a scale",
};
