import { fitCurve } from "../numerics/curve-fit.ts";
import type { NoFit } from "../numerics/fit.ts";
import { fitColumns } from "../numerics/least-squares.ts";
import { inverseOfSquare, orthogonal } from "../numerics/orthogonal.ts";
import { adviceOf, type Precision } from "./advice.ts";
import { apartWords, standsApart } from "./apart.ts";
import type { BenchAxis, BenchFit, BenchResult, BenchRow } from "./fit.ts";
import { HALF_KNOWN, halfByScatter } from "./student.ts";

/**
 * Tests in which a load grows and something follows it: the model's own law, with a few unknowns, is fitted through the readings.
 *
 * How sure it is comes from the residuals, with as many degrees of freedom as there are readings above unknowns (Student's t), but never
 * below what the steps of the instruments leave of each reading (step/√12: GUM, JCGM 100:2008, F.2.2.1, normal law): the wider of both
 * ranges is told. Readings lie on other steps of the ruler when the load changes, so that this part falls with more readings, too.
 */
export interface CurveProblem {
  axes: { x: BenchAxis; y: BenchAxis };
  /** the good readings, with their rows of the table */
  points: readonly { row: number; x: number; y: number }[];
  /** rows that the law cannot use, with the reason */
  refused: readonly { row: number; reason: string }[];
  /** first guesses of the unknowns: what the design has */
  start: readonly number[];
  /** y by the law */
  law(p: readonly number[], x: number): number;
  /** the law grows evenly with each unknown, so that it is fitted in one step */
  linear: boolean;
  /** standard deviation of a reading by the steps of the instruments, in y */
  roundingSd: number;
  told: readonly Told[];
  /** y goes this way when the load grows: +1 or -1; a loop lags behind it. Null: loading and unloading mean nothing here */
  follows: ((x: number) => number) | null;
  loopWords: string;
  /** what the table has of it, 'loads' */
  xWords: string;
  notes: readonly string[];
}

/** What a result is called and where it goes. */
export interface ResultPlace {
  words: string;
  unit: string;
  /** fields that it goes to; none: told only */
  paths: readonly string[];
  was: number | null;
  /** nothing below this can be */
  least?: number;
  most?: number;
}

/** A result that goes with one of the unknowns. */
export interface Told extends ResultPlace {
  unknown: number;
  /** rises or falls throughout */
  value(unknown: number): number;
}

/** Half of the 95 % range over the root of the inverse's diagonal. */
const halfFactor = (p: Precision, more = 0): number => {
  const dof = p.readings - p.unknowns + more;
  return Math.max(dof > 0 && p.dof > 0 ? halfByScatter(dof) * p.scatterSd : 0, HALF_KNOWN * p.roundingSd);
};

type Way = "up" | "down" | null;

/** Whether each load was reached from below or from above. A single step down to the least load begins a new series. */
function waysOf(loads: readonly number[]): Way[] {
  const size = loads.map(Math.abs);
  const least = Math.min(...size);
  const ways: Way[] = size.map((v, i) => (i === 0 || v === size[i - 1] ? null : v > size[i - 1]! ? "up" : "down"));
  ways.forEach((w, i) => {
    if (w === "down" && size[i] === least && ways[i - 1] !== "down" && ways[i + 1] !== "down") ways[i] = null;
  });
  // where nothing is told, as the next one, or as the one before
  for (let i = ways.length - 2; i >= 0; i--) if (ways[i] === null && (i === 0 || ways[i - 1] !== "down" || size[i] === least)) ways[i] = ways[i + 1]!;
  for (let i = 1; i < ways.length; i++) ways[i] ??= ways[i - 1]!;
  return ways;
}

const MOST_CURVE_POINTS = 60;

/** The fit of a test through its law. @param leastRows that it takes @param loadWords a load as the builder typed it */
export function fitLaw(problem: CurveProblem, rows: readonly BenchRow[], leastRows: number, loadWords: (x: number) => string): BenchFit {
  const { points, told } = problem;
  const out: BenchRow[] = [...rows];
  for (const { row, reason } of problem.refused) out[row] = { ok: false, reason };
  const base: BenchFit = { axes: problem.axes, rows: out, curves: [], results: [], loop: null, samples: null, advice: null, notes: [...problem.notes] };
  const needed = Math.max(leastRows, problem.start.length);
  const ways = problem.follows === null ? points.map(() => null) : waysOf(points.map((p) => p.x));
  const shown = (fitted: (i: number) => number): void => {
    points.forEach(({ row, x, y }, i) => {
      out[row] = { ok: true, x, y, fitted: fitted(i), residual: y - fitted(i), way: ways[i]! };
    });
  };
  if (points.length < needed) {
    shown((i) => points[i]!.y);
    return { ...base, advice: missingRows(needed, points.length) };
  }
  const solved = solve(problem, ways);
  if (!solved.ok) {
    shown((i) => points[i]!.y);
    return { ...base, notes: [...base.notes, whyNot(solved.no, problem)] };
  }
  const { p, inverse, loopAt, fitted } = solved;
  shown((i) => fitted[i]!);
  const dof = points.length - p.length;
  const squares = points.reduce((sum, { y }, i) => sum + (y - fitted[i]!) ** 2, 0);
  const precision: Precision = {
    readings: points.length,
    unknowns: p.length,
    dof,
    scatterSd: dof > 0 ? Math.sqrt(squares / dof) : 0,
    roundingSd: problem.roundingSd,
  };
  const follows = (v: number, t: Told): boolean => v > (t.least === undefined ? 0 : -Infinity) && v < Infinity;
  const backwards = told.find((t) => !follows(t.value(p[t.unknown]!), t));
  if (backwards) {
    const words = `${problem.axes.y.words} does not follow the ${problem.xWords} as it should: ${backwards.words} would be no number above 0.`;
    const apart = apartOf(problem, solved);
    return { ...base, notes: [...base.notes, words, ...(apart === null ? [] : [apart])] };
  }
  const apart = apartOf(problem, solved);
  if (apart !== null) base.notes.push(apart);
  base.notes.push(...told.flatMap((t) => beyondWords(t, t.value(p[t.unknown]!))));
  if (dof === 0) base.notes.push("There are as many unknowns as readings: the ± is that of the instruments alone.");
  const results = resultsOf(told, p, inverse, precision);
  const loop = loopAt === null ? null : { words: problem.loopWords, value: Math.max(0, p[loopAt]!), unit: problem.axes.y.unit };
  if (loopAt !== null && p[loopAt]! < 2 * Math.sqrt(inverse[loopAt]![loopAt]!) * Math.max(precision.scatterSd, precision.roundingSd))
    base.notes.push("The loop between loading and unloading is no wider than the readings scatter.");
  return { ...base, results, loop, curves: curvesOf(problem, p, loopAt), advice: adviceFor(problem, solved, results[0], precision, loadWords) };
}

/** The reading that does not go with the others, in words; null: all do. */
function apartOf({ points, axes, roundingSd }: CurveProblem, { inverse, fitted, rows }: Solved): string | null {
  const leverages = rows.map((row) => row.reduce((sum, v, i) => sum + v * row.reduce((s, w, j) => s + w * inverse[i]![j]!, 0), 0));
  const apart = standsApart(
    points.map(({ y }, i) => y - fitted[i]!),
    leverages,
    inverse.length,
    roundingSd,
  );
  const point = apart && points[apart.at];
  return point ? apartWords(point.row, point.y, apart.off, axes.y.unit) : null;
}

/** What the readings tell that cannot be, in words. */
function beyondWords({ words, unit, most }: Told, value: number): string[] {
  if (most === undefined || value <= most) return [];
  const f = (v: number): string => `${Number(v.toPrecision(3))} ${unit}`;
  return [`The readings tell ${f(value)} for ${words}, more than there is: ${f(most)} is taken.`];
}

const missingRows = (needed: number, there: number): string => {
  const more = needed - there;
  return `${more} more ${more === 1 ? "reading is" : "readings are"} needed: it takes ${needed} to tell anything.`;
};

/** Why nothing comes out. */
function whyNot(no: NoFit, { xWords }: CurveProblem): string {
  if (no.why === "not told apart") return `The ${xWords} differ too little: readings at more of them, further apart, are needed.`;
  return no.why === "no rest" ? "No values make the law follow these readings: look for a row that stands apart." : "A reading is no number that can be used.";
}

interface Solved {
  ok: true;
  p: number[];
  inverse: number[][];
  /** place of the loop's width among the unknowns */
  loopAt: number | null;
  fitted: number[];
  /** derivatives of each reading by the unknowns */
  rows: number[][];
}

function solve(problem: CurveProblem, ways: readonly Way[]): Solved | { ok: false; no: NoFit } {
  const { points, start, law } = problem;
  const y = points.map((q) => q.y);
  const lag = points.map(({ x }, i) => (ways[i] === "down" ? 0.5 : ways[i] === "up" ? -0.5 : 0) * (problem.follows?.(x) ?? 0));
  const each = (way: Way): number => ways.filter((w) => w === way).length;
  const withLoop = each("up") >= 2 && each("down") >= 2 && points.length >= start.length + 3;
  const of = (loop: boolean): Solved | { ok: false; no: NoFit } => {
    const m = start.length;
    // with a standard deviation of 1 the covariance is the plain inverse
    if (problem.linear) {
      const rows = points.map(({ x }, i) => [...slopesOf(problem, start, x), ...(loop ? [lag[i]!] : [])]);
      const none = start.map(() => 0);
      const rest = points.map(({ x }) => law(none, x));
      const r = fitColumns(
        rows,
        y.map((v, i) => v - rest[i]!),
        { sd: 1 },
      );
      if (!r.ok) return r;
      const { parameters: p, covariance: inverse, residuals } = r.fit;
      return { ok: true, p, inverse, loopAt: loop ? m : null, fitted: y.map((v, i) => v - residuals[i]!), rows };
    }
    const model = (p: readonly number[]): number[] => points.map(({ x }, i) => law(p, x) + (loop ? p[m]! * lag[i]! : 0));
    const typical = [...start.map((v) => Math.abs(v) || 1), ...(loop ? [1] : [])];
    const r = fitCurve(model, loop ? [...start, 0] : start, y, { sd: 1, typical });
    if (!r.ok) return r;
    const { parameters: p, covariance: inverse } = r.fit;
    const rows = points.map(({ x }, i) => [...slopesOf(problem, p.slice(0, m), x), ...(loop ? [lag[i]!] : [])]);
    return { ok: true, p, inverse, loopAt: loop ? m : null, fitted: model(p), rows };
  };
  const whole = of(withLoop);
  return withLoop && !whole.ok ? of(false) : whole;
}

/** Slope of a result by its unknown. */
function slopeOf(t: Told, at: number): number {
  const h = 1e-6 * Math.abs(at) || 1e-9;
  return (t.value(at + h) - t.value(at - h)) / (2 * h);
}

function resultsOf(told: readonly Told[], p: readonly number[], inverse: readonly (readonly number[])[], precision: Precision): BenchResult[] {
  const sd = Math.max(precision.scatterSd, precision.roundingSd);
  const factor = halfFactor(precision);
  const each = told.map((t) => {
    const at = p[t.unknown]!;
    const root = Math.sqrt(inverse[t.unknown]![t.unknown]!);
    const slope = slopeOf(t, at);
    const value = t.value(at);
    const half = root * factor;
    const ends = [t.value(at - half), t.value(at + half)].sort((a, b) => a - b) as [number, number];
    // a stiffness from a give that may as well be none has no end above: then as its slope tells
    const sane = ends.every(Number.isFinite) && ends[0] <= value && value <= ends[1];
    const range = sane ? ends : ([value - Math.abs(slope) * half, value + Math.abs(slope) * half] as [number, number]);
    // what has no least of its own is above 0, or there is no result
    const clip = (v: number): number => Math.min(t.most ?? Infinity, Math.max(t.least ?? 0, v));
    return { t, slope, value: clip(value), sd: Math.abs(slope) * root * sd, range95: range.map(clip) as [number, number] };
  });
  const correlation = (i: number, j: number): number => {
    const a = each[i]!;
    const b = each[j]!;
    if (i === j) return 1;
    const r = inverse[a.t.unknown]![b.t.unknown]! / Math.sqrt(inverse[a.t.unknown]![a.t.unknown]! * inverse[b.t.unknown]![b.t.unknown]!);
    return Math.max(-1, Math.min(1, r * Math.sign(a.slope) * Math.sign(b.slope)));
  };
  return each.flatMap(({ t, value, sd: own, range95 }, i): BenchResult[] => {
    const { words, unit, was } = t;
    const at = t.paths.length > 0 ? t.paths : [null];
    return at.map((path) => {
      const others = each.flatMap((o, j) => o.t.paths.filter((q) => q !== path).map((q) => [q, correlation(i, j)] as const));
      return { path, words, unit, value, sd: own, range95, was, together: path === null ? {} : Object.fromEntries(others) };
    });
  });
}

/** Lines to draw, a gap where the law jumps from one sign of the load to the other. */
function curvesOf(problem: CurveProblem, p: readonly number[], loopAt: number | null): BenchFit["curves"] {
  const xs = problem.points.map((q) => q.x);
  const [low, high] = [Math.min(...xs), Math.max(...xs)];
  const spans: [number, number][] =
    low < 0 && high > 0
      ? [
          [low, 0],
          [0, high],
        ]
      : [[low, high]];
  return spans.flatMap(([a, b]) => {
    const middle = (a + b) / 2;
    const line = (shift: number): { x: number; y: number }[] =>
      Array.from({ length: MOST_CURVE_POINTS + 1 }, (_, i) => {
        const x = a + ((b - a) * i) / MOST_CURVE_POINTS;
        // at its very end a half still belongs to its own side
        return { x, y: problem.law(p, x === 0 && a !== b ? middle * 1e-9 : x) + shift };
      });
    if (loopAt === null) return [{ words: "fit", points: line(0) }];
    const half = (p[loopAt]! / 2) * (problem.follows?.(middle) ?? 0);
    return [
      { words: "fit", points: line(0) },
      { words: "loading", points: line(-half) },
      { words: "unloading", points: line(half) },
    ];
  });
}

function adviceFor(
  problem: CurveProblem,
  { p, inverse, loopAt }: Solved,
  first: BenchResult | undefined,
  precision: Precision,
  loadWords: (x: number) => string,
): string | null {
  if (!first) return null;
  const { unknown } = problem.told[0]!;
  const at = p.slice(0, loopAt === null ? p.length : p.length - 1);
  const slope = Math.abs(slopeOf(problem.told[0]!, p[unknown]!));
  const loads = [...new Set(problem.points.map((q) => q.x))];
  const places = loads.map((x) => ({ x, row: slopesOf(problem, at, x) }));
  const wanted = {
    words: first.words,
    value: first.value,
    unknown,
    inverse: inverse.slice(0, at.length).map((row) => row.slice(0, at.length)),
    factor: (more: number) => slope * halfFactor(precision, more),
  };
  return adviceOf(wanted, places, loadWords);
}

/** Derivatives of the law by each unknown. */
function slopesOf(problem: CurveProblem, p: readonly number[], x: number): number[] {
  if (!problem.linear) return p.map((_, j) => derivative(problem, p, x, j));
  const none = p.map(() => 0);
  const rest = problem.law(none, x);
  return p.map((_, j) => problem.law(none.with(j, 1), x) - rest);
}

/** Derivative of the law by one unknown, by central differences. */
function derivative(problem: CurveProblem, p: readonly number[], x: number, j: number): number {
  const h = 1e-5 * Math.abs(p[j]!) || 1e-6;
  const moved = (by: number): number =>
    problem.law(
      p.map((v, k) => (k === j ? v + by : v)),
      x,
    );
  return (moved(h) - moved(-h)) / (2 * h);
}

/** ± of each result that readings at these loads with this scatter would leave, were the design as it says. */
export function expectedSd(problem: CurveProblem, loads: readonly number[], scatterSd: number): Record<string, number> {
  const p = problem.start;
  const rows = loads.map((x) => slopesOf(problem, p, x));
  const factors = orthogonal(rows, []);
  if (factors.dependent.length > 0) return {};
  const inverse = inverseOfSquare(factors);
  return Object.fromEntries(
    problem.told.flatMap((t) => {
      const sd = Math.abs(slopeOf(t, p[t.unknown]!)) * Math.sqrt(inverse[t.unknown]![t.unknown]!) * scatterSd;
      return Number.isFinite(sd) ? t.paths.map((path) => [path, sd] as const) : [];
    }),
  );
}
