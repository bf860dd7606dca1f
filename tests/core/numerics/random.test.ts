import { describe, expect, it } from "vitest";
import { createRandom } from "../../../src/core/numerics/random.ts";

const N = 100_000;
const numbers = (seed: number, n = N): number[] => {
  const r = createRandom(seed);
  return Array.from({ length: n }, () => r.next());
};
const mean = (v: number[]): number => v.reduce((a, b) => a + b, 0) / v.length;
const variance = (v: number[]): number => mean(v.map((x) => x * x)) - mean(v) ** 2;
/** five standard errors: a sound generator passes, a biased one does not */
const SIGMAS = 5;

describe("seeded random numbers", () => {
  it("repeat for the same seed and differ for the next", () => {
    expect(numbers(42, 20)).toEqual(numbers(42, 20));
    expect(numbers(42, 20)).not.toEqual(numbers(43, 20));
  });

  it("spread evenly over [0, 1): mean 1/2, variance 1/12, all tenths alike", () => {
    const v = numbers(1);
    expect(Math.min(...v)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...v)).toBeLessThan(1);
    expect(Math.abs(mean(v) - 1 / 2)).toBeLessThan((SIGMAS * Math.sqrt(1 / 12)) / Math.sqrt(N));
    expect(Math.abs(variance(v) - 1 / 12)).toBeLessThan((SIGMAS * Math.sqrt(1 / 180)) / Math.sqrt(N));
    const bins = new Array<number>(10).fill(0);
    for (const x of v) bins[Math.floor(10 * x)]!++;
    // chi-square with 9 degrees of freedom: 33.7 is passed once in 10,000 (Abramowitz and Stegun, table 26.8: 33.72 at 1e-4)
    expect(bins.reduce((s, n) => s + (n - N / 10) ** 2 / (N / 10), 0)).toBeLessThan(33.7);
  });

  it("have no memory: neighbours, and the first numbers of neighbouring seeds, are not correlated", () => {
    const correlation = (v: number[]): number => mean(v.slice(1).map((x, i) => (x - 0.5) * (v[i]! - 0.5))) * 12;
    expect(Math.abs(correlation(numbers(3)))).toBeLessThan(SIGMAS / Math.sqrt(N));
    expect(Math.abs(correlation(Array.from({ length: N }, (_, seed) => createRandom(seed).next())))).toBeLessThan(SIGMAS / Math.sqrt(N));
  });

  it("give whole numbers with both ends, and normal ones with mean 0 and deviation 1", () => {
    const r = createRandom(5);
    const dice = Array.from({ length: 6000 }, () => r.whole(1, 6));
    expect([...new Set(dice)].sort()).toEqual([1, 2, 3, 4, 5, 6]);
    const v = Array.from({ length: N }, () => r.normal());
    expect(Math.abs(mean(v))).toBeLessThan(SIGMAS / Math.sqrt(N));
    expect(Math.abs(variance(v) - 1)).toBeLessThan((SIGMAS * Math.sqrt(2)) / Math.sqrt(N));
    // share beyond 1.96 standard deviations: 5 %
    expect(Math.abs(v.filter((x) => Math.abs(x) > 1.96).length / N - 0.05)).toBeLessThan((SIGMAS * Math.sqrt(0.05 * 0.95)) / Math.sqrt(N));
  });
});
