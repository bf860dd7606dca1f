import { describe, expect, it } from "vitest";
import type { Scenario } from "../../src/core/design/types.ts";
import { stanceWords } from "../../src/view/stance.ts";
import { scenarioFile } from "./fixture.ts";

/** 2 mm of packing under springs of 65.8 mm */
const s: Scenario = scenarioFile("heavy-forked");
const told = (left: [number, number], right: [number, number]) =>
  stanceWords(s, { lowerMm: { left: left[0], right: right[0] }, packMm: { left: left[1], right: right[1] } }).sentence.replaceAll("\u2009", " ");

describe("how the car stands, in words", () => {
  it("tells height and packing, both sides as one where they are alike", () => {
    expect(told([4.32, 2.52], [4.32, 2.52])).toBe("At rest it stands 4.3 mm lower than built; pack the springs by 2.5 mm to stand as drawn.");
    expect(told([4.4, 2.7], [0.01, 0])).toBe(
      "At rest it stands 4.4 mm lower than built on the left, as built on the right; pack the left spring by 2.7 mm to stand as drawn.",
    );
    expect(told([0.02, 0.01], [-0.03, -0.02])).toBe("At rest it stands as built.");
  });

  it("takes out what packing there is, and shortens the springs beyond that", () => {
    expect(told([-1.5, -1], [-1.5, -1])).toBe("At rest it stands 1.5 mm higher than built; take 1.0 mm of packing out of the springs to stand as drawn.");
    expect(told([-6, -5], [-6, -5])).toBe(
      "At rest it stands 6.0 mm higher than built; take 2.0 mm of packing out of the springs and shorten the springs by 3.0 mm to stand as drawn.",
    );
  });

  it("says so where no packing does", () => {
    const sentence = "At rest it stands 9.0 mm lower than built; no packing of the springs brings it to where it is drawn.";
    expect(stanceWords(s, { lowerMm: { left: 9, right: 9 }, packMm: null }).sentence.replaceAll("\u2009", " ")).toBe(sentence);
    // more packing than a file may hold
    expect(told([9, 300], [9, 300])).toBe(sentence);
  });
});
