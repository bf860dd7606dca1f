import { describe, expect, it } from "vitest";
import { halfDigit, roundingOf } from "../../../src/core/doubt/rounding.ts";
import { expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";

const car = shipped("heavy-straight.json");

describe("half of the last digit that was told", () => {
  // by hand
  it.each([
    [65.8, 0.05],
    [0.22, 0.005],
    [85, 0.5],
    [1400, 50],
    [2000, 500],
    [10, 5],
    [-3.25, 0.005],
    [2.5e-7, 5e-9],
    [1.2e21, 5e19],
  ])("of %d is %d", (value, half) => {
    expectRel(halfDigit(value), half, 1e-12, "half a digit");
  });
});

describe("the rounding of an entered number", () => {
  it("is half a digit over the root of three, evenly spread (GUM 4.3.7: a rectangle of half-width a has a/√3)", () => {
    expectRel(roundingOf(car, "corner.spring.freeLengthMm", 65.8).amount, 0.05 / 1.7320508075688772, 1e-12, "± in mm");
  });

  it("is no more than a fortieth of the value", () => {
    // 2.5 % of 2000 is 50, not the 500 of a whole thousand
    expectRel(roundingOf(car, "corner.joints.upperInner.pinNPerMm", 2000).amount, 50 / 1.7320508075688772, 1e-12, "± in N/mm");
  });

  it.each([
    ["in a hole", 56],
    ["in a hole of the half pitch", 76],
    ["dragged to many decimals", 57.123456789],
    ["told to a tenth", 57.1],
  ])("of a place %s is what it is built to", (_, place) => {
    expect(roundingOf(car, "corner.upperInner.sMm", place).amount).toBe(0.05);
  });

  it("of a place told to the millimetre beside the holes is that of a millimetre", () => {
    expectRel(roundingOf(car, "corner.upperInner.sMm", 57).amount, 0.28867513459481287, 1e-12, "± in mm");
    expectRel(roundingOf(car, "corner.upperInner.sMm", 130).amount, 0.28867513459481287, 1e-12, "± in mm");
  });

  it.each([
    ["corner.spring.preloadMm", 0],
    ["corner.tyre.loadExponent", 1],
  ])("of %s at %d is none", (path, value) => {
    expect(roundingOf(car, path, value).amount).toBe(0);
  });
});
