import { describe, expect, it } from "vitest";
import { buildArm3d } from "../../../src/core/arm/arm-frame.ts";
import { sectionProperties } from "../../../src/core/arm/sections.ts";
import { mainStiffnesses, stiffnessRose } from "../../../src/core/arm/stiffness.ts";
import { reshaped, sectionSize } from "../../../src/core/design/section-shapes.ts";
import type { Arm, Section } from "../../../src/core/design/types.ts";
import { planPx, planShape, planView } from "../../../src/pages/arm/picture/plan.ts";
import { pressedUp, pushedAlong } from "../../../src/pages/arm/picture/press.ts";
import { rings, roseOutline, roseRadius, roseScale } from "../../../src/pages/arm/picture/rose.ts";
import { sectionPieces } from "../../../src/pages/arm/picture/section.ts";
import { expectAbs, expectRel } from "../../support/close.ts";

const LENGTH_MM = 72;
const ROUNDING = 1e-9;
const base: Arm = {
  layout: "split",
  stemShare: 0.35,
  spreadMm: 40,
  section: { shape: "rectangle", widthMm: 4, heightMm: 4.6 },
  stemSection: null,
  material: "abs",
  pivotStiffnessNmmPerDeg: 0,
  pivotFreeAboutArm: false,
};
const ARMS: [string, Arm][] = [
  ["fork", base],
  ["straight", { ...base, layout: "straight" }],
  ["A", { ...base, layout: "A" }],
  ["twin", { ...base, layout: "twin" }],
  ["fork on sprung pins", { ...base, pivotStiffnessNmmPerDeg: 40 }],
];

describe("a hand on the ball joint", () => {
  it.each(ARMS)("moves a %s along the road as its stiffness says, and draws that way", (_name, arm) => {
    const a = buildArm3d(arm, LENGTH_MM, 0.6);
    const p = pushedAlong(a, 5, 3);
    expectRel(p.tipMm, 5 / mainStiffnesses(a).foreAft, ROUNDING, "way along the road, mm");
    // the drawn pieces start where the arm does, and the outermost end has gone three times the way
    for (const line of p.lines) expect(line.length).toBeGreaterThan(5);
    const last = p.lines[p.lines.length - 1]!;
    if (arm.layout !== "twin" && arm.layout !== "A") expectAbs(last[last.length - 1]![0], 3 * p.tipMm, 1e-9, "drawn way, mm");
  });

  it.each(ARMS)("presses a %s up as its stiffness with the seat held says; the seat stays", (_name, arm) => {
    const a = buildArm3d(arm, LENGTH_MM, 0.6);
    const p = pressedUp(a, 5, 1)!;
    expectRel(p.tipMm, 5 / mainStiffnesses(a).vertical, 1e-7, "way up, mm");
    const points = p.lines.flat();
    const atSeat = points.filter((q) => Math.abs(q[1] - 0.6 * LENGTH_MM) < 1e-6);
    expect(atSeat.length).toBeGreaterThan(0);
    const mean = atSeat.reduce((s, q) => s + q[0], 0) / atSeat.length;
    expectAbs(mean, 0, 1e-9, "height of the seat, mm");
    const tips = points.filter((q) => Math.abs(q[1] - LENGTH_MM) < 1e-6);
    for (const t of tips) expectAbs(t[0], p.tipMm, 1e-7, "height of the ball joint, mm");
  });

  it("is proportional to its push, and an arm without a spring swings", () => {
    const a = buildArm3d(base, LENGTH_MM, 0.6);
    expectRel(pressedUp(a, -10, 1)!.tipMm, -2 * pressedUp(a, 5, 1)!.tipMm, ROUNDING, "way, mm");
    expect(pressedUp(buildArm3d(base, LENGTH_MM, null), 5, 1)).toBeNull();
  });
});

describe("a stiffness rose", () => {
  const scale = roseScale([5, 740, 24]);

  it("has a ring for each power of ten, evenly spaced, around all values", () => {
    const all = rings(scale);
    expect(all.map((r) => r.value)).toEqual([1, 10, 100, 1000]);
    const steps = all.slice(1).map((r, i) => r.radius - all[i]!.radius);
    for (const s of steps) expectAbs(s, steps[0]!, ROUNDING, "step between rings, share of the radius");
  });

  it("grows with stiffness, from nothing for an arm that swings to the edge for one that is held", () => {
    const values = [0, 0.2, 1, 4, 50, 900, 5000, Number.POSITIVE_INFINITY];
    const radii = values.map((v) => roseRadius(v, scale));
    expect(radii[0]).toBe(0);
    for (let i = 1; i < radii.length; i++) expect(radii[i]!).toBeGreaterThanOrEqual(radii[i - 1]!);
    expect(Math.max(...radii)).toBeLessThan(1.2);
  });

  it("points forward up and outboard to the right from above, and as it stands from behind", () => {
    const a = buildArm3d(base, LENGTH_MM, 0.6);
    const k = mainStiffnesses(a);
    const above = roseOutline(stiffnessRose(a, "fromAbove", 4), "fromAbove", scale, 100);
    expectAbs(-above[0]![1], 100 * roseRadius(k.foreAft, scale), 1e-6, "forward, px up");
    expectAbs(above[1]![0], 100 * roseRadius(k.lateral, scale), 1e-6, "outboard, px right");
    const behind = roseOutline(stiffnessRose(a, "fromBehind", 4), "fromBehind", scale, 100);
    expectAbs(behind[0]![0], 100 * roseRadius(k.lateral, scale), 1e-6, "outboard, px right");
    expectAbs(-behind[1]![1], 100 * roseRadius(k.vertical, scale), 1e-6, "up, px up");
  });
});

describe("the plan", () => {
  it.each(ARMS)("of a %s has its pins on the spread and its ball joint at its length", (_name, arm) => {
    const p = planShape(arm, LENGTH_MM);
    expect(p.ballJoint).toEqual([0, LENGTH_MM]);
    expect(p.pivots).toEqual(
      arm.layout === "straight"
        ? [[0, 0]]
        : [
            [20, 0],
            [-20, 0],
          ],
    );
    expect(p.fork === null).toBe(arm.layout !== "split");
    for (const q of p.pieces.flat()) expect(Math.abs(q[0])).toBeLessThanOrEqual(p.halfSpan + 1e-9);
  });

  it("forks where the stem begins", () => {
    expectAbs(planShape(base, LENGTH_MM).fork![1], 0.65 * LENGTH_MM, 1e-9, "fork, mm");
  });

  it.each([
    [760, 580],
    [390, 424],
    [300, 260],
  ])("keeps both arms in %i by %i px, at one scale, one below the other", (w, h) => {
    const a = { ...planShape(base, LENGTH_MM), lengthMm: LENGTH_MM };
    const b = { ...planShape({ ...base, layout: "straight" }, 60), lengthMm: 60 };
    const room = { left: 60, right: 100, top: 60, between: 40, bottom: 60, cut: 90 };
    const v = planView(w, h, room, a, b);
    const tip = planPx(v, "a")([0, LENGTH_MM]);
    expect(tip[0]).toBeLessThanOrEqual(w - room.right);
    expect(planPx(v, "a")([a.halfSpan, 0])[1]).toBeGreaterThanOrEqual(room.top - 1e-9);
    expect(planPx(v, "b")([b.halfSpan, 0])[1]).toBeGreaterThanOrEqual(planPx(v, "a")([-a.halfSpan, 0])[1] + room.between - 1e-9);
    expect(planPx(v, "b")([-b.halfSpan, 0])[1]).toBeLessThanOrEqual(h - room.bottom + 1e-9);
    expect(v.bY).toBeLessThanOrEqual(h - room.cut + 1e-9);
    expectAbs(planPx(v, "b")([0, 60])[0] - planPx(v, "b")([0, 0])[0], 60 * v.scale, 1e-9, "length of B, px");
  });
});

describe("the cut through a leg", () => {
  const shapes: Section["shape"][] = ["rectangle", "round", "tube", "I", "pinHoleBar"];
  const start: Section = { shape: "rectangle", widthMm: 6, heightMm: 8 };

  it.each(shapes)("as %s keeps its height when the shape changes, and its drawn area is that of the section", (shape) => {
    const s = reshaped(start, shape, 8);
    expect(s.shape).toBe(shape);
    expect(sectionSize(s).heightMm).toBe(8);
    let area = 0;
    for (const p of sectionPieces(s)) {
      if (p.kind === "ring") area += Math.PI * (p.radiusMm ** 2 - p.innerMm ** 2);
      else
        area += Math.abs(
          p.points.reduce((sum, q, i) => {
            const r = p.points[(i + 1) % p.points.length]!;
            return sum + (q[0] * r[1] - r[0] * q[1]) / 2;
          }, 0),
        );
    }
    const gross = shape === "pinHoleBar" ? 8 * 6 - 6 * (s as { holeMm: number }).holeMm : sectionProperties(s, 0.37).area;
    expectRel(area, gross, 1e-9, "area, mm²");
  });

  it("stays the same object when the shape does", () => {
    expect(reshaped(start, "rectangle", 8)).toBe(start);
  });
});
