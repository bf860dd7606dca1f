import { type BenchTest, TABLE_ROOM } from "../design/tried.ts";
import type { Scenario } from "../design/types.ts";
import { readQuantity, unitSize } from "../quantity.ts";
import { DEG } from "../units.ts";
import { BENCH_TESTS, type BenchColumn } from "./definitions.ts";
import { numberOf } from "./set-up.ts";
import { sheetCells } from "./sheet.ts";

/** What is read of a row of the table; `ok: null`: nothing stands in it. */
export type ReadRow =
  | {
      ok: true;
      /** one for each column, in N, kg, mm, ° or rpm; NaN for a cell that may be empty and is */
      values: number[];
    }
  | { ok: false; reason: string }
  | { ok: null };

/** Units that the core reckons in, by kind of column. */
const CORE_UNIT: Readonly<Record<BenchColumn["quantity"], string>> = { force: "N", mass: "kg", length: "mm", angle: "°", tilt: "°", turning: "rpm" };
const KIND: Readonly<Record<BenchColumn["quantity"], string>> = {
  force: "force",
  mass: "mass",
  length: "length",
  angle: "angle",
  tilt: "angle",
  turning: "turning",
};

/** What nobody can have read at a bench, in the core's units. */
const MOST: Readonly<Record<BenchColumn["quantity"], number>> = { force: 1e5, mass: 1000, length: 1e4, angle: 90, tilt: 60, turning: 1e6 };

/** A load of the first column as the builder would type it, two figures of it: "2000 g". */
export function loadWords(s: Scenario, test: BenchTest, load: number): string {
  const { quantity, units } = BENCH_TESTS[test.kind].columns[0]!;
  const size = (unit: string): number | null => unitSize(unit, CORE_UNIT[quantity], KIND[quantity], s.holePitchMm);
  const told = (test.units[0] ?? "").trim();
  const unit = told === "" || size(told) === null ? units[0]! : told;
  return `${Number((load / size(unit)!).toPrecision(2))}\u2009${unit}`;
}

/** Reads every row of a test's table; what cannot be read is told and stays. */
export function readRows(s: Scenario, test: BenchTest): ReadRow[] {
  const columns = BENCH_TESTS[test.kind].columns.map((column, i) => ({ column, read: cellReader(s, test, column, test.units[i] ?? "") }));
  return test.rows.map((row) => readRow(columns, row));
}

/** A cell in the core's unit, or what is wrong with it. */
type CellReader = (text: string) => number | string;

function readRow(columns: readonly { column: BenchColumn; read: CellReader }[], row: readonly string[]): ReadRow {
  const cells = row.map((c) => c.trim());
  if (cells.every((c) => c === "")) return { ok: null };
  const values: number[] = [];
  for (const [i, { column, read }] of columns.entries()) {
    const text = cells[i] ?? "";
    if (text === "" && !column.mayBeEmpty) return { ok: false, reason: `${column.words}: nothing stands there` };
    const value = text === "" ? Number.NaN : read(text);
    if (typeof value === "string") return { ok: false, reason: `${column.words}: ${value}` };
    values.push(value);
  }
  if (values.every(Number.isNaN)) return { ok: false, reason: `nothing stands in ${columns.map((c) => `“${c.column.words}”`).join(" or ")}` };
  // words behind the last column are remarks; a number there means that the columns are others than was thought
  const extra = cells.slice(columns.length).find((c) => readQuantity(c.split(/\s/)[0]!, "").ok);
  if (extra !== undefined)
    return { ok: false, reason: `“${extra.slice(0, 12)}” is a number too many: ${columns.length === 1 ? "one is" : `${columns.length} are`} read` };
  return { ok: true, values };
}

function cellReader(s: Scenario, test: BenchTest, column: BenchColumn, told: string): CellReader {
  const unit = told.trim() === "" ? column.units[0]! : told.trim();
  const { quantity } = column;
  const pitch = s.holePitchMm;
  const byLength = quantity === "tilt" && unitSize(unit, "mm", "length", pitch) !== null;
  const kind = byLength ? "length" : KIND[quantity];
  const size = unitSize(unit, byLength ? "mm" : CORE_UNIT[quantity], kind, pitch);
  if (size === null) return () => `“${unit.slice(0, 12)}” is no unit of it; ${column.units.join(", ")}`;
  const tilt = (value: number, inLength: boolean): number => (inLength ? Math.atan2(value, numberOf(s, test, "readAtMm")) / DEG : value);
  return (text) => {
    const read = readQuantity(text, unit, kind, pitch);
    // the other way of reading a tilt, told by the cell's own unit
    const other = read.ok || quantity !== "tilt" ? null : byLength ? readQuantity(text, "°", "angle") : readQuantity(text, "mm", "length", pitch);
    if (!read.ok && !other?.ok) return read.message;
    const value = other?.ok ? tilt(other.value, !byLength) : tilt((read as { value: number }).value * size, byLength);
    if (Math.abs(value) > MOST[quantity]) return tooFar(text);
    if (value < 0 && column.signs === "positive") return `“${text.slice(0, 12)}” is below 0`;
    return value;
  };
}

const tooFar = (text: string): string => `“${text.slice(0, 12)}” is more than can be meant`;

/** A table as it was pasted: units, rows, and what was made of it. */
export interface Pasted {
  units: string[];
  rows: string[][];
  notes: string[];
}

/**
 * A table from a text with tabs, semicolons, commas or blanks between its cells, as a spreadsheet gives it. Lines before the first number
 * are headings: they tell units and which column is which. What has no column stays behind the columns; what has no room is told.
 */
export function pasted(text: string, test: Pick<BenchTest, "kind" | "units">): Pasted {
  const { columns } = BENCH_TESTS[test.kind];
  const notes: string[] = [];
  const cells = sheetCells(text, columns.length);
  const first = cells.findIndex((row) => row.some(isNumber));
  const above = cells.slice(0, Math.max(0, first)).filter((row) => row.some((c) => c !== ""));
  const units = columns.map((c, i) => test.units[i] || c.units[0]!);
  let order = columns.map((_, i) => i);
  for (const row of above) {
    const read = headings(row, columns);
    if (read === null) {
      notes.push(
        `Left out: “${row
          .filter((c) => c !== "")
          .join(" ")
          .slice(0, 60)}”.`,
      );
      continue;
    }
    if (read.named) order = read.order;
    order.forEach((at, i) => {
      const unit = read.units[at];
      if (unit) units[i] = unit;
    });
    notes.push(`Headings read: ${columns.map((c, i) => `${c.words} in ${units[i]}`).join(", ")}.`);
  }
  const rest = (row: readonly string[]): string[] => row.filter((_, i) => !order.includes(i));
  const rows = cells.slice(Math.max(0, first)).map((row) => cut([...order.map((i) => row[i] ?? ""), ...rest(row)], notes));
  if (rows.length > TABLE_ROOM.rows) notes.push(`The table holds ${TABLE_ROOM.rows} rows; ${rows.length - TABLE_ROOM.rows} more had no room.`);
  return { units, rows: rows.slice(0, TABLE_ROOM.rows), notes: notes.slice(0, MOST_NOTES) };
}

const MOST_NOTES = 10;

const isNumber = (cell: string): boolean => /^[-+\u2212]?\s*[.,]?\d/.test(cell);

/** A row with room for its cells; what is cut off is told. */
function cut(row: readonly string[], notes: string[]): string[] {
  const last = row.findLastIndex((c) => c !== "");
  const kept = row.slice(0, Math.min(last + 1, TABLE_ROOM.columns));
  for (const gone of row.slice(TABLE_ROOM.columns, last + 1)) if (gone !== "") notes.push(`No room for a cell: “${gone.slice(0, 40)}”.`);
  return kept.map((c) => {
    if (c.length <= TABLE_ROOM.cellLetters) return c;
    notes.push(`A cell was cut to ${TABLE_ROOM.cellLetters} letters: “${c.slice(0, 60)}”.`);
    return c.slice(0, TABLE_ROOM.cellLetters);
  });
}

/** Which place of a heading each column has, and the units by place; null: nothing of it is known. */
function headings(row: readonly string[], columns: readonly BenchColumn[]): { order: number[]; named: boolean; units: (string | null)[] } | null {
  const words = (text: string): string[] => text.toLowerCase().match(/\p{L}{3,}/gu) ?? [];
  const taken = new Set<number>();
  const places = columns.map((c) => {
    const known = [c.key.toLowerCase(), ...words(c.words.split(",")[0]!), ...OTHER_WORDS[c.quantity]];
    // the place with the most words in common
    const scores = row.map((cell, i) => (taken.has(i) ? 0 : words(cell).filter((w) => known.includes(w)).length));
    const best = Math.max(0, ...scores);
    if (best === 0) return null;
    const at = scores.indexOf(best);
    taken.add(at);
    return at;
  });
  const named = places.every((p) => p !== null);
  const order = named ? (places as number[]) : columns.map((_, i) => i);
  const units = row.map((cell, i) => {
    const column = columns[order.indexOf(i)];
    return column ? unitIn(cell, column) : null;
  });
  return named || units.some((u) => u !== null) ? { order, named, units } : null;
}

/** What else people call what is read. */
const OTHER_WORDS: Readonly<Record<BenchColumn["quantity"], readonly string[]>> = {
  force: ["weight", "force", "mass", "scale", "load", "pull"],
  mass: ["weight", "mass", "scale"],
  length: ["length", "ruler", "way", "travel", "distance", "sag", "shift"],
  angle: ["angle", "tilt", "lean", "degrees"],
  tilt: ["angle", "tilt", "lean", "degrees"],
  turning: ["speed", "turns", "revolutions"],
};

/** A unit of the column that stands in a heading: alone, in brackets, or as its last word. */
function unitIn(heading: string, column: BenchColumn): string | null {
  const known = (text: string): string | null =>
    column.units.find((u) => u.toLowerCase() === text.toLowerCase()) ?? (column.quantity === "tilt" || column.quantity === "angle" ? degreeWord(text) : null);
  const inside = /[([{]\s*([^)\]}]+?)\s*[)\]}]/.exec(heading)?.[1];
  const last =
    heading
      .trim()
      .split(/[\s,/]+/)
      .at(-1) ?? "";
  return (inside === undefined ? null : known(inside)) ?? known(heading.trim()) ?? known(last);
}

const degreeWord = (text: string): string | null => (/^deg(rees?)?\.?$/i.test(text) ? "°" : null);
