import type { LimitName } from "../analysis.ts";
import type { ArmName, JointName, Side } from "./types.ts";

/** What was tried with the parts of a design: on the bench, and driven. */

/** Kinds of bench tests, with a kitchen scale, a ruler and weights; what each is stands in src/core/bench. */
export const BENCH_KINDS = [
  "armHang",
  "armAlongRoad",
  "wheelTilt",
  "pinPlay",
  "springPress",
  "tyrePress",
  "tyreTilt",
  "tyreSideways",
  "hubPullOff",
  "jointPullOut",
  "tyrePushOff",
  "wheelWeights",
  "heightByTilting",
  "motor",
] as const;
export type BenchKind = (typeof BENCH_KINDS)[number];

/** Room in the table of a bench test: rows, columns, letters of a cell. */
export const TABLE_ROOM = { rows: 1000, columns: 6, cellLetters: 24 } as const;

/** A bench test and what was read in it. */
export interface BenchTest {
  kind: BenchKind;
  /** the day, as 2026-11-26; null: not told */
  date: string | null;
  note: string;
  /** whose part was on the bench: that of both sides, or of one */
  side: Side | "both";
  /** how it was set up, by the names that the kind of test asks for */
  setUp: Record<string, number | string>;
  /** units of the columns of the table, in their order */
  units: string[];
  /** the table as it was typed: rows of as many cells as there are columns */
  rows: string[][];
}

/** Felt at the hub after a run. */
export const HUB_FEELS = ["cold", "warm", "hot"] as const;

/** A drive on the track, and what it did to the car. */
export interface Run {
  /** the day, as 2026-11-26; null: not told */
  date: string | null;
  note: string;
  /** radius of the curve, m */
  radiusM: number;
  hand: Side;
  /** how fast: as told by one of three ways */
  pace: { by: "speed"; kmh: number } | { by: "lap"; seconds: number } | { by: "g"; g: number };
  /** grip of its surface, lateral over vertical force; null: that of the design's tyres */
  grip: number | null;
  /** height of the road's unevenness, rolled over by the outer wheel, mm; 0: smooth */
  bumpMm: number;
  /** how long it went on like that, min; null: not told */
  minutes: number | null;
  /** what gave, by the limit's name; none: all held. `at`: which joint or arm of the corner; null: not told, or there is only one */
  gave: { limit: LimitName; side: Side | null; at: JointName | ArmName | null }[];
  /** the hub after it; null: nobody felt it */
  hub: { felt: (typeof HUB_FEELS)[number] } | { celsius: number } | null;
  /** of the air, °C */
  airCelsius: number;
  /** what the runs told of the parts was taken into the design */
  taken: boolean;
}

/** A run on a smooth road in which all held, of which nothing else was told. */
export const plainRun = (radiusM: number, hand: Side, pace: Run["pace"]): Run => ({
  date: null,
  note: "",
  radiusM,
  hand,
  pace,
  grip: null,
  bumpMm: 0,
  minutes: null,
  gave: [],
  hub: null,
  airCelsius: 20,
  taken: false,
});
