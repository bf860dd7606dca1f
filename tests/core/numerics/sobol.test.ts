import { describe, expect, it } from "vitest";
import { MOST_DIMENSIONS, sobolNormals, sobolPoints } from "../../../src/core/numerics/sobol.ts";
import { expectAbs } from "../../support/close.ts";

const mean = (v: readonly number[]): number => v.reduce((a, b) => a + b, 0) / v.length;

/** How many of the points lie in each of the `cells` equal parts of an edge, or of a face of the cube. */
function countIn(points: number[][], dims: readonly number[], cells: readonly number[]): number[] {
  const counts = new Array<number>(cells.reduce((a, b) => a * b, 1)).fill(0);
  for (const p of points) counts[dims.reduce((at, d, i) => at * cells[i]! + Math.floor(p[d]! * cells[i]!), 0)]!++;
  return counts;
}

describe("Sobol points", () => {
  it("are those of scipy.stats.qmc.Sobol (1.17.1, unscrambled)", () => {
    const first = [
      [0, 0],
      [0.5, 0.5],
      [0.75, 0.25],
      [0.25, 0.75],
      [0.375, 0.375],
      [0.875, 0.875],
      [0.625, 0.125],
      [0.125, 0.625],
    ];
    expect(sobolPoints(8, 2, null)).toEqual(first);
    const wide = sobolPoints(778, 64, null);
    expect([2, 10, 40, 63].map((d) => wide[5]![d])).toEqual([0.125, 0.375, 0.375, 0.625]);
    expect([2, 10, 40, 63].map((d) => wide[777]![d])).toEqual([0.1630859375, 0.7451171875, 0.7216796875, 0.4267578125]);
  });

  it("fill every edge evenly in all dimensions, plain and scrambled", () => {
    for (const points of [sobolPoints(256, MOST_DIMENSIONS, null), sobolPoints(256, MOST_DIMENSIONS, 7)]) {
      for (let d = 0; d < MOST_DIMENSIONS; d++) expect(new Set(countIn(points, [d], [256])), `dimension ${d}`).toEqual(new Set([1]));
    }
  });

  it("fill the face of the first two dimensions evenly however it is cut (a (0, 8, 2)-net in base 2)", () => {
    for (const points of [sobolPoints(256, 2, null), sobolPoints(256, 2, 3)]) {
      for (let k = 0; k <= 8; k++) expect(new Set(countIn(points, [0, 1], [2 ** k, 2 ** (8 - k)]))).toEqual(new Set([1]));
    }
  });

  it("say so when they are asked for more dimensions than there are", () => {
    expect(() => sobolPoints(1, MOST_DIMENSIONS + 1, null)).toThrow(RangeError);
    expect(MOST_DIMENSIONS).toBeGreaterThanOrEqual(64);
  });
});

describe("scrambled Sobol points", () => {
  it("are the same for a seed, others for the next, and the shorter set begins the longer", () => {
    const points = sobolPoints(32, 5, 11);
    expect(sobolPoints(32, 5, 11)).toEqual(points);
    expect(sobolPoints(32, 5, 12)).not.toEqual(points);
    expect(sobolPoints(64, 5, 11).slice(0, 32)).toEqual(points);
    expect(sobolPoints(32, 8, 11).map((p) => p.slice(0, 5))).toEqual(points);
  });

  it("lie anywhere with the same chance: one point over many seeds is uniform and its coordinates unrelated", () => {
    const seeds = 4000;
    const points = Array.from({ length: seeds }, (_, seed) => sobolPoints(4, 3, seed)[3]!);
    for (let d = 0; d < 3; d++) {
      // chi-square with 9 degrees of freedom: 33.7 is passed once in 10,000 (Abramowitz and Stegun, table 26.8)
      expect(countIn(points, [d], [10]).reduce((s, n) => s + (n - seeds / 10) ** 2 / (seeds / 10), 0)).toBeLessThan(33.7);
      const other = (d + 1) % 3;
      const correlation = 12 * mean(points.map((p) => (p[d]! - 0.5) * (p[other]! - 0.5)));
      expect(Math.abs(correlation)).toBeLessThan(5 / Math.sqrt(seeds));
    }
  });

  it("give a smooth mean far better than random points, and better than 1/n: scrambling tends to n^-3/2 (Owen 1997)", () => {
    // six factors 1 + (u - 1/2): mean 1, variance (13/12)^6 - 1
    const error = (n: number): number => {
      const squares = Array.from({ length: 20 }, (_, seed) => (mean(sobolPoints(n, 6, seed).map((p) => p.reduce((f, u) => f * (0.5 + u), 1))) - 1) ** 2);
      return Math.sqrt(mean(squares));
    };
    const few = error(64);
    const many = error(1024);
    expect(few).toBeLessThan(0.25 * Math.sqrt(((13 / 12) ** 6 - 1) / 64));
    // 16 times as many points
    expect(few / many).toBeGreaterThan(16);
  });

  it("become normal values with mean 0, deviation 1 and no correlation", () => {
    const z = sobolNormals(1024, 6, 5);
    for (let d = 0; d < 6; d++) {
      expectAbs(mean(z.map((p) => p[d]!)), 0, 2e-3, "mean");
      expectAbs(mean(z.map((p) => p[d]! ** 2)), 1, 2e-2, "variance");
      expectAbs(mean(z.map((p) => p[d]! * p[(d + 1) % 6]!)), 0, 2e-2, "correlation");
    }
  });
});
