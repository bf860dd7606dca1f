import { describe, expect, it } from "vitest";
import {
  cellAt,
  cellFault,
  filledRows,
  shownColumns,
  shownRows,
  stepFrom,
  tableFault,
  withCell,
  withoutRow,
  withPasted,
  withRow,
  withRowsAt,
} from "../../../src/pages/bench/state/table.ts";
import { CAPS } from "../../../src/scenario/caps.ts";

const TWO = [
  ["0", "0"],
  ["100", "0,5"],
];

describe("cells as they are typed", () => {
  it("are kept letter by letter, blanks too", () => {
    expect(withCell(TWO, { row: 1, column: 1 }, " 0,50 mm ", 2)).toEqual([
      ["0", "0"],
      ["100", " 0,50 mm "],
    ]);
  });

  it("below the end bring the rows between with them", () => {
    expect(withCell(TWO, { row: 3, column: 0 }, "200", 2)).toEqual([...TWO, ["", ""], ["200", ""]]);
  });

  it("that are emptied take the empty rows at the end away, and those between stay", () => {
    const rows = withCell(TWO, { row: 3, column: 0 }, "200", 2);
    expect(withCell(rows, { row: 3, column: 0 }, "", 2)).toEqual(TWO);
    expect(withCell(rows, { row: 0, column: 0 }, "", 2)[0]).toEqual(["", "0"]);
    expect(withCell(withCell(rows, { row: 0, column: 0 }, "", 2), { row: 0, column: 1 }, "", 2)).toHaveLength(4);
  });

  it("leave the table that they are put into as it was", () => {
    const before = JSON.stringify(TWO);
    withCell(TWO, { row: 0, column: 0 }, "9", 2);
    withRow(TWO, 0, 2);
    withRowsAt(TWO, { row: 0, column: 0 }, [["7"]], 2);
    expect(JSON.stringify(TWO)).toBe(before);
  });

  it("that are nowhere read as empty", () => {
    expect(cellAt(TWO, { row: 7, column: 0 })).toBe("");
    expect(cellAt(TWO, { row: 0, column: 5 })).toBe("");
  });

  it("hold up to the cap, and say how many letters are too many", () => {
    expect(cellFault("x".repeat(CAPS.cellLetters))).toBeNull();
    expect(cellFault("x".repeat(31))).toBe("not kept: it has 31 letters, a cell holds up to 24");
  });
});

describe("rows", () => {
  it("are put between others and taken out again", () => {
    const more = withRow(TWO, 1, 2);
    expect(more).toEqual([
      ["0", "0"],
      ["", ""],
      ["100", "0,5"],
    ]);
    expect(withoutRow(more, 1)).toEqual(TWO);
    expect(withRow(TWO, 2, 2)).toEqual(TWO);
  });

  it("may be put in below the end once something stands there", () => {
    expect(withRowsAt([], { row: 2, column: 1 }, [["7"]], 2)).toEqual([
      ["", ""],
      ["", ""],
      ["", "7"],
    ]);
    expect(withCell(withRow(TWO, 4, 2), { row: 5, column: 0 }, "1", 2)).toHaveLength(6);
    expect(withCell([["a"]], { row: 1, column: 0 }, "b", 2)).toEqual([["a"], ["b", ""]]);
  });

  it("are counted without the empty ones", () => {
    expect(filledRows([["1"], ["", " "], ["2"]])).toBe(2);
  });

  it("are shown with one to go on in, and no more than are kept", () => {
    expect(shownRows(TWO, 6)).toBe(6);
    expect(
      shownRows(
        Array.from({ length: 6 }, () => ["1"]),
        6,
      ),
    ).toBe(7);
    expect(
      shownRows(
        Array.from({ length: CAPS.benchRows }, () => ["1"]),
        6,
      ),
    ).toBe(CAPS.benchRows);
  });
});

describe("from cell to cell", () => {
  it.each([
    ["down", { row: 0, column: 1 }, { row: 1, column: 1 }],
    ["down", { row: 2, column: 1 }, null],
    ["up", { row: 0, column: 0 }, null],
    ["right", { row: 0, column: 0 }, { row: 0, column: 1 }],
    ["right", { row: 0, column: 1 }, { row: 1, column: 0 }],
    ["right", { row: 2, column: 1 }, null],
    ["left", { row: 1, column: 0 }, { row: 0, column: 1 }],
    ["left", { row: 0, column: 0 }, null],
  ] as const)("%s from %j", (way, from, to) => {
    expect(stepFrom(way, from, 3, 2)).toEqual(to);
  });
});

describe("a pasted table", () => {
  const g = ["g", "mm"];
  it("begins at the cell in hand, and lies over what was there", () => {
    const next = withPasted({ rows: TWO, units: g }, { row: 1, column: 1 }, { units: g, rows: [["7"], ["8"]] }, false, 2);
    expect(next).toEqual({
      rows: [
        ["0", "0"],
        ["100", "7"],
        ["", "8"],
      ],
      units: g,
    });
  });

  it("that is as wide as the table, or has headings, begins at the first column", () => {
    const whole = withPasted({ rows: [], units: g }, { row: 0, column: 1 }, { units: g, rows: [["1", "2"]] }, false, 2);
    expect(whole.rows).toEqual([["1", "2"]]);
    const headed = withPasted({ rows: [], units: g }, { row: 0, column: 1 }, { units: ["kg", "mm"], rows: [["1"]] }, true, 2);
    expect(headed).toEqual({ rows: [["1", ""]], units: ["kg", "mm"] });
  });

  it("brings its units along where nothing else was typed; else each number carries its own", () => {
    const told = {
      units: ["kg", "mm"],
      rows: [
        ["0.2", "1"],
        ["x", ""],
      ],
    };
    expect(withPasted({ rows: TWO, units: g }, { row: 0, column: 0 }, told, true, 2).units).toEqual(["kg", "mm"]);
    const beside = withPasted({ rows: TWO, units: g }, { row: 2, column: 0 }, told, true, 2);
    expect(beside).toEqual({ rows: [...TWO, ["0.2 kg", "1"], ["x", ""]], units: g });
    // a row that stays may stand right below
    const above = withPasted({ rows: [["", ""], ...TWO], units: g }, { row: 0, column: 0 }, { units: ["kg", "mm"], rows: [["1", "2"]] }, true, 2);
    expect(above).toEqual({ rows: [["1 kg", "2"], ...TWO], units: g });
    const over = withPasted({ rows: [...TWO, ["", ""], ["  "]], units: g }, { row: 0, column: 0 }, told, true, 2);
    expect(over.units).toEqual(["kg", "mm"]);
  });

  it("with an empty cell at the end of a row empties what was there", () => {
    const next = withPasted({ rows: TWO, units: g }, { row: 0, column: 0 }, { units: g, rows: [["1"], ["2", "3"]] }, false, 2);
    expect(next.rows).toEqual([
      ["1", ""],
      ["2", "3"],
    ]);
  });

  it("keeps what stands behind the columns, which is shown", () => {
    const next = withPasted({ rows: [], units: g }, { row: 0, column: 0 }, { units: g, rows: [["1", "2", "slipped"]] }, false, 2);
    expect(next.rows).toEqual([["1", "2", "slipped"]]);
    expect(shownColumns(next.rows, 2)).toBe(3);
  });
});

describe("what is too much for a table", () => {
  it.each([
    ["rows", Array.from({ length: 1001 }, () => ["1"]), [], "The table would have 1001 rows; allowed are up to 1000."],
    ["columns", [["1", "2", "3", "4", "5", "6", "7"]], [], "Row 1 would have 7 columns; allowed are up to 6."],
    ["letters", [["1"], ["2", "a".repeat(30)]], [], `Row 2, column 2 would have 30 letters (“${"a".repeat(24)}…”); allowed are up to 24.`],
    [
      "cells of all tables",
      Array.from({ length: 1000 }, () => ["1", "2"]),
      Array.from({ length: 7 }, () => Array.from({ length: 1000 }, () => ["1"])),
      "All tables together would have 9000 cells; allowed are up to 8000.",
    ],
  ])("%s: one sentence with what is allowed", (_, rows, others, words) => {
    expect(tableFault(rows, others)).toBe(words);
  });

  it("is not what just fits", () => {
    expect(
      tableFault(
        Array.from({ length: 1000 }, () => ["a".repeat(24), "2", "3", "4", "5", "6"]),
        [],
      ),
    ).toBeNull();
  });
});
