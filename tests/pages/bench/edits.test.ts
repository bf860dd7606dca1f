import { describe, expect, it } from "vitest";
import { newBenchTest } from "../../../src/core/bench/definitions.ts";
import { fitBench, takeFit } from "../../../src/core/bench/fit.ts";
import { withOrigins } from "../../../src/core/design/origins.ts";
import { BENCH_KINDS, type BenchTest } from "../../../src/core/design/tried.ts";
import { fitTold, kindFacts, rowNotes } from "../../../src/pages/bench/picture/test-words.ts";
import { askedSettings, editName, measuresSides, standsIn, withoutTest, withSide, withTest } from "../../../src/pages/bench/state/edits.ts";
import { lastOf, testAt } from "../../../src/pages/bench/state/kept.ts";
import { gate } from "../../../src/state/gate.ts";
import { shipped } from "../../support/shipped.ts";

const s = shipped("heavy-forked.json");
const spring = newBenchTest(s, "springPress");
const hang = newBenchTest(s, "armHang");
/** by hand: 10 N for each 5 mm, with a little scatter */
const read: BenchTest = {
  ...spring,
  date: "2026-11-26",
  units: ["N", "mm"],
  rows: [
    ["0", "60"],
    ["10", "55,1"],
    ["x", "50"],
    ["20", "50"],
    ["30", "44,9"],
  ],
};

describe("the tests that a design keeps", () => {
  const kept = withTest(withTest(withTest(s, null, spring), null, hang), null, read);

  it("are added behind the others, changed in their place and taken out", () => {
    expect(kept.bench.map((t) => t.kind)).toEqual(["springPress", "armHang", "springPress"]);
    expect(withTest(kept, 0, { ...spring, note: "old" }).bench.map((t) => t.note)).toEqual(["old", "", ""]);
    expect(withoutTest(kept, 1).bench.map((t) => t.kind)).toEqual(["springPress", "springPress"]);
    expect(s.bench).toEqual([]);
  });

  it("are found by their kind and place, the newest first", () => {
    expect(lastOf(kept, "springPress")).toBe(2);
    expect(lastOf(withTest(s, null, spring), "springPress")).toBe(0);
    expect(lastOf(kept, "motor")).toBeNull();
    expect(testAt(kept, "springPress", 2)?.test).toBe(read);
    expect(testAt(kept, "springPress", 1)).toBeNull();
    expect(testAt(kept, "springPress", 9)).toBeNull();
    expect(testAt(kept, "springPress", null)).toBeNull();
  });

  it("stand in the list with their day and rows, below their kind", () => {
    const facts = kindFacts(withTest(kept, 2, { ...read, side: "left" }));
    expect(facts.map((f) => f.kind)).toEqual([...BENCH_KINDS]);
    expect(facts.find((f) => f.kind === "springPress")?.kept).toEqual([
      { at: 0, words: "done on a day not told: 0 rows" },
      { at: 2, words: "done 2026-11-26: left, 4 of 5 rows" },
    ]);
    expect(facts.find((f) => f.kind === "motor")?.kept).toEqual([]);
    expect(facts.find((f) => f.kind === "motor")?.words).toBe("Motor with a lever on a scale");
    const one = kindFacts(withTest(s, null, { ...read, rows: [["1", "2"]] })).find((f) => f.kind === "springPress");
    expect(one?.kept[0]?.words).toBe("done 2026-11-26: 1 row");
    const bad = {
      ...read,
      rows: [
        ["1", "2"],
        ["x", "2"],
        ["", ""],
        ["3", ""],
      ],
    };
    expect(kindFacts(withTest(s, null, bad)).find((f) => f.kind === "springPress")?.kept[0]?.words).toBe("done 2026-11-26: 1 of 3 rows");
  });

  it("name their changes", () => {
    expect(editName("springPress", "row 3")).toBe("spring pressed on a scale: row 3");
  });
});

describe("how what a test measures is known", () => {
  const known = (origins: Parameters<typeof withOrigins>[1]) => kindFacts(withOrigins(s, origins)).find((f) => f.kind === "springPress")!;
  const measured = { how: "measured" } as const;
  it("is told by the least known of its values", () => {
    expect(known({}).known).toBe("entered");
    expect(known({ "corner.spring.rateNPerMm": { how: "guess" }, "corner.spring.freeLengthMm": measured })).toMatchObject({
      how: "guess",
      known: "still a guess",
    });
    expect(known({ "corner.spring.rateNPerMm": measured }).known).toBe("entered");
    expect(known({ "corner.spring.rateNPerMm": measured, "corner.spring.freeLengthMm": measured }).known).toBe("measured");
  });

  it("is that of a material that only has a name", () => {
    const facts = kindFacts(withOrigins(s, { "corner.lowerArm.material": { how: "guess" } }));
    expect(facts.find((f) => f.kind === "armAlongRoad")?.how).toBe("guess");
    expect(facts.find((f) => f.kind === "springPress")?.how).toBe("entered");
  });
});

describe("how a test is set up", () => {
  it("asks only for what goes with the other choices", () => {
    const keys = (held: string): string[] => askedSettings(s, { ...hang, setUp: { ...hang.setUp, held } }).map((o) => o.key);
    expect(keys("vice")).not.toContain("propAtMm");
    expect(keys("propped")).toContain("propAtMm");
    expect(keys("springy")).toContain("sought");
  });

  it("tells what stands and what is preset", () => {
    const [first] = askedSettings(s, { ...spring, setUp: { packingMm: 7 } });
    expect(first).toMatchObject({ key: "packingMm", now: 7, preset: s.corner.spring.preloadMm });
    const without = askedSettings(s, { ...spring, setUp: {} });
    expect(without[0]!.now).toBe(without[0]!.preset);
  });

  it("goes over to another side, but for what was told", () => {
    const two = { ...s, left: { ...s.left, spring: { ...s.corner.spring, preloadMm: 9 } } };
    const test = newBenchTest(two, "springPress", "right");
    expect(withSide(two, test, "left")).toMatchObject({ side: "left", setUp: { packingMm: 9 } });
    expect(withSide(two, { ...test, setUp: { ...test.setUp, packingMm: 1 } }, "left").setUp["packingMm"]).toBe(1);
  });

  it("asks for a side only where parts of a side are measured", () => {
    expect(measuresSides(s, spring)).toBe(true);
    expect(measuresSides(s, newBenchTest(s, "motor"))).toBe(false);
  });
});

describe("what a test says", () => {
  const fit = fitBench(s, read);
  it("stands behind each row: what is left over, or why it is not used", () => {
    const notes = rowNotes(fit);
    expect(notes).toHaveLength(5);
    expect(notes[2]).toMatchObject({ ok: false });
    expect(notes[2]!.words).toContain("“x” is no number");
    expect(notes[0]!.ok).toBe(true);
    expect(notes[0]!.words).toMatch(/^[+\u2212]?0?\.?\d/);
    expect(rowNotes(fitBench(s, { ...read, rows: [["", ""]] }))).toEqual([null]);
  });

  it("shows what is left over to two figures of the largest", () => {
    const row = (residual: number) => ({ ok: true, x: 0, y: 0, fitted: 0, residual, way: null }) as const;
    const words = (...left: number[]) => rowNotes({ rows: left.map(row) }).map((n) => n?.words);
    expect(words(0.123, -0.04)).toEqual(["+0.12", "\u22120.04"]);
    expect(words(258.4, 3)).toEqual(["+258", "+3"]);
    expect(words(1.26, 0)).toEqual(["+1.3", "0.0"]);
    expect(words(Number.NaN, 0.5)).toEqual(["", "+0.50"]);
    expect(words(0, 0)).toEqual(["0.00", "0.00"]);
    expect(words(1e-9)).toEqual(["0.00000"]);
  });

  it("is told in words for those who do not see the drawing", () => {
    expect(fitTold(fit)).toMatch(/^4 points, .* over .*: .*; left over at most 0\.\d+ mm$/);
    const line = { words: "fit", points: [] };
    const row = (residual: number) => ({ ok: true, x: 0, y: 0, fitted: 0, residual, way: null }) as const;
    const drawn = { ...fit, curves: [line, { ...line, words: "loading" }], rows: [row(-0.25), row(0.1), row(Number.NaN), { ok: null } as const] };
    expect(fitTold(drawn)).toBe("3 points, length over load: fit, loading; left over at most 0.25 mm");
    expect(fitTold(fitBench(s, { ...read, rows: [] }))).toMatch(/^0 points, .*: no line yet$/);
  });

  it("stands in the design once it was put there, and no more when it was changed or measured anew", () => {
    expect(standsIn(s, fit)).toBe(false);
    const taken = takeFit(withTest(s, null, read), read, fit, "2026-11-26");
    expect(gate({ a: taken, b: s, load: { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 } })).toBeNull();
    expect(standsIn(taken, fitBench(taken, read))).toBe(true);
    const other = { ...taken, corner: { ...taken.corner, spring: { ...taken.corner.spring, rateNPerMm: taken.corner.spring.rateNPerMm + 0.2 } } };
    expect(standsIn(other, fitBench(other, read))).toBe(false);
    expect(standsIn(withOrigins(taken, { "corner.spring.rateNPerMm": null }), fit)).toBe(false);
    expect(standsIn(taken, fitBench(taken, { ...read, rows: [] }))).toBe(false);
  });
});
