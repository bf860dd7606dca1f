import { describe, expect, it } from "vitest";
import { curveRadiusM, DEFAULT_CURVE, lateralGAt, speedInCurve, tracksOf } from "../../src/core/cornering.ts";
import { expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";

describe("speed on a curve", () => {
  // a = v²/R by hand: 6 m/s on 4 m is 9 m/s², over 9.80665 m/s² (standard gravity) 0.917745 g; 36 km/h on 10 m is 10 m/s², 1.019716 g
  it.each([
    [6, 4, 0.917745],
    [10, 10, 1.019716],
    [3, 9, 0.1019716],
  ])("%d m/s on a radius of %d m ask for %d g, and the other way round", (mps, radiusM, g) => {
    expectRel(lateralGAt(mps, radiusM), g, 1e-6, "g");
    expectRel(speedInCurve(g, radiusM), mps, 1e-6, "m/s");
    expectRel(speedInCurve(-g, radiusM), mps, 1e-6, "m/s in a right-hand curve");
  });

  it("is told for the radius asked for, else the first track, else one curve that stands in", () => {
    const s = shipped("heavy-forked.json");
    expect(curveRadiusM(s)).toBe(4);
    expect(curveRadiusM(s, 7.5)).toBe(7.5);
    expect(curveRadiusM({ tracks: [] })).toBe(DEFAULT_CURVE.radiusM);
    expect(tracksOf({ tracks: [] })).toEqual([{ name: "curve", radiusM: 6 }]);
  });
});
