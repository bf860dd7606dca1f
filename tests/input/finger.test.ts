import { describe, expect, it } from "vitest";
import { fingerMeans } from "../../src/input/finger.ts";

describe("a finger on a control", () => {
  // by hand, from what is wanted: up and down scrolls, across pulls what goes across, a rest of a quarter second takes hold
  it.each([
    ["has gone nowhere", [2, 3], 90, true, "open"],
    ["goes up at once", [4, -40], 60, true, "page"],
    ["goes aslant, more up than across", [30, -40], 60, true, "page"],
    ["goes across on what goes across", [-40, 10], 60, true, "control"],
    ["goes across on a point that goes everywhere", [-40, 10], 60, false, "page"],
    ["has rested, then goes up", [0, -20], 260, true, "control"],
    ["has rested on a point, then goes across", [20, 0], 250, false, "control"],
    ["has nearly rested", [0, -20], 240, false, "page"],
  ] as const)("%s", (_what, way, rested, sideways, meant) => {
    expect(fingerMeans([...way], rested, sideways)).toBe(meant);
  });
});
