import { describe, expect, it } from "vitest";
import { movedHandle } from "../../../src/pages/axle/state/handle-edits.ts";
import type { Doc } from "../../../src/state/document.ts";
import { scenarioFile } from "../../view/fixture.ts";

const doc: Doc = { a: scenarioFile("heavy-forked"), b: scenarioFile("heavy-straight"), load: { lateralG: 0.8, bumpLeftMm: 0, bumpRightMm: 0 } };

describe("dragging a load", () => {
  const cornering = (from: number, by: number): number =>
    movedHandle({ ...doc, load: { ...doc.load, lateralG: from } }, "cornering", { right: 0, up: 0, g: by }, null).load.lateralG;
  const road = (up: number): number => movedHandle(doc, "road.left", { right: 0, up, g: 0 }, null).load.bumpLeftMm;

  it("ends at 2 g to either side and at 25 mm of road up or down", () => {
    expect([cornering(0.8, 9), cornering(0.8, -9)]).toEqual([2, -2]);
    expect([road(90), road(-90)]).toEqual([25, -25]);
  });

  it("goes by hundredths of a g, without a grain of rounding, and by tenths of a millimetre", () => {
    expect(cornering(0.8, 0.1234)).toBe(0.92);
    expect(cornering(0.1, 0.2)).toBe(0.3);
    expect(road(3.13)).toBeCloseTo(3.1, 12);
  });
});
