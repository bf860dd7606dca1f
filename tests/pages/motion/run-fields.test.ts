import { describe, expect, it } from "vitest";
import { COMMON, MANOEUVRE_INFO } from "../../../src/motion/manoeuvres.ts";
import { choicesOf, FREE, linesOf, numberRows, numbersOf, RUNS, runOf, summaryOf } from "../../../src/pages/motion/run-fields.ts";
import { motionSlice, withNumber } from "../../../src/pages/motion/state/slice.ts";

describe.each(RUNS)("the run %s", (run) => {
  const numbers = numbersOf(motionSlice.initial, run);
  const specs = [...COMMON, ...MANOEUVRE_INFO[run].params];

  it("has a row for every number, within the motion part's own range", () => {
    const rows = numberRows(run, numbers);
    expect(rows.map((r) => r.key).sort()).toEqual(specs.map((s) => s.key).sort());
    for (const r of rows) {
      const spec = specs.find((s) => s.key === r.key)!;
      expect(r.min, r.key).toBeGreaterThanOrEqual(spec.min);
      expect(r.max, r.key).toBeLessThanOrEqual(spec.max);
      expect(r.value, r.key).toBeGreaterThanOrEqual(r.min);
      expect(r.value, r.key).toBeLessThanOrEqual(r.max);
    }
  });

  it("names its numbers with units in the list and in the head", () => {
    for (const text of [summaryOf(run, numbers), ...linesOf(run, numbers, true)]) expect(text).toMatch(/\d[\d.]*\u2009?(mm|m\/s|km\/h|m|g|s|°)/);
  });
});

describe("the numbers of a run", () => {
  it("are those that were set", () => {
    const view = withNumber(motionSlice.initial, "landing", "dropMm", 120);
    expect(numbersOf(view, "landing")["dropMm"]).toBe(120);
    expect(numbersOf(view, "singleBump")).toEqual(numbersOf(motionSlice.initial, "singleBump"));
  });

  it("fall back to the defaults where a kept page held others", () => {
    const view = { ...motionSlice.initial, numbers: { landing: { dropMm: 1e9, gone: 3 } } };
    expect(numbersOf(view, "landing")["dropMm"]).toBe(MANOEUVRE_INFO.landing.params.find((p) => p.key === "dropMm")?.byDefault);
  });

  it("know the hand's own run and mend an unknown name", () => {
    expect(choicesOf(motionSlice.initial).at(-1)?.key).toBe(FREE);
    expect(runOf("nonsense")).toBe("singleBump");
  });
});
