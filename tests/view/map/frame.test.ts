import { describe, expect, it } from "vitest";
import { G } from "../../../src/core/units.ts";
import { gAt, kmhAt, kmhTicks, type MapFrame, mapRange, nearTrack, pointAt, radiusTicks, xOf, yOf } from "../../../src/view/map/frame.ts";
import { scenarioFile } from "../fixture.ts";

const frame: MapFrame = { left: 60, top: 20, right: 960, bottom: 620, range: { radiusM: [2, 20], kmh: 36 } };

describe("the map's axes", () => {
  it.each([
    [2, 0],
    [6, 24.7],
    [20, 36],
  ])("find %s m and %s km/h again under their own point", (radiusM, kmh) => {
    const p = pointAt(frame, xOf(frame, radiusM), yOf(frame, kmh));
    expect(p.radiusM).toBeCloseTo(radiusM, 9);
    expect(p.kmh).toBeCloseTo(kmh, 9);
  });

  it("give each doubling of the radius the same width", () => {
    expect(xOf(frame, 8) - xOf(frame, 4)).toBeCloseTo(xOf(frame, 20) - xOf(frame, 10), 9);
  });

  it("keep a point outside of the plot at its edge", () => {
    expect(pointAt(frame, -100, 9000)).toEqual({ radiusM: 2, kmh: 0 });
  });

  it("put a = v² / (g R) both ways: 0.8 g on 6 m is 24.7 km/h", () => {
    const kmh = kmhAt(6, 0.8);
    expect(kmh).toBeCloseTo(3.6 * Math.sqrt(0.8 * G * 6), 12);
    expect(kmh).toBeCloseTo(24.7, 1);
    expect(gAt(6, kmh)).toBeCloseTo(0.8, 12);
  });

  it("have ticks inside the map only, rising", () => {
    const ticks = radiusTicks(frame.range);
    expect(ticks[0]).toBe(2);
    expect(ticks.at(-1)).toBe(20);
    expect([...ticks].sort((a, b) => a - b)).toEqual(ticks);
    expect(kmhTicks(frame.range)).toEqual([0, 6, 12, 18, 24, 30, 36]);
  });

  it("reach as far as the design's curves and its drive", () => {
    const s = scenarioFile("heavy-forked");
    const wide = mapRange({
      ...s,
      tracks: [...s.tracks, { name: "tight", radiusM: 0.8 }, { name: "field", radiusM: 60 }],
      drive: { ...s.drive, noLoadRpm: 20_000 },
    });
    expect(wide.radiusM[0]).toBeLessThan(0.8);
    expect(wide.radiusM[1]).toBeGreaterThan(60);
    expect(wide.kmh).toBeGreaterThan(60);
  });

  it("draw a radius to a track's mark close by, and to none further off", () => {
    const tracks = [{ radiusM: 6 }, { radiusM: 12 }];
    expect(nearTrack(frame, 6.05, tracks, 7)).toBe(6);
    expect(nearTrack(frame, 7, tracks, 7)).toBe(7);
  });
});
