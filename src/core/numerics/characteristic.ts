import { normalQuantile, tQuantile } from "./distributions.ts";

/**
 * Characteristic value from n tests (EN 1990:2002, Annex D, D.7.2): what all but 5 % of such parts take, told so that
 * the few tests are paid for. The spread follows a normal law, or its logarithm does.
 */
export type SpreadLaw = "normal" | "log-normal";

export interface Characteristic {
  /** how many tests */
  count: number;
  /** plain mean of the tests, their unit */
  mean: number;
  /** standard deviation as the tests show it, their unit; undefined for a single one */
  sd: number | undefined;
  /** k_n: how many standard deviations below the mean the characteristic value lies */
  factor: number;
  /** the characteristic value, unit of the tests */
  value: number;
}

export type NoCharacteristic =
  | { why: "too few"; needed: number }
  /** counted from 0; a strength is a finite number above 0 */
  | { why: "not a strength"; test: number };

/** Share of parts that may be weaker than the characteristic value. */
const WEAKER = 0.05;

/** k_n of table D1 of EN 1990: for `count` tests, their spread known beforehand or told by these tests alone. */
export function characteristicFactor(count: number, spreadKnown: boolean): number {
  const quantile = spreadKnown ? normalQuantile(1 - WEAKER) : tQuantile(1 - WEAKER, count - 1);
  return quantile * Math.sqrt(1 + 1 / count);
}

const meanOf = (v: readonly number[]): number => v.reduce((s, x) => s + x, 0) / v.length;
const sdOf = (v: readonly number[], mean: number): number => Math.sqrt(v.reduce((s, x) => s + (x - mean) ** 2, 0) / (v.length - 1));

function valueFrom(tests: readonly number[], law: SpreadLaw, variation: number | undefined, factor: number): number {
  if (law === "normal") {
    const mean = meanOf(tests);
    return mean - factor * (variation === undefined ? sdOf(tests, mean) : variation * mean);
  }
  const logs = tests.map(Math.log);
  const mean = meanOf(logs);
  return Math.exp(mean - factor * (variation === undefined ? sdOf(logs, mean) : Math.sqrt(Math.log1p(variation * variation))));
}

/**
 * The characteristic value of `tests` (strengths, any unit). `variation`: standard deviation over mean where it is
 * known beforehand from many such parts; otherwise the tests tell it, which takes two of them at least.
 */
export function characteristic(
  tests: readonly number[],
  law: SpreadLaw,
  variation?: number,
): { ok: true; characteristic: Characteristic } | { ok: false; no: NoCharacteristic } {
  const bad = tests.findIndex((x) => !(x > 0 && x < Infinity));
  if (bad >= 0) return { ok: false, no: { why: "not a strength", test: bad } };
  const needed = variation === undefined ? 2 : 1;
  if (tests.length < needed) return { ok: false, no: { why: "too few", needed } };
  const factor = characteristicFactor(tests.length, variation !== undefined);
  const mean = meanOf(tests);
  const sd = tests.length > 1 ? sdOf(tests, mean) : undefined;
  return { ok: true, characteristic: { count: tests.length, mean, sd, factor, value: valueFrom(tests, law, variation, factor) } };
}

/**
 * What `more` further tests would make of the characteristic value if they showed the same mean and spread: the gain
 * that comes from knowing better alone. The tests must have a characteristic value.
 */
export function characteristicWithMore(tests: readonly number[], law: SpreadLaw, more: number, variation?: number): { factor: number; value: number } {
  const factor = characteristicFactor(tests.length + more, variation !== undefined);
  return { factor, value: valueFrom(tests, law, variation, factor) };
}
