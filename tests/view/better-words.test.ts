import { describe, expect, it } from "vitest";
import { chanceOf } from "../../src/core/doubt/chance.ts";
import type { MeasureNext } from "../../src/core/doubt/measure-next.ts";
import type { Better, PairedTold } from "../../src/core/doubt/paired.ts";
import { betterLines, verdictOf } from "../../src/view/better-words.ts";
import { measureTold } from "../../src/view/measure-words.ts";

const better = (b: number, alike = 0): Better => ({ better: chanceOf(b, 100), alike: chanceOf(alike, 100) });

describe("A against B", () => {
  it("is told in one word: sure from 95 %, likely from 75 %", () => {
    expect([better(99), better(80), better(50), better(20), better(2), better(1, 97)].map(verdictOf)).toEqual([
      "surely B",
      "likely B",
      "not known",
      "likely A",
      "surely A",
      "alike",
    ]);
  });

  it("is told by speed, by the load and by what both share", () => {
    const differenceMps = { value: 1, median: 1, low: -0.5, high: 2, mean: 1, sd: 0.8, worlds: 100 };
    const told: PairedTold = {
      worlds: 100,
      of: 100,
      shared: 70,
      ownA: 9,
      ownB: 11,
      safe: { ...better(90, 4), differenceMps },
      at: { ...better(50), limits: [] },
    };
    const lines = betterLines(told);
    expect(lines.map((l) => l.verdict)).toEqual(["likely B", "not known", ""]);
    // 1 m/s = 3.6 km/h
    expect(lines[0]?.words).toMatch(/ 90 % \(\d+ to \d+ %\), alike in 4 %; 90 % range of what it changes −1\.8 to \+7\.2 km\/h\.$/);
    expect(lines[2]?.words).toContain("70 numbers are the same part in both, 9 are A's alone, 11 B's");
  });
});

describe("what to measure next", () => {
  const next: MeasureNext = {
    bandSd: 0.1,
    rows: [
      {
        test: "springPress",
        side: "both",
        minutes: 10,
        inputs: [{ key: "corner.spring.rateNPerMm", sdNow: 0.3, sdAfter: 0.05, bandSdAlone: 0.06 }],
        bandSd: 0.06,
        narrower: 0.4,
        share: 0.64,
      },
    ],
    beyondTests: [{ key: "corner.wheel.radiusMm", share: 0.2 }],
    bought: [{ key: "corner.tyre.verticalNPerMm", sdAsGuess: 3, sd: 0.2, bandSdBefore: 0.15, bandSdNow: 0.1 }],
  };

  it("parts what a ruler tells from what nothing tells, and leaves out what shows no difference", () => {
    const [row, bought] = [next.rows[0]!, next.bought[0]!];
    const told = measureTold({
      ...next,
      rows: [row, { ...row, test: "tyrePress", narrower: 0.004 }],
      beyondTests: [...next.beyondTests, { key: "corner.tyre.friction", share: 0.1 }],
      bought: [bought, { ...bought, key: "corner.spring.freeLengthMm", bandSdBefore: bought.bandSdNow + 1e-5 }],
    });
    expect(told.beyond).toMatch(/ruler tells: wheel, .+ No bench test tells: tyre, grip.+ \(10 % of the doubt\)\.$/);
    expect(told.lines.map((l) => l.test)).toEqual(["springPress"]);
    expect(told.bought.map((b) => b.key)).toEqual([bought.key]);
  });

  it("tells the test, its minutes, what it makes of the safe speed's ±, and what was bought", () => {
    const told = measureTold(next);
    // 0.1 m/s = 0.36 km/h
    expect(told.now).toBe("± 0.36\u2009km/h");
    expect(told.lines[0]).toMatchObject({
      test: "springPress",
      name: "spring pressed on a scale",
      minutes: "10\u2009min",
      narrower: "± 0.36 becomes ± 0.22\u2009km/h, 40 % narrower",
      inputs: "spring, rate of one spring",
    });
    expect(told.beyond).toMatch(/^No bench test, but a calliper or a ruler tells: wheel, .+ \(20 % of the doubt\)\. Type it in on the axle's sheet\.$/);
    expect(told.bought[0]?.words).toMatch(/: measured, so that the safe speed is ± 0\.36 instead of ± 0\.54\u2009km\/h$/);
  });
});
