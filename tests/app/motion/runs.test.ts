import { describe, expect, it } from "vitest";
import { choicesOf, FREE, linesOf, numberRows, numbersOf, RUNS, runOf, summaryOf } from "../../../src/app/motion/runs.ts";
import { COMMON, MANOEUVRE_INFO } from "../../../src/motion/manoeuvres.ts";
import { INITIAL_MOTION_VIEW, withNumber } from "../../../src/state/motionView.ts";

describe.each(RUNS)("the run %s", (run) => {
  const numbers = numbersOf(INITIAL_MOTION_VIEW, run);
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
    const view = withNumber(INITIAL_MOTION_VIEW, "landing", "dropMm", 120);
    expect(numbersOf(view, "landing")["dropMm"]).toBe(120);
    expect(numbersOf(view, "singleBump")).toEqual(numbersOf(INITIAL_MOTION_VIEW, "singleBump"));
  });

  it("fall back to the defaults where a kept page held others", () => {
    const view = { ...INITIAL_MOTION_VIEW, numbers: { landing: { dropMm: 1e9, gone: 3 } } };
    expect(numbersOf(view, "landing")["dropMm"]).toBe(MANOEUVRE_INFO.landing.params.find((p) => p.key === "dropMm")?.byDefault);
  });

  it("know the hand's own run and mend an unknown name", () => {
    expect(choicesOf(INITIAL_MOTION_VIEW).at(-1)?.key).toBe(FREE);
    expect(runOf("nonsense")).toBe("singleBump");
  });
});
