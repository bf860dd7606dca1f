import { normalQuantile, tQuantile } from "./distributions.ts";

/** What a least-squares fit tells; all in the units that the columns and the measured numbers bring. */
export interface Fit {
  parameters: number[];
  /** standard deviation of each parameter; Infinity where as many numbers are fitted as were measured (`dof` 0) */
  standardErrors: number[];
  /** [low, high] of each parameter, in which the true one lies in 95 of 100 such fits (Student's t) */
  ranges: [number, number][];
  covariance: number[][];
  /** covariance over the standard errors, 1 on the diagonal */
  correlation: number[][];
  /** measured less fitted, row by row, without weights */
  residuals: number[];
  /** sum over the rows of weight times the square of the residual */
  sumOfSquares: number;
  /** standard deviation of a row of weight 1: of the residuals, or as given */
  residualSd: number;
  /** degrees of freedom: rows of a weight less parameters */
  dof: number;
}

/** Why there is no fit. */
export type NoFit =
  /** fewer rows than parameters */
  | { why: "too few rows"; rows: number; needed: number }
  /** the rows do not tell parameter `parameter` (counted from 0) apart from those before it */
  | { why: "not told apart"; parameter: number }
  /** a number that is not finite stands in this row, counted from 0 */
  | { why: "not a number"; row: number }
  /** the search for the best parameters did not come to rest */
  | { why: "no rest" };

export type Fitted = { ok: true; fit: Fit } | { ok: false; no: NoFit };

/** A range holds the true value in this share of cases. */
const RANGE = 0.95;

export interface FitOptions {
  /** weight of each row, 1 over its variance but for a common factor; 0 leaves a row out. All 1 unless given. */
  weights?: readonly number[] | undefined;
  /** standard deviation of a row of weight 1 where it is known beforehand, and not to be told from the residuals */
  sd?: number | undefined;
}

/** Puts a fit together; `inverse` is the inverse of the weighted columns' square at the best parameters. */
export function fitFrom(parameters: number[], inverse: number[][], residuals: number[], weights: readonly number[], sd: number | undefined): Fit {
  const sumOfSquares = residuals.reduce((s, r, i) => s + weights[i]! * r * r, 0);
  const dof = weights.filter((w) => w > 0).length - parameters.length;
  const residualSd = sd ?? (dof > 0 ? Math.sqrt(sumOfSquares / dof) : Number.POSITIVE_INFINITY);
  const factor = sd === undefined ? tQuantile((1 + RANGE) / 2, Math.max(dof, 1)) : normalQuantile((1 + RANGE) / 2);
  const covariance = inverse.map((row) => row.map((c) => (residualSd === Infinity && c === 0 ? 0 : c * residualSd * residualSd)));
  const standardErrors = covariance.map((row, i) => Math.sqrt(row[i]!));
  const ranges = parameters.map((p, i): [number, number] => {
    const reach = standardErrors[i]! * factor;
    return [p - reach, p + reach];
  });
  const correlation = inverse.map((row, i) => row.map((c, j) => (i === j ? 1 : c === 0 ? 0 : c / Math.sqrt(inverse[i]![i]! * inverse[j]![j]!))));
  return { parameters, standardErrors, ranges, covariance, correlation, residuals, sumOfSquares, residualSd, dof };
}

/** Whether rows and measured numbers can be fitted by `count` parameters; the first reason against it. */
export function reasonAgainst(rows: readonly (readonly number[])[], measured: readonly number[], weights: readonly number[], count: number): NoFit | undefined {
  const bad = rows.findIndex((row, i) => !row.every(Number.isFinite) || !Number.isFinite(measured[i]) || !(weights[i]! >= 0 && weights[i]! < Infinity));
  if (bad >= 0) return { why: "not a number", row: bad };
  const used = weights.filter((w) => w > 0).length;
  return used < count ? { why: "too few rows", rows: used, needed: count } : undefined;
}
