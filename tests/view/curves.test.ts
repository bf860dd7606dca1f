import { describe, expect, it } from "vitest";
import type { CurvesAnswer, CurvesPoint } from "../../src/core/studies/axle-curves.ts";
import { charts, valueAt } from "../../src/view/curves.ts";
import { gOfSpeed, marksOf, postsOf, spacedPosts, speedKmh } from "../../src/view/ruler.ts";

const point = (g: number, hub: number, slide: number): CurvesPoint => ({
  g,
  camberDeg: [-g * 5, g * 8],
  verticalN: [14 - 8 * g, 14 + 8 * g],
  hubDemand: [10 * g, 100 * g],
  rollDeg: 3 * g,
  worst: { hubRetention: hub, sliding: slide },
});
const set: CurvesAnswer = {
  sweep: {
    points: [0, 0.3, 0.6, 0.9].map((g) => point(g, 2 * g, g)),
    hubWheel: null,
    hubPart: "hub lip",
    hubCapacity: 85,
    hubUnit: "N",
    endsAtG: 1,
    endsBy: "slides",
    gives: { name: "hubRetention", g: 0.47 },
  },
  travel: [-10, 0, 10].map((mm) => ({ mm, camberDeg: -0.1 * mm, rollCentreMm: 20 - mm, motionRatio: 0.6 })),
};

describe("posts on the ruler", () => {
  it("stand where a limit is reached, between the points of the sweep, in order", () => {
    const posts = postsOf(set.sweep);
    expect(posts.map((p) => p.words)).toEqual(["lip gives", "slides"]);
    // the first to give where the sweep found it by itself, not where a straight line between its points would have it
    expect(posts[0]?.at).toBe(0.47);
    expect(posts[1]?.at).toBe(1);
    expect(postsOf(null)).toEqual([]);
  });

  it("say their words where there is room: off each other, off the bob and inside the ruler", () => {
    const px = (at: number): number => at * 300;
    const posts = [
      { at: 0.5, words: "lip gives" },
      { at: 0.52, words: "lean limit" },
      { at: 0.53, words: "slides" },
    ];
    const width = (w: string): number => w.length * 6;
    expect(spacedPosts(posts, px, width, 360, []).map((s) => s.align)).toEqual(["end", "start", null]);
    expect(spacedPosts(posts, px, width, 160, []).map((s) => s.align)).toEqual(["end", null, null]);
    expect(spacedPosts(posts.slice(0, 1), px, width, 360, [[130, 148]])[0]?.align).toBe("start");
  });

  it("speed and cornering are two names of one load", () => {
    // v² = g·R·a: 0.8 g on 6 m is 6.86 m/s
    expect(speedKmh(0.8, 6)).toBeCloseTo(24.7, 1);
    expect(gOfSpeed(speedKmh(0.63, 12), 12)).toBeCloseTo(0.63, 9);
  });

  it("has long marks at the round values", () => {
    const marks = marksOf(-12, 12, 6, 3);
    expect(marks.filter((m) => m.long).map((m) => m.at)).toEqual([-12, -6, 0, 6, 12]);
    expect(marks.length).toBe(13);
  });
});

describe("charts", () => {
  it("read straight between points and nothing outside", () => {
    expect(
      valueAt(
        [
          [0, 0],
          [2, 10],
        ],
        0.5,
      ),
    ).toBe(2.5);
    expect(
      valueAt(
        [
          [0, 0],
          [2, 10],
        ],
        2.1,
      ),
    ).toBeNull();
  });

  it("hold every curve and every limit inside their axis", () => {
    const models = charts({ a: set, b: set }, 0.6, 4, 1.2, 6);
    expect(models.map((m) => m.key)).toEqual(["lean", "weight", "hub", "gain", "rollCentre", "ratio"]);
    for (const m of models) {
      for (const s of m.series) for (const [, y] of s.points) expect(y >= m.y.min - 1e-9 && y <= m.y.max + 1e-9, m.key).toBe(true);
      for (const r of m.rules) expect(r.y >= m.y.min && r.y <= m.y.max).toBe(true);
      expect(m.y.ticks.length).toBeGreaterThanOrEqual(2);
      expect(m.y.ticks.length).toBeLessThanOrEqual(5);
    }
  });

  it("number a level curve by ticks that can be told apart, as it trembles in the last digit", () => {
    const level: CurvesAnswer = { ...set, travel: set.travel.map((p, i) => ({ ...p, rollCentreMm: -74.16 + 1e-9 * i })) };
    const m = charts({ a: level, b: null }, 0.6, 4, 1.2, 6).find((c) => c.key === "rollCentre");
    const told = m?.y.ticks.map((t) => t.toFixed(m.digits)) ?? [];
    expect(new Set(told).size).toBe(told.length);
    expect(told.length).toBeGreaterThan(1);
  });

  it("take the outer wheel from the side of the curve and stand the dot on the curve", () => {
    const [lean] = charts({ a: set, b: null }, -0.6, null, 1.2, 6);
    expect(lean?.series[0]?.points[2]?.[1]).toBeCloseTo(-3, 9);
    expect(lean?.dots[0]?.y).toBeCloseTo(-3, 9);
  });
});
