import type { BenchTest } from "../design/tried.ts";
import type { Corner, Scenario } from "../design/types.ts";
import { choiceOf, numberOf } from "./set-up.ts";
import { cornerOn, pathsOn } from "./settings.ts";

/** What the law of a test is made of: the design, the set-up, and the rows that can be read. */
export interface OnBench {
  s: Scenario;
  test: BenchTest;
  corner: Corner;
  /** rows of the table that can be read, with the numbers of their columns in the core's units */
  good: readonly { row: number; values: readonly number[] }[];
  number(key: string): number;
  choice(key: string): string;
  /** fields of the corner that a value of the part on the bench goes to */
  paths(field: string): string[];
}

/** Puts a test on the bench. */
export const onBench = (s: Scenario, test: BenchTest, good: OnBench["good"]): OnBench => ({
  s,
  test,
  corner: cornerOn(s, test.side),
  good,
  number: (key) => numberOf(s, test, key),
  choice: (key) => choiceOf(s, test, key),
  paths: (field) => pathsOn(s, test.side, field),
});

/** Standard deviation that rounding to steps leaves: evenly spread over a step. */
export const stepSd = (step: number): number => step / Math.sqrt(12);

/** +1 where y grows with x, -1 where it falls: which way a ruler or a level counts does not matter. */
export function wayOf(points: readonly { x: number; y: number }[]): 1 | -1 {
  const mean = (f: (p: { x: number; y: number }) => number): number => points.reduce((s, p) => s + f(p), 0) / Math.max(1, points.length);
  const mx = mean((p) => p.x);
  const my = mean((p) => p.y);
  return mean((p) => (p.x - mx) * (p.y - my)) < 0 ? -1 : 1;
}

/** Whether loads of both signs are among them. */
export const bothWays = (loads: readonly number[]): boolean => loads.some((v) => v > 0) && loads.some((v) => v < 0);

export const COUNTS_BACK = "The readings fall as the load grows: taken as a ruler or level that counts the other way.";
