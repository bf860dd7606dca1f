import type { BenchKind, BenchTest } from "../design/tried.ts";
import type { Scenario, Side } from "../design/types.ts";
import { ARM_TESTS } from "./arm-tests.ts";
import { BREAKING_TESTS } from "./breaking-tests.ts";
import { CAR_TESTS } from "./car-tests.ts";
import { WHEEL_TESTS } from "./wheel-tests.ts";

/** What each bench test is: how it is set up, what is read, and which values of a design it measures. */

/** A column of the table that is typed. */
export interface BenchColumn {
  key: string;
  words: string;
  /** kind of unit, as `readQuantity` names them; tilt: an angle, or mm at a told distance from the axle */
  quantity: "force" | "mass" | "length" | "angle" | "tilt" | "turning";
  /** the first is usual */
  units: readonly string[];
  /** its cells may be left empty in rows that tell something else */
  mayBeEmpty?: boolean;
  /** which signs are read: a load that may be turned over has both */
  signs: "both" | "positive";
}

/** Something about the set-up that the fit has to know. */
export interface BenchSetting {
  key: string;
  words: string;
  /** why it matters, in a sentence */
  why: string;
  /** of its number; empty for a choice */
  unit: string;
  min?: number;
  max?: number;
  /** words of a choice, by its value */
  options?: Readonly<Record<string, string>>;
  /** asked for only where another setting has one of these values */
  onlyWith?: { key: string; values: readonly string[] };
  /** what it is unless told: as in the design, or as usual; `setUp`: what is told of the others */
  usual(s: Scenario, side: Side | "both", setUp?: BenchTest["setUp"]): number | string;
}

export interface BenchDefinition {
  kind: BenchKind;
  /** of work, with what is needed at hand */
  minutes: number;
  /** what comes out, in a sentence */
  tells: string;
  /** how it is done, in order */
  steps: readonly string[];
  /** what spoils the result */
  watch: string;
  /** what may hurt or break */
  caution: string;
  columns: readonly BenchColumn[];
  settings: readonly BenchSetting[];
  /** with fewer good rows there is no result */
  leastRows: number;
  /** fields that it measures, as they stand in the scenario, or will once the result is taken (one side's own value, an own material) */
  paths(s: Scenario, side: Side | "both", test: Pick<BenchTest, "setUp">): readonly string[];
  /** ± (one standard deviation) that a careful test reaches, by the paths that it measures as usually set up */
  reach(s: Scenario, side: Side | "both"): Record<string, number>;
}

export const BENCH_TESTS: Readonly<Record<BenchKind, BenchDefinition>> = { ...ARM_TESTS, ...WHEEL_TESTS, ...BREAKING_TESTS, ...CAR_TESTS };

/** A new test as it is usually set up for this design: all settings told, so that later changes of the design leave it alone. */
export function newBenchTest(s: Scenario, kind: BenchKind, side: Side | "both" = "both"): BenchTest {
  const { columns, settings } = BENCH_TESTS[kind];
  return {
    kind,
    date: null,
    note: "",
    side,
    setUp: Object.fromEntries(settings.map((o) => [o.key, o.usual(s, side)])),
    units: columns.map((c) => c.units[0]!),
    rows: [],
  };
}
