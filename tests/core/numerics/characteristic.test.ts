import { describe, expect, it } from "vitest";
import { characteristic, characteristicFactor, characteristicWithMore } from "../../../src/core/numerics/characteristic.ts";
import { createRandom } from "../../../src/core/numerics/random.ts";
import { expectAbs, expectRel } from "../../support/close.ts";

describe("the characteristic value", () => {
  it("has the factors of table D1 of EN 1990", () => {
    // EN 1990:2002, Annex D, table D1, 5 % value; digits from memory, cut or rounded by up to 0.01
    const unknown: [number, number][] = [
      [3, 3.37],
      [4, 2.63],
      [5, 2.33],
      [6, 2.18],
      [8, 2.0],
      [10, 1.92],
      [20, 1.76],
      [30, 1.73],
    ];
    const known: [number, number][] = [
      [1, 2.31],
      [2, 2.01],
      [3, 1.89],
      [4, 1.83],
      [5, 1.8],
      [6, 1.77],
      [8, 1.74],
      [10, 1.72],
      [20, 1.68],
      [30, 1.67],
    ];
    for (const [n, k] of unknown) expectAbs(characteristicFactor(n, false), k, n === 20 ? 0.015 : 0.01, `${n} tests, spread unknown`);
    for (const [n, k] of known) expectAbs(characteristicFactor(n, true), k, 0.02, `${n} tests, spread known`);
    // the formula's own digits, worked beforehand with scipy: t(0.95, n - 1) and 1.64485, times the root of 1 + 1/n
    expectRel(characteristicFactor(3, false), 3.3717, 2e-5, "3 tests");
    expectRel(characteristicFactor(10, false), 1.9226, 3e-5, "10 tests");
    expectRel(characteristicFactor(5, true), 1.8018, 3e-5, "5 tests, spread known");
  });

  it("of five pull-off tests by hand", () => {
    // 80 84 78 90 88 N: mean 84, Σ(x - 84)² = 16 + 0 + 36 + 36 + 16 = 104, sd √26 = 5.0990195; 84 - 2.3353 · 5.0990 = 72.0923
    const tests = [80, 84, 78, 90, 88];
    const unknown = characteristic(tests, "normal");
    if (!unknown.ok) throw new Error("none");
    expectAbs(unknown.characteristic.mean, 84, 1e-12, "mean, N");
    expectAbs(unknown.characteristic.sd!, 5.0990195, 1e-6, "sd, N");
    expectAbs(unknown.characteristic.value, 72.0923, 3e-3, "5 % value, N");
    // spread of 8 % known: 84 (1 - 1.8018 · 0.08) = 71.8919
    const known = characteristic(tests, "normal", 0.08);
    if (!known.ok) throw new Error("none");
    expectAbs(known.characteristic.value, 71.8919, 1e-3, "5 % value with the spread known, N");
  });

  it("by the logarithms of the tests, worked with numpy", () => {
    const of = (tests: number[], v?: number): number => {
      const c = characteristic(tests, "log-normal", v);
      if (!c.ok) throw new Error("none");
      return c.characteristic.value;
    };
    expectRel(of([80, 84, 78, 90, 88]), 72.7738286059, 1e-9, "5 % value, N");
    expectRel(of([80, 84, 78, 90, 88], 0.08), 72.6331798131, 1e-9, "5 % value with the spread known, N");
    // D.7.2: a scale factor goes through
    expectRel(of([160, 168, 156, 180, 176]), 2 * 72.7738286059, 1e-9, "twice as strong");
  });

  it("is what the next part is weaker than in 5 of 100 cases, however few were tested", () => {
    const random = createRandom(9);
    for (const [n, law, variation] of [
      [3, "normal", undefined],
      [6, "normal", 0.1],
      [4, "log-normal", undefined],
    ] as const) {
      const draw = (): number => (law === "normal" ? 100 * (1 + 0.1 * random.normal()) : 100 * Math.exp(0.2 * random.normal()));
      let weaker = 0;
      const tries = 6000;
      for (let i = 0; i < tries; i++) {
        // the law needs the known sd, not the one over each sample's own mean
        const tests = Array.from({ length: n }, draw);
        const c = characteristic(tests, law, variation);
        if (c.ok && draw() < c.characteristic.value) weaker++;
      }
      // standard error of the share: 0.28 %
      expectAbs(weaker / tries, 0.05, 0.01, `share weaker, ${n} tests, ${law}`);
    }
  });

  it("tells what one more test like these would do", () => {
    const tests = [80, 84, 78];
    const now = characteristic(tests, "normal");
    const later = characteristicWithMore(tests, "normal", 1);
    if (!now.ok) throw new Error("none");
    expectRel(later.factor, 2.6311, 2e-5, "factor of 4 tests");
    // mean 80.6667, sd 3.0551: 80.6667 - 2.6311 · 3.0551
    expectAbs(later.value, 80.6667 - 2.6311 * 3.0551, 1e-3, "value, N");
    expect(later.value).toBeGreaterThan(now.characteristic.value);
  });

  it("says why there is none", () => {
    expect(characteristic([80], "normal")).toEqual({ ok: false, no: { why: "too few", needed: 2 } });
    expect(characteristic([], "normal", 0.1)).toEqual({ ok: false, no: { why: "too few", needed: 1 } });
    expect(characteristic([80, -3, 90], "log-normal")).toEqual({ ok: false, no: { why: "not a strength", test: 1 } });
    const single = characteristic([80], "normal", 0.1);
    expect(single.ok && single.characteristic.sd).toBe(undefined);
  });
});
