/**
 * Householder's orthogonal factors of a tall matrix, its columns brought to length 1 first, for least squares: the
 * errors then grow with the columns' angles alone, neither with their units nor with the square of them, as they
 * would by way of the normal equations (Golub and Van Loan, Matrix Computations, 5.2 and 5.3).
 */
export interface Orthogonal {
  /** upper triangle of n x n, row-major, of the columns as scaled */
  triangle: Float64Array;
  /** lengths of the columns; scaled column = column / length */
  lengths: Float64Array;
  /** first n places of Qᵀ times the right-hand side */
  rotated: Float64Array;
  /** columns without a part of their own beside those before them: the triangle's diagonal is as good as 0 there */
  dependent: number[];
}

/** Sine of the angle between a column and those before it below which its own part is rounding. */
const SAME_DIRECTION = 1e-13;

/** Euclidean length, without overflow of squares. */
export function lengthOf(v: ArrayLike<number>): number {
  let largest = 0;
  for (let i = 0; i < v.length; i++) largest = Math.max(largest, Math.abs(v[i]!));
  if (!(largest > 0)) return 0;
  let s = 0;
  for (let i = 0; i < v.length; i++) s += (v[i]! / largest) * (v[i]! / largest);
  return largest * Math.sqrt(s);
}

/**
 * `rows`: m rows of n numbers each, m >= n; `right`: m numbers. Neither is changed. Cost m n².
 */
export function orthogonal(rows: readonly (readonly number[])[], right: readonly number[]): Orthogonal {
  const m = rows.length;
  const n = rows[0]?.length ?? 0;
  const lengths = new Float64Array(n);
  const a = Array.from({ length: n }, (_, j) => {
    const column = new Float64Array(m);
    for (let i = 0; i < m; i++) column[i] = rows[i]![j]!;
    const length = lengthOf(column);
    lengths[j] = length;
    if (length > 0) for (let i = 0; i < m; i++) column[i] = column[i]! / length;
    return column;
  });
  const b = Float64Array.from(right);
  const dependent: number[] = [];
  const triangle = new Float64Array(n * n);
  for (let k = 0; k < n; k++) {
    const column = a[k]!;
    let square = 0;
    for (let i = k; i < m; i++) square += column[i]! * column[i]!;
    const norm = Math.sqrt(square);
    for (let i = 0; i < k; i++) triangle[i * n + k] = column[i]!;
    if (!(norm > SAME_DIRECTION)) {
      dependent.push(k);
      continue;
    }
    const diagonal = column[k]! > 0 ? -norm : norm;
    triangle[k * n + k] = diagonal;
    // the mirror's normal; no difference of like numbers because of the sign chosen
    column[k] = column[k]! - diagonal;
    const half = -diagonal * column[k]!;
    const mirror = (v: Float64Array): void => {
      let s = 0;
      for (let i = k; i < m; i++) s += column[i]! * v[i]!;
      s /= half;
      for (let i = k; i < m; i++) v[i] = v[i]! - s * column[i]!;
    };
    for (let j = k + 1; j < n; j++) mirror(a[j]!);
    mirror(b);
  }
  return { triangle, lengths, rotated: b.slice(0, n), dependent };
}

/** The unknowns for which the rows meet the right-hand side best; none of the columns may be dependent. */
export function bestUnknowns(f: Orthogonal): number[] {
  const n = f.lengths.length;
  const x = new Array<number>(n).fill(0);
  for (let i = n - 1; i >= 0; i--) {
    let s = f.rotated[i]!;
    for (let j = i + 1; j < n; j++) s -= f.triangle[i * n + j]! * x[j]!;
    x[i] = s / f.triangle[i * n + i]!;
  }
  return x.map((v, i) => v / f.lengths[i]!);
}

/** Inverse of (rows)ᵀ(rows), n x n, from the triangle: R⁻¹ R⁻ᵀ with the scaling taken back. */
export function inverseOfSquare(f: Orthogonal): number[][] {
  const n = f.lengths.length;
  const inverse = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  for (let j = 0; j < n; j++) {
    inverse[j]![j] = 1 / f.triangle[j * n + j]!;
    for (let i = j - 1; i >= 0; i--) {
      let s = 0;
      for (let k = i + 1; k <= j; k++) s -= f.triangle[i * n + k]! * inverse[k]![j]!;
      inverse[i]![j] = s / f.triangle[i * n + i]!;
    }
  }
  return inverse.map((row, i) =>
    inverse.map((other, j) => {
      let s = 0;
      for (let k = Math.max(i, j); k < n; k++) s += row[k]! * other[k]!;
      return s / (f.lengths[i]! * f.lengths[j]!);
    }),
  );
}
