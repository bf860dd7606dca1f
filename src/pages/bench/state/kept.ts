import type { BenchKind, BenchTest } from "../../../core/design/tried.ts";
import type { Scenario } from "../../../core/design/types.ts";

/** The kept test of a kind that is open: the one at a place, where one of this kind stands there. */
export function testAt(s: Scenario, kind: BenchKind | null, at: number | null): { test: BenchTest; at: number } | null {
  const test = at === null ? undefined : s.bench[at];
  return at !== null && test && test.kind === kind ? { test, at } : null;
}

/** The newest kept test of a kind. */
export function lastOf(s: Scenario, kind: BenchKind): number | null {
  const at = s.bench.findLastIndex((t) => t.kind === kind);
  return at < 0 ? null : at;
}
