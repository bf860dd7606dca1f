import { describe, expect, it } from "vitest";
import type { Scenario } from "../../../src/core/design/types.ts";
import { chanceOf, type SampledBand } from "../../../src/core/doubt/chance.ts";
import type { SampleTold } from "../../../src/core/doubt/told.ts";
import { doubtsOf, type FirstOrder, type Sampled, sureModel } from "../../../src/pages/axle/picture/sure-model.ts";
import { choiceWords, heroSure, sureInputs } from "../../../src/pages/axle/picture/sure-rows.ts";
import { readView } from "../../../src/state/document.ts";
import { sureSlice } from "../../../src/state/sure.ts";
import type { ShareRow } from "../../../src/view/doubt-words.ts";
import { drawnAt, scenarioFile } from "../../view/fixture.ts";

const car = scenarioFile("heavy-forked");
const { report } = drawnAt(car, { lateralG: 0.8 });
const rate = "corner.spring.rateNPerMm";
const row = (key: string, over: Partial<ShareRow> = {}): ShareRow => ({
  key,
  value: 1,
  sd: 0.3,
  how: "guess",
  why: "a tenth, what springs of one bag scatter by",
  law: "normal",
  min: 0,
  max: 100,
  unit: "N/mm",
  share: 0.413,
  ...over,
});
const first: FirstOrder = {
  sd: new Map([["camberDeg.right", 0.4]]),
  safe: { speedMps: 5.75, sdMps: 0.1, why: "" },
  rows: { left: [], right: [row(rate)], safe: [row("corner.wheel.radiusMm", { share: 0.004 })] },
};
const lean: SampledBand = { value: report.right.camberDeg, median: 6.6, low: 5.2, high: 8.4, mean: 6.7, sd: 0.9, worlds: 512 };
const told: SampleTold = {
  worlds: 512,
  of: 512,
  seed: 1,
  drawnNearer: 0,
  safe: null,
  at: {
    bands: { "camberDeg.right": lean },
    passed: [{ limit: "camber", caution: false, chance: chanceOf(50, 512) }],
    any: chanceOf(50, 512),
    noPosition: chanceOf(0, 512),
  },
};
const sample: Sampled = {
  told,
  atMost: [{ chance: 0.05, speedMps: 5, lowMps: 4.9, highMps: 5.1 }],
  reasons: { safe: [], at: [{ kind: "lifts", chance: chanceOf(30, 512) }] },
};
const view = { chancePercent: 5, of: "lean" as const };
const none = { kind: "none" as const, worlds: 0, of: 0 };

describe("the panel of doubts", () => {
  it("says that it is being worked out, then tells to first order, then from drawn cars", () => {
    const before = sureModel(car, report, 20.7, { first: null, sample: null, doubts: null }, none, view);
    expect(before.inputs).toBeNull();
    expect(before.numbers.map((n) => n.sure)).toEqual(["–", "–", "–", "–", "–", "–"]);
    const known = { first, sample: null, doubts: doubtsOf(first, null, 5) };
    const then = sureModel(car, report, 20.7, known, { kind: "running", worlds: 128, of: 512 }, view);
    expect(then.way).toMatch(/^A quick estimate \(first order\)/);
    expect(then.numbers[0]).toMatchObject({ name: "outer lean", sure: "± 0.4°" });
    // 0.1 m/s = 0.36 km/h
    expect(then.numbers.at(-1)).toMatchObject({ value: "20.7\u2009km/h", sure: "± 0.4\u2009km/h" });
    expect(then.progress).toEqual({ share: 0.25, words: "trying cars: 128 of 512", act: "stop" });
    expect(then.atMost).toBe("");
    const sampled = sureModel(car, report, 20.7, { first, sample, doubts: doubtsOf(first, sample, 5) }, { ...none, kind: "done" }, view);
    expect(sampled.way).toBe("From 512 cars tried, their values drawn within what is known of them.");
    expect(sampled.numbers[0]).toMatchObject({ sure: "± 0.9°", range: "5.2° to 8.4°" });
    expect(sampled.atMost).toBe("18.0\u2009km/h");
    expect(sampled.differs).toEqual([
      expect.stringMatching(/^The lean: the quick estimate \(first order\) said .+ otherwise: in 6 % of the cars a wheel is off the road/),
    ]);
    expect(heroSure(lean)).toEqual({ sure: "± 0.9°", range: "5.2° to 8.4°" });
  });

  it("says where first order tells nothing, and why", () => {
    const jumps: FirstOrder = { ...first, safe: { speedMps: 5, sdMps: null, why: "jumps" } };
    const doubts = doubtsOf(jumps, null, 5);
    expect(doubts.safeSdKmh).toBeNull();
    expect(sureModel(car, report, 20.7, { first: jumps, sample: null, doubts }, none, view).rest).toContain("falls over in its play");
  });
});

describe("what an answer hangs on", () => {
  it("tells each input's share, and whether its ± was told or is assumed, with the reason", () => {
    const [assumed] = sureInputs(car, [row(rate)]);
    expect(assumed).toMatchObject({
      name: "spring, rate of one spring",
      share: "41 %",
      sure: "assumed ± 0.3 N/mm",
      why: "a tenth, what springs of one bag scatter by",
      path: rate,
    });
    const measured: Scenario = { ...car, origins: { [rate]: { how: "measured", plusMinus: 0.05 } } };
    expect(sureInputs(measured, [row(rate, { sd: 0.05, how: "measured", share: 0.003 })])[0]).toMatchObject({
      share: "less than 1 %",
      sure: "± 0.05 N/mm",
      why: "",
    });
  });

  it("leads from a material that is known by its name to an arm that is made of it", () => {
    const name = car.corner.lowerArm.material as string;
    expect(sureInputs(car, [row(`material.${name}.youngMPa`, { how: "material" })])[0]).toMatchObject({
      how: "guess",
      path: expect.stringMatching(/^corner\.(upper|lower)Arm\.material$/),
    });
  });

  it("names guesses that are choices, which have no ±", () => {
    expect(choiceWords(car)).toBe("");
    const guessed: Scenario = { ...car, origins: { "corner.lowerArm.layout": { how: "guess" }, [rate]: { how: "guess" } } };
    expect(choiceWords(guessed)).toMatch(/^One guess is a choice, which has no ±: lower arm, .+\.$/);
  });
});

describe("what is asked about doubt", () => {
  it("is read field by field; what does not fit stands at its default", () => {
    const read = (sure: unknown) => sureSlice.of(readView({ pages: { sure } }));
    expect(read({ chancePercent: 10, of: "safe" })).toEqual({ chancePercent: 10, of: "safe" });
    expect(read({ chancePercent: 7, of: "safe" })).toEqual({ chancePercent: 5, of: "safe" });
    expect(read({ chancePercent: "1", of: 3 })).toEqual({ chancePercent: 5, of: "lean" });
    expect(read(null)).toEqual({ chancePercent: 5, of: "lean" });
  });
});
