import { describe, expect, it } from "vitest";
import { normalCdf, normalLogCdf, normalQuantile, tCdf, tQuantile } from "../../../src/core/numerics/distributions.ts";
import { expectAbs, expectRel } from "../../support/close.ts";

// Values with 15 digits or more: mpmath 1.3.0 with 30 digits (ncdf, betainc).

describe("the normal distribution", () => {
  it("has the probabilities of mpmath, in the far tail too", () => {
    const below: [number, number][] = [
      [-10, 7.619853024160525e-24],
      [-3, 0.0013498980316300946],
      [-1, 0.15865525393145705],
      [0, 0.5],
      [0.5, 0.6914624612740131],
      [2.6, 0.9953388119762813],
      [-Infinity, 0],
      [Infinity, 1],
    ];
    for (const [z, p] of below) expectRel(normalCdf(z), p, 1e-13, `probability below ${z}`);
    const logs: [number, number][] = [
      [-100, -5005.524208694205],
      [-40, -804.6084420137538],
      [-2.6, -5.3684849226242655],
      [1, -0.17275377902344988],
      [5, -2.866516129637636e-7],
    ];
    for (const [z, p] of logs) expectRel(normalLogCdf(z), p, 1e-13, `log probability below ${z}`);
  });

  it("has the quantiles of the tables, and takes back what its cdf tells", () => {
    // Abramowitz and Stegun, table 26.5; more digits from mpmath
    expectAbs(normalQuantile(0.95), 1.6448536269514722, 1e-14, "95 % quantile");
    expectAbs(normalQuantile(0.975), 1.959963984540054, 1e-14, "97.5 % quantile");
    expectAbs(normalQuantile(0.001), -3.090232306167813, 1e-14, "0.1 % quantile");
    for (let z = -37; z <= 5; z += 0.37) expectAbs(normalQuantile(normalCdf(z)), z, 1e-9, "value taken back");
    expect([normalQuantile(0), normalQuantile(0.5), normalQuantile(1)]).toEqual([-Infinity, 0, Infinity]);
    expect([normalQuantile(-0.1), normalQuantile(1.1), normalQuantile(Number.NaN)]).toEqual([Number.NaN, Number.NaN, Number.NaN]);
  });
});

describe("Student's t distribution", () => {
  it("has the probabilities of mpmath", () => {
    expectRel(tCdf(1.3, 3), 0.8577662456360513, 1e-12, "t 1.3, dof 3");
    expectRel(tCdf(0.1, 7.3), 0.5384822514300852, 1e-12, "t 0.1, dof 7.3");
    expectRel(tCdf(2.5, 17), 0.9885260965068075, 1e-12, "t 2.5, dof 17");
    expectRel(1 - tCdf(5, 120), 1 - 0.9999990109047098, 1e-9, "above 5, dof 120");
    expectRel(tCdf(-5, 120), 1 - 0.9999990109047098, 1e-9, "below -5, dof 120");
    expectRel(tQuantile(0.975, 7.3), 2.345066736547704, 1e-12, "97.5 % quantile, dof 7.3");
    expectRel(tQuantile(0.999, 30), 3.385184866829305, 1e-12, "99.9 % quantile, dof 30");
  });

  it("has the quantiles of the printed table", () => {
    // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, columns 0.95, 0.975, 0.995
    const table: [number, number, number, number][] = [
      [1, 6.314, 12.706, 63.657],
      [2, 2.92, 4.303, 9.925],
      [5, 2.015, 2.571, 4.032],
      [10, 1.812, 2.228, 3.169],
      [30, 1.697, 2.042, 2.75],
      [100, 1.66, 1.984, 2.626],
      [Infinity, 1.645, 1.96, 2.576],
    ];
    for (const [dof, ...row] of table) [0.95, 0.975, 0.995].forEach((p, i) => expectAbs(tQuantile(p, dof), row[i]!, 0.0005001, `${p} quantile, dof ${dof}`));
  });

  it("agrees with the closed forms for 1, 2 and 4 degrees of freedom, far out and near the middle", () => {
    // W. T. Shaw, J. Computational Finance 9 (2006) 37-73, section 4
    for (const p of [1e-9, 0.01, 0.3, 0.4999, 0.6, 0.95, 0.9999]) {
      expectRel(tQuantile(p, 1), -1 / Math.tan(Math.PI * p), 1e-9, `dof 1 at ${p}`);
      expectRel(tQuantile(p, 2), (2 * p - 1) / Math.sqrt(2 * p * (1 - p)), 1e-9, `dof 2 at ${p}`);
      const alpha = 4 * p * (1 - p);
      const q = Math.cos(Math.acos(Math.sqrt(alpha)) / 3) / Math.sqrt(alpha);
      // near the middle the form itself subtracts two numbers near 1
      expectRel(tQuantile(p, 4), Math.sign(p - 0.5) * 2 * Math.sqrt(q - 1), p === 0.4999 ? 1e-7 : 1e-9, `dof 4 at ${p}`);
    }
  });

  it("becomes the normal distribution, is symmetric, and answers nonsense with NaN", () => {
    expectAbs(tQuantile(0.975, 1e6), normalQuantile(0.975), 3e-6, "97.5 % quantile, dof 1e6");
    expect(tQuantile(0.25, 6.5)).toBe(-tQuantile(0.75, 6.5));
    expect([tQuantile(0.5, 3), tQuantile(0, 3), tQuantile(1, 3)]).toEqual([0, -Infinity, Infinity]);
    expect([tQuantile(0.5, 0), tQuantile(2, 3), tCdf(1, Number.NaN)]).toEqual([Number.NaN, Number.NaN, Number.NaN]);
  });
});
