/** What a sample tells: chances with their own error, and quantiles. */

export interface Chance {
  /** share of the worlds */
  chance: number;
  /** 95 % range of the chance itself, from so many worlds (E. B. Wilson 1927); worlds drawn evenly are at least as good as drawn by lot */
  low: number;
  high: number;
  worlds: number;
}

const Z975 = 1.959963984540054;

/** A chance from a count. @param worlds above 0 */
export function chanceOf(passed: number, worlds: number): Chance {
  const p = passed / worlds;
  const z2 = Z975 * Z975;
  const middle = (p + z2 / (2 * worlds)) / (1 + z2 / worlds);
  const half = (Z975 * Math.sqrt((p * (1 - p)) / worlds + z2 / (4 * worlds * worlds))) / (1 + z2 / worlds);
  return { chance: p, low: passed === 0 ? 0 : Math.max(0, middle - half), high: passed === worlds ? 1 : Math.min(1, middle + half), worlds };
}

/** Value below which a share of a sorted sample lies; between two of them straight (R. J. Hyndman and Y. Fan 1996, type 7). */
export function quantileOfSorted(sorted: ArrayLike<number>, share: number): number {
  const at = share * (sorted.length - 1);
  const i = Math.min(sorted.length - 1, Math.floor(at));
  const j = Math.min(sorted.length - 1, i + 1);
  return sorted[i]! + (at - i) * (sorted[j]! - sorted[i]!);
}

/**
 * The largest value that no more than a share of a sorted sample lies below, with the 95 % range of it: the ranks that a binomial count may
 * take (H. A. David and H. N. Nagaraja, Order Statistics, 7.1; by the normal approximation).
 */
export function atMost(sorted: ArrayLike<number>, share: number): { value: number; low: number; high: number } {
  const n = sorted.length;
  const rank = (r: number): number => sorted[Math.min(n - 1, Math.max(0, Math.floor(r)))]!;
  const half = Z975 * Math.sqrt(n * share * (1 - share));
  return { value: rank(n * share), low: rank(n * share - half), high: rank(n * share + half) };
}

/** A number over all worlds: its middle, its 90 % range, its mean and deviation. */
export interface SampledBand {
  /** of the car as it is designed */
  value: number;
  median: number;
  low: number;
  high: number;
  mean: number;
  sd: number;
  worlds: number;
}

/** Of a sample in any order; null where it is empty. */
export function sampledBand(value: number, sample: ArrayLike<number>): SampledBand | null {
  const n = sample.length;
  if (n === 0) return null;
  const sorted = Float64Array.from(sample).sort();
  const mean = sorted.reduce((sum, v) => sum + v, 0) / n;
  const sd = n > 1 ? Math.sqrt(sorted.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (n - 1)) : 0;
  return { value, median: quantileOfSorted(sorted, 0.5), low: quantileOfSorted(sorted, 0.05), high: quantileOfSorted(sorted, 0.95), mean, sd, worlds: n };
}
