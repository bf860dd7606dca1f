import { describe, expect, it } from "vitest";
import { analyze } from "../../../src/core/analyze.ts";
import { packedAsDrawn, stanceOf } from "../../../src/core/studies/ride-height.ts";
import { quarterCars } from "../../motion/rigs.ts";
import { expectAbs } from "../../support/close.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";

/** Two quarter cars, upright springs right above the wheels: they stand as built at rest, and a spring shorter by so much lowers the car by as much. */
const quarters = () => quarterCars({ sprungKg: 1, unsprungKg: 0.2, spring: 2, tyre: 20, damper: 0 });
const rest = { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 };

describe("how the car stands", () => {
  it("is as drawn where the springs just carry it there", () => {
    const stance = stanceOf(quarters())!;
    for (const side of ["left", "right"] as const) {
      expectAbs(stance.lowerMm[side], 0, 1e-3, "mm lower");
      expectAbs(stance.packMm![side], 0, 1e-3, "mm of packing");
    }
  });

  it("is lower by what the springs are shorter, and needs as much packing: 5 mm", () => {
    const s = quarters();
    s.corner.spring.freeLengthMm -= 5;
    const stance = stanceOf(s)!;
    for (const side of ["left", "right"] as const) {
      expectAbs(stance.lowerMm[side], 5, 2e-3, "mm lower");
      expectAbs(stance.packMm![side], 5, 2e-3, "mm of packing");
    }
    expect(packedAsDrawn(s, stance)!.corner.spring).toMatchObject({ preloadMm: 5, freeLengthMm: s.corner.spring.freeLengthMm });
  });

  it("takes packing out first, then spring: 3 mm too high with 1 mm of packing", () => {
    const s = quarters();
    s.corner.spring.freeLengthMm += 2;
    s.corner.spring.preloadMm = 1;
    const stance = stanceOf(s)!;
    expectAbs(stance.lowerMm.right, -3, 2e-3, "mm lower");
    const next = packedAsDrawn(s, stance)!.corner.spring;
    expect(next.preloadMm).toBe(0);
    expectAbs(next.freeLengthMm, quarters().corner.spring.freeLengthMm, 0.011, "mm");
  });

  it("is told side by side: a spring 4 mm shorter on the left alone", () => {
    const s = quarters();
    s.left = { spring: { freeLengthMm: s.corner.spring.freeLengthMm - 4 } };
    const stance = stanceOf(s)!;
    expectAbs(stance.lowerMm.left, 4, 0.02, "mm lower, left");
    expectAbs(stance.lowerMm.right, 0, 0.02, "mm lower, right");
    expectAbs(stance.packMm!.left, 4, 0.02, "mm of packing, left");
    expectAbs(stance.packMm!.right, 0, 0.02, "mm of packing, right");
  });

  it.each(SHIPPED)("of %s is as drawn once it is packed", (file) => {
    const s = shipped(file);
    const next = packedAsDrawn(s, stanceOf(s)!)!;
    const r = analyze(next, rest, { pathSteps: 1, bands: false, byPart: false, stiffer: false });
    if (!r.ok) throw new Error(r.reason.message);
    // packing is told to a hundredth of a millimetre
    expectAbs(r.report.heaveMm, 0, 0.02, "mm above as built");
    expectAbs(r.report.rollDeg, 0, 0.02, "°");
  });
});
