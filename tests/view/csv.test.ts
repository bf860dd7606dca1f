import { describe, expect, it } from "vitest";
import { csvText } from "../../src/view/csv.ts";

/** The lines of a table with commas as fields: the grammar of RFC 4180, section 2, written out by hand. */
function read(text: string): string[][] {
  const rows: string[][] = [[""]];
  let quoted = false;
  for (let i = 0; i < text.length; i++) {
    const c = text[i]!;
    const row = rows.at(-1)!;
    if (quoted && c === '"' && text[i + 1] === '"') row[row.length - 1] += text[i++]!;
    else if (c === '"') quoted = !quoted;
    else if (!quoted && c === ",") row.push("");
    else if (!quoted && c === "\n") rows.push([""]);
    else row[row.length - 1] += c;
  }
  return rows;
}

describe("a table with commas", () => {
  it("has a line for the head and each row, numbers with seven figures and decimal points", () => {
    const text = csvText({
      head: ["timeS", "a (mm)"],
      rows: [
        [0.1 + 0.2, -1234567.89],
        [1e-9, 0],
      ],
    });
    // 0.1 + 0.2 is 0.30000000000000004 in double precision; -1234567.89 rounds to -1234568
    expect(text).toBe("timeS,a (mm)\n0.3,-1234568\n1e-9,0\n");
  });

  it("leaves fields empty for what is unknown or endless", () => {
    expect(csvText({ head: ["a", "b", "c"], rows: [[null, Number.POSITIVE_INFINITY, Number.NaN]] })).toBe("a,b,c\n,,\n");
  });

  it("is read back by the standard's grammar, whatever the texts hold", () => {
    const rows = [["a,b", 'say "so"', "two\nlines", ""]];
    expect(read(csvText({ head: ["p", "q", "r", "s"], rows }))).toEqual([["p", "q", "r", "s"], ...rows, [""]]);
  });

  // = + - @, tab, carriage return: the list of OWASP's page on CSV injection (from memory)
  it.each(["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1"])("keeps the text %j text, and negative numbers numbers", (text) => {
    const [, row] = read(csvText({ head: ["text", "number"], rows: [[text, -1]] }));
    expect(row).toEqual([`'${text}`, "-1"]);
  });

  it("guards the head as well", () => {
    expect(csvText({ head: ["=A1"], rows: [] })).toBe("'=A1\n");
  });
});
