import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Box, type LabelWish, placeLabels, type Spot } from "../../src/view/labels.ts";
import { evenMeasure } from "./fixture.ts";

const sheet: Box = { x: 0, y: 0, w: 800, h: 500 };
const wish = (key: string, at: [number, number], priority: number, more: Partial<LabelWish> = {}): LabelWish => ({
  key,
  at,
  lines: [{ text: "22.0 N", size: 14, strong: true, tone: "react" }],
  priority,
  spots: ["right", "above", "left", "below"],
  gap: 6,
  ...more,
});
const meets = (a: Box, b: Box): boolean => a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h;

describe("labels", () => {
  it("never lie on each other, on an obstacle or off the sheet, wherever their things are", () => {
    const obstacles: Box[] = [{ x: 300, y: 200, w: 60, h: 120 }];
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.integer({ min: 0, max: 800 }), fc.integer({ min: 0, max: 500 })), { minLength: 1, maxLength: 18 }), (places) => {
        const placed = placeLabels(
          places.map((p, i) => wish(`l${i}`, p as [number, number], i)),
          obstacles,
          sheet,
          evenMeasure,
          new Map(),
        );
        placed.forEach((a, i) => {
          expect(meets(a, obstacles[0] as Box)).toBe(false);
          expect(a.x >= 0 && a.y >= 0 && a.x + a.w <= sheet.w && a.y + a.h <= sheet.h).toBe(true);
          for (const b of placed.slice(i + 1)) expect(meets(a, b)).toBe(false);
        });
      }),
      { numRuns: 150 },
    );
  });

  it("give the better place to the one that matters more", () => {
    const placed = placeLabels([wish("less", [100, 100], 6), wish("more", [100, 100], 1)], [], sheet, evenMeasure, new Map());
    expect(placed.find((l) => l.key === "more")?.spot).toBe("right");
    expect(placed.find((l) => l.key === "less")?.spot).not.toBe("right");
  });

  it("keep the place they had while it is free", () => {
    const last = new Map<string, Spot>([["a", "below"]]);
    expect(placeLabels([wish("a", [100, 100], 1)], [], sheet, evenMeasure, last)[0]?.spot).toBe("below");
    const blocked: Box = { x: 60, y: 104, w: 90, h: 200 };
    expect(placeLabels([wish("a", [100, 100], 1)], [blocked], sheet, evenMeasure, last)[0]?.spot).not.toBe("below");
  });

  it("that must be seen are put inside the sheet even where nothing is free", () => {
    const all: Box = { x: 0, y: 0, w: 800, h: 500 };
    const [only] = placeLabels([wish("must", [799, 1], 1, { must: true })], [all], sheet, evenMeasure, new Map());
    expect(only && only.x + only.w <= sheet.w && only.y >= 0).toBe(true);
    expect(placeLabels([wish("may", [799, 1], 1)], [all], sheet, evenMeasure, new Map())).toEqual([]);
  });

  it("that must be seen stand over a part rather than over other words", () => {
    const all: Box = { x: 0, y: 0, w: 800, h: 500 };
    const two = [wish("first", [400, 250], 1, { must: true }), wish("second", [404, 252], 2, { must: true })];
    const [first, second] = placeLabels(two, [all], sheet, evenMeasure, new Map());
    expect(first && second && meets(first, second)).toBe(false);
  });
});
