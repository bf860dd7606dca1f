import { describe, expect, it } from "vitest";
import { chanceOf, type SampledBand } from "../../../src/core/doubt/chance.ts";
import type { SafeLine, SampleTold } from "../../../src/core/doubt/told.ts";
import { bandOutline, chanceLines } from "../../../src/pages/map/picture/chance-lines.ts";
import { bandOver, type MapDoubts, mapSureWords } from "../../../src/pages/map/picture/sure-words.ts";
import { type MapFrame, yOf } from "../../../src/view/map/frame.ts";
import { expectAbs } from "../../support/close.ts";
import { scenarioFile } from "../../view/fixture.ts";

const frame: MapFrame = { left: 50, top: 10, right: 850, bottom: 610, range: { radiusM: [2, 20], kmh: 36 } };
const corner = scenarioFile("heavy-forked").corner;
/** The same cornering on every curve: v² = a R, from a speed on 6 m, m/s. */
const level = (chance: number, mpsOn6m: number): SafeLine => ({ chance, points: [{ radiusM: 6, speedMps: mpsOn6m }] });
const safeKmh = (radiusM: number): number => 20 * Math.sqrt(radiusM / 6);
const kmh = (v: number): number => v / 3.6;

describe("lines of chances", () => {
  const lines = chanceLines(frame, [level(0.01, kmh(15)), level(0.1, kmh(17)), level(0.5, kmh(19.9)), level(0.95, kmh(22))], safeKmh);

  it("follow the speed at which something gives with their chance, from edge to edge", () => {
    expect(lines.map((l) => l.chance)).toEqual([0.01, 0.1, 0.5]);
    const [first] = lines[0]!.points;
    expectAbs(first![0], frame.left, 1e-9, "px at the left edge");
    // on a curve of a third of the radius the same cornering is reached at √(1/3) of the speed
    expectAbs(first![1], yOf(frame, 15 / Math.sqrt(3)), 1e-6, "px of 15 km/h over √3");
    for (const { points } of lines) for (const [, y] of points) expect(y).toBeGreaterThanOrEqual(frame.top - 1);
  });

  it("are named where they run apart from the safe line", () => {
    expect(lines.map((l) => l.name?.text ?? null)).toEqual(["1 %", "10 %", null]);
    for (const l of lines) if (l.name) expect(Math.abs(l.name.deg)).toBeLessThan(60);
  });

  it("have the band between them, which stays on the sheet", () => {
    const outline = bandOutline(
      frame,
      () => -5,
      () => 50,
    );
    expect(Math.min(...outline.map(([, y]) => y))).toBe(frame.top);
    expect(Math.max(...outline.map(([, y]) => y))).toBe(frame.bottom);
  });
});

const band: SampledBand = { value: kmh(20), median: kmh(19.8), low: kmh(18), high: kmh(21), mean: kmh(19.7), sd: kmh(0.9), worlds: 512 };
const told: SampleTold = {
  worlds: 512,
  of: 512,
  seed: 1,
  drawnNearer: 0,
  safe: { radiusM: 6, speedMps: kmh(20), band, atMost: { chance: 0.05, speedMps: kmh(18), lowMps: kmh(17.8), highMps: kmh(18.2) }, lines: [], first: [] },
  at: {
    bands: {},
    passed: [
      { limit: "sliding", caution: false, chance: chanceOf(0, 512) },
      { limit: "hubRetention", caution: false, chance: chanceOf(64, 512) },
      { limit: "hubHeat", caution: true, chance: chanceOf(500, 512) },
    ],
    any: chanceOf(66, 512),
    noPosition: chanceOf(2, 512),
  },
};
const place = { radiusM: 6, kmh: 18.5 };
const nothing: MapDoubts = { first: null, lines: null, here: null };

describe("how sure the map is", () => {
  it("says nothing before anything is known", () => {
    expect(mapSureWords(nothing, corner, 5, place)).toMatchObject({ sure: "", atMost: "", chances: [], note: "" });
    expect(bandOver(nothing, safeKmh)).toBeNull();
  });

  it("tells the safe speed's ± to first order until cars are drawn, in the same share of the speed on every curve", () => {
    const d: MapDoubts = { ...nothing, first: { speedMps: kmh(20), sdMps: kmh(0.5) } };
    const words = mapSureWords(d, corner, 5, place);
    expect(words.sure).toBe("± 0.5\u2009km/h");
    // 20 ± 1.645 · 0.5 km/h
    expect(words.range).toBe("19.2 to 20.8");
    const over = bandOver(d, safeKmh)!;
    expectAbs(over.low(6), 20 - 1.6449 * 0.5, 1e-3, "km/h on 6 m");
    expectAbs(over.low(24) / safeKmh(24), over.low(6) / safeKmh(6), 1e-12, "of the safe speed");
  });

  it("tells from drawn cars the chances at the place, worst first, cautions left out, with their own error", () => {
    const d: MapDoubts = { first: null, lines: [level(0.05, kmh(18)), level(0.95, kmh(21))], here: { told, atMost: [told.safe!.atMost] } };
    const words = mapSureWords(d, corner, 5, place);
    expect(words.chances.map((c) => [c.words, c.chance])).toEqual([
      ["anything gives", "13 % (10 to 16 %)"],
      ["hub lip gives", "13 % (10 to 16 %)"],
      ["the axle finds no hold", "0.4 % (0.1 to 1.4 %)"],
    ]);
    expect(words.atMost).toBe("18.0\u2009km/h");
    expect(words.atMostOff).toBe("17.8 to 18.2 by the sample's own error");
    expect(words.note).toBe("From 512 cars tried, their values drawn within what is known of them; every other limit in none of them.");
    expectAbs(bandOver(d, safeKmh)!.high(6), 21, 1e-9, "km/h on 6 m");
    // another chance was not asked for
    expect(mapSureWords(d, corner, 20, place).atMost).toBe("");
  });
});
