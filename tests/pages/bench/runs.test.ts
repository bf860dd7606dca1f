import { describe, expect, it } from "vitest";
import { drivenIn } from "../../../src/core/runs/pace.ts";
import { dayWords, drivenWords } from "../../../src/pages/bench/picture/run-words.ts";
import { freshRun, paceOf, paceValue, partsOf, toldBy, withGiven, withNewRun, withoutRun, withRunAt } from "../../../src/pages/bench/state/run-edits.ts";
import { shipped } from "../../support/shipped.ts";

const run = { ...freshRun("2026-11-26", 6, "left"), pace: { by: "speed", kmh: 24 } } as const;

describe("the pace of a run", () => {
  // by hand: 24 km/h = 6.6667 m/s; 6.6667² / 6 / 9.80665 = 0.7553 g; 2π · 6 / 6.6667 = 5.6549 s
  it.each([
    ["lap", 5.655],
    ["g", 0.7553],
    ["speed", 24],
  ] as const)("told by %s instead is the same pace", (by, value) => {
    const pace = toldBy(run, by);
    expect(pace.by).toBe(by);
    expect(paceValue(pace)).toBeCloseTo(value, 3);
    expect(paceOf(by, paceValue(pace))).toEqual(pace);
    expect(drivenIn({ ...run, pace }).lateralG).toBeCloseTo(0.7553, 3);
  });

  it("stays within what a file holds", () => {
    const still = { ...run, pace: { by: "g", g: 0 } } as const;
    expect(toldBy(still, "speed")).toEqual({ by: "speed", kmh: 0.1 });
    expect(toldBy(still, "lap")).toEqual({ by: "lap", seconds: 3600 });
    expect(toldBy({ ...run, radiusM: 0.1, pace: { by: "speed", kmh: 300 } }, "g")).toEqual({ by: "g", g: 5 });
  });

  it("is told in words", () => {
    expect(drivenWords(run)).toBe("24.0\u2009km/h, 0.76\u2009g");
    expect(dayWords(null)).toBe("day not told");
  });
});

describe("the log", () => {
  const s = shipped("heavy-forked.json");
  it("is added to, changed in one place and taken from", () => {
    const two = withNewRun(withNewRun(s, run), { ...run, radiusM: 9 });
    expect(two.runs.map((r) => r.radiusM)).toEqual([6, 9]);
    expect(withRunAt(two, 0, { ...run, radiusM: 4 }).runs.map((r) => r.radiusM)).toEqual([4, 9]);
    expect(withoutRun(two, 0).runs.map((r) => r.radiusM)).toEqual([9]);
    expect(s.runs).toEqual([]);
  });

  it("what gave stands once, with where it gave, and goes again", () => {
    const gave = withGiven(withGiven(withGiven(run, "camber", true), "jointPullOut", true, { side: "left" }), "jointPullOut", true, { at: "upperInner" });
    expect(gave.gave).toEqual([
      { limit: "camber", side: null, at: null },
      { limit: "jointPullOut", side: "left", at: "upperInner" },
    ]);
    expect(withGiven(gave, "camber", true, { side: "right" }).gave.map((g) => g.limit)).toEqual(["camber", "jointPullOut"]);
    expect(withGiven(gave, "camber", false).gave.map((g) => g.limit)).toEqual(["jointPullOut"]);
  });

  it("asks which joint or arm it was where there are several", () => {
    expect(partsOf("jointPullOut")).toHaveLength(4);
    expect(partsOf("armYield")).toEqual(["upper", "lower"]);
    expect(partsOf("hubRetention")).toEqual([]);
  });
});
