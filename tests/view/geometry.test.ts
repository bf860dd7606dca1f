import { describe, expect, it } from "vitest";
import type { V2 } from "../../src/core/vec.ts";
import { clipHalfPlane, dashes, distance, hatch, inside, meet, offsetLine, smooth } from "../../src/view/geometry.ts";

const TOL = 1e-9;
const square: V2[] = [
  [0, 0],
  [10, 0],
  [10, 10],
  [0, 10],
];
const area = (p: readonly V2[]): number =>
  Math.abs(
    p.reduce((s, a, i) => {
      const b = p[(i + 1) % p.length] as V2;
      return s + a[0] * b[1] - b[0] * a[1];
    }, 0),
  ) / 2;

describe("drawn geometry", () => {
  it("cuts a line into dashes whose drawn length is the pattern's share", () => {
    const pairs = dashes(
      [
        [0, 0],
        [110, 0],
      ],
      [7, 4],
    );
    let drawn = 0;
    for (let i = 0; i < pairs.length; i += 2) drawn += distance(pairs[i] as V2, pairs[i + 1] as V2);
    expect(drawn).toBeCloseTo(70, 6);
  });

  it("carries the dash over a corner instead of starting anew", () => {
    const pairs = dashes(
      [
        [0, 0],
        [5, 0],
        [5, 5],
      ],
      [7, 4],
    );
    expect(pairs).toEqual([
      [0, 0],
      [5, 0],
      [5, 0],
      [5, 2],
    ]);
  });

  it("keeps the side of a half plane that was asked for", () => {
    expect(area(clipHalfPlane(square, [0, -1], -4))).toBeCloseTo(60, 9);
    expect(clipHalfPlane(square, [1, 0], -1)).toEqual([]);
    expect(area(clipHalfPlane(square, [1, 0], 99))).toBeCloseTo(100, 9);
  });

  it("hatches inside its outline only", () => {
    const lines = hatch(square, Math.PI / 4, 2);
    expect(lines.length).toBeGreaterThan(8);
    for (const [x, y] of lines) {
      expect(x).toBeGreaterThanOrEqual(-TOL);
      expect(x).toBeLessThanOrEqual(10 + TOL);
      expect(y).toBeGreaterThanOrEqual(-TOL);
      expect(y).toBeLessThanOrEqual(10 + TOL);
    }
  });

  it("finds where two lines meet, and says when they never do", () => {
    expect(meet([0, 0], [1, 1], [0, 2], [1, 1])).toEqual([1, 1]);
    expect(meet([0, 0], [1, 0], [0, 1], [5, 1])).toBeNull();
    expect(meet([2, 2], [2, 2], [0, 1], [5, 1])).toBeNull();
  });

  it("moves a straight line sideways by the asked distance", () => {
    for (const p of offsetLine(
      [
        [0, 0],
        [5, 0],
        [9, 0],
      ],
      2,
    ))
      expect(p[1]).toBeCloseTo(2, 9);
  });

  it("runs a smooth line through its points", () => {
    const points: V2[] = [
      [0, 0],
      [3, 1],
      [6, -2],
      [9, 0],
    ];
    const line = smooth(points, 4);
    for (const p of points) expect(Math.min(...line.map((q) => distance(p, q)))).toBeLessThan(TOL);
  });

  it("tells inside from outside", () => {
    expect(inside(square, [5, 5])).toBe(true);
    expect(inside(square, [15, 5])).toBe(false);
  });
});
