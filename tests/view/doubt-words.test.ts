import { describe, expect, it } from "vitest";
import { bandAbout } from "../../src/core/doubt/bands.ts";
import { chanceOf, type SampledBand } from "../../src/core/doubt/chance.ts";
import type { Reason } from "../../src/core/doubt/straight.ts";
import { normalQuantile } from "../../src/core/numerics/distributions.ts";
import {
  assumedWords,
  atMostError,
  bandOf,
  chanceWords,
  crossingWords,
  type Doubts,
  differWords,
  inputName,
  inputSdWords,
  rangeWords,
  safeBandOf,
  sampledChanceWords,
  sdWords,
} from "../../src/view/doubt-words.ts";
import { limitRows } from "../../src/view/reading.ts";
import { drawnAt, scenarioFile } from "./fixture.ts";

const car = scenarioFile("heavy-forked");
const doubts = (over: Partial<Doubts> = {}): Doubts => ({ sd: new Map([["camberDeg.right", 0.4]]), safeSdKmh: 0.5, sampled: null, ...over });

describe("a ± and its range", () => {
  it("have the decimals of their number, and more where the ± would be told as nought", () => {
    expect(sdWords(0.44, 1, "°")).toBe("± 0.4°");
    expect(sdWords(0.03, 1, "N")).toBe("± 0.03\u2009N");
    expect(rangeWords({ value: 6.6, sd: 0.4, low: 5.96, high: 7.24 }, 1, "°")).toBe("6.0° to 7.2°");
    expect(rangeWords({ value: 20.7, sd: 0.02, low: 20.67, high: 20.73 }, 1, "km/h")).toBe("20.67 to 20.73\u2009km/h");
  });

  it("stand about the value at hand, 1.645 deviations to either side of it, until a sample tells more", () => {
    // 95 % of a normal distribution lie below 1.6449 deviations (any table of the normal distribution)
    const band = bandOf(doubts(), "camberDeg.right", 7);
    expect(band?.low).toBeCloseTo(7 - 1.6449 * 0.4, 3);
    expect(band?.high).toBeCloseTo(7 + 1.6449 * 0.4, 3);
    expect(bandOf(doubts(), "rollDeg", 3)).toBeNull();
    const sampled: SampledBand = { value: 7, median: 7.1, low: 6.5, high: 8, mean: 7.1, sd: 0.5, worlds: 512 };
    const d = doubts({ sampled: { bands: { "camberDeg.right": sampled }, safeKmh: null, passed: new Map(), atMost: null } });
    expect(bandOf(d, "camberDeg.right", 7)).toBe(sampled);
  });

  it("of a speed never goes below standing", () => {
    expect(safeBandOf(doubts({ safeSdKmh: 3 }), 2)?.low).toBe(0);
    expect(safeBandOf(doubts(), null)).toBeNull();
  });
});

describe("chances", () => {
  it("are told with their own error, the rare ones without false figures", () => {
    expect([0, 0.0004, 0.012, 0.031, 0.5, 0.996, 1].map(chanceWords)).toEqual([
      "less than 0.1 %",
      "less than 0.1 %",
      "1.2 %",
      "3 %",
      "50 %",
      "99.6 %",
      "more than 99.9 %",
    ]);
    // E. B. Wilson's interval of 26 in 512: 3.49 to 7.33 %
    expect(sampledChanceWords(chanceOf(26, 512))).toBe("5 % (3 to 7 %)");
  });

  it("are told of a bar whose band crosses what the part holds, by the sample where there is one", () => {
    // three tenths of a normal distribution lie above 1 when 1 is its 70 % quantile
    const band = bandAbout(1 - 0.1 * normalQuantile(0.7), 0.1);
    expect(crossingWords(null, "armYield", band)).toBe("gives in 3\u00a0of\u00a010");
    expect(crossingWords(null, "armYield", bandAbout(0.5, 0.1))).toBe("");
    expect(crossingWords(null, "armYield", null)).toBe("");
    const d = doubts({ sampled: { bands: {}, safeKmh: null, passed: new Map([["armYield", 0.62]]), atMost: null } });
    expect(crossingWords(d, "armYield", band)).toBe("gives in 6\u00a0of\u00a010");
    const some = (chance: number): string => crossingWords(doubts({ sampled: { ...d.sampled!, passed: new Map([["armYield", chance]]) } }), "armYield", band);
    // a band that crosses what the part can take never gives in none or all
    expect([0, 0.06, 0.09, 0.12, 1].map((c) => some(c).replaceAll("\u00a0", " "))).toEqual([
      "gives in 1 of 20",
      "gives in 1 of 20",
      "gives in 1 of 10",
      "gives in 1 of 10",
      "gives in 9 of 10",
    ]);
  });

  it("stand at the limits' rows of the page, at the wheel that is told", () => {
    const { report } = drawnAt(car, { lateralG: 0.8 });
    const rows = limitRows(report, 6);
    const [first] = rows;
    const worst = report.limits.find((l) => l.name === first?.name && l.utilization === first?.utilization);
    if (!first || !worst) throw new Error("no limit");
    const sd = new Map([[`limit.${worst.name}.${worst.wheel}.utilization`, 0.9] as const]);
    const told = limitRows(report, 6, doubts({ sd }));
    expect(told[0]?.band?.sd).toBe(0.9);
    expect(told[0]?.crossing).toMatch(/^gives in \d\u00a0of\u00a010$/);
    expect(told.slice(1).every((r) => r.band === null && r.crossing === "")).toBe(true);
  });
});

describe("where sampling and first order differ", () => {
  const first = bandAbout(20, 0.5);
  const sampled = (low: number, high: number): SampledBand => ({ value: 20, median: 19.9, low, high, mean: 19.8, sd: 0.8, worlds: 512 });
  const reasons: Reason[] = [{ kind: "takesOver", limit: "wheelLift", chance: chanceOf(61, 512) }];

  it("says so with the reason, and nothing where both agree", () => {
    expect(differWords("The safe speed", first, sampled(18, 20.8), reasons, 1, "km/h")).toMatch(
      /^The safe speed: the quick estimate \(first order\) said 19\.2 to 20\.8\u2009km\/h, the cars tried say otherwise: in 12 % of the cars another limit gives first \(.+\)\.$/,
    );
    expect(differWords("The safe speed", first, sampled(first.low, first.high), reasons, 1, "km/h")).toBe("");
    expect(differWords("The safe speed", null, sampled(18, 20.8), reasons, 1, "km/h")).toBe("");
  });
});

describe("inputs", () => {
  it("are called by their fields and materials, with a ± in the unit of the field", () => {
    expect(inputName("corner.spring.rateNPerMm")).toBe("spring, rate of one spring");
    expect(inputName("material.abs.youngMPa")).toMatch(/, stiffness$/);
    expect(inputSdWords("corner.spring.rateNPerMm", 0.3, "")).toBe("± 0.3 N/mm");
    expect(inputSdWords("corner.hub.tiltPlayDeg", 0.25, "")).toBe("± 0.25°");
    expect(inputSdWords("body.axleShare", 0.03, "")).toBe("± 3 %");
  });

  it("tell what is assumed where no ± is told: what such parts scatter by, or the rounding", () => {
    const guessed = { ...car, origins: { "corner.spring.rateNPerMm": { how: "guess" as const, plusMinus: 5 } } };
    const { rateNPerMm } = car.corner.spring;
    const tenth = Number((0.1 * rateNPerMm).toPrecision(2));
    expect(assumedWords(guessed, "corner.spring.rateNPerMm")).toEqual({
      amount: String(tenth),
      words: `assumed ± ${tenth} N/mm: a tenth, what springs of one bag scatter by`,
    });
    expect(assumedWords(car, "corner.spring.rateNPerMm")?.words).toMatch(/: rounded at its last digit$/);
    expect(assumedWords(car, "corner.hub.retention.kind")).toBeNull();
  });

  it("tell the sample's own error only where it shows", () => {
    expect(atMostError({ low: 20.31, high: 20.44 })).toBe("20.3 to 20.4 by the sample's own error");
    expect(atMostError({ low: 20.41, high: 20.44 })).toBe("");
  });
});
