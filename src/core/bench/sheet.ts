/** Cells of a text that was copied from a spreadsheet or written by hand. */

type Mark = "\t" | ";" | "," | " ";

/** Marks outside of quotes. */
function count(line: string, mark: Mark): number {
  let n = 0;
  let quoted = false;
  for (const letter of line) {
    if (letter === '"') quoted = !quoted;
    else if (letter === mark && !quoted) n++;
  }
  return n;
}

/**
 * What stands between the cells: tabs or semicolons wherever there are any. Else blanks, where most lines are so many numbers; else commas,
 * where most lines hold as many as lie between `columns` cells, or more; else nothing: the commas are decimal ones.
 */
function markOf(lines: readonly string[], columns: number): Mark | null {
  for (const mark of ["\t", ";"] as const) if (lines.some((l) => count(l, mark) > 0)) return mark;
  const share = (fits: (l: string) => boolean): boolean => lines.filter(fits).length > lines.length / 2;
  // "12,5 30,1" and "12.5, 30.1": as many numbers with blanks between them as there are columns
  const numbers = (l: string): boolean => {
    const words = l.trim().split(/,?\s+/);
    return words.length === columns && words.every((w) => /^[-+\u2212]?[.,]?\d/.test(w));
  };
  if (columns > 1 && share(numbers)) return " ";
  if (columns > 1 && share((l) => count(l, ",") === columns - 1)) return ",";
  return columns > 1 && share((l) => count(l, ",") >= columns) ? "," : null;
}

function splitLine(line: string, mark: Mark | null): string[] {
  if (mark === null) return [unquoted(line.trim())];
  if (mark === " ") return line.trim().split(/,?\s+/).map(unquoted);
  const cells: string[] = [];
  let cell = "";
  let quoted = false;
  for (const letter of line) {
    if (letter === '"') quoted = !quoted;
    if (letter === mark && !quoted) {
      cells.push(cell);
      cell = "";
    } else cell += letter;
  }
  return [...cells, cell].map((c) => unquoted(c.trim()));
}

/** Text in double quotes without them (RFC 4180: a quote inside stands twice). */
const unquoted = (cell: string): string => (/^".*"$/s.test(cell) ? cell.slice(1, -1).replace(/""/g, '"').trim() : cell);

/** The cells of a text, line by line; empty lines at its end are no rows. */
export function sheetCells(text: string, columns: number): string[][] {
  const lines = text
    .replace(/^\uFEFF/, "")
    .split(/\r\n|\r|\n/)
    .map((l) => l.replace(/[\u00a0\u202f]/g, " "));
  while (lines.length > 0 && lines.at(-1)!.trim() === "") lines.pop();
  const mark = markOf(
    lines.filter((l) => l.trim() !== ""),
    columns,
  );
  return lines.map((l) => (l.trim() === "" ? [] : splitLine(l, mark)));
}
