import { armLengthMm } from "../design/corner-geometry.ts";
import { splitPath, valueAt } from "../design/field-path.ts";
import { homeOf } from "../design/origins.ts";
import { cornerOf } from "../design/sides.ts";
import type { BenchTest } from "../design/tried.ts";
import { type ArmName, type Corner, type Scenario, SIDES, type Side } from "../design/types.ts";
import type { BenchColumn, BenchSetting } from "./definitions.ts";

/** Pieces that the definitions of several tests share. */

/** The corner whose part is on the bench; for parts of both sides the right one stands for both. */
export const cornerOn = (s: Scenario, side: Side | "both"): Corner => cornerOf(s, side === "both" ? "right" : side);

/** Where a value of a corner stands for one side, also inside of a material that only has a name there. */
function homeOn(s: Scenario, side: Side, field: string): string {
  const at = splitPath(field);
  const material = at.indexOf("material");
  if (material >= 0) return valueAt(s[side], at.slice(0, material + 1)) === undefined ? `corner.${field}` : `${side}.${field}`;
  return homeOf(s, side, field);
}

/** Paths of a corner's value for what was on the bench: where both sides have it, or one side's own. */
export const pathsOn = (s: Scenario, side: Side | "both", field: string): string[] =>
  side === "both" ? [...new Set(SIDES.map((of) => homeOn(s, of, field)))] : [`${side}.${field}`];

type Usual = BenchSetting["usual"];

/** A length of the set-up, mm. */
export const lengthSetting = (key: string, words: string, why: string, usual: Usual, min = 1, max = 1000): BenchSetting => ({
  key,
  words,
  why,
  unit: "mm",
  min,
  max,
  usual,
});

/** A choice; the first is usual unless told. */
export const choiceSetting = (key: string, words: string, why: string, options: Readonly<Record<string, string>>, usual?: Usual): BenchSetting => ({
  key,
  words,
  why,
  unit: "",
  options,
  usual: usual ?? (() => Object.keys(options)[0]!),
});

const STEP_WHY = "readings cannot be surer than what the instrument shows";

/** Step of what reads lengths, mm. */
export const rulerStep = (usualMm: number): BenchSetting => ({
  key: "rulerMm",
  words: "smallest step read on the ruler",
  why: STEP_WHY,
  unit: "mm",
  min: 0.001,
  max: 10,
  usual: () => usualMm,
});
export const SCALE_STEP: BenchSetting = {
  key: "scaleG",
  words: "smallest step of the scale",
  why: STEP_WHY,
  unit: "g",
  min: 0.01,
  max: 1000,
  usual: () => 1,
};
export const LEVEL_STEP: BenchSetting = {
  key: "levelDeg",
  words: "smallest step of the phone's level",
  why: STEP_WHY,
  unit: "°",
  min: 0.001,
  max: 5,
  usual: () => 0.1,
};

export const LOAD_UNITS = ["g", "kg", "N"] as const;
const LENGTH_UNITS = ["mm", "cm", "holes"] as const;

/** A load that is hung, pressed or pulled. */
export const loadColumn = (words: string, signs: BenchColumn["signs"] = "positive"): BenchColumn => ({
  key: "load",
  words,
  quantity: "force",
  units: LOAD_UNITS,
  signs,
});
/** A length that is read. */
export const lengthColumn = (key: string, words: string, signs: BenchColumn["signs"] = "both"): BenchColumn => ({
  key,
  words,
  quantity: "length",
  units: LENGTH_UNITS,
  signs,
});

const isArm = (v: unknown): v is ArmName => v === "upper" || v === "lower";

/** The arm that a test is about. */
export const armOnBench = (test: Pick<BenchTest, "setUp">): ArmName => {
  const arm = test.setUp["arm"];
  return isArm(arm) ? arm : "lower";
};

/** The length of the arm in the car, mm, rounded as a ruler would tell it. */
export const armLength = (s: Scenario, side: Side | "both", name: ArmName): number => Math.round(10 * armLengthMm(cornerOn(s, side), name)) / 10;
