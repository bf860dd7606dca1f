import { type FitOptions, type Fitted, fitFrom, reasonAgainst } from "./fit.ts";
import { bestUnknowns, inverseOfSquare, orthogonal } from "./orthogonal.ts";

/**
 * Linear least squares: the parameters p for which Σ weight (measured - Σ column · p)² is least, with their standard
 * errors (GUM, JCGM 100:2008, H.3). `rows` holds row by row the value of each column; a constant is a column of 1.
 * @returns the fit, or why there is none; never throws on numbers
 */
export function fitColumns(rows: readonly (readonly number[])[], measured: readonly number[], options: FitOptions = {}): Fitted {
  const weights = options.weights ?? measured.map(() => 1);
  const no = reasonAgainst(rows, measured, weights, rows[0]?.length ?? 1);
  if (no) return { ok: false, no };
  const root = weights.map(Math.sqrt);
  const factors = orthogonal(
    rows.map((row, i) => row.map((c) => c * root[i]!)),
    measured.map((y, i) => y * root[i]!),
  );
  const dependent = factors.dependent[0];
  if (dependent !== undefined) return { ok: false, no: { why: "not told apart", parameter: dependent } };
  const parameters = bestUnknowns(factors);
  const residuals = measured.map((y, i) => y - rows[i]!.reduce((s, c, j) => s + c * parameters[j]!, 0));
  return { ok: true, fit: fitFrom(parameters, inverseOfSquare(factors), residuals, weights, options.sd) };
}
