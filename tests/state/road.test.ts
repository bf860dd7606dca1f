import { describe, expect, it } from "vitest";
import { chosenTrack } from "../../src/state/road.ts";
import { scenarioFile } from "../view/fixture.ts";

const view = (track: number, radiusM: number | null) => ({ track, radiusM });

describe("the curve that all pages stand on", () => {
  // tracks of the file: hairpin 4 m, car park 6 m, oval 12 m
  const forked = scenarioFile("heavy-forked");

  it("is the chosen track, counted round", () => {
    expect(chosenTrack(forked, view(1, null))).toEqual({ name: "car park", radiusM: 6 });
    expect(chosenTrack(forked, view(5, null)).radiusM).toBe(12);
  });

  it("is the radius chosen on the map where there is one", () => {
    expect(chosenTrack(forked, view(0, 9))).toEqual({ name: "your curve", radiusM: 9 });
    expect(chosenTrack(forked, view(0, 12)).name).toBe("oval");
  });

  it("stands in where the design has no track", () => {
    expect(chosenTrack({ ...forked, tracks: [] }, view(3, null)).radiusM).toBe(6);
  });
});
