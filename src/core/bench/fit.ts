import { namedOrigins, ownMaterial } from "../arm/own-material.ts";
import { BENCH_WORDS } from "../design/bench-words.ts";
import { editSides } from "../design/edit-corners.ts";
import { splitPath, valueAt, withValueAt } from "../design/field-path.ts";
import { keptOrigins, withOrigins } from "../design/origins.ts";
import type { BenchTest } from "../design/tried.ts";
import type { Corner, Origin, Scenario } from "../design/types.ts";
import { fitLaw } from "./curve.ts";
import { BENCH_TESTS } from "./definitions.ts";
import { onBench } from "./good-rows.ts";
import { CURVE_LAWS, isCurve, MEAN_LAWS } from "./laws.ts";
import { withLeaning } from "./leaning.ts";
import { fitMeans } from "./means.ts";
import { loadWords, readRows } from "./rows.ts";
import { setUpFaults } from "./set-up.ts";

/** What a bench test tells of a design. */

/** A row of the table against the fit; blank rows are null. */
export type BenchRow =
  | {
      ok: true;
      x: number;
      y: number;
      fitted: number;
      /** y less fitted */
      residual: number;
      /** the load went up or down to this row; null: neither can be told */
      way: "up" | "down" | null;
    }
  | { ok: false; reason: string }
  | { ok: null };

export interface BenchResult {
  /** field of the scenario that it goes to; null: told only */
  path: string | null;
  words: string;
  unit: string;
  value: number;
  /** one standard deviation */
  sd: number;
  /** the true value lies in it in 95 of 100 such tests; of parts that were broken: the next part's */
  range95: [number, number];
  /** what the design has now; null: none, or no number */
  was: number | null;
  /** correlation with the other values that this test gave, by their paths */
  together: Record<string, number>;
}

export interface BenchAxis {
  words: string;
  unit: string;
}

export interface BenchFit {
  axes: { x: BenchAxis; y: BenchAxis };
  /** one for each row of the table */
  rows: BenchRow[];
  /** lines of the fit, dense enough to draw */
  curves: { words: string; points: { x: number; y: number }[] }[];
  /** empty where the rows do not suffice: `notes` and `advice` tell why */
  results: BenchResult[];
  /** between loading and unloading, in the unit of y */
  loop: { words: string; value: number; unit: string } | null;
  /** of tests that break parts: EN 1990:2002, Annex D */
  samples: { mean: number; sd: number; characteristic: number; n: number } | null;
  /** what more readings would bring; null: enough */
  advice: string | null;
  /** what the fit could not use, or took for granted, in plain words */
  notes: string[];
}

/** What a test tells, whatever was typed; what cannot be read or used is told row by row. Never throws. */
export function fitBench(s: Scenario, test: BenchTest): BenchFit {
  return withLeaning(s, test, fitAlone(s, test), (moved) => fitAlone(moved, test));
}

/** The fit with all that it takes from the design as if it were exact. */
function fitAlone(s: Scenario, test: BenchTest): BenchFit {
  const read = readRows(s, test);
  const rows = read.map((r): BenchRow => (r.ok ? { ok: false, reason: "not used" } : r));
  const good = read.flatMap((r, row) => (r.ok ? [{ row, values: r.values }] : []));
  const faults = setUpFaults(s, test);
  const { leastRows } = BENCH_TESTS[test.kind];
  const b = onBench(s, test, good);
  const fit = isCurve(test.kind)
    ? fitLaw(CURVE_LAWS[test.kind](b), rows, leastRows, (x) => loadWords(s, test, x))
    : fitMeans(MEAN_LAWS[test.kind](b), rows, leastRows);
  const notes = [...faults, ...fit.notes];
  if (fit.results.some((r) => ![r.value, r.sd, ...r.range95].every(Number.isFinite)))
    return { ...fit, results: [], curves: [], loop: null, notes: [...notes, "These readings lead to no number: look for a row that stands apart."] };
  return { ...fit, notes };
}

const SIDE = /^(corner|left|right)\./;
const fieldOf = (path: string): string => path.replace(SIDE, "");

/** As many figures as two of its ± are worth. */
function rounded(value: number, sd: number): number {
  if (!(sd > 0)) return value;
  const digits = Math.max(0, Math.min(12, 1 - Math.floor(Math.log10(sd))));
  return Number(value.toFixed(digits));
}

/**
 * The design with what a test told: each value as measured, with its ± and the day, and what it is correlated with. A material that only
 * has a name becomes one of the design's own. Pure; where there are no results, the same design.
 * @param today the day, as 2026-11-26, for a test that does not tell its own
 */
export function takeFit(s: Scenario, test: BenchTest, fit: BenchFit, today: string): Scenario {
  const results = fit.results.flatMap((r) => (r.path === null ? [] : [{ ...r, path: r.path }]));
  if (results.length === 0) return s;
  let out = s;
  for (const r of results) {
    const value = rounded(r.value, r.sd);
    if (!SIDE.test(r.path)) out = withValueAt(out, splitPath(r.path), value);
    else
      out = editSides(
        out,
        test.side,
        (c) => withCornerValue(c, fieldOf(r.path), value),
        (c) => holds(c, fieldOf(r.path)),
      );
  }
  // a side whose value is the shared one has none of its own
  const stands = (path: string): string => (!SIDE.test(path) || valueAt(out, splitPath(path)) !== undefined ? path : `corner.${fieldOf(path)}`);
  const told: Record<string, Origin | null> = {};
  for (const r of results) {
    const at = stands(r.path);
    const near = results.length > MOST_TOGETHER + 1 ? ([path]: [string, number]): boolean => sideOf(path) === sideOf(r.path) : () => true;
    if (at.endsWith(".material.youngMPa")) Object.assign(told, namedOrigins(s, at.replace(/\.youngMPa$/, "")));
    const together = Object.fromEntries(
      Object.entries(r.together)
        .filter(near)
        .map(([path, v]) => [stands(path), Math.round(1e4 * v) / 1e4] as const)
        .filter(([path, v]) => path !== at && v !== 0),
    );
    told[at] = {
      how: "measured",
      plusMinus: Number(Math.min(r.sd, MOST_SD).toPrecision(2)),
      date: test.date ?? today,
      note: `bench: ${BENCH_WORDS[test.kind]}`,
      ...(Object.keys(together).length > 0 ? { together } : {}),
    };
  }
  return keptOrigins(s, withOrigins(out, told));
}

const sideOf = (path: string): string => SIDE.exec(path)?.[1] ?? "";

/** Other values that an origin may list, and the largest ± it may tell: those of the file's schema. */
const MOST_TOGETHER = 3;
const MOST_SD = 1e6;

/** Whether a corner has this field, or a named material that may become one with it. */
const holds = (c: Corner, field: string): boolean => {
  const at = splitPath(field);
  const above = valueAt(c, at.slice(0, -1));
  return typeof above === "string" ? at.at(-2) === "material" : valueAt(c, at) !== undefined;
};

function withCornerValue(c: Corner, field: string, value: number): Corner {
  if (!holds(c, field)) return c;
  const at = splitPath(field);
  const above = at.slice(0, -1);
  const now = valueAt(c, above);
  const whole = typeof now === "string" ? withValueAt(c, above, ownMaterial(now)) : c;
  return withValueAt(whole, at, value);
}
