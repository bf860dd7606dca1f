import { describe, expect, it } from "vitest";
import { buildBench, limitContext, solveLoad } from "../../../src/core/analyze.ts";
import type { Fit, Scenario } from "../../../src/core/design/types.ts";
import { bodyFrame, fitDistance, fitFinding, fitLimit, fitUtilization, loadedShapes, sweptShapes } from "../../../src/core/limits/fit.ts";
import { outlineGap, segmentGap } from "../../../src/core/limits/fit-geometry.ts";
import type { V2 } from "../../../src/core/vec.ts";
import { expectAbs } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";

const square: V2[] = [
  [0, 0],
  [10, 0],
  [10, 10],
  [0, 10],
];
const MM = 1e-6;

describe("distance of a line to a part", () => {
  it("is measured to the nearest edge or corner, on either winding", () => {
    for (const poly of [square, [...square].reverse()]) {
      expectAbs(segmentGap([12, -5], [12, 15], poly).distanceMm, 2, MM, "mm beside");
      const corner = segmentGap([13, 14], [20, 14], poly);
      expectAbs(corner.distanceMm, 5, MM, "mm from the corner");
      expect(corner.at).toEqual([13, 14]);
    }
  });

  it("is the depth, negative, when the line reaches into the part", () => {
    const g = segmentGap([-5, 5], [3, 5], square);
    expectAbs(g.distanceMm, -3, 1e-3, "mm deep at the line's end");
    expectAbs(segmentGap([-5, 2], [15, 2], square).distanceMm, -2, 1e-3, "mm deep along a line through it");
  });

  it("is zero where they just meet", () => {
    expectAbs(segmentGap([10, -5], [10, 15], square).distanceMm, 0, MM, "mm");
  });

  it("knows a part that has got wholly inside a box, by its deepest corner", () => {
    const box: V2[] = [
      [-20, -20],
      [40, -20],
      [40, 40],
      [-20, 40],
    ];
    expectAbs(outlineGap(box, true, square).distanceMm, -30, MM, "mm");
    expectAbs(outlineGap(box, false, square).distanceMm, 20, MM, "mm to an open line of the same points");
  });
});

describe("use of the wanted distance", () => {
  // 10 mm of room more than wanted is none of it used; straight to all of it where the wanted distance is left
  it("goes straight with the distance, a tenth for each mm, and comes back to it", () => {
    expect(fitUtilization(2, 2)).toBe(1);
    expectAbs(fitUtilization(2, 5), 0.7, 1e-12, "3 mm more than wanted");
    expectAbs(fitUtilization(2, 0), 1.2, 1e-12, "at a touch");
    expectAbs(fitUtilization(2, -7), 1.9, 1e-12, "7 mm deep");
    expect(fitUtilization(2, 30)).toBe(0);
    expectAbs(fitDistance(2, 1.9), -7, 1e-12, "mm");
    expectAbs(fitDistance(2, 0.7), 5, 1e-12, "mm");
  });
});

const withFit = (s: Scenario, fit: Partial<Fit>): Scenario => ({ ...s, fit: { ...s.fit, outlines: [], keepOut: [], ...fit } });
const solved = (s: Scenario, lateralG: number) => {
  const b = buildBench(s);
  const r = solveLoad(b, { lateralG, bumpLeftMm: 0, bumpRightMm: 0 });
  if (!r.ok) throw new Error(r.reason.message);
  return limitContext(b, r.state, 0)!;
};
const base = shipped("heavy-forked.json");

describe("the fit of a car", () => {
  it("sweeps the tyre over the asked travel, about the as-built place", () => {
    const steps = sweptShapes(base, "right");
    expect(steps[0]!.travelMm).toBe(-base.fit.droopTravelMm);
    expect(steps[steps.length - 1]!.travelMm).toBe(base.fit.bumpTravelMm);
    for (const step of steps) {
      const tyre = step.shapes.find((p) => p.part === "tyre")!;
      const centre = tyre.points.reduce((m, p) => m + p[1] / 4, 0);
      expectAbs(centre, base.corner.wheelCentre.zMm + step.travelMm, 1e-6, "wheel centre height, mm");
    }
  });

  it("finds a shelf above the tyre at the top of its travel, by the distance that is left", () => {
    const rigid = sweptShapes(base, "right");
    const top = Math.max(...rigid[rigid.length - 1]!.shapes.flatMap((p) => p.points.map((q) => q[1])));
    const s = withFit(base, {
      outlines: [
        {
          name: "shelf",
          points: [
            { sMm: 100, zMm: top + 3 },
            { sMm: 220, zMm: top + 3 },
          ],
          closed: false,
          bothSides: true,
        },
      ],
    });
    const x = solved(s, 0);
    const f = fitFinding(x.model, x.state, "right")!;
    expect([f.between, f.outline, f.travelMm]).toEqual(["tyre", "shelf", base.fit.bumpTravelMm]);
    expectAbs(f.distanceMm, 3, 1e-6, "mm");
    const limit = fitLimit(x, "right")!;
    expectAbs(limit.utilization, 0.9, 1e-6, "1 mm more than wanted, of 10");
    expect(limit.place!.outline).toBe("shelf");
  });

  it("names the depth where a box is in the way of the lower arm", () => {
    const s = withFit(base, { keepOut: [{ name: "motor", fromSMm: 60, toSMm: 90, fromZMm: 20, toZMm: 60, bothSides: false }] });
    const x = solved(s, 0);
    const f = fitFinding(x.model, x.state, "right")!;
    expect([f.between, f.outline]).toEqual(["lower arm", "motor"]);
    expect(f.distanceMm).toBeLessThan(-1);
    expect(fitLimit(x, "right")!.part).toBe("lower arm touches motor");
    // the box stands on the right only
    expect(fitFinding(x.model, x.state, "left")!.distanceMm).toBeGreaterThan(50);
  });

  it("takes in what load and lean add: a wall beside the leaning wheel comes nearer", () => {
    const wall = withFit(base, {
      outlines: [
        {
          name: "wall",
          points: [
            { sMm: 190, zMm: 0 },
            { sMm: 190, zMm: 130 },
          ],
          closed: false,
          bothSides: true,
        },
      ],
    });
    const still = solved(wall, 0);
    const leaning = solved(wall, 0.9);
    const a = fitFinding(still.model, still.state, "right")!;
    const b = fitFinding(leaning.model, leaning.state, "right")!;
    expect(b.distanceMm).toBeLessThan(a.distanceMm - 0.3);
    expect(b.travelMm).toBeNull();
  });

  it("turns the body's lines with the body", () => {
    const x = solved(base, 0.8);
    const { into, back } = bodyFrame(x.model, x.state);
    const p: V2 = [123, 45];
    const there = into(back(p));
    expectAbs(there[0], p[0], 1e-9, "mm");
    expectAbs(there[1], p[1], 1e-9, "mm");
    // a pivot on the body stands in its as-built place there
    const hole = into(x.state.right.joints.upperInner.hole);
    expectAbs(hole[0], base.corner.upperInner.sMm, 1e-6, "mm");
    expectAbs(hole[1], base.corner.upperInner.zMm, 1e-6, "mm");
    expect(loadedShapes(x.model, x.state, "right").map((s) => s.part)).toEqual(["tyre", "upper arm", "upper arm", "lower arm", "lower arm"]);
  });

  it("says nothing when nothing is drawn", () => {
    const x = solved(withFit(base, {}), 0);
    expect(fitLimit(x, "right")).toBeNull();
  });
});
