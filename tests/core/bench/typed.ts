import { newBenchTest } from "../../../src/core/bench/definitions.ts";
import type { BenchFit, BenchResult } from "../../../src/core/bench/fit.ts";
import type { BenchKind, BenchTest } from "../../../src/core/design/tried.ts";
import type { Scenario, Side } from "../../../src/core/design/types.ts";

/** A test as it is usually set up, with some of its settings and its table. */
export function typed(
  s: Scenario,
  kind: BenchKind,
  rows: readonly (readonly (string | number)[])[],
  setUp: BenchTest["setUp"] = {},
  side: Side | "both" = "both",
): BenchTest {
  const test = newBenchTest(s, kind, side);
  return { ...test, setUp: { ...test.setUp, ...setUp }, rows: rows.map((row) => row.map(String)) };
}

/** The result whose path ends so. */
export function resultAt(fit: BenchFit, end: string): BenchResult {
  const r = fit.results.find((x) => x.path?.endsWith(end));
  if (!r) throw new Error(`no result at ${end}: ${[...fit.notes, fit.advice].join(" ")}`);
  return r;
}
