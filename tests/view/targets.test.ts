import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { spreadTargets, type Target } from "../../src/view/targets.ts";

const box = (t: Target): [number, number, number, number] => [
  t.at[0] - t.size[0] / 2,
  t.at[1] - t.size[1] / 2,
  t.at[0] + t.size[0] / 2,
  t.at[1] + t.size[1] / 2,
];
const overlap = (a: Target, b: Target): boolean => {
  const [p, q] = [box(a), box(b)];
  return p[0] < q[2] - 0.01 && q[0] < p[2] - 0.01 && p[1] < q[3] - 0.01 && q[1] < p[3] - 0.01;
};
const targetAt = (x: number, y: number, px = 44): Target => ({ at: [x, y], size: [px, px] });

// 24 px: WCAG 2.2, success criterion 2.5.8, target size (minimum)
describe("places to press", () => {
  it("stay where they are and as large as wanted where there is room", () => {
    const wanted = [targetAt(0, 0), targetAt(44, 0), targetAt(0, 50)];
    expect(spreadTargets(wanted)).toEqual(wanted);
  });

  it("shrink before they move", () => {
    const [a, b] = spreadTargets([targetAt(0, 0), targetAt(30, 5)]) as [Target, Target];
    expect(a.at).toEqual([0, 0]);
    expect(b.at).toEqual([30, 5]);
    expect(a.size).toEqual([30, 44]);
    expect(b.size).toEqual([30, 44]);
  });

  it("move aside, both alike, where two things lie closer than 24 px", () => {
    const [a, b] = spreadTargets([targetAt(100, 0), targetAt(109, 0)]) as [Target, Target];
    expect((a.at[0] + b.at[0]) / 2).toBeCloseTo(104.5, 9);
    expect(b.at[0] - a.at[0]).toBeGreaterThanOrEqual(24);
    expect(b.at[0] - a.at[0]).toBeLessThan(26);
    expect(overlap(a, b)).toBe(false);
  });

  it("keep their size for a finger, with 24 px free of each other", () => {
    const [a, b] = spreadTargets([targetAt(100, 0), targetAt(109, 0)], false) as [Target, Target];
    expect([a.size, b.size]).toEqual([
      [44, 44],
      [44, 44],
    ]);
    expect(box(b)[0] - box(a)[0]).toBeGreaterThanOrEqual(24);
    // between two others the middle one keeps 24 px too
    const [left, middle, right] = spreadTargets([targetAt(80, 0), targetAt(100, 0), targetAt(120, 0)], false) as [Target, Target, Target];
    expect(box(right)[0] - box(left)[2]).toBeGreaterThanOrEqual(24);
    expect(middle.at[0]).toBeCloseTo(100, 0);
  });

  it("of a handful of things anywhere never lie over each other, keep 24 px and stay near", () => {
    const things = fc.array(fc.tuple(fc.double({ min: 0, max: 300, noNaN: true }), fc.double({ min: 0, max: 200, noNaN: true })), {
      minLength: 2,
      maxLength: 5,
    });
    fc.assert(
      fc.property(things, (list) => {
        const wanted = list.map(([x, y]) => targetAt(x, y));
        const got = spreadTargets(wanted);
        for (const [i, t] of got.entries()) {
          expect(Math.min(...t.size)).toBeGreaterThanOrEqual(24);
          for (const other of got.slice(i + 1)) expect(overlap(t, other)).toBe(false);
          const [x, y] = wanted[i]!.at;
          expect(Math.max(Math.abs(t.at[0] - x), Math.abs(t.at[1] - y))).toBeLessThanOrEqual(4 * 24.5);
        }
      }),
      { numRuns: 300 },
    );
  });
});
