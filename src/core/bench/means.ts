import { characteristic, characteristicWithMore } from "../numerics/characteristic.ts";
import { adviceOnMean } from "./advice.ts";
import { apartWords, standsApart } from "./apart.ts";
import type { ResultPlace } from "./curve.ts";
import type { BenchAxis, BenchFit, BenchResult, BenchRow } from "./fit.ts";
import { HALF_KNOWN, halfByScatter } from "./student.ts";

/**
 * Tests that read the same again and again: results are functions of a few means.
 *
 * How sure they are comes from the scatter of the readings (Student's t), but never below step/√12 of the instrument (GUM, JCGM 100:2008,
 * F.2.2.1), whatever the number of readings: what always falls on the same step gains nothing by being read again.
 *
 * Of parts that were broken the mean goes into the design, as the limits take it: a utilization of 1 is where such a part gives, not where
 * 95 of 100 hold. Its ± is the scatter from part to part with the doubt of the mean, s·√(1 + 1/n), since the part in the car is none of
 * those that were broken. The characteristic value (EN 1990:2002, D.7.2) is told beside it.
 */
export interface MeansProblem {
  axes: { x: BenchAxis; y: BenchAxis };
  groups: readonly Group[];
  refused: readonly { row: number; reason: string }[];
  told: readonly ToldOfMeans[];
  /** parts that were broken: the next one counts, not the mean */
  breaking: boolean;
  /** all groups scatter alike */
  pooled: boolean;
  /** what to show for a row */
  points: readonly { row: number; x: number; y: number }[];
  /** y of a shown row by the means */
  fitted(means: readonly number[], point: { x: number; y: number }): number;
  /** line to draw */
  curves(means: readonly number[]): BenchFit["curves"];
  notes: readonly string[];
}

interface Group {
  words: string;
  readings: readonly number[];
  /** of the table, from 0, as the readings */
  rows: readonly number[];
  unit: string;
  /** of the instrument, in the readings' unit */
  step: number;
}

export interface ToldOfMeans extends ResultPlace {
  value(means: readonly number[]): number;
}

const ROUNDING = Math.sqrt(12);

const mean = (v: readonly number[]): number => v.reduce((a, b) => a + b, 0) / v.length;

interface Known {
  mean: number;
  n: number;
  /** scatter of single readings, and its degrees of freedom; 0 where nothing tells it */
  sd: number;
  dof: number;
  /** of the instrument */
  floor: number;
}

function knownOf(problem: MeansProblem): Known[] {
  const squares = problem.groups.map(({ readings }) => {
    const m = mean(readings);
    return readings.reduce((s, v) => s + (v - m) ** 2, 0);
  });
  // a scale that nothing stood on tells nothing, and takes nothing from the others
  const free = problem.groups.map((g) => Math.max(0, g.readings.length - 1));
  const sum = (v: readonly number[]): number => v.reduce((a, b) => a + b, 0);
  return problem.groups.map((g, i): Known => {
    const dof = problem.pooled ? sum(free) : free[i]!;
    const square = problem.pooled ? sum(squares) : squares[i]!;
    return { mean: mean(g.readings), n: g.readings.length, sd: dof > 0 ? Math.sqrt(square / dof) : 0, dof, floor: g.step / ROUNDING };
  });
}

/** Variance of what counts: of the mean, or of the next part. */
const spread = (k: Known, breaking: boolean, more = 0): number => k.sd * k.sd * (1 / (k.n + more) + (breaking ? 1 : 0));

/** The fit of a test that reads the same again and again. */
export function fitMeans(problem: MeansProblem, rows: readonly BenchRow[], leastRows: number): BenchFit {
  const out: BenchRow[] = [...rows];
  for (const { row, reason } of problem.refused) out[row] = { ok: false, reason };
  const base: BenchFit = { axes: problem.axes, rows: out, curves: [], results: [], loop: null, samples: null, advice: null, notes: [...problem.notes] };
  const show = (fitted: (p: { x: number; y: number }) => number): void => {
    for (const { row, x, y } of problem.points) out[row] = { ok: true, x, y, fitted: fitted({ x, y }), residual: y - fitted({ x, y }), way: null };
  };
  const there = problem.groups.filter((g) => g.readings.length > 0);
  const few = Math.max(0, ...there.map((g) => g.readings.length)) < leastRows;
  if (there.length === 0 || few) {
    show((p) => p.y);
    const more = leastRows - Math.max(0, ...there.map((g) => g.readings.length));
    return { ...base, advice: `${more} more ${more === 1 ? "reading is" : "readings are"} needed: it takes ${leastRows} to tell anything.` };
  }
  const known = knownOf(problem);
  const means = known.map((k) => k.mean);
  show((p) => problem.fitted(means, p));
  base.notes.push(...problem.groups.flatMap(apartIn));
  const each = problem.told.flatMap((t) => {
    const r = resultOf(problem, t, known);
    return r === null ? [] : [{ t, ...r }];
  });
  const results = each.flatMap((e, i): BenchResult[] => {
    const { words, unit, was } = e.t;
    const at = e.t.paths.length > 0 ? e.t.paths : [null];
    return at.map((path) => {
      // parts that broke scatter each for itself, so that values of other parts tell nothing of this one
      const others = problem.breaking
        ? []
        : each.flatMap((o, j) => o.t.paths.filter((q) => q !== path).map((q) => [q, i === j ? 1 : correlation(e.slopes, o.slopes, known)] as const));
      return {
        path,
        words,
        unit,
        value: e.value,
        sd: e.sd,
        range95: e.range95,
        was,
        together: path === null ? {} : Object.fromEntries(others.filter(([, r]) => r !== 0)),
      };
    });
  });
  if (known.some((k) => k.n === 1 && !problem.pooled) || (problem.pooled && known.every((k) => k.dof === 0)))
    base.notes.push("What was read once has the ± of the instrument alone: read it three times or more to see how it scatters.");
  return { ...base, results, curves: problem.curves(means), samples: samplesOf(problem, each[0]?.t), advice: adviceFor(problem, known, each) };
}

/** The reading of a group that does not go with the others, in words. */
function apartIn({ readings, rows, unit, step }: Group): string[] {
  const middle = mean(readings);
  const apart = standsApart(
    readings.map((v) => v - middle),
    readings.map(() => 1 / readings.length),
    1,
    step / ROUNDING,
  );
  return apart ? [apartWords(rows[apart.at]!, readings[apart.at]!, apart.off, unit)] : [];
}

interface OneResult {
  value: number;
  sd: number;
  range95: [number, number];
  slopes: number[];
}

function resultOf(problem: MeansProblem, t: ToldOfMeans, known: readonly Known[], more = 0): OneResult | null {
  const means = known.map((k) => k.mean);
  const value = t.value(means);
  if (!Number.isFinite(value)) return null;
  const slopes = means.map((m, i) => {
    if (Number.isNaN(m)) return 0;
    const h = 1e-6 * Math.abs(m) || 1e-9;
    const moved = (by: number): number => t.value(means.map((v, k) => (k === i ? v + by : v)));
    return (moved(h) - moved(-h)) / (2 * h);
  });
  const parts = known.map((k, i) => (Number.isNaN(k.mean) ? 0 : slopes[i]! ** 2 * spread(k, problem.breaking, more)));
  const scatter = parts.reduce((a, b) => a + b, 0);
  const rounding = known.reduce((sum, k, i) => sum + (Number.isNaN(k.mean) ? 0 : slopes[i]! ** 2 * k.floor ** 2), 0);
  const half = Math.max(scatter > 0 ? halfByScatter(freedom(parts, known, problem.pooled, more)) * Math.sqrt(scatter) : 0, HALF_KNOWN * Math.sqrt(rounding));
  const clip = (v: number): number => Math.min(t.most ?? Infinity, Math.max(t.least ?? -Infinity, v));
  return { value: clip(value), sd: Math.sqrt(Math.max(scatter, rounding)), range95: [clip(value - half), clip(value + half)], slopes };
}

/** Degrees of freedom of a sum of variances (Welch and Satterthwaite: GUM, JCGM 100:2008, G.4.1); of a common one those of all readings. */
function freedom(parts: readonly number[], known: readonly Known[], pooled: boolean, more: number): number {
  if (pooled) return Math.max(1, Math.max(...known.map((k) => k.dof)) + more * known.filter((k) => k.n > 0).length);
  const total = parts.reduce((a, b) => a + b, 0);
  const below = parts.reduce((sum, v, i) => sum + (v > 0 ? (v * v) / (known[i]!.dof + more) : 0), 0);
  return Math.max(1, (total * total) / below);
}

function correlation(a: readonly number[], b: readonly number[], known: readonly Known[]): number {
  const with2 = (x: readonly number[], y: readonly number[]): number =>
    known.reduce((sum, k, i) => sum + (Number.isNaN(k.mean) ? 0 : x[i]! * y[i]! * Math.max(spread(k, false), k.floor ** 2)), 0);
  const r = with2(a, b) / Math.sqrt(with2(a, a) * with2(b, b));
  return Number.isFinite(r) ? Math.max(-1, Math.min(1, r)) : 0;
}

/** Mean, spread and characteristic value of broken parts, in the unit of the first result. */
function samplesOf(problem: MeansProblem, first: ToldOfMeans | undefined): BenchFit["samples"] {
  const { readings } = problem.groups[0]!;
  if (!problem.breaking || !first) return null;
  const strengths = readings.map((v) => first.value([v]));
  const r = characteristic(strengths, "normal");
  if (!r.ok) return null;
  const { mean: m, sd, value, count } = r.characteristic;
  return { mean: m, sd: sd ?? 0, characteristic: Math.max(0, value), n: count };
}

function adviceFor(problem: MeansProblem, known: readonly Known[], each: readonly (OneResult & { t: ToldOfMeans })[]): string | null {
  const first = each[0];
  if (!first) return null;
  if (problem.breaking) {
    const strengths = problem.groups[0]!.readings.map((v) => first.t.value([v]));
    const now = characteristic(strengths, "normal");
    if (!now.ok || strengths.length >= ENOUGH_BROKEN) return null;
    const more = ENOUGH_BROKEN - strengths.length;
    const then = characteristicWithMore(strengths, "normal", more);
    const f = (v: number): string => `${Number(Math.max(0, v).toPrecision(3))} ${first.t.unit}`;
    return `${strengths.length} parts were tried. ${more} more that scatter alike would raise what 95 of 100 surely hold from ${f(now.characteristic.value)} to about ${f(then.value)}.`;
  }
  for (const e of each.filter(({ t }) => t.paths.length > 0)) {
    const advice = adviceOnMean(e.t.words, e.value, (more) => {
      const r = resultOf(problem, e.t, known, more);
      return r === null ? Number.NaN : (r.range95[1] - r.range95[0]) / 2;
    });
    if (advice !== null) return advice;
  }
  return null;
}

/** More broken parts than this raise the characteristic value by little: k_n falls from 3.37 (3) to 2.33 (5), 1.92 (10) and 1.64 in the end. */
const ENOUGH_BROKEN = 10;
