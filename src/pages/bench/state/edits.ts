import { BENCH_TESTS, type BenchSetting } from "../../../core/bench/definitions.ts";
import type { BenchFit } from "../../../core/bench/fit.ts";
import { BENCH_WORDS } from "../../../core/design/bench-words.ts";
import { fieldValue } from "../../../core/design/origins.ts";
import type { BenchKind, BenchTest } from "../../../core/design/tried.ts";
import type { Scenario } from "../../../core/design/types.ts";

/** Edits of the bench tests that a design keeps. */

/** The design with a test changed, or with a new one behind the others where it was not kept yet. */
export function withTest(s: Scenario, at: number | null, test: BenchTest): Scenario {
  return { ...s, bench: at === null ? [...s.bench, test] : s.bench.map((t, i) => (i === at ? test : t)) };
}

export const withoutTest = (s: Scenario, at: number): Scenario => ({ ...s, bench: s.bench.filter((_, i) => i !== at) });

/** "spring pressed on a scale: row 3" */
export const editName = (kind: BenchKind, what: string): string => `${BENCH_WORDS[kind]}: ${what}`;

/** A test of a part of another side; what was set up as usual is so for that side too. */
export function withSide(s: Scenario, test: BenchTest, side: BenchTest["side"]): BenchTest {
  const setUp = { ...test.setUp };
  for (const o of BENCH_TESTS[test.kind].settings) if (test.setUp[o.key] === o.usual(s, test.side, test.setUp)) setUp[o.key] = o.usual(s, side, test.setUp);
  return { ...test, side, setUp };
}

/** A setting as it stands in a test. */
export interface SettingNow extends Omit<BenchSetting, "usual"> {
  now: number | string;
  /** what it is unless told */
  preset: number | string;
}

/** The settings that are asked for in a test as it is set up. */
export function askedSettings(s: Scenario, test: BenchTest): SettingNow[] {
  const all = BENCH_TESTS[test.kind].settings.map(({ usual, ...o }) => {
    const preset = usual(s, test.side, test.setUp);
    return { ...o, preset, now: test.setUp[o.key] ?? preset };
  });
  return all.filter(({ onlyWith }) => !onlyWith || onlyWith.values.includes(String(all.find((o) => o.key === onlyWith.key)?.now)));
}

/** The part on the bench may be that of one side alone. */
export function measuresSides(s: Scenario, test: BenchTest): boolean {
  const { paths } = BENCH_TESTS[test.kind];
  return paths(s, "left", test).join() !== paths(s, "right", test).join();
}

/** of a value's ±: nearer than that it is the same one, rounded */
const SAME = 0.06;

/** What a test measured stands in the design, as measured. */
export function standsIn(s: Scenario, fit: Pick<BenchFit, "results">): boolean {
  const results = fit.results.filter((r) => r.path !== null);
  return (
    results.length > 0 &&
    results.every((r) => {
      const value = fieldValue(s, r.path!);
      const near = Math.max(SAME * (Number.isFinite(r.sd) ? r.sd : 0), 1e-6 * Math.abs(r.value));
      return s.origins[r.path!]?.how === "measured" && typeof value === "number" && Math.abs(value - r.value) <= near;
    })
  );
}
