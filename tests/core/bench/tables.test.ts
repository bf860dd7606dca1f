import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { BENCH_TESTS } from "../../../src/core/bench/definitions.ts";
import { fitBench } from "../../../src/core/bench/fit.ts";
import { pasted, readRows } from "../../../src/core/bench/rows.ts";
import { BENCH_KINDS, type BenchTest, TABLE_ROOM } from "../../../src/core/design/tried.ts";
import { cornerScenario } from "../../support/corner-scenario.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";
import { typed } from "./typed.ts";

const forked = shipped("heavy-forked.json");
const spring = (rows: readonly (readonly string[])[], more: Partial<BenchTest> = {}): BenchTest => ({ ...typed(forked, "springPress", rows), ...more });
/** What is read of one row of the spring's table: its numbers, or why not. */
const read = (row: string[], units: string[] = []): unknown => {
  const r = readRows(forked, spring([row], { units }))[0]!;
  return r.ok ? r.values : r.ok === null ? null : r.reason;
};

describe("a row of a table", () => {
  // 1 kg pushes with 9.80665 N by definition
  it.each<[string[], string[], number[]]>([
    [["500", "49,5"], [], [4.903325, 49.5]],
    [["500 g", "4.95 cm"], [], [4.903325, 49.5]],
    [["0.5 kg", "49.5mm"], [], [4.903325, 49.5]],
    [["4,5 kg", "6 holes"], [], [44.129925, 48]],
    [
      ["12", "49.5"],
      ["N", "mm"],
      [12, 49.5],
    ],
    [
      ["1.2", "5"],
      ["kg", "cm"],
      [11.76798, 50],
    ],
    [
      ["1,2", "3"],
      ["kg", "holes"],
      [11.76798, 24],
    ],
    [
      ["20 N", "50"],
      ["g", "mm"],
      [20, 50],
    ],
    [["1 500", "+50"], [], [14.709975, 50]],
    [["500", "50", "a remark"], [], [4.903325, 50]],
  ])("reads %j under %j", (row, units, values) => {
    expect(read(row, units)).toEqual(values.map((v) => expect.closeTo(v, 9)));
  });

  it.each<[string[], string[], RegExp]>([
    [["abc", "50"], [], /^load: “abc” is no number$/],
    [["500", ""], [], /^length from eye to eye: nothing stands there$/],
    [["500"], [], /^length from eye to eye: nothing stands there$/],
    [["-500", "50"], [], /^load: “-500” is below 0$/],
    [["-5", "50"], [], /is below 0$/],
    [["\u2212500", "50"], [], /is below 0$/],
    [["500 mm", "50"], [], /^load: “mm” is no unit here/],
    [["500", "50 g"], [], /^length from eye to eye: “g” is no unit here/],
    [["500", "50"], ["furlong", "mm"], /^load: “furlong” is no unit of it; g, kg, N$/],
    [["5e9", "50"], [], /is no unit here/],
    [["999999999999", "50"], [], /is more than can be meant$/],
    [["1", "500", "50"], [], /^“50” is a number too many: 2 are read$/],
    [["1,2,3", "50"], [], /is no number/],
    [["NaN", "Infinity"], [], /is no number/],
  ])("tells what is wrong with %j under %j", (row, units, reason) => {
    expect(read(row, units)).toMatch(reason);
  });

  it("that is blank is no fault", () => {
    expect([read([]), read(["", "  "])]).toEqual([null, null]);
  });

  it("keeps its place among the others, good and bad", () => {
    const fit = fitBench(forked, spring([["0", "65"], ["x", "1"], [], ["1000", "61"], ["2000", "57"], ["500", "-"]]));
    expect(fit.rows.map((r) => r.ok)).toEqual([true, false, null, true, true, false]);
    expect(fit.results).toHaveLength(2);
  });

  it("one row alone says how many more are needed, and none at all as well", () => {
    expect(fitBench(forked, spring([["500", "60"]])).advice).toBe("2 more readings are needed: it takes 3 to tell anything.");
    expect(fitBench(forked, spring([])).advice).toBe("3 more readings are needed: it takes 3 to tell anything.");
    expect(fitBench(forked, spring([["500", "60"]])).rows[0]).toMatchObject({ ok: true, x: expect.closeTo(4.903325, 9), y: 60 });
  });

  it("a thousand rows are read and fitted", () => {
    const rows = Array.from({ length: TABLE_ROOM.rows }, (_, i) => [String(i), (66 - i / 500).toFixed(2)]);
    const fit = fitBench(forked, spring(rows));
    expect(fit.rows.filter((r) => r.ok === true)).toHaveLength(1000);
    // 9.80665 N over 2 mm
    expect(fit.results[0]!.value).toBeCloseTo(4.903325, 2);
  });

  it("all at one load tell nothing, and say so", () => {
    const fit = fitBench(
      forked,
      spring([
        ["500", "60"],
        ["500", "60.5"],
        ["500", "60"],
      ]),
    );
    expect(fit.results).toEqual([]);
    expect(fit.notes.join(" ")).toContain("differ too little");
  });

  it("a spring that grows under load tells nothing, and says what was meant", () => {
    const fit = fitBench(
      forked,
      spring([
        ["0", "1"],
        ["500", "3"],
        ["1000", "5"],
      ]),
    );
    expect(fit.results).toEqual([]);
    expect(fit.notes.join(" ")).toContain("type the length that is left");
  });
});

describe("a set-up", () => {
  it("that cannot be is told and taken as usual", () => {
    const fit = fitBench(
      forked,
      typed(
        forked,
        "springPress",
        [
          ["0", "65"],
          ["500", "63"],
          ["1000", "61"],
        ],
        { count: 9, packingMm: "many", colour: "red" },
      ),
    );
    expect(fit.notes).toContain("springs pressed side by side is 9; allowed 1 to 4. 1 is taken.");
    expect(fit.notes).toContain("packing under it on the bench is many; allowed 0 to 200 mm. 2 is taken.");
    expect(fit.notes).toContain("The set-up tells of “colour”, which this test does not ask for.");
    expect(fit.results).toHaveLength(2);
  });
});

describe("a pasted sheet", () => {
  const test = { kind: "springPress" as const, units: [] };

  it.each<[string, string]>([
    ["tabs", "500\t49,5\n1000\t47,4\n"],
    ["semicolons", "500;49,5\r\n1000;47,4"],
    ["commas", "500,49.5\n1000,47.4"],
    ["quotes", '"500","49,5"\n"1000","47,4"'],
    ["blanks", "500 49,5\n1000 47,4\n\n"],
  ])("with %s between its cells", (_, text) => {
    const p = pasted(text, test);
    expect(p.rows.map((r) => r.map((c) => c.replace(",", ".")))).toEqual([
      ["500", "49.5"],
      ["1000", "47.4"],
    ]);
    expect(p.units).toEqual(["g", "mm"]);
  });

  it("with headings: units, and which column is which", () => {
    const p = pasted("Spring test of May\nNo;Length [cm];Load (kg);Remark\n1;4,95;0,5;soft\n2;4,74;1,0;\n", test);
    expect(p.units).toEqual(["kg", "cm"]);
    expect(p.rows).toEqual([
      ["0,5", "4,95", "1", "soft"],
      ["1,0", "4,74", "2"],
    ]);
    expect(p.notes).toEqual(["Left out: “Spring test of May”.", "Headings read: load in kg, length from eye to eye in cm."]);
  });

  it("with a line of units alone below the headings", () => {
    const p = pasted("Weight\tLength\nN\tmm\n5\t49\n", test);
    expect([p.units, p.rows]).toEqual([["N", "mm"], [["5", "49"]]]);
  });

  it("of words alone keeps them, each row with its reason", () => {
    const p = pasted("abc;def\nghi;jkl", test);
    expect(p.rows).toEqual([
      ["abc", "def"],
      ["ghi", "jkl"],
    ]);
    expect(readRows(forked, spring(p.rows)).map((r) => r.ok)).toEqual([false, false]);
  });

  it("of one column keeps decimal commas", () => {
    expect(pasted("0,35\n0,4\n", { kind: "pinPlay", units: [] }).rows).toEqual([["0,35"], ["0,4"]]);
  });

  it("too large tells what had no room", () => {
    const rows = Array.from({ length: 1003 }, (_, i) => `${i}\t${60 - i / 1000}`).join("\n");
    const p = pasted(`${rows}\n`, test);
    expect(p.rows).toHaveLength(1000);
    expect(p.notes).toContain("The table holds 1000 rows; 3 more had no room.");
    const wide = pasted(`1\t2\t3\t4\t5\t6\tseven\n${"x".repeat(30)}\t1`, test);
    expect(wide.rows[0]).toHaveLength(TABLE_ROOM.columns);
    expect(wide.notes.join(" ")).toMatch(/No room for a cell: “seven”.*A cell was cut to 24 letters/);
  });

  it("whatever stands in it: rows and cells keep within a file's room", () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 400 }), fc.constantFrom(...BENCH_KINDS), (text, kind) => {
        const p = pasted(text, { kind, units: [] });
        expect(p.units).toHaveLength(BENCH_TESTS[kind].columns.length);
        expect(p.rows.length).toBeLessThanOrEqual(TABLE_ROOM.rows);
        for (const row of p.rows) {
          expect(row.length).toBeLessThanOrEqual(TABLE_ROOM.columns);
          for (const c of row) expect(c.length).toBeLessThanOrEqual(TABLE_ROOM.cellLetters);
        }
      }),
      { numRuns: 300 },
    );
  });
});

describe("whatever is typed", () => {
  const cell = fc.oneof(
    fc.constantFrom("", "0", "1", "-1", "500", "1,8", "4.5 kg", "3 holes", "12 N", "5 °", "abc", "?", "1e9", "-0", "99999"),
    fc.double({ min: -1e6, max: 1e6, noNaN: true }).map((v) => String(Number(v.toPrecision(5)))),
    fc.integer({ min: 0, max: 3000 }).map(String),
    fc.string({ maxLength: 10 }),
  );
  const setting = fc.oneof(fc.double({ min: -1e6, max: 1e6, noNaN: true }), fc.integer({ min: 0, max: 300 }), fc.string({ maxLength: 8 }));

  it("a fit comes back, every row accounted for and every number finite", () => {
    const cars = [...SHIPPED.map(shipped), ...Array.from({ length: 20 }, (_, i) => cornerScenario(i + 1))];
    fc.assert(
      fc.property(
        fc.constantFrom(...cars),
        fc.constantFrom(...BENCH_KINDS),
        fc.array(fc.array(cell, { maxLength: 5 }), { maxLength: 14 }),
        fc.array(fc.tuple(fc.nat({ max: 9 }), setting), { maxLength: 4 }),
        fc.constantFrom("both" as const, "left" as const, "right" as const),
        (s, kind, rows, settings, side) => {
          const keys = BENCH_TESTS[kind].settings;
          const setUp = Object.fromEntries(settings.map(([i, v]) => [keys[i % keys.length]!.key, v]));
          const fit = fitBench(s, { kind, date: null, note: "", side, setUp, units: [], rows });
          expect(fit.rows).toHaveLength(rows.length);
          for (const r of fit.results) for (const v of [r.value, r.sd, ...r.range95]) expect(Number.isFinite(v)).toBe(true);
          for (const row of fit.rows) if (row.ok === true) for (const v of [row.x, row.y, row.fitted]) expect(Number.isFinite(v)).toBe(true);
          for (const r of fit.results) expect(r.range95[0]).toBeLessThanOrEqual(r.range95[1]);
          if (fit.results.length === 0) expect(fit.advice !== null || fit.notes.length > 0).toBe(true);
        },
      ),
      { numRuns: 600 },
    );
  });
});
