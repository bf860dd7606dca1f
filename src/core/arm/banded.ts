/**
 * Symmetric positive definite banded matrices: lower band by rows, entry (i, j) with j <= i at
 * a[i*(band+1) + j - i + band]. Cholesky in place.
 */
export interface Banded {
  n: number;
  band: number;
  a: Float64Array;
}

/** A zero matrix of n rows with `band` places below the diagonal. */
export const newBanded = (n: number, band: number): Banded => ({ n, band, a: new Float64Array(n * (band + 1)) });

/** pivots below this share of their original diagonal count as a mechanism */
const RANK_TOLERANCE = 1e-13;

/** Factors A = L Lᵀ in place. Returns -1, or the row at which the matrix stops being positive definite. */
export function choleskyFactor(m: Banded): number {
  const { n, band, a } = m;
  const w = band + 1;
  for (let i = 0; i < n; i++) {
    const first = Math.max(0, i - band);
    const ri = i * w + band - i;
    const original = a[ri + i]!;
    for (let j = first; j <= i; j++) {
      const rj = j * w + band - j;
      let s = a[ri + j]!;
      for (let k = Math.max(first, j - band); k < j; k++) s -= a[ri + k]! * a[rj + k]!;
      if (j < i) a[ri + j] = s / a[rj + j]!;
      else {
        if (!(s > RANK_TOLERANCE * original)) return i;
        a[ri + i] = Math.sqrt(s);
      }
    }
  }
  return -1;
}

/** Solves L Lᵀ x = b in place on `x` (holds b on entry). */
export function choleskySolve(m: Banded, x: Float64Array): void {
  const { n, band, a } = m;
  const w = band + 1;
  for (let i = 0; i < n; i++) {
    const ri = i * w + band - i;
    let s = x[i]!;
    for (let k = i > band ? i - band : 0; k < i; k++) s -= a[ri + k]! * x[k]!;
    x[i] = s / a[ri + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    const ri = i * w + band - i;
    const v = x[i]! / a[ri + i]!;
    x[i] = v;
    if (v === 0) continue;
    for (let k = i > band ? i - band : 0; k < i; k++) x[k] = x[k]! - a[ri + k]! * v;
  }
}

/** y = A x for a banded matrix that is not factored. */
export function bandedTimes(m: Banded, x: Float64Array, y: Float64Array): void {
  const { n, band, a } = m;
  const w = band + 1;
  y.fill(0);
  for (let i = 0; i < n; i++) {
    const ri = i * w + band - i;
    const xi = x[i]!;
    let s = a[ri + i]! * xi;
    for (let k = i > band ? i - band : 0; k < i; k++) {
      const v = a[ri + k]!;
      s += v * x[k]!;
      y[k] = y[k]! + v * xi;
    }
    y[i] = y[i]! + s;
  }
}
