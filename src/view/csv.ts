import { csvFormatRows } from "d3-dsv";

/** A number, a text, or nothing known (null). */
type Cell = number | string | null;

export interface Table {
  head: readonly string[];
  rows: readonly (readonly Cell[])[];
}

/** More than any of the numbers is worth, and few enough that no rounding noise is written. */
const FIGURES = 7;
/** What a table program takes for the start of a formula when it opens the file. */
const FORMULA = /^[=+\-@\t\r]/;

function written(cell: Cell): string {
  // what is endless has no number: an empty field, as other programs expect
  if (typeof cell === "number") return Number.isFinite(cell) ? String(Number(cell.toPrecision(FIGURES))) : "";
  // a leading quote is what table programs themselves use for "this is text"
  return cell === null ? "" : FORMULA.test(cell) ? `'${cell}` : cell;
}

/**
 * A table with commas, a line each for the head and every row, decimal points, seven figures. Fields with commas, quotes or line ends stand in double
 * quotes (RFC 4180; lines end in a bare line feed, as programs of the command line expect). Numbers stay numbers whatever their sign; a text that a table
 * program would run as a formula stays text.
 */
export function csvText(table: Table): string {
  return `${csvFormatRows([table.head, ...table.rows].map((row) => row.map(written)))}\n`;
}
