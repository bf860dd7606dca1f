import { describe, expect, it } from "vitest";
import type { V2 } from "../../../src/core/vec.ts";
import { alongLine, freeBox, isFree, turnedBoxes } from "../../../src/view/map/place.ts";

const sheet = { x: 0, y: 0, w: 400, h: 300 };
const line: V2[] = Array.from({ length: 41 }, (_, i): V2 => [i * 10, 250 - i * 5]);

describe("a text along a line", () => {
  it("lies on the line's slope, shifted to the wanted side", () => {
    const on = alongLine([line], 80, 14, -10, [], sheet, [0.5]);
    if (!on) throw new Error("nothing is in the way");
    expect(on.deg).toBeCloseTo((Math.atan2(-5, 10) * 180) / Math.PI, 6);
    expect(on.at[1]).toBeLessThan(150);
  });

  it("moves on from what is taken, and is left out where all is taken", () => {
    const first = alongLine([line], 80, 14, 0, [], sheet, [0.5, 0.8]);
    if (!first) throw new Error("nothing is in the way");
    const second = alongLine([line], 80, 14, 0, turnedBoxes(first, 80, 14), sheet, [0.5, 0.8]);
    expect(second?.at[0]).toBeGreaterThan(first.at[0] + 60);
    expect(alongLine([line], 80, 14, 0, [sheet], sheet, [0.5, 0.8])).toBeNull();
  });

  it("needs a line that is long enough", () => {
    expect(alongLine([line.slice(0, 4)], 80, 14, 0, [], sheet, [0.5])).toBeNull();
  });
});

describe("a free place for a box", () => {
  it("is the highest one that keeps clear", () => {
    const taken = [{ x: 0, y: 0, w: 400, h: 100 }];
    const box = freeBox(100, 40, [200], 0, 300, taken, sheet);
    if (!box) throw new Error("there is room below");
    expect(isFree(box, taken, sheet)).toBe(true);
    expect(box.y).toBeGreaterThanOrEqual(100);
    expect(box.y).toBeLessThan(120);
  });

  it("is none where there is no room", () => {
    expect(freeBox(100, 40, [200], 0, 300, [sheet], sheet)).toBeNull();
  });
});
