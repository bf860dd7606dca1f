import { describe, expect, it } from "vitest";
import { createAnswers } from "../../src/state/answers.ts";
import { expectRel } from "../support/close.ts";
import { scenarioFile } from "../view/fixture.ts";

describe("the answers of the page", () => {
  it("go with the curve that the page stands on, at rest of a hand too", () => {
    let radiusM = 4;
    const answers = createAnswers(false, () => radiusM);
    const scenario = scenarioFile("heavy-forked");
    const load = { lateralG: 0.8, bumpLeftMm: 0, bumpRightMm: 0 };
    const riseK = (): number => {
      const { analysis } = answers.at(scenario, load, "live");
      if (!analysis.ok) throw new Error(analysis.reason.message);
      return analysis.report.limits.find((l) => l.name === "hubHeat")?.demand ?? Number.NaN;
    };
    const small = riseK();
    radiusM = 9;
    // same cornering level: v = sqrt(a R), and friction heat grows as the speed, so by 3/2 on 9 m against 4 m
    expectRel(riseK(), 1.5 * small, 1e-6, "K above the air");
    expect(small).toBeGreaterThan(0);
  });
});
