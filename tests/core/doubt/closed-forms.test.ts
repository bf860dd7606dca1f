import { describe, expect, it } from "vitest";
import { bandAbout, spreadOf } from "../../../src/core/doubt/bands.ts";
import { atMost, chanceOf, quantileOfSorted, sampledBand } from "../../../src/core/doubt/chance.ts";
import type { UncertainInputs } from "../../../src/core/doubt/inputs.ts";
import { createRandom } from "../../../src/core/numerics/random.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { formulaOver, plainInputs } from "../../support/plain-inputs.ts";

const valuesOf = (inputs: UncertainInputs): number[] => inputs.list.map((u) => u.value);
/** Slopes of a formula at its values, by central differences over a thousandth of a deviation. */
const slopes = (inputs: UncertainInputs, f: (p: readonly number[]) => number) => (i: number) => {
  const at = (by: number): number => f(valuesOf(inputs).map((v, k) => (k === i ? v + by : v)));
  const h = 1e-3 * inputs.list[i]!.sd;
  return (at(h) - at(-h)) / (2 * h);
};

describe("a linear spring, F = k (L - x)", () => {
  // k = 2.4 ± 0, L = 60 ± 0.5, x = 45 ± 1.2 with correlation 0.5: sd of L - x is √(0.25 + 1.44 - 0.6) = 1.0440 mm; by hand
  const inputs = plainInputs(
    [
      { value: 60, sd: 0.5 },
      { value: 45, sd: 1.2 },
    ],
    [[0, 1, 0.5]],
  );
  const force = ([l, x]: readonly number[]): number => 2.4 * (l! - x!);
  const sd = 2.4 * Math.sqrt(1.09);

  it("has its band to first order, correlation in", () => {
    const spread = spreadOf(inputs, slopes(inputs, force));
    expectRel(spread.sd, sd, 1e-9, "N");
    // parts of the variance by hand: (0.25 - 0.3)/1.09 and (1.44 - 0.3)/1.09
    expectAbs(spread.shares[0]!, -0.05 / 1.09, 1e-9, "part of the length");
    expectAbs(spread.shares[1]!, 1.14 / 1.09, 1e-9, "part of the place");
    // 5 % and 95 % of a normal distribution: 1.644854 deviations
    const band = bandAbout(36, spread.sd);
    expectAbs(band.low, 36 - 1.644854 * sd, 1e-5, "N");
    expectAbs(band.high, 36 + 1.644854 * sd, 1e-5, "N");
  });

  it("has the same by sampling", () => {
    const band = sampledBand(36, formulaOver(inputs, force, 1024, 5))!;
    expectRel(band.mean, 36, 1e-3, "mean, N");
    expectRel(band.sd, sd, 5e-3, "deviation, N");
    expectAbs(band.low, 36 - 1.644854 * sd, 0.02 * sd, "5 %, N");
    expectAbs(band.high, 36 + 1.644854 * sd, 0.02 * sd, "95 %, N");
    expectAbs(band.median, 36, 0.01 * sd, "middle, N");
  });
});

describe("a product of two independent numbers", () => {
  // exact: mean 10·5, variance (10² + 2²)(5² + 0.5²) - 50² = 126
  const inputs = plainInputs([
    { value: 10, sd: 2 },
    { value: 5, sd: 0.5 },
  ]);
  const product = ([a, b]: readonly number[]): number => a! * b!;

  it("is told exactly by sampling, nearly by first order", () => {
    const band = sampledBand(50, formulaOver(inputs, product, 4096, 2))!;
    expectRel(band.mean, 50, 1e-3, "mean");
    expectRel(band.sd, Math.sqrt(126), 3e-3, "deviation");
    expectRel(spreadOf(inputs, slopes(inputs, product)).sd, Math.sqrt(125), 1e-9, "first order: √(10²·0.5² + 5²·2²)");
  });
});

describe("the tip of a cantilever, P L³/(3E b h³/12), P 2 %, L 1 %, E 8 %, b 1.5 %, h 2 %", () => {
  const inputs = plainInputs([
    { value: 10, sd: 0.2 },
    { value: 80, sd: 0.8 },
    { value: 2400, sd: 192 },
    { value: 6, sd: 0.09 },
    { value: 8, sd: 0.16 },
  ]);
  const tip = ([p, l, e, b, h]: readonly number[]): number => (p! * l! ** 3) / ((3 * e! * b! * h! ** 3) / 12);
  const value = tip(valuesOf(inputs));

  it("has 0.107355 to first order, 0.10879 and a mean 0.95 % higher by sampling (JCGM 100, 5.1.2; JCGM 101, four million trials)", () => {
    // √(0.02² + (3·0.01)² + 0.08² + 0.015² + (3·0.02)²)
    expectRel(spreadOf(inputs, slopes(inputs, tip)).sd / value, 0.107355, 1e-5, "relative deviation");
    const band = sampledBand(value, formulaOver(inputs, tip, 4096, 7))!;
    expectRel(band.sd / band.mean, 0.10879, 0.005, "deviation over the mean");
    expectAbs(band.mean / value - 1, 0.0095, 3e-4, "shift of the mean");
  });
});

describe("calibrating an end gauge (GUM, JCGM 100:2008, example H.1)", () => {
  // l = ls + d - ls (δα θ + αs δθ), lengths in nm; ls 50.000623 mm ± 25 nm, d 215 ± 9.7 nm, αs 11.5e-6 ± 1.2e-6, θ -0.1 ± 0.41, δα 0 ± 0.58e-6, δθ 0 ± 0.029
  const inputs = plainInputs([
    { value: 50_000_623, sd: 25 },
    { value: 215, sd: 9.7 },
    { value: 11.5e-6, sd: 1.2e-6 },
    { value: -0.1, sd: 0.41 },
    { value: 0, sd: 0.58e-6 },
    { value: 0, sd: 0.029 },
  ]);
  const length = ([ls, d, alpha, theta, dAlpha, dTheta]: readonly number[]): number => ls! + d! - ls! * (dAlpha! * theta! + alpha! * dTheta!);

  it("has 50.000838 mm and 32 nm to first order", () => {
    expectAbs(length(valuesOf(inputs)), 50_000_838, 0.5, "nm");
    expectAbs(spreadOf(inputs, slopes(inputs, length)).sd, 32, 0.5, "nm");
  });

  it("has 34 nm with what the products add (H.1.7), which sampling sees and first order does not", () => {
    const band = sampledBand(50_000_838, formulaOver(inputs, length, 4096, 11))!;
    expectAbs(band.sd, 34, 0.5, "nm");
    expectAbs(band.mean, 50_000_838, 1, "nm");
  });
});

describe("a sum of more numbers than the points have coordinates", () => {
  it("is told all the same, and the same for the same seed", () => {
    const inputs = plainInputs(Array.from({ length: 300 }, (_, i) => ({ value: 1, sd: i < 290 ? 0.01 : 0.1 })));
    const sum = (p: readonly number[]): number => p.reduce((x, y) => x + y, 0);
    const sample = formulaOver(inputs, sum, 512, 3);
    // √(290·0.01² + 10·0.1²)
    expectRel(sampledBand(300, sample)!.sd, Math.sqrt(0.129), 0.05, "deviation");
    expect(formulaOver(inputs, sum, 512, 3)).toEqual(sample);
    expect(formulaOver(inputs, sum, 512, 4)).not.toEqual(sample);
  });
});

describe("how fast sampling closes in", () => {
  const inputs = plainInputs(Array.from({ length: 8 }, () => ({ value: 1, sd: 0.1 })));
  const product = (p: readonly number[]): number => p.reduce((x, y) => x * y, 1);
  /** exact: a product of independent numbers of mean 1 has mean 1 */
  const error = (sample: (n: number, seed: number) => ArrayLike<number>, n: number): number => {
    const seeds = Array.from({ length: 16 }, (_, s) => s);
    return Math.sqrt(seeds.reduce((sum, s) => sum + (Array.from(sample(n, s)).reduce((x, y) => x + y, 0) / n - 1) ** 2, 0) / seeds.length);
  };
  const rate = (sample: (n: number, seed: number) => ArrayLike<number>): number => Math.log(error(sample, 64) / error(sample, 2048)) / Math.log(2048 / 64);

  it("is nearly as 1/n for the worlds drawn, not as 1/√n of those drawn by lot", () => {
    const even = rate((n, seed) => formulaOver(inputs, product, n, seed));
    const byLot = rate((n, seed) => {
      const random = createRandom(seed);
      return Float64Array.from({ length: n }, () => product(inputs.list.map((u) => u.value + u.sd * random.normal())));
    });
    expect(byLot).toBeGreaterThan(0.3);
    expect(byLot).toBeLessThan(0.7);
    expect(even).toBeGreaterThan(0.85);
  });
});

describe("chances and quantiles of a sample", () => {
  it("have Wilson's range", () => {
    // 15 of 148 (R. G. Newcombe, Statistics in Medicine 17 (1998) 857, table I, method 3): 0.0624 to 0.1605; 0 of 20: 0 to 0.1611; 1 of 29: 0.0061 to 0.1718
    const rows = [
      [15, 148, 0.0624, 0.1605],
      [0, 20, 0, 0.1611],
      [1, 29, 0.0061, 0.1718],
    ] as const;
    for (const [passed, worlds, low, high] of rows) {
      const c = chanceOf(passed, worlds);
      expectRel(c.chance, passed / worlds, 1e-12, "chance");
      expectAbs(c.low, low, 5e-5, "low");
      expectAbs(c.high, high, 5e-5, "high");
    }
    expect(chanceOf(20, 20).high).toBe(1);
  });

  it("lie straight between two values", () => {
    // by hand: four values, a quarter of the way lies at place 0.75
    expectRel(quantileOfSorted([1, 2, 4, 8], 0.25), 1.75, 1e-12, "quarter");
    expect(quantileOfSorted([3], 0.9)).toBe(3);
  });

  it("have no more than the accepted share below the most", () => {
    const sorted = Float64Array.from({ length: 512 }, (_, i) => i);
    const most = atMost(sorted, 0.05);
    // 25 of 512 are 4.9 %, 26 would be 5.1 %
    expect(most.value).toBe(25);
    // ranks 25.6 ± 1.96·√(512·0.05·0.95) = 25.6 ± 9.67
    expect([most.low, most.high]).toEqual([15, 35]);
    expect(atMost(Float64Array.of(7), 0.05)).toEqual({ value: 7, low: 7, high: 7 });
  });
});
