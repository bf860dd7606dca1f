import { type Banded, bandedTimes, choleskySolve } from "./banded.ts";

/** Lanczos steps at most; the wanted eigenvalue settles to rounding in about half of them */
const STEPS = 40;
/** relative change of the estimate between checks at which it counts as settled (its error is smaller still) */
const SETTLED = 1e-8;
const CHECK_EVERY = 3;
/** share of the spectrum's size below which the largest eigenvalue counts as none */
const NONE = 1e-10;

/**
 * Smallest positive λ with (K + λ G) x = 0, K positive definite (its Cholesky factor is given), G symmetric;
 * Infinity when there is none. Lanczos in the K inner product on -K⁻¹G with full reorthogonalisation:
 * 1/λ is its largest eigenvalue. Source: Parlett, The Symmetric Eigenvalue Problem, ch. 13 and 15.
 */
export function smallestPositiveFactor(factor: Banded, g: Banded): number {
  const n = g.n;
  const basis: Float64Array[] = [];
  // K times each basis vector, for the inner product
  const images: Float64Array[] = [];
  const alpha: number[] = [];
  const beta: number[] = [];
  // a start vector with a part of every shape: a fixed pseudo-random load
  let kv = new Float64Array(n);
  let seed = 12345;
  for (let i = 0; i < n; i++) {
    seed = (seed * 1103515245 + 12345) % 2147483648;
    kv[i] = seed / 2147483648 - 0.5;
  }
  // one step of the operator on it makes the start smooth
  let v = Float64Array.from(kv);
  choleskySolve(factor, v);
  bandedTimes(g, v, kv);
  for (let i = 0; i < n; i++) kv[i] = -kv[i]!;
  v = Float64Array.from(kv);
  choleskySolve(factor, v);
  let norm = Math.sqrt(Math.max(0, dot(v, kv)));
  if (!(norm > 0)) return Number.POSITIVE_INFINITY;
  let last = 0;
  for (let step = 0; step < Math.min(STEPS, n); step++) {
    for (let i = 0; i < n; i++) {
      v[i] = v[i]! / norm;
      kv[i] = kv[i]! / norm;
    }
    basis.push(v);
    images.push(kv);
    const next = new Float64Array(n);
    bandedTimes(g, v, next);
    for (let i = 0; i < n; i++) next[i] = -next[i]!;
    alpha.push(dot(v, next));
    const w = Float64Array.from(next);
    choleskySolve(factor, w);
    // twice is enough
    for (let pass = 0; pass < 2; pass++) {
      for (let j = 0; j < basis.length; j++) {
        const c = dot(images[j]!, w);
        const b = basis[j]!;
        const kb = images[j]!;
        for (let i = 0; i < n; i++) {
          w[i] = w[i]! - c * b[i]!;
          next[i] = next[i]! - c * kb[i]!;
        }
      }
    }
    norm = Math.sqrt(Math.max(0, dot(w, next)));
    const ended = !(norm > 1e-12 * (Math.abs(alpha[step]!) + (beta[step - 1] ?? 0)));
    if (ended || step % CHECK_EVERY === CHECK_EVERY - 1) {
      const mu = largestEigenvalue(alpha, beta);
      if (ended || Math.abs(mu - last) <= SETTLED * Math.abs(mu)) {
        last = mu;
        break;
      }
      last = mu;
    }
    beta.push(norm);
    v = w;
    kv = next;
  }
  const spectrum = Math.max(...alpha.map(Math.abs), ...beta, Number.MIN_VALUE);
  return last > NONE * spectrum ? 1 / last : Number.POSITIVE_INFINITY;
}

function dot(a: Float64Array, b: Float64Array): number {
  let s = 0;
  for (let i = 0; i < a.length; i++) s += a[i]! * b[i]!;
  return s;
}

/** Largest eigenvalue of the symmetric tridiagonal matrix (alpha, beta), by bisection on the sign count. */
function largestEigenvalue(alpha: number[], beta: number[]): number {
  let hi = Number.NEGATIVE_INFINITY;
  let lo = Number.NEGATIVE_INFINITY;
  const m = alpha.length;
  for (let i = 0; i < m; i++) {
    const r = (i > 0 ? Math.abs(beta[i - 1]!) : 0) + (i < m - 1 ? Math.abs(beta[i]!) : 0);
    hi = Math.max(hi, alpha[i]! + r);
    lo = Math.max(lo, alpha[i]!);
  }
  const allBelow = (x: number) => {
    let d = alpha[0]! - x;
    if (d >= 0) return false;
    for (let i = 1; i < m; i++) {
      d = alpha[i]! - x - (beta[i - 1]! * beta[i - 1]!) / d;
      if (d >= 0) return false;
    }
    return true;
  };
  const width = hi - lo;
  for (let k = 0; k < 60 && hi - lo > 1e-13 * Math.max(width, Math.abs(hi)); k++) {
    const mid = (lo + hi) / 2;
    if (allBelow(mid)) hi = mid;
    else lo = mid;
  }
  return (lo + hi) / 2;
}
