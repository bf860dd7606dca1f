import { type Fit, type FitOptions, fitFrom, type NoFit, reasonAgainst } from "./fit.ts";
import { bestUnknowns, inverseOfSquare, lengthOf, orthogonal } from "./orthogonal.ts";

/** Parameters to the fitted numbers, one for each measured one; a number that is not finite marks parameters that cannot be. */
export type Model = (parameters: readonly number[]) => readonly number[];

export interface CurveFitOptions extends FitOptions {
  /** derivative of each fitted number (rows) by each parameter (columns); by central differences unless given */
  derivative?: ((parameters: readonly number[]) => readonly (readonly number[])[]) | undefined;
  /** no parameter goes below or above these */
  lower?: readonly number[] | undefined;
  upper?: readonly number[] | undefined;
  /** size that each parameter may be expected to have, for steps where it is near 0; what it starts with, or 1 */
  typical?: readonly number[] | undefined;
}

/** `held`: parameters that rest on a bound; their standard error is 0 and their correlations are left out. */
export type CurveFitted = { ok: true; fit: Fit; held: number[]; rounds: number } | { ok: false; no: NoFit };

const MOST_ROUNDS = 500;
/** Share of the parameter for central differences: their error, step² and rounding over step, is least at the cube root of the rounding. */
const DIFFERENCE = Number.EPSILON ** (1 / 3);
/** A parameter this much smaller than is typical counts as this share of it. */
const NEAR_ZERO = 1e-3;
/** At rest: no parameter would move by more than this share of itself. */
const RESTING_STEP = 1e-11;
/** At rest, too: no column makes a greater cosine with the residuals than central differences can tell. */
const RESTING_COSINE = 1e-6;
/** Residuals of this share of what was measured are rounding. */
const ROUNDING = 1e-12;
/** Steps without brakes at the end, and by how much rounding may let the sum of squares seem to grow in them. */
const MOST_POLISH = 6;
const POLISH_ROOM = 1e-10;
const FIRST_DAMPING = 1e-3;
const MOST_DAMPING = 1e18;

/** Derivatives by differences, within the bounds: central, at a bound one-sided of the same order. */
function byDifferences(model: Model, at: readonly number[], sizes: readonly number[], lower: readonly number[], upper: readonly number[]): number[][] {
  const here = model(at);
  const columns = at.map((p, j) => {
    const h = DIFFERENCE * Math.max(Math.abs(p), NEAR_ZERO * sizes[j]!);
    const moved = (by: number): readonly number[] => model(at.map((v, k) => (k === j ? v + by : v)));
    if (p + h <= upper[j]! && p - h >= lower[j]!) {
      const above = moved(h);
      const below = moved(-h);
      return here.map((_, i) => (above[i]! - below[i]!) / (p + h - (p - h)));
    }
    const d = p + 2 * h <= upper[j]! ? h : -h;
    const near = moved(d);
    const far = moved(2 * d);
    return here.map((y, i) => (4 * near[i]! - far[i]! - 3 * y) / (2 * d));
  });
  return here.map((_, i) => columns.map((c) => c[i]!));
}

/**
 * Nonlinear least squares by Levenberg's and Marquardt's method (J. J. Moré, The Levenberg-Marquardt algorithm, 1978,
 * for the scaling; H. B. Nielsen, Damping parameter in Marquardt's method, 1999): from `start` downhill to parameters
 * for which Σ weight (measured - model)² is least nearby; another start may lead to another place. Standard errors are
 * those of the model straightened at the answer.
 * @returns the fit, or why there is none; throws only what `model` throws
 */
export function fitCurve(model: Model, start: readonly number[], measured: readonly number[], options: CurveFitOptions = {}): CurveFitted {
  const n = start.length;
  const lower = options.lower ?? start.map(() => -Infinity);
  const upper = options.upper ?? start.map(() => Infinity);
  const within = (p: readonly number[]): number[] => p.map((v, j) => Math.min(upper[j]!, Math.max(lower[j]!, v)));
  const sizes = options.typical ?? start.map((p) => Math.abs(p) || 1);
  const derivative = options.derivative ?? ((p) => byDifferences(model, p, sizes, lower, upper));
  const weights = options.weights ?? measured.map(() => 1);
  const root = weights.map(Math.sqrt);
  const weighted = (p: readonly number[]): number[] => model(p).map((y, i) => (measured[i]! - y) * root[i]!);
  const sum = (r: readonly number[]): number => r.reduce((s, v) => s + v * v, 0);

  let parameters = within(start);
  const no = reasonAgainst(
    model(parameters).map((y) => [y]),
    measured,
    weights,
    n,
  );
  if (no) return { ok: false, no };

  let residuals = weighted(parameters);
  let squares = sum(residuals);
  // what rounding leaves of numbers that the model meets exactly
  const exact = ROUNDING * ROUNDING * measured.reduce((s, y, i) => s + weights[i]! * y * y, 0);
  let damping = FIRST_DAMPING;
  let growth = 2;
  const scale = new Array<number>(n).fill(0);
  for (let round = 1; round <= MOST_ROUNDS; round++) {
    const slopes = derivative(parameters).map((row, i) => row.map((d) => d * root[i]!));
    const bad = slopes.findIndex((row) => !row.every(Number.isFinite));
    if (bad >= 0) return { ok: false, no: { why: "not a number", row: bad } };
    const lengths = parameters.map((_, j) => lengthOf(slopes.map((row) => row[j]!)));
    const uphill = parameters.map((_, j) => slopes.reduce((s, row, i) => s + row[j]! * residuals[i]!, 0));
    lengths.forEach((length, j) => {
      scale[j] = Math.max(scale[j]!, length);
    });
    // a parameter on its bound that would go on beyond it stays there for this round
    const held = parameters.flatMap((p, j) => ((p <= lower[j]! && uphill[j]! <= 0) || (p >= upper[j]! && uphill[j]! >= 0) ? [j] : []));
    const free = parameters.map((_, j) => j).filter((j) => !held.includes(j));
    const cosine = Math.max(0, ...free.map((j) => (lengths[j]! > 0 && squares > 0 ? Math.abs(uphill[j]!) / (lengths[j]! * Math.sqrt(squares)) : 0)));
    const done = (): CurveFitted => finished(parameters, slopes, free, held, round);
    if (free.length === 0 || squares === 0) return done();

    for (;;) {
      const strength = Math.sqrt(damping);
      const brakes = free.map((j, at) => free.map((_, k) => (k === at ? strength * (scale[j]! || 1) : 0)));
      const factors = orthogonal([...slopes.map((row) => free.map((j) => row[j]!)), ...brakes], [...residuals, ...free.map(() => 0)]);
      const step = bestUnknowns(factors);
      const next = within(
        parameters.map((p, j) => {
          const at = free.indexOf(j);
          return at < 0 ? p : p + step[at]!;
        }),
      );
      const trial = weighted(next);
      const trialSquares = trial.every(Number.isFinite) ? sum(trial) : Infinity;
      const moved = next.map((p, j) => p - parameters[j]!);
      const expected = squares - sum(residuals.map((r, i) => r - slopes[i]!.reduce((s, d, j) => s + d * moved[j]!, 0)));
      const small = moved.every((d, j) => Math.abs(d) <= RESTING_STEP * Math.max(Math.abs(parameters[j]!), NEAR_ZERO * sizes[j]!));
      if (trialSquares <= squares && (expected > 0 || small)) {
        const gain = expected > 0 ? (squares - trialSquares) / expected : 1;
        parameters = next;
        residuals = trial;
        squares = trialSquares;
        damping *= Math.max(1 / 3, 1 - (2 * gain - 1) ** 3);
        growth = 2;
        if (small && damping <= 1) return done();
        break;
      }
      // where rounding hides any further gain, the last answer is the best there is
      if (small || damping > MOST_DAMPING) {
        const resting = cosine <= RESTING_COSINE || squares <= exact || (small && damping <= 1);
        return resting ? done() : { ok: false, no: { why: "no rest" } };
      }
      damping *= growth;
      growth *= 2;
    }
  }
  return { ok: false, no: { why: "no rest" } };

  /**
   * Near the answer sums of squares no longer tell better from worse, but steps without brakes still come closer, as
   * long as each is shorter than the one before.
   */
  function finished(rested: number[], slopes: number[][], free: number[], held: number[], rounds: number): CurveFitted {
    let at = rested;
    let last = Infinity;
    for (let polish = 0; ; polish++) {
      const factors = orthogonal(
        slopes.map((row) => free.map((j) => row[j]!)),
        residuals,
      );
      const dependent = factors.dependent[0];
      if (dependent !== undefined) return { ok: false, no: { why: "not told apart", parameter: free[dependent]! } };
      const step = bestUnknowns(factors);
      const length = Math.max(0, ...step.map((d, k) => Math.abs(d) / Math.max(Math.abs(at[free[k]!]!), NEAR_ZERO * sizes[free[k]!]!)));
      const next = at.map((p, j) => (held.includes(j) ? p : p + step[free.indexOf(j)]!));
      const trial = weighted(next);
      const worth = length < last && length > Number.EPSILON && within(next).every((p, j) => p === next[j]) && sum(trial) <= squares * (1 + POLISH_ROOM);
      if (!worth || polish === MOST_POLISH) {
        const small = inverseOfSquare(factors);
        const inverse = at.map((_, i) => at.map((__, j) => (held.includes(i) || held.includes(j) ? 0 : small[free.indexOf(i)]![free.indexOf(j)]!)));
        const fitted = model(at);
        const rest = fitted.map((y, i) => measured[i]! - y);
        return { ok: true, fit: fitFrom(at, inverse, rest, weights, options.sd), held, rounds };
      }
      last = length;
      at = next;
      residuals = trial;
      slopes = derivative(at).map((row, i) => row.map((d) => d * root[i]!));
    }
  }
}
