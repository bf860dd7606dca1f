import type { BenchTest } from "../design/tried.ts";
import type { Scenario } from "../design/types.ts";
import { BENCH_TESTS, type BenchSetting } from "./definitions.ts";

/** The set-up of a test as its fit reads it. */

const found = (test: BenchTest, key: string): BenchSetting => BENCH_TESTS[test.kind].settings.find((o) => o.key === key)!;

const reads = (o: BenchSetting, value: number | string | undefined): boolean =>
  o.options
    ? typeof value === "string" && Object.hasOwn(o.options, value)
    : typeof value === "number" && value >= (o.min ?? -Infinity) && value <= (o.max ?? Infinity);

/** What the set-up tells of a setting, or what is usual where it tells nothing that can be. */
function told(s: Scenario, test: BenchTest, key: string): number | string {
  const o = found(test, key);
  const value = Object.hasOwn(test.setUp, key) ? test.setUp[key] : undefined;
  return reads(o, value) ? value! : o.usual(s, test.side, test.setUp);
}

/** A number of the set-up, in its setting's unit. */
export const numberOf = (s: Scenario, test: BenchTest, key: string): number => Number(told(s, test, key));
/** A choice of the set-up. */
export const choiceOf = (s: Scenario, test: BenchTest, key: string): string => String(told(s, test, key));

/** Whether a setting matters for this test: those that hang on another one may not. */
const asked = (s: Scenario, test: BenchTest, o: BenchSetting): boolean =>
  o.onlyWith === undefined || o.onlyWith.values.includes(choiceOf(s, test, o.onlyWith.key));

/** What is wrong with the set-up, a sentence each: what stands there and cannot be is read as usual. */
export function setUpFaults(s: Scenario, test: BenchTest): string[] {
  const { settings } = BENCH_TESTS[test.kind];
  const strange = Object.keys(test.setUp).filter((key) => !settings.some((o) => o.key === key));
  const wrong = settings.filter((o) => asked(s, test, o) && Object.hasOwn(test.setUp, o.key) && !reads(o, test.setUp[o.key]));
  return [
    ...wrong.map((o) => {
      const allowed = o.options ? `one of ${Object.keys(o.options).join(", ")}` : `${o.min} to ${o.max} ${o.unit}`.trimEnd();
      return `${o.words} is ${String(test.setUp[o.key]).slice(0, 24)}; allowed ${allowed}. ${String(o.usual(s, test.side, test.setUp))} is taken.`;
    }),
    ...strange.map((key) => `The set-up tells of “${key.slice(0, 24)}”, which this test does not ask for.`),
  ];
}

/** The test with another setting; settings that stood as usual beside the old one stand as usual beside the new one. */
export function withSetting(s: Scenario, test: BenchTest, key: string, value: number | string): BenchTest {
  const next = { ...test.setUp, [key]: value };
  for (const o of BENCH_TESTS[test.kind].settings)
    if (o.key !== key && test.setUp[o.key] === o.usual(s, test.side, test.setUp)) next[o.key] = o.usual(s, test.side, next);
  return { ...test, setUp: next };
}
