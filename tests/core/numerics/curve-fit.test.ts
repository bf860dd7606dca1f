import { describe, expect, it } from "vitest";
import { type CurveFitOptions, type CurveFitted, fitCurve } from "../../../src/core/numerics/curve-fit.ts";
import { createRandom } from "../../../src/core/numerics/random.ts";
import { CURVE_SETS } from "../../fixtures/nist-strd.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { fitLine } from "./lines.ts";

function found(fitted: CurveFitted): Extract<CurveFitted, { ok: true }> {
  if (!fitted.ok) throw new Error(JSON.stringify(fitted.no));
  return fitted;
}

describe("a curve fit", () => {
  for (const set of CURVE_SETS) {
    it(`has the certified values of ${set.name} from each start`, () => {
      const y = set.data.map((d) => d[1]);
      for (const start of set.starts) {
        const { fit, held } = found(fitCurve((p) => set.data.map(([x]) => set.model(p, x)), start, y));
        set.certified.forEach(([value, sd], j) => {
          expectRel(fit.parameters[j]!, value, 5e-9, `b${j + 1}`);
          expectRel(fit.standardErrors[j]!, sd, 2e-7, `standard deviation of b${j + 1}`);
        });
        expectRel(fit.sumOfSquares, set.sumOfSquares, 1e-9, "sum of squares");
        expectRel(fit.residualSd, set.residualSd, 1e-9, "residual standard deviation");
        expect([fit.dof, held]).toEqual([set.dof, []]);
      }
    });
  }

  it("of a straight line is the linear fit, weights and known spread included", () => {
    const x = [0, 1, 2, 3, 4, 5];
    const y = [0.3, 2.1, 3.7, 6.4, 7.9, 10.2];
    for (const options of [{}, { weights: [1, 2, 1, 4, 1, 0] }, { sd: 0.2 }] satisfies CurveFitOptions[]) {
      const line = fitLine(x, y, options);
      if (!line.ok) throw new Error("no line");
      const { fit } = found(fitCurve(([a, b]) => x.map((v) => a! + b! * v), [5, -3], y, options));
      for (const j of [0, 1]) {
        expectAbs(fit.parameters[j]!, line.fit.parameters[j]!, 1e-9, "parameter");
        expectRel(fit.standardErrors[j]!, line.fit.standardErrors[j]!, 1e-8, "standard error");
        expectRel(fit.ranges[j]![1], line.fit.ranges[j]![1], 1e-8, "high end");
      }
      expectRel(fit.correlation[0]![1]!, line.fit.correlation[0]![1]!, 1e-8, "correlation");
    }
  });

  it("finds play and stiffness of a pin that first takes up its play, and the derivative given leads there too", () => {
    // made by hand: 0.4 mm of play, then 5 N/mm
    const mm = [0, 0.2, 0.4, 0.6, 0.8, 1, 1.2, 1.4];
    const newton = [0, 0, 0, 1, 2, 3, 4, 5];
    const model = ([play, rate]: readonly number[]): number[] => mm.map((d) => rate! * Math.max(0, d - play!));
    const derivative = ([play, rate]: readonly number[]): number[][] => mm.map((d) => (d > play! ? [-rate!, d - play!] : [0, 0]));
    for (const options of [{}, { derivative }]) {
      const { fit } = found(fitCurve(model, [0.1, 2], newton, options));
      expectAbs(fit.parameters[0]!, 0.4, 1e-9, "play, mm");
      expectAbs(fit.parameters[1]!, 5, 1e-9, "rate, N/mm");
      expectAbs(fit.residualSd, 0, 1e-9, "residual, N");
    }
  });

  it("keeps within bounds, and tells which parameter rests on one", () => {
    const x = [1, 2, 3, 4];
    // the best line is 1 - 0.5 + x: its constant may not go below 1
    const y = [1.4, 2.6, 3.4, 4.6];
    const { fit, held } = found(fitCurve(([a, b]) => x.map((v) => a! + b! * v), [3, 0], y, { lower: [1, -10], upper: [4, 10] }));
    expect(held).toEqual([0]);
    expect(fit.parameters[0]).toBe(1);
    // through (0, 1): slope Σ x (y - 1) / Σ x²
    expectRel(fit.parameters[1]!, (0.4 + 3.2 + 7.2 + 14.4) / 30, 1e-9, "slope");
    expect(fit.standardErrors[0]).toBe(0);
    // no bound matters where the best place lies between them
    expect(found(fitCurve(([a, b]) => x.map((v) => a! + b! * v), [3, 0], y, { lower: [-5, -10], upper: [4, 10] })).held).toEqual([]);
  });

  it("never asks the model beyond the bounds, not for derivatives either", () => {
    const x = [0.5, 1, 2, 4];
    const y = x.map((v) => Math.sqrt(v));
    const model = ([a]: readonly number[]): number[] => {
      if (a! < 0.5 || a! > 0.8) throw new Error(`asked at ${a}`);
      return x.map((v) => v ** a!);
    };
    const { fit } = found(fitCurve(model, [0.8], y, { lower: [0.5], upper: [0.8] }));
    expectAbs(fit.parameters[0]!, 0.5, 1e-7, "power");
  });

  it("tells the truth inside its 95 % ranges in 95 of 100 noisy tries", () => {
    const random = createRandom(4);
    const x = Array.from({ length: 12 }, (_, i) => 0.5 * i);
    const model = ([a, b]: readonly number[]): number[] => x.map((v) => a! * (1 - Math.exp(-b! * v)));
    const truth = [10, 0.6];
    const tries = 1000;
    const inside = [0, 0];
    for (let i = 0; i < tries; i++) {
      const { fit } = found(
        fitCurve(
          model,
          [8, 1],
          model(truth).map((y) => y + 0.3 * random.normal()),
        ),
      );
      fit.ranges.forEach(([low, high], j) => {
        if (low <= truth[j]! && truth[j]! <= high) inside[j]!++;
      });
    }
    for (const n of inside) expectAbs(n / tries, 0.95, 0.02, "share inside");
  });

  it("says why it cannot be", () => {
    const x = [1, 2, 3];
    const y = [1, 2, 3];
    expect(fitCurve(([a, b]) => x.map((v) => a! * b! * v), [1, 2], y)).toEqual({ ok: false, no: { why: "not told apart", parameter: 1 } });
    expect(fitCurve(([a]) => x.map((v) => a! * v), [1], [1, Number.NaN, 3])).toEqual({ ok: false, no: { why: "not a number", row: 1 } });
    expect(fitCurve(([a]) => x.map(() => Math.log(a!)), [-1], y)).toEqual({ ok: false, no: { why: "not a number", row: 0 } });
    expect(fitCurve(([a, b, c, d]) => x.map((v) => a! + b! * v + c! + d!), [1, 1, 1, 1], y)).toEqual({
      ok: false,
      no: { why: "too few rows", rows: 3, needed: 4 },
    });
  });
});
