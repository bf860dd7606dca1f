import { describe, expect, it } from "vitest";
import { bump, flat, rollOver, rough, washboard } from "../../src/motion/road.ts";
import { expectAbs, expectRel } from "../support/close.ts";

/** Spacing of the rolled road's table, mm: lengths are right to it. */
const TABLE_MM = 1;

describe("a round wheel on a road", () => {
  it("stays on a flat one", () => {
    expect(rollOver(flat, 48, 1000).heightAt(500)).toBe(0);
  });

  it("rises to a bump's height, never above it, and feels it longer than it is", () => {
    const r = rollOver(bump(6, 40, 200), 48, 600);
    expectAbs(r.heightAt(220), 6, 1e-9, "height on top, mm");
    let most = 0;
    let first = Number.NaN;
    for (let x = 0; x < 600; x += 0.5) {
      most = Math.max(most, r.heightAt(x));
      if (Number.isNaN(first) && r.heightAt(x) > 0.01) first = x;
    }
    expect(most).toBeLessThanOrEqual(6);
    expect(first).toBeLessThan(195);
  });

  it("meets a step where the circle does: √(2 R h - h²) before it", () => {
    const r = rollOver((x) => (x >= 300 ? 10 : 0), 50, 600);
    let first = 0;
    while (r.heightAt(first) <= 1e-3) first += 0.25;
    expectAbs(300 - first, Math.sqrt(2 * 50 * 10 - 100), 2 * TABLE_MM, "distance before the step, mm");
  });

  it("hardly sees a slot narrower than itself: sinks R - √(R² - (w/2)²)", () => {
    const r = rollOver((x) => (x > 290 && x < 310 ? -30 : 0), 50, 600);
    expectAbs(r.heightAt(300), -(50 - Math.sqrt(2500 - 100)), 0.1, "depth in the slot, mm");
  });
});

describe("a washboard", () => {
  it("repeats its wave at its full height after the first, left behind right by the shift", () => {
    const w = washboard(4, 150, 100, 0);
    expectAbs(w(100 + 150 * 2.5), 4, 1e-9, "crest, mm");
    expectAbs(w(100 + 150 * 3), 0, 1e-9, "trough, mm");
    const late = washboard(4, 150, 100, 0.5);
    expectAbs(late(100 + 150 * 3), 4, 1e-9, "crest half a wave later, mm");
  });
});

describe("a washboard a quarter of a wave behind", () => {
  // trough after 1 1/4 waves, crest after 1 3/4
  it("comes later, not sooner", () => {
    const road = washboard(4, 300, 0, 0.25);
    expectAbs(road(375), 0, 1e-9, "mm, trough");
    expectAbs(road(525), 4, 1e-9, "mm, crest");
  });
});

describe("a rough road", () => {
  it("has the rms height that was asked for, the same for the same seed", () => {
    const road = rough(0.8, 3, 0);
    let square = 0;
    const count = 40_000;
    for (let i = 0; i < count; i++) square += road(1000 + i * 2.5) ** 2;
    // a hundred metres of waves up to two metres long
    expectRel(Math.sqrt(square / count), 0.8, 0.03, "rms height, mm");
    expect(rough(0.8, 3, 0)(1234.5)).toBe(road(1234.5));
    expect(rough(0.8, 4, 0)(1234.5)).not.toBe(road(1234.5));
  });
});
