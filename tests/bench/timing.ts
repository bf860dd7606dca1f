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

/** One line of the bench: what, number with unit, and the bound it is held against. */
export function report(what: string, value: string, bound = ""): void {
  console.log(`  ${what.padEnd(66)} ${value.padStart(18)}  ${bound}`);
}
