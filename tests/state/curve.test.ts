import { describe, expect, it } from "vitest";
import { curveStoodOn } from "../../src/state/curve.ts";
import { INITIAL_MAP_VIEW } from "../../src/state/mapView.ts";
import { scenarioFile } from "../view/fixture.ts";

const view = (track: number, radiusM: number | null) => ({ track, map: { ...INITIAL_MAP_VIEW, radiusM } });

describe("the curve that all pages stand on", () => {
  // tracks of the file: hairpin 4 m, car park 6 m, oval 12 m
  const forked = scenarioFile("heavy-forked");

  it("is the chosen track, counted round", () => {
    expect(curveStoodOn(forked, view(1, null))).toEqual({ name: "car park", radiusM: 6 });
    expect(curveStoodOn(forked, view(5, null)).radiusM).toBe(12);
  });

  it("is the radius chosen on the map where there is one", () => {
    expect(curveStoodOn(forked, view(0, 9))).toEqual({ name: "your curve", radiusM: 9 });
    expect(curveStoodOn(forked, view(0, 12)).name).toBe("oval");
  });

  it("stands in where the design has no track", () => {
    expect(curveStoodOn({ ...forked, tracks: [] }, view(3, null)).radiusM).toBe(6);
  });
});
