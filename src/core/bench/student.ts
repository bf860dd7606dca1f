import { normalQuantile, tQuantile } from "../numerics/distributions.ts";

/** Half widths of 95 % ranges, in standard deviations. */
const RANGE = 0.95;
const UPPER = (1 + RANGE) / 2;

/** Where the standard deviation is known. */
export const HALF_KNOWN = normalQuantile(UPPER);

const known = new Map<number, number>();
const MOST_KNOWN = 256;

/** Where readings told it, with so many degrees of freedom (Student's t). */
export function halfByScatter(dof: number): number {
  let half = known.get(dof);
  if (half === undefined) {
    if (known.size >= MOST_KNOWN) known.clear();
    half = tQuantile(UPPER, dof);
    known.set(dof, half);
  }
  return half;
}
