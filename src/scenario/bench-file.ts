import { z } from "zod";
import { BENCH_TESTS, newBenchTest } from "../core/bench/definitions.ts";
import { pasted } from "../core/bench/rows.ts";
import { isPlain } from "../core/design/plain.ts";
import { BENCH_KINDS, type BenchKind, type BenchTest } from "../core/design/tried.ts";
import type { Scenario, Side } from "../core/design/types.ts";
import { benchTestSchema } from "./bench.ts";
import { CAPS } from "./caps.ts";
import { isDay } from "./check-origins.ts";
import { type Parsed, readAs, readJson, type ScenarioProblem } from "./parse.ts";
import { nearest, quoted, shownName, shownText } from "./words.ts";

/**
 * A bench test in a file of its own. JSON: as a scenario keeps it, with `"format": "wheelstay-bench-test"`; numbers may stand in its rows.
 * Anything else is a table (CSV), with lines '# kind: springPress', '# date: 2026-11-26', '# packingMm: 3' before it.
 */

const FORMAT = "wheelstay-bench-test";
const fileSchema = z.strictObject({ format: z.literal(FORMAT), ...benchTestSchema.shape });

/** A test that was read, what is not told being as usual for the design, and what was made of its table. */
export interface ReadBenchTest {
  test: BenchTest;
  notes: string[];
}

/** Reads a bench test. @param kind what it is, where the file does not tell; nothing is thrown */
export function readBenchTest(text: string, fileName: string, s: Scenario, kind?: BenchKind): Parsed<ReadBenchTest> {
  return text.trimStart().startsWith("{") || /\.json$/i.test(fileName) ? readObject(text, fileName, s) : readTable(text, fileName, s, kind);
}

function readObject(text: string, fileName: string, s: Scenario): Parsed<ReadBenchTest> {
  const data = readJson(text, shownName(fileName));
  if (!data.ok) return data;
  const given = data.value;
  if (isPlain(given) && given["format"] === "wheelstay-scenario")
    return fault(fileName, "format", given["format"], `${quoted(FORMAT)}: this is a scenario; the test comes first, the scenario after it`);
  const read = readAs(fileSchema, isPlain(given) ? { ...given, rows: asTyped(given["rows"]) } : given, fileName);
  if (!read.ok) return read;
  const { format: _, ...test } = read.value;
  if (test.date !== null && !isDay(test.date)) return fault(fileName, "date", test.date, "a day as 2026-11-26");
  const usual = newBenchTest(s, test.kind, test.side);
  // an arm's lengths hang on which arm it is
  const setUp = Object.fromEntries(BENCH_TESTS[test.kind].settings.map((o) => [o.key, test.setUp[o.key] ?? o.usual(s, test.side, test.setUp)]));
  return {
    ok: true,
    value: { test: { ...test, setUp: { ...setUp, ...test.setUp }, units: usual.units.map((u, i) => test.units[i] ?? u) }, notes: [] },
  };
}

/** Numbers in a table as they would be typed. */
const asTyped = (rows: unknown): unknown =>
  Array.isArray(rows) ? rows.map((row: unknown) => (Array.isArray(row) ? row.map((c: unknown) => (typeof c === "number" ? String(c) : c)) : row)) : rows;

function readTable(text: string, fileName: string, s: Scenario, kind: BenchKind | undefined): Parsed<ReadBenchTest> {
  const told: Record<string, string> = {};
  const lines = text.replace(/^\uFEFF/, "").split(/\r\n|\r|\n/);
  const table = lines.filter((line) => {
    const found = /^\s*"?#\s*([\w$]+)\s*[:=]\s*(.*?)[\s;,"]*$/.exec(line);
    if (found) told[found[1]!] = found[2]!;
    return !/^\s*"?#/.test(line);
  });
  if (kind !== undefined && told["kind"] !== undefined && told["kind"] !== kind)
    return fault(fileName, "kind", told["kind"], `${kind}, the kind that was asked for; leave --kind away, or put the table's own right`);
  const named = kind ?? told["kind"];
  if (named === undefined)
    return fault(fileName, "kind", undefined, `the kind of test, in a line '# kind: springPress' or by --kind: ${BENCH_KINDS.join(", ")}`);
  const of = BENCH_KINDS.find((k) => k === named);
  if (of === undefined) {
    const near = nearest(named, BENCH_KINDS);
    return fault(fileName, "kind", named, near === undefined ? `one of ${BENCH_KINDS.join(", ")}` : `the nearest one is ${near}`);
  }
  if (told["date"] !== undefined && !isDay(told["date"])) return fault(fileName, "date", told["date"], "a day as 2026-11-26");
  const side = told["side"] ?? "both";
  if (!isSide(side)) return fault(fileName, "side", side, "one of left, right, both");
  const setUp: BenchTest["setUp"] = {};
  for (const [key, value] of Object.entries(told)) {
    if (["kind", "date", "side", "note"].includes(key)) continue;
    const setting = BENCH_TESTS[of].settings.find((o) => o.key === key);
    if (!setting) {
      const keys = BENCH_TESTS[of].settings.map((o) => o.key);
      return fault(fileName, shownText(key), value, `one of kind, date, side, note, ${keys.join(", ")}`);
    }
    const number = Number(value.replace(",", "."));
    setUp[key] = setting.options ? value : number;
    const fits = setting.options ? Object.hasOwn(setting.options, value) : number >= (setting.min ?? -Infinity) && number <= (setting.max ?? Infinity);
    if (!fits)
      return fault(
        fileName,
        key,
        value,
        setting.options ? `one of ${Object.keys(setting.options).join(", ")}` : `${setting.min} to ${setting.max} ${setting.unit}`.trimEnd(),
      );
  }
  const settings = BENCH_TESTS[of].settings.map((o) => [o.key, setUp[o.key] ?? o.usual(s, side, setUp)] as const);
  const { units, rows, notes } = pasted(table.join("\n"), { kind: of, units: [] });
  const note = (told["note"] ?? "").slice(0, MOST_NOTE);
  return { ok: true, value: { test: { kind: of, date: told["date"] ?? null, note, side, setUp: Object.fromEntries(settings), units, rows }, notes } };
}

const MOST_NOTE = CAPS.noteLetters;

const isSide = (text: string): text is Side | "both" => text === "left" || text === "right" || text === "both";

function fault(fileName: string, path: string, value: unknown, allowed: string): { ok: false; problems: ScenarioProblem[]; more: number } {
  const file = shownName(fileName);
  const is = value === undefined ? "is missing" : `is ${quoted(String(value))}`;
  return { ok: false, problems: [{ file, path, value, allowed, message: `${file}: ${path} ${is}; allowed ${allowed}.` }], more: 0 };
}
