import { describe, expect, it } from "vitest";
import { buildBench, limitContext, solveLoad } from "../../../src/core/analyze.ts";
import type { Fit, Scenario } from "../../../src/core/design/types.ts";
import type { LimitContext } from "../../../src/core/limits/context.ts";
import { bodyFrame, fitFinding, fitLimit, fixedOutlines, loadedShapes, sweptShapes } from "../../../src/core/limits/fit.ts";
import { outlineGap, segmentGap } from "../../../src/core/limits/fit-geometry.ts";
import type { V2 } from "../../../src/core/vec.ts";
import { expectAbs } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";

/** Places and shapes of the fit by hand. */

const MM = 1e-5;
const base = structuredClone(shipped("heavy-forked.json"));
const withFit = (fit: Partial<Fit>, change: (s: Scenario) => void = () => {}): Scenario => {
  const s = structuredClone(base);
  Object.assign(s.fit, { outlines: [], keepOut: [] }, fit);
  change(s);
  return s;
};
const solved = (s: Scenario, lateralG: number): LimitContext => {
  const b = buildBench(s);
  const r = solveLoad(b, { lateralG, bumpLeftMm: 0, bumpRightMm: 0 });
  if (!r.ok) throw new Error(r.reason.message);
  return limitContext(b, r.state, 0)!;
};
function expectPoints(actual: readonly V2[], expected: readonly V2[], what: string): void {
  expect(actual).toHaveLength(expected.length);
  for (const e of expected)
    expect(
      actual.some((a) => Math.hypot(a[0] - e[0], a[1] - e[1]) < MM),
      `${what}: no corner at ${e}, but at ${JSON.stringify(actual)}`,
    ).toBe(true);
}

describe("outlines and boxes", () => {
  it("stand where the file says, on both sides where it says so, boxes closed", () => {
    const s = withFit({
      outlines: [
        {
          name: "line",
          points: [
            { sMm: 1, zMm: 2 },
            { sMm: 3, zMm: 4 },
          ],
          closed: false,
          bothSides: true,
        },
        { name: "one", points: [{ sMm: 5, zMm: 6 }], closed: true, bothSides: false },
      ],
      keepOut: [{ name: "box", fromSMm: 10, toSMm: 20, fromZMm: 30, toZMm: 50, bothSides: true }],
    });
    expect(fixedOutlines(s)).toEqual([
      {
        name: "line",
        points: [
          [1, 2],
          [3, 4],
        ],
        closed: false,
      },
      {
        name: "line",
        points: [
          [-1, 2],
          [-3, 4],
        ],
        closed: false,
      },
      { name: "one", points: [[5, 6]], closed: true },
      {
        name: "box",
        points: [
          [10, 30],
          [20, 30],
          [20, 50],
          [10, 50],
        ],
        closed: true,
      },
      {
        name: "box",
        points: [
          [-10, 30],
          [-20, 30],
          [-20, 50],
          [-10, 50],
        ],
        closed: true,
      },
    ]);
  });
});

describe("tyre and arms as built", () => {
  // tyre 36 mm wide on 48 mm, centre (152, 48), leaning outwards by 0.5°; arms 4.4 mm tall along their pivots
  const lean = (0.5 * Math.PI) / 180;
  const tyre = (sign: number): V2[] =>
    [
      [-18, -48],
      [18, -48],
      [18, 48],
      [-18, 48],
    ].map(([e, v]): V2 => [sign * (152 + e! * Math.cos(lean) + v! * Math.sin(lean)), 48 - e! * Math.sin(lean) + v! * Math.cos(lean)]);
  // lower arm (48, 32) to (120, 28): half its height along (4, 72)/72.111026 is (0.122034, 2.196613)
  const lower = (sign: number): V2[] => [
    [sign * 48.122034, 34.196613],
    [sign * 120.122034, 30.196613],
    [sign * 119.877966, 25.803387],
    [sign * 47.877966, 29.803387],
  ];
  // upper arm (56, 76) to (120, 72): along (4, 64)/64.124878 it is (0.137232, 2.195716)
  const upper = (sign: number): V2[] => [
    [sign * 56.137232, 78.195716],
    [sign * 120.137232, 74.195716],
    [sign * 119.862768, 69.804284],
    [sign * 55.862768, 73.804284],
  ];

  it.each([
    ["right", 1],
    ["left", -1],
  ] as const)("are drawn with their corners on the %s", (side, sign) => {
    const s = withFit({ bumpTravelMm: 6, droopTravelMm: 6 });
    const steps = sweptShapes(s, side, 2);
    expect(steps.map((p) => p.travelMm)).toEqual([-6, 0, 6]);
    const now = steps[1]!.shapes;
    expect(now.map((p) => p.part)).toEqual(["tyre", "upper arm", "lower arm"]);
    expectPoints(now[0]!.points, tyre(sign), "tyre");
    expectPoints(now[1]!.points, upper(sign), "upper arm");
    expectPoints(now[2]!.points, lower(sign), "lower arm");
  });

  it("sweep in twelve even steps, and no further than the linkage goes", () => {
    const s = withFit({ bumpTravelMm: 12, droopTravelMm: 12 });
    expect(sweptShapes(s, "right").map((p) => Math.round(p.travelMm * 1e6) / 1e6)).toEqual([-12, -10, -8, -6, -4, -2, 0, 2, 4, 6, 8, 10, 12]);
    const far = sweptShapes(withFit({ bumpTravelMm: 500, droopTravelMm: 500 }), "right");
    expect(far[0]!.travelMm).toBeGreaterThan(-200);
    expect(far.at(-1)!.travelMm).toBeLessThan(200);
  });
});

describe("the body's frame", () => {
  // centre of gravity built at (0, 92), now at (3, 95) with the body turned counter-clockwise by a right angle
  const x = solved(withFit({}), 0);
  const state = structuredClone(x.state);
  state.body.cg = [3, 95];
  state.body.angleRad = Math.PI / 2;
  const { into, back } = bodyFrame(x.model, state);

  it("takes what is 10 mm above the centre of gravity now for what is 10 mm to its right on the body", () => {
    const p = into([3, 105]);
    expectAbs(p[0], 10, MM, "mm");
    expectAbs(p[1], 92, MM, "mm");
    const q = into([-4, 95]);
    expectAbs(q[0], 0, MM, "mm");
    expectAbs(q[1], 99, MM, "mm");
  });

  it("and puts a point of the body back where it is now", () => {
    const p = back([10, 92]);
    expectAbs(p[0], 3, MM, "mm");
    expectAbs(p[1], 105, MM, "mm");
    const q = back([0, 99]);
    expectAbs(q[0], -4, MM, "mm");
    expectAbs(q[1], 95, MM, "mm");
  });

  it("holds the tyre and the halves of the arms as they lean against the body", () => {
    const flat = structuredClone(x.state);
    flat.body = { ...flat.body, cg: [0, 92], angleRad: 0 };
    flat.right.wheelCentre = [150, 50];
    flat.right.wheelAngleRad = 0;
    flat.right.arms.lower.nodes = [
      [40, 30],
      [60, 30],
      [80, 30],
      [80, 60],
      [80, 90],
    ];
    const shapes = loadedShapes(x.model, flat, "right");
    expectPoints(
      shapes[0]!.points,
      [
        [132, 2],
        [168, 2],
        [168, 98],
        [132, 98],
      ],
      "tyre",
    );
    expectPoints(
      shapes[3]!.points,
      [
        [40, 27.8],
        [80, 27.8],
        [80, 32.2],
        [40, 32.2],
      ],
      "inner half of the lower arm",
    );
    expectPoints(
      shapes[4]!.points,
      [
        [77.8, 30],
        [77.8, 90],
        [82.2, 30],
        [82.2, 90],
      ],
      "outer half of the lower arm",
    );
    expect(shapes.map((p) => p.part)).toEqual(["tyre", "upper arm", "upper arm", "lower arm", "lower arm"]);
  });

  it("holds the tyre upright when it has turned as far as the body", () => {
    const turned = structuredClone(x.state);
    turned.body = { ...turned.body, cg: [0, 92], angleRad: 0.1 };
    turned.right.wheelAngleRad = 0.1;
    const [tyre] = loadedShapes(x.model, turned, "right");
    // 36 mm wide and 96 mm high, standing straight against the body
    const [s, z] = [0, 1].map((k) => tyre!.points.map((p) => p[k]!)) as [number[], number[]];
    expectAbs(Math.max(...s) - Math.min(...s), 36, MM, "mm wide");
    expectAbs(Math.max(...z) - Math.min(...z), 96, MM, "mm high");
  });
});

describe("the tightest place", () => {
  const wall = (name: string, sMm: number, bothSides: boolean) => ({
    name,
    points: [
      { sMm, zMm: 0 },
      { sMm, zMm: 200 },
    ],
    closed: false,
    bothSides,
  });

  it("is told with what it is between, how much is free and where it is met", () => {
    // a box 3 mm above the swept tyre's top; its place stays on the body, which has sunk and not turned
    const top = Math.max(...sweptShapes(base, "right").flatMap((p) => p.shapes.flatMap((q) => q.points.map((c) => c[1]))));
    const s = withFit({ clearanceMm: 1.5, keepOut: [{ name: "shelf", fromSMm: 100, toSMm: 220, fromZMm: top + 3, toZMm: top + 9, bothSides: true }] });
    const x = solved(s, 0);
    for (const side of ["left", "right"] as const) {
      const l = fitLimit(x, side)!;
      expect(l).toMatchObject({ name: "fit", wheel: side, part: "tyre to shelf", demand: 1.5, unit: "mm", caution: true });
      expectAbs(l.capacity, 3, MM, "mm");
      // 1.5 mm more than wanted, of the 10 that leave nothing to think of
      expectAbs(l.utilization, 0.85, 1e-4, "use");
      expect(l.inputs.map((i) => [i.name, i.unit])).toEqual([
        ["free distance", "mm"],
        ["at wheel travel", "mm"],
      ]);
      expect(l.inputs[1]!.value).toBe(12);
      expectAbs(l.place!.at[1], top + 3 + x.state.body.cg[1] - x.model.cg[1], 1e-3, "height in the picture, mm");
      expect(l.place).toMatchObject({ between: "tyre", outline: "shelf" });
      expect(Math.sign(l.place!.at[0])).toBe(side === "left" ? -1 : 1);
    }
  });

  it("is a touch, with its depth, at the cornering level where the load makes it", () => {
    const x = solved(withFit({ outlines: [wall("wall", 171, false)], bumpTravelMm: 0, droopTravelMm: 0 }), -0.7);
    const l = fitLimit(x, "right")!;
    expect(l.part).toBe("tyre touches wall");
    expect(l.capacity).toBeLessThan(0);
    expect(l.inputs[0]).toEqual({ name: "touches, deep by", value: -l.capacity, unit: "mm" });
    expect(l.place!.distanceMm).toBe(l.capacity);
    // the wall stands on the right alone: the left tyre is farther than a track from it
    expect(fitFinding(x.model, x.state, "left")!.distanceMm).toBeGreaterThan(150);
    expect(l.inputs[1]).toEqual({ name: "at cornering", value: 0.7, unit: "g" });
  });

  it("is looked for on each side by its own description", () => {
    const s = withFit({ outlines: [wall("wall", 200, true)] }, (f) => {
      f.left = { wheel: { ...f.corner.wheel, treadWidthMm: 56 } };
    });
    const x = solved(s, 0);
    const [left, right] = [fitFinding(x.model, x.state, "left")!, fitFinding(x.model, x.state, "right")!];
    // 10 mm more on each side of the tyre's middle, give or take what the load does
    expectAbs(right.distanceMm - left.distanceMm, 10, 1, "mm");
    expect([left.side, right.side]).toEqual(["left", "right"]);
  });
});

describe("distances in the plane", () => {
  const square: V2[] = [
    [0, 0],
    [10, 0],
    [10, 10],
    [0, 10],
  ];
  /** a right triangle with legs of 12 and 9 mm: its long side is 15 mm */
  const wedge: V2[] = [
    [0, 0],
    [12, 0],
    [0, 9],
  ];

  it("are those of the nearest points, with the place on the line", () => {
    interface Case {
      from: V2;
      to: V2;
      part: readonly V2[];
      mm: number;
      at: V2;
    }
    const cases: Case[] = [
      { from: [14, 2], to: [16, 8], part: square, mm: 4, at: [14, 2] },
      { from: [20, 13], to: [13, 14], part: square, mm: 5, at: [13, 14] },
      { from: [-3, 14], to: [-3, 20], part: square, mm: 5, at: [-3, 14] },
      // 3x + 4z = -20 passes the corner (0, 0) at 4 mm
      { from: [-12, 4], to: [4, -8], part: square, mm: 4, at: [-2.4, -3.2] },
      // x + z = 30 passes the corner (10, 10) at 10/sqrt 2
      { from: [30, 0], to: [0, 30], part: square, mm: 7.0710678, at: [15, 15] },
      // the wedge's long side, 3x + 4z = 36, is (3·12 + 4·9 - 36)/5 away
      { from: [12, 9], to: [20, 9], part: wedge, mm: 7.2, at: [12, 9] },
      // a line without length
      {
        from: [5, 5],
        to: [5, 5],
        part: [
          [8, 9],
          [9, 9],
          [9, 12],
        ],
        mm: 5,
        at: [5, 5],
      },
    ];
    for (const c of cases)
      for (const [from, to] of [
        [c.from, c.to],
        [c.to, c.from],
      ] as const)
        for (const part of [c.part, [...c.part].reverse()]) {
          const g = segmentGap(from, to, part);
          expectAbs(g.distanceMm, c.mm, 1e-6, `mm from ${from} to ${to}`);
          expect(Math.hypot(g.at[0] - c.at[0], g.at[1] - c.at[1]), `place from ${from} to ${to}`).toBeLessThan(1e-6);
        }
  });

  it("are depths below zero along what lies inside, deepest in the middle of the wedge", () => {
    // incircle of the 9-12-15 triangle: radius 3 at (3, 3)
    for (const shape of [wedge, [...wedge].reverse()]) {
      const g = segmentGap([-20, 3], [20, 3], shape);
      expectAbs(g.distanceMm, -3, 1e-6, "mm");
      expectAbs(g.at[0], 3, 1e-4, "mm");
      // from the right the line ends 1 mm before the long side, which it meets at x = 8: 3/5 mm deep
      expectAbs(segmentGap([7, 3], [30, 3], shape).distanceMm, -0.6, 1e-6, "mm");
    }
  });

  it("are found along an outline's every side, the closing one only when it is closed", () => {
    const roof: V2[] = [
      [-20, 30],
      [-20, -6],
      [40, -6],
      [40, 30],
    ];
    expectAbs(outlineGap(roof, false, square).distanceMm, 6, 1e-9, "mm to the floor");
    const near: V2[] = [
      [-20, 13],
      [-20, -60],
      [60, -60],
      [60, 13],
    ];
    expectAbs(outlineGap(near, false, square).distanceMm, 20, 1e-9, "mm to the wall");
    // closed, the last side runs 3 mm above the square, which then is inside: its lower corners are 13 mm from that side
    expectAbs(outlineGap(near, true, square).distanceMm, -13, 1e-9, "mm inside");
    const lid = outlineGap(
      [
        [-20, 13],
        [-20, 60],
        [60, 60],
        [60, 13],
      ],
      true,
      square,
    );
    expectAbs(lid.distanceMm, 3, 1e-9, "mm to the closing side");
  });

  it("need not be found beyond what is wanted", () => {
    const line: V2[] = [
      [20, 0],
      [20, 10],
    ];
    expect(outlineGap(line, false, square, 5).distanceMm).toBe(Number.POSITIVE_INFINITY);
    expectAbs(outlineGap(line, false, square, 11).distanceMm, 10, 1e-9, "mm");
    expect(outlineGap([], true, square)).toEqual({ distanceMm: Number.POSITIVE_INFINITY, at: [0, 0] });
  });
});
