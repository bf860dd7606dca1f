import { describe, expect, it } from "vitest";
import { type FourPoints, inverse, mapped } from "../../../src/core/trace/homography.ts";
import { mmPerPx, pictureMap, type Tracing, tracedPlace } from "../../../src/core/trace/tracing.ts";
import type { V2 } from "../../../src/core/vec.ts";

/** By hand: a ruler of 100 mm is 200 px long, so 1 px is 0.5 mm; the road lies at y = 900 and the middle at x = 500. */
const STRAIGHT: Tracing = {
  distance: { a: [100, 100], b: [300, 100], mm: 100 },
  level: { left: [200, 900], right: [800, 900], heightMm: 0 },
  middle: null,
  rectangle: null,
};

const place = (t: Tracing, p: V2): V2 => {
  const m = pictureMap(t);
  if (!m.ok) throw new Error(m.message);
  return mapped(m.toMm, p) as V2;
};
const expectAt = (at: V2, x: number, z: number): void => {
  expect(at[0]).toBeCloseTo(x, 9);
  expect(at[1]).toBeCloseTo(z, 9);
};

describe("from a photo to mm", () => {
  it("by a known distance and a level line: right is right, up is up", () => {
    expectAt(place(STRAIGHT, [620, 840]), 60, 30);
    expectAt(place({ ...STRAIGHT, middle: [560, 10] }, [620, 840]), 30, 30);
    expectAt(place({ ...STRAIGHT, level: { ...STRAIGHT.level, heightMm: 48 } }, [620, 840]), 60, 78);
  });

  it("a level line that leans turns the photo back: 3-4-5", () => {
    // along the line a step is (4, 3)/5 px, up from it (3, -4)/5; 1 px is 0.5 mm
    const t: Tracing = { ...STRAIGHT, level: { left: [100, 100], right: [500, 400], heightMm: 0 } };
    expectAt(place(t, [300 + 40 + 30, 250 + 30 - 40]), 25, 25);
  });

  it("both ways undo each other", () => {
    const m = pictureMap(STRAIGHT);
    if (!m.ok) throw new Error(m.message);
    expectAt(mapped(m.toPx, mapped(m.toMm, [321, 456]) as V2) as V2, 321, 456);
    expect(mmPerPx(m.toMm, [321, 456])).toBeCloseTo(0.5, 12);
  });

  it("four corners take the perspective out, and the known distance tells the scale", () => {
    // a plane that leans away: (x, z) mm is seen at (500 + 800 x/(400 + z), 900 - 800 z/(400 + z)), by hand
    const see = ([x, z]: V2): V2 => [500 + (800 * x) / (400 + z), 900 - (800 * z) / (400 + z)];
    const corners = (
      [
        [-100, 150],
        [100, 150],
        [100, 10],
        [-100, 10],
      ] as V2[]
    ).map(see) as unknown as FourPoints;
    const seen: Tracing = {
      distance: { a: see([-80, 28]), b: see([80, 60]), mm: Math.sqrt(160 ** 2 + 32 ** 2) },
      level: { left: see([-150, 0]), right: see([150, 0]), heightMm: 0 },
      middle: null,
      rectangle: { corners, widthMm: 200, heightMm: 140 },
    };
    for (const p of [
      [120, 72],
      [-48, 32],
      [0, 100],
    ] as V2[])
      expectAt(place(seen, see(p)), p[0], p[1]);
    // half of the size would be told of the rectangle: the distance is right
    expectAt(place({ ...seen, rectangle: { corners, widthMm: 100, heightMm: 70 } }, see([120, 72])), 120, 72);
    expectAt(place({ ...seen, distance: null }, see([120, 72])), 120, 72);
    const m = pictureMap(seen);
    if (!m.ok) throw new Error(m.message);
    // by hand: across 800/(400 + z) px per mm, upwards 800 · 400/(400 + z)² px per mm; at z = 100 that is 1.6 and 1.28
    expect(mmPerPx(m.toMm, see([0, 100]))).toBeCloseTo(1 / Math.sqrt(1.6 * 1.28), 9);
    expectAt(mapped(inverse(m.toMm), [30, 40]) as V2, ...see([30, 40]));
  });

  it.each([
    ["distance", { ...STRAIGHT, distance: { a: [5, 5], b: [6, 6], mm: 10 } }, "The two points of the known distance are one place: put them apart."],
    [
      "level",
      { ...STRAIGHT, level: { left: [5, 5], right: [6, 6], heightMm: 0 } },
      "The two ends of the level line are one place: put one left and one right.",
    ],
    ["scale", { ...STRAIGHT, distance: null }, "The scale is missing: mark two points a known distance apart."],
    [
      "corners",
      {
        ...STRAIGHT,
        rectangle: {
          corners: [
            [0, 0],
            [9, 9],
            [9, 0],
            [0, 9],
          ],
          widthMm: 1,
          heightMm: 1,
        },
      },
      "The four corners do not go round a rectangle: put them from the upper left one clockwise.",
    ],
  ] as [string, Tracing, string][])("marks without a %s are told in one sentence", (_, t, message) => {
    expect(pictureMap(t)).toEqual({ ok: false, message });
    expect(tracedPlace(t, [1, 1], 1)).toBeNull();
  });
});

describe("how sure a traced place is", () => {
  it("adds the marks' own by hand: the place, the level line, the scale", () => {
    // place 60 mm out, 30 mm up; each mark ± 1 px = 0.5 mm. The line's ends are 600 px = 300 mm apart, the ruler's 200 px = 100 mm.
    // x: place 0.5; middle = mean of both ends, 0.5/√2; turn = √2·0.5/300 rad times 30 mm up; scale = √2·0.5/100 times 60 mm
    const x = Math.sqrt(0.5 ** 2 + 0.5 ** 2 / 2 + ((Math.SQRT2 * 0.5 * 30) / 300) ** 2 + ((Math.SQRT2 * 0.5 * 60) / 100) ** 2);
    // z: place 0.5; the line at 60 mm right of its middle is left·0.3 + right·0.7; scale times 30 mm
    const z = Math.sqrt(0.5 ** 2 + 0.5 ** 2 * (0.3 ** 2 + 0.7 ** 2) + ((Math.SQRT2 * 0.5 * 30) / 100) ** 2);
    const got = tracedPlace(STRAIGHT, [620, 840], 1);
    expect(got?.xMm).toBeCloseTo(60, 9);
    expect(got?.zMm).toBeCloseTo(30, 9);
    expect(got?.xPlusMinus).toBeCloseTo(x, 6);
    expect(got?.zPlusMinus).toBeCloseTo(z, 6);
    expect(tracedPlace(STRAIGHT, [620, 840], 3)?.xPlusMinus).toBeCloseTo(3 * x, 6);
  });
});
