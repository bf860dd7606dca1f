import { CAPS } from "../../../scenario/caps.ts";

/** The table of a bench test as it was typed: rows of cells. Rows at its end that hold nothing are not kept. */
export type Rows = readonly (readonly string[])[];

export interface Place {
  row: number;
  column: number;
}

const isBlank = (row: readonly string[] | undefined): boolean => !row?.some((cell) => cell.trim() !== "");

export const cellAt = (rows: Rows, { row, column }: Place): string => rows[row]?.[column] ?? "";

/** Rows that hold something. */
export const filledRows = (rows: Rows): number => rows.filter((r) => !isBlank(r)).length;

const whole = (row: readonly string[] | undefined, columns: number): string[] =>
  Array.from({ length: Math.max(columns, row?.length ?? 0) }, (_, c) => row?.[c] ?? "");

/** Blanks within a cell are kept as typed; a row of nothing but such is none at the end of the table. */
function trimmed(rows: readonly (readonly string[])[]): string[][] {
  let end = rows.length;
  while (end > 0 && isBlank(rows[end - 1])) end--;
  return rows.slice(0, end).map((r) => [...r]);
}

/** The table with another text in one cell, which may lie below its end. */
export function withCell(rows: Rows, { row, column }: Place, text: string, columns: number): string[][] {
  const out = Array.from({ length: Math.max(rows.length, row + 1) }, (_, r) => (r === row ? whole(rows[r], columns) : [...(rows[r] ?? whole([], columns))]));
  out[row]![column] = text;
  return trimmed(out);
}

/** The table with an empty row before the one that stood at this place. */
export function withRow(rows: Rows, at: number, columns: number): string[][] {
  const out = rows.map((r) => [...r]);
  while (out.length < at) out.push(whole([], columns));
  out.splice(at, 0, whole([], columns));
  return trimmed(out);
}

export const withoutRow = (rows: Rows, at: number): string[][] => trimmed(rows.filter((_, r) => r !== at));

/** The table with others' rows laid over it from a place on. */
export function withRowsAt(rows: Rows, at: Place, over: Rows, columns: number): string[][] {
  const out = rows.map((r) => [...r]);
  while (out.length < at.row + over.length) out.push(whole([], columns));
  over.forEach((line, i) => {
    const row = whole(out[at.row + i], columns);
    line.forEach((cell, c) => {
      row[at.column + c] = cell;
    });
    out[at.row + i] = row;
  });
  return trimmed(out);
}

/** Where a key leads from a cell; null: it stays within its cell, or leaves the table. The row below the last is there to go on in. */
export function stepFrom(key: "up" | "down" | "left" | "right", from: Place, rows: number, columns: number): Place | null {
  const row = from.row + (key === "down" ? 1 : key === "up" ? -1 : 0);
  const column = from.column + (key === "right" ? 1 : key === "left" ? -1 : 0);
  if (column < 0) return row > 0 ? { row: row - 1, column: columns - 1 } : null;
  if (column >= columns) return row + 1 < rows ? { row: row + 1, column: 0 } : null;
  return row >= 0 && row < rows ? { row, column } : null;
}

/** Rows to show: those that are kept, one to go on in, and as many empty ones as the test asks for. */
export const shownRows = (rows: Rows, least: number): number => Math.min(CAPS.benchRows, Math.max(rows.length + 1, least));

/** Why a text does not go into a cell, in a sentence; null when it does. */
export function cellFault(text: string): string | null {
  return text.length > CAPS.cellLetters ? `not kept: it has ${text.length} letters, a cell holds up to ${CAPS.cellLetters}` : null;
}

const cells = (rows: Rows): number => rows.reduce((n, r) => n + Math.max(1, r.length), 0);

/** Columns to show: those of the test, and what was pasted behind them. */
export const shownColumns = (rows: Rows, columns: number): number => Math.max(columns, ...rows.map((r) => r.length));

/** What the text of a table holds, as the core reads it. */
interface PastedTable {
  units: readonly string[];
  rows: Rows;
}

/**
 * The table with a pasted one laid over it. One with headings, or as wide as the table, begins at the first column, all others at the cell in
 * hand. Its units become the table's; where rows stay that were typed in others, they go along with each number instead.
 */
export function withPasted(
  { rows, units }: { rows: Rows; units: readonly string[] },
  at: Place,
  { rows: over, units: told }: PastedTable,
  headed: boolean,
  columns: number,
): { rows: string[][]; units: string[] } {
  const from = { row: at.row, column: headed || shownColumns(over, 0) >= columns ? 0 : at.column };
  // an empty cell at the end of a pasted row takes the place of what was there
  const wide = shownColumns(over, 0);
  const square = over.map((r) => whole(r, wide));
  const stay = rows.some((r, i) => !isBlank(r) && (i < from.row || i >= from.row + over.length));
  const other = units.map((u, c) => (told[c] !== undefined && told[c] !== u ? told[c] : null));
  if (!stay) return { rows: withRowsAt(rows, from, square, columns), units: units.map((u, c) => other[c] ?? u) };
  const withUnits = square.map((r) => r.map((cell, c) => (other[c] && /\d\s*$/.test(cell) ? `${cell} ${other[c]}` : cell)));
  return { rows: withRowsAt(rows, from, withUnits, columns), units: [...units] };
}

/**
 * Why a table is not taken, in one sentence that names what is too much and what is allowed; null when it is.
 * @param others the tables of the other tests, which share the room for cells
 */
export function tableFault(rows: Rows, others: readonly Rows[]): string | null {
  if (rows.length > CAPS.benchRows) return `The table would have ${rows.length} rows; allowed are up to ${CAPS.benchRows}.`;
  const wide = rows.findIndex((r) => r.length > CAPS.benchColumns);
  if (wide >= 0) return `Row ${wide + 1} would have ${rows[wide]!.length} columns; allowed are up to ${CAPS.benchColumns}.`;
  for (const [r, row] of rows.entries()) {
    const c = row.findIndex((cell) => cell.length > CAPS.cellLetters);
    if (c >= 0)
      return `Row ${r + 1}, column ${c + 1} would have ${row[c]!.length} letters (“${row[c]!.slice(0, CAPS.cellLetters)}…”); allowed are up to ${CAPS.cellLetters}.`;
  }
  const all = cells(rows) + others.reduce((n, t) => n + cells(t), 0);
  return all > CAPS.benchCells ? `All tables together would have ${all} cells; allowed are up to ${CAPS.benchCells}.` : null;
}
