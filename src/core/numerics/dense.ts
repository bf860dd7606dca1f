/**
 * Dense LU with partial pivoting on row-major Float64Array, in place, for the small matrices of the core.
 * Rank loss is reported (`singular`), never turned into NaN.
 */
export interface LU {
  n: number;
  lu: Float64Array;
  perm: Int32Array;
  /** sign of the determinant: -1, 0, 1 */
  detSign: number;
  singular: boolean;
  /** row by row the columns that are filled, diagonal included; where each row's begin, and its diagonal's place among them */
  filled: Filled;
}

/** Memory for the filled places of an n x n matrix. */
export interface Filled {
  columns: Int32Array;
  starts: Int32Array;
  diagonals: Int32Array;
}

/** Room for the filled places of a factored matrix of n rows. */
export const filledPlaces = (n: number): Filled => ({ columns: new Int32Array(n * n), starts: new Int32Array(n + 1), diagonals: new Int32Array(n) });

let places = new Int32Array(64);

/** Lists the filled places of a factored matrix: the axle's stay half empty, and a solve need not touch the rest. */
function listFilled(a: Float64Array, n: number, out: Filled): void {
  const { columns, starts, diagonals } = out;
  let k = 0;
  for (let i = 0; i < n; i++) {
    starts[i] = k;
    const ii = i * n;
    for (let j = 0; j < i; j++) if (a[ii + j] !== 0) columns[k++] = j;
    diagonals[i] = k;
    columns[k++] = i;
    for (let j = i + 1; j < n; j++) if (a[ii + j] !== 0) columns[k++] = j;
  }
  starts[n] = k;
}

/** Factors `a` (n x n, row-major, overwritten); `perm` and `filled` are memory to use. */
export function luFactor(a: Float64Array, n: number, perm = new Int32Array(n), filled = filledPlaces(n)): LU {
  let sign = 1;
  let singular = false;
  if (places.length < n) places = new Int32Array(n);
  for (let i = 0; i < n; i++) perm[i] = i;
  for (let k = 0; k < n; k++) {
    let p = k;
    let best = Math.abs(a[k * n + k]!);
    for (let i = k + 1; i < n; i++) {
      const v = Math.abs(a[i * n + k]!);
      if (v > best) {
        best = v;
        p = i;
      }
    }
    if (!(best > 0)) {
      singular = true;
      sign = 0;
      continue;
    }
    if (p !== k) {
      for (let j = 0; j < n; j++) {
        const t = a[k * n + j]!;
        a[k * n + j] = a[p * n + j]!;
        a[p * n + j] = t;
      }
      const t = perm[k]!;
      perm[k] = perm[p]!;
      perm[p] = t;
      sign = -sign;
    }
    const kk = k * n;
    const pivot = a[kk + k]!;
    if (pivot < 0) sign = -sign;
    const inv = 1 / pivot;
    // the axle's matrices are sparse: only the filled places of the pivot's row change the rows below
    let count = 0;
    for (let j = k + 1; j < n; j++) if (a[kk + j] !== 0) places[count++] = j;
    for (let i = k + 1; i < n; i++) {
      const ii = i * n;
      const v = a[ii + k]!;
      if (v === 0) continue;
      const f = v * inv;
      a[ii + k] = f;
      for (let m = 0; m < count; m++) {
        const j = places[m]!;
        a[ii + j] = a[ii + j]! - f * a[kk + j]!;
      }
    }
  }
  listFilled(a, n, filled);
  return { n, lu: a, perm, detSign: sign, singular, filled };
}

/** Solves A x = b; `x` may not alias `b`. */
export function luSolve(f: LU, b: ArrayLike<number>, x: Float64Array): void {
  const { n, lu, perm } = f;
  const { columns, starts, diagonals } = f.filled;
  for (let i = 0; i < n; i++) {
    let s = b[perm[i]!]!;
    const ii = i * n;
    const end = diagonals[i]!;
    for (let k = starts[i]!; k < end; k++) {
      const j = columns[k]!;
      s -= lu[ii + j]! * x[j]!;
    }
    x[i] = s;
  }
  for (let i = n - 1; i >= 0; i--) {
    let s = x[i]!;
    const ii = i * n;
    const end = starts[i + 1]!;
    for (let k = diagonals[i]! + 1; k < end; k++) {
      const j = columns[k]!;
      s -= lu[ii + j]! * x[j]!;
    }
    x[i] = s / lu[ii + i]!;
  }
}

/** Solves Aᵀ x = b; `x` may not alias `b`. */
export function luSolveTransposed(f: LU, b: ArrayLike<number>, x: Float64Array): void {
  const { n, lu, perm } = f;
  const y = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let s = b[i]!;
    for (let j = 0; j < i; j++) s -= lu[j * n + i]! * y[j]!;
    y[i] = s / lu[i * n + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    let s = y[i]!;
    for (let j = i + 1; j < n; j++) s -= lu[j * n + i]! * y[j]!;
    y[i] = s;
  }
  for (let i = 0; i < n; i++) x[perm[i]!] = y[i]!;
}
