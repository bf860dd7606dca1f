import { describe, expect, it } from "vitest";
import type { Fit, Fitted } from "../../../src/core/numerics/fit.ts";
import { fitColumns } from "../../../src/core/numerics/least-squares.ts";
import { LINEAR_SETS } from "../../fixtures/nist-strd.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { fitLine, fitLineThroughOrigin } from "./lines.ts";

function found(fitted: Fitted): Fit {
  if (!fitted.ok) throw new Error(JSON.stringify(fitted.no));
  return fitted.fit;
}

describe("a linear fit", () => {
  for (const set of LINEAR_SETS) {
    it(`has the certified values of ${set.name}`, () => {
      const fit = found(fitColumns(set.rows, set.y));
      // Longley's columns nearly depend on each other: their condition, some 4e4 when scaled, times the rounding
      const digits = set.name === "Longley" ? 1e-10 : 1e-12;
      set.certified.forEach(([value, sd], j) => {
        expectRel(fit.parameters[j]!, value, digits, `B${j}`);
        expectRel(fit.standardErrors[j]!, sd, digits, `standard deviation of B${j}`);
      });
      expectRel(fit.residualSd, set.residualSd, 1e-12, "residual standard deviation");
      expect(fit.dof).toBe(set.dof);
    });
  }

  it("has the numbers of the GUM's example H.3, covariance included", () => {
    // JCGM 100:2008, H.3, with more digits than it prints (-0.1712/0.0029, 0.00218/0.00067, r -0.930, s 0.0035, b(30) -0.1494/0.0041)
    const t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511];
    const b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16];
    const fit = found(
      fitLine(
        t.map((v) => v - 20),
        b,
      ),
    );
    expectAbs(fit.parameters[0]!, -0.171204, 1e-6, "y1, °C");
    expectAbs(fit.standardErrors[0]!, 0.002878, 1e-6, "u(y1), °C");
    expectAbs(fit.parameters[1]!, 0.0021827, 1e-7, "y2");
    expectAbs(fit.standardErrors[1]!, 0.00066794, 1e-8, "u(y2)");
    expectAbs(fit.correlation[0]![1]!, -0.93043, 1e-5, "r");
    expectAbs(fit.residualSd, 0.003498, 1e-6, "s, °C");
    const at30 = fit.parameters[0]! + 10 * fit.parameters[1]!;
    const u30 = Math.sqrt(fit.covariance[0]![0]! + 100 * fit.covariance[1]![1]! + 20 * fit.covariance[0]![1]!);
    expectAbs(at30, -0.14938, 1e-5, "b(30 °C), °C");
    expectAbs(u30, 0.00414, 1e-5, "u(b(30 °C)), °C");
  });

  it("tells a small spring's rate, with and without the origin", () => {
    // worked beforehand with numpy: k 1.97714286 ± 0.03979540, F0 0.08 ± 0.15498080, s 0.16647608, t 2.77644511
    const d = [1, 2, 3, 4, 5, 6];
    const f = [2.1, 3.9, 6.2, 7.8, 10.1, 11.9];
    const line = found(fitLine(d, f));
    expectRel(line.parameters[1]!, 1.97714286, 1e-7, "rate, N/mm");
    expectAbs(line.standardErrors[1]!, 0.0397954, 5e-9, "its standard error, N/mm");
    expectRel(line.parameters[0]!, 0.08, 1e-7, "force at 0, N");
    expectRel(line.standardErrors[0]!, 0.1549808, 1e-7, "its standard error, N");
    expectRel(line.residualSd, 0.16647608, 1e-7, "residual, N");
    expectRel(line.ranges[1]![0], 1.86665313, 1e-7, "low end, N/mm");
    expectRel(line.ranges[1]![1], 2.08763259, 1e-7, "high end, N/mm");
    const origin = found(fitLineThroughOrigin(d, f));
    expectRel(origin.parameters[0]!, 1.9956044, 1e-7, "rate through the origin, N/mm");
    expectRel(origin.standardErrors[0]!, 0.01612055, 1e-6, "its standard error, N/mm");
  });

  it("fits Anscombe's four sets alike", () => {
    // F. J. Anscombe, Graphs in Statistical Analysis, American Statistician 27 (1973) 17-21: y = 3 + 0.5 x, standard error of slope 0.118, R² 0.667
    const x = [10, 8, 13, 9, 11, 14, 6, 4, 12, 7, 5];
    const x4 = [8, 8, 8, 8, 8, 8, 8, 19, 8, 8, 8];
    const sets: [number[], number[]][] = [
      [x, [8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68]],
      [x, [9.14, 8.14, 8.74, 8.77, 9.26, 8.1, 6.13, 3.1, 9.13, 7.26, 4.74]],
      [x, [7.46, 6.77, 12.74, 7.11, 7.81, 8.84, 6.08, 5.39, 8.15, 6.42, 5.73]],
      [x4, [6.58, 5.76, 7.71, 8.84, 8.47, 7.04, 5.25, 12.5, 5.56, 7.91, 6.89]],
    ];
    for (const [at, y] of sets) {
      const fit = found(fitLine(at, y));
      expectAbs(fit.parameters[0]!, 3, 0.005, "constant");
      expectAbs(fit.parameters[1]!, 0.5, 0.0005, "slope");
      expectAbs(fit.standardErrors[1]!, 0.118, 0.0005, "standard error of the slope");
    }
  });

  it("counts a row of weight 2 as two rows, and one of weight 0 not at all", () => {
    const twice = found(fitLine([0, 1, 2, 2, 3], [1, 2.9, 5.2, 5.2, 6.8], { sd: 0.1 }));
    const weighted = found(fitLine([0, 1, 2, 3, 4], [1, 2.9, 5.2, 6.8, 100], { sd: 0.1, weights: [1, 1, 2, 1, 0] }));
    weighted.parameters.forEach((p, j) => {
      expectRel(p, twice.parameters[j]!, 1e-12, "parameter");
    });
    weighted.standardErrors.forEach((s, j) => {
      expectRel(s, twice.standardErrors[j]!, 1e-12, "standard error");
    });
    expect(weighted.dof).toBe(2);
    expectAbs(weighted.residuals[4]!, 100 - (weighted.parameters[0]! + 4 * weighted.parameters[1]!), 1e-9, "residual of the row left out");
  });

  it("with the spread known tells it by the normal distribution: s/√Σx² and 1.96 times it", () => {
    const fit = found(fitLineThroughOrigin([3, 4], [6.1, 7.9], { sd: 0.5 }));
    expectRel(fit.standardErrors[0]!, 0.1, 1e-12, "standard error");
    expectRel(fit.ranges[0]![1] - fit.parameters[0]!, 0.195996398, 1e-8, "reach of the 95 % range");
  });

  it("with as many rows as parameters meets them and says that it knows no spread", () => {
    const fit = found(fitLine([1, 3], [2, 8]));
    expectRel(fit.parameters[1]!, 3, 1e-12, "slope");
    expect(fit.standardErrors).toEqual([Infinity, Infinity]);
    expect(fit.ranges[1]).toEqual([-Infinity, Infinity]);
  });

  it("says why it cannot be", () => {
    expect(fitLine([1], [2])).toEqual({ ok: false, no: { why: "too few rows", rows: 1, needed: 2 } });
    expect(fitLine([4, 4, 4], [1, 2, 3])).toEqual({ ok: false, no: { why: "not told apart", parameter: 1 } });
    expect(fitLine([1, 2, Number.NaN], [1, 2, 3])).toEqual({ ok: false, no: { why: "not a number", row: 2 } });
    expect(fitLine([1, 2, 3], [1, 2, 3], { weights: [1, 0, 0] })).toEqual({ ok: false, no: { why: "too few rows", rows: 1, needed: 2 } });
  });
});
