import { describe, expect, it } from "vitest";
import type { Origin } from "../../../src/core/design/types.ts";
import { onGrid, placeOf, placesOf, tracedOutline, withOutlinePoint, withoutOutlinePoint, withPlace } from "../../../src/pages/own-car/state/places.ts";
import { answered, startedCar } from "../../../src/scenario/own-car/own-car.ts";
import { parseScenario } from "../../../src/scenario/parse.ts";
import { formatScenario } from "../../../src/scenario/write.ts";
import { answersOn } from "../../support/paper-sheets.ts";

const traced = (plusMinus: number): Origin => ({ how: "measured", plusMinus, date: "2026-11-26", note: "traced" });
const KNOWN = { out: traced(0.4), up: traced(0.6) };
const car = answered(startedCar(), answersOn("pins-and-weight"));
const at = (sMm: number, zMm: number) => ({ sMm, zMm });

describe("places put on the picture", () => {
  it("a traced pin is where it was put, measured to the ± of each way", () => {
    const s = withPlace(startedCar(), "upperOuter", at(118.3, 70.2), KNOWN);
    expect(s.corner.upperOuter).toEqual(at(118.3, 70.2));
    expect(s.origins["corner.upperOuter.sMm"]).toEqual(traced(0.4));
    expect(s.origins["corner.upperOuter.zMm"]).toEqual(traced(0.6));
    const byHand = withPlace(s, "upperOuter", at(120, 72), null);
    expect(byHand.origins["corner.upperOuter.sMm"]).toBeUndefined();
  });

  it("the wheel's middle tells the track, its top the diameter: the tyre stands on the road", () => {
    const s = withPlace(withPlace(car, "wheel", at(150.5, 99), KNOWN), "wheelTop", at(0, 94), KNOWN);
    expect(s.corner.wheelCentre).toEqual(at(150.5, 47));
    expect(s.corner.wheel.radiusMm).toBe(47);
    // half of the track is as sure as the middle's place; the radius is half of the height
    expect(s.origins["corner.wheelCentre.sMm"]?.plusMinus).toBeCloseTo(0.4, 9);
    expect(s.origins["corner.wheel.radiusMm"]?.plusMinus).toBeCloseTo(0.3, 9);
  });

  it("the spring's foot stays on its arm", () => {
    // the lower arm goes from (48, 32) to (120, 28); its middle is (84, 30), and a place beside it along (1, 18) is at the same share
    const s = withPlace(car, "seat", at(84 + 1, 30 + 18), null);
    expect(s.corner.spring.seat).toEqual({ on: "lowerArm", fraction: 0.5 });
    expect(placeOf(s, "seat").sMm).toBeCloseTo(84, 9);
    expect(withPlace(car, "seat", at(500, 0), null).corner.spring.seat).toEqual({ on: "lowerArm", fraction: 1 });
  });

  it("the body's outline grows point by point, and goes back to none", () => {
    const two = withOutlinePoint(car, at(0, 130), KNOWN);
    const three = withOutlinePoint(two, at(140, 120), KNOWN);
    expect(tracedOutline(three)?.points).toEqual([at(0, 130), at(10, 130), at(140, 120)]);
    expect(placesOf(three)).toContain("outline.2");
    expect(three.origins["fit.outlines[0].points[2].sMm"]).toEqual(traced(0.4));
    const moved = withPlace(three, "outline.1", at(90, 131.5), null);
    expect(placeOf(moved, "outline.1")).toEqual(at(90, 131.5));
    expect(parseScenario(formatScenario(moved), "car")).toEqual({ ok: true, scenario: moved });
    expect(tracedOutline(withoutOutlinePoint(withoutOutlinePoint(three)))).toBeUndefined();
  });

  it("snaps to a grid", () => {
    expect(onGrid(13.9, 4)).toBe(12);
    expect(onGrid(14.1, 4)).toBe(16);
    expect(onGrid(-0.06, 0.1)).toBeCloseTo(-0.1, 12);
  });
});
