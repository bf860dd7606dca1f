import { QUIET_UNIT_MS, unitMs } from "./unit.ts";

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

/** The value that a share of all lies below. */
export const share = (values: readonly number[], part: number): number =>
  [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(values.length * part))] ?? 0;

/** Median time of a call, ms; the first calls only warm up. `i` counts all calls. */
export function medianMs(run: (i: number) => void, times: number, warmUp = Math.ceil(times / 5)): number {
  const taken: number[] = [];
  for (let i = 0; i < times + warmUp; i++) {
    const start = performance.now();
    run(i);
    if (i >= warmUp) taken.push(performance.now() - start);
  }
  return median(taken);
}

/** Straight line y = a + b x by least squares, and the largest distance from it as a share of y. */
export function line(x: readonly number[], y: readonly number[]): { a: number; b: number; off: number } {
  const n = x.length;
  const mean = (v: readonly number[]): number => v.reduce((s, e) => s + e, 0) / n;
  const [mx, my] = [mean(x), mean(y)];
  const b = x.reduce((s, e, i) => s + (e - mx) * (y[i]! - my), 0) / x.reduce((s, e) => s + (e - mx) ** 2, 0);
  const a = my - b * mx;
  return { a, b, off: Math.max(...x.map((e, i) => Math.abs(a + b * e - y[i]!) / y[i]!)) };
}

const print = (what: string, value: string, units: string, bound: string): void =>
  console.log(`  ${what.padEnd(72)} ${value.padStart(16)} ${units.padStart(14)}  ${bound}`.trimEnd());

/** One line of the bench that tells no time: what, number with unit, and the bound it is held against. */
export const report = (what: string, value: string, bound = ""): void => print(what, value, "", bound);

/** Three significant digits, never in powers of ten. */
const digits = (v: number): string => (v >= 100 ? v.toFixed(0) : v >= 10 ? v.toFixed(1) : v >= 1 ? v.toFixed(2) : v.toPrecision(3));

/** The unit as it was measured in the group at hand, ms. */
const seen: number[] = [];

/**
 * One line that tells a time: `ms`, and what multiple of the unit it is, the unit measured anew beside it. `goalMs` is what it
 * should not exceed on the machine that the goals were set on; it counts as a multiple.
 */
export function reportMs(what: string, ms: number, goalMs?: number): void {
  const goal = goalMs === undefined ? undefined : goalMs / QUIET_UNIT_MS;
  const before = seen[seen.length - 1] ?? unitMs();
  const after = unitMs();
  seen.push(after);
  const units = ms / ((before + after) / 2);
  print(what, `${digits(ms)} ms`, `${digits(units)} units`, goal === undefined ? "" : `at most ${digits(goal)} units${units > goal ? ": MISSED" : ""}`);
}

/** The unit's largest over its smallest above which a group's figures are not to be trusted. */
const STEADY = 1.25;

/** Runs a group of figures under its heading, the unit measured before, between and after. */
export async function group(title: string, run: () => void | Promise<void>): Promise<void> {
  console.log(`\n${title}`);
  seen.length = 0;
  seen.push(unitMs());
  await run();
  seen.push(unitMs());
  const [low, high] = [Math.min(...seen), Math.max(...seen)];
  const busy = high > STEADY * low ? ": the machine was busy, take the multiples with care" : "";
  print("one unit: median, and lowest to highest in this group", `${median(seen).toFixed(4)} ms`, "", `${low.toFixed(4)} to ${high.toFixed(4)} ms${busy}`);
}
