import { normalQuantile, tQuantile } from "../numerics/distributions.ts";

/**
 * Readings that do not go with the others: a slip of the pen, grams for kilograms. Each is held against the fit of all others, whose scatter
 * tells how far off it may be (externally studentized residual with Bonferroni's bound: R. D. Cook and S. Weisberg, Residuals and Influence in
 * Regression, 1982, 2.2.2); the instruments' steps are the least that they may be off. It is named, and stays among the readings.
 */

/** Chance that one of good readings is named. */
const BY_CHANCE = 1e-3;
/** Fewer degrees of freedom of the others tell nothing of their scatter. */
const LEAST_FREE = 2;
/** Others lead to no place for a reading that all hangs on. */
const LEAST_FREEDOM = 1e-6;

/** A reading that stands apart, by its place, and how far it is from where the others lead. */
export interface Apart {
  at: number;
  off: number;
}

/**
 * The reading that stands furthest apart; null where none does.
 * @param residuals of the fit through all @param leverages how much of itself each reading sets (diagonal of the hat matrix)
 * @param unknowns of the fit @param stepSd what the instruments' steps leave of a reading
 */
export function standsApart(residuals: readonly number[], leverages: readonly number[], unknowns: number, stepSd: number): Apart | null {
  const n = residuals.length;
  const free = n - unknowns - 1;
  if (free < LEAST_FREE) return null;
  const share = 1 - BY_CHANCE / (2 * n);
  const [byScatter, byStep] = [tQuantile(share, free), normalQuantile(share)];
  const squares = residuals.reduce((sum, r) => sum + r * r, 0);
  let found: Apart | null = null;
  let most = 1;
  for (const [at, r] of residuals.entries()) {
    const left = 1 - leverages[at]!;
    if (left < LEAST_FREEDOM) continue;
    const others = Math.sqrt(Math.max(0, squares - (r * r) / left) / free);
    const times = Math.abs(r) / Math.sqrt(left) / Math.max(byScatter * others, byStep * stepSd, Number.MIN_VALUE);
    if (times > most) {
      most = times;
      found = { at, off: r / left };
    }
  }
  return found;
}

/** In words. @param row of the table, from 0 @param y what was read @param off how far it is from where the others lead */
export function apartWords(row: number, y: number, off: number, unit: string): string {
  const f = (v: number): string => `${Number(v.toPrecision(3))}${unit === "" ? "" : ` ${unit}`}`;
  return `Row ${row + 1} stands apart: it reads ${f(y)}, where the others lead to ${f(y - off)}. Look at it again, since it pulls all the rest along.`;
}
