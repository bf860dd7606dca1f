import { describe, expect, it } from "vitest";
import { armPlan, legLines } from "../../../src/core/arm/layout.ts";
import type { Arm } from "../../../src/core/design/types.ts";
import { plainArm } from "../../support/arms.ts";

/** 80 mm long, legs 60 mm apart at the pivots, drawn by hand: a leg to a point 40 mm out is 50 mm long (3-4-5). */
const arm = (layout: Arm["layout"]): Arm => ({
  ...plainArm,
  layout,
  spreadMm: 60,
  stemShare: 0.5,
  section: { shape: "round", diameterMm: 5 },
  stemSection: { shape: "tube", outerMm: 7, innerMm: 5 },
});

describe("an arm from above", () => {
  it("straight is one beam", () => {
    expect(legLines(arm("straight"), 80)).toEqual({
      lines: [{ leg: "beam", from: [0, 0], to: [0, 80], widthMm: 5 }],
      innerPivots: [[0, 0]],
      ballJoint: [0, 80],
      crossPiece: null,
    });
  });

  it("twin is two beams side by side, tied at their outer ends", () => {
    expect(legLines(arm("twin"), 80)).toEqual({
      lines: [
        { leg: "leg front", from: [30, 0], to: [30, 80], widthMm: 5 },
        { leg: "leg rear", from: [-30, 0], to: [-30, 80], widthMm: 5 },
      ],
      innerPivots: [
        [30, 0],
        [-30, 0],
      ],
      ballJoint: [0, 80],
      crossPiece: [
        [30, 80],
        [-30, 80],
      ],
    });
  });

  it("split has legs that meet half-way and a stem of its own width", () => {
    const drawn = legLines(arm("split"), 80);
    expect(drawn.lines).toEqual([
      { leg: "leg front", from: [30, 0], to: [0, 40], widthMm: 5 },
      { leg: "leg rear", from: [-30, 0], to: [0, 40], widthMm: 5 },
      { leg: "stem", from: [0, 40], to: [0, 80], widthMm: 7 },
    ]);
    expect(drawn.crossPiece).toBe(null);
    expect(armPlan(arm("split"), 80)).toEqual({ halfSpread: 30, legEnd: 40, legs: 2, parallel: false, legLength: 50, cos: 0.8, sin: 0.6 });
  });

  it("A, and a split arm whose stem is too short to count, have legs to the ball joint and no stem", () => {
    for (const a of [arm("A"), { ...arm("split"), stemShare: 1e-4 }]) {
      expect(legLines(a, 80).lines.map((l) => [l.leg, l.to])).toEqual([
        ["leg front", [0, 80]],
        ["leg rear", [0, 80]],
      ]);
    }
  });

  it("needs a length", () => {
    for (const length of [0, -1]) expect(() => armPlan(arm("A"), length)).toThrow(RangeError);
  });
});
