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
 * 1/λ is its largest eigenvalue. `settled`: the share of its size by which two estimates may still differ. Source: Parlett, The Symmetric Eigenvalue Problem, ch. 13 and 15.
 */
export function smallestPositiveFactor(factor: Banded, g: Banded, settled = SETTLED): number {
  const n = g.n;
  const most = Math.min(STEPS, n);
  const basis: Float64Array[] = [];
  // K times each basis vector, for the inner product
  const images: Float64Array[] = [];
  const alpha = new Float64Array(most);
  const beta = new Float64Array(most);
  // a start vector with a part of every shape: a fixed pseudo-random load
  let kv = new Float64Array(n);
  let seed = 12345;
  for (let i = 0; i < n; i++) {
    seed = (seed * 1103515245 + 12345) % 2147483648;
    kv[i] = seed / 2147483648 - 0.5;
  }
  // one step of the operator on it makes the start smooth
  let v = kv.slice();
  choleskySolve(factor, v);
  bandedTimes(g, v, kv);
  for (let i = 0; i < n; i++) kv[i] = -kv[i]!;
  v.set(kv);
  choleskySolve(factor, v);
  let norm = Math.sqrt(Math.max(0, dot(v, kv)));
  if (!(norm > 0)) return Number.POSITIVE_INFINITY;
  let last = 0;
  let done = 0;
  while (done < most) {
    const step = done++;
    for (let i = 0; i < n; i++) {
      v[i] = v[i]! / norm;
      kv[i] = kv[i]! / norm;
    }
    basis.push(v);
    images.push(kv);
    const next = new Float64Array(n);
    bandedTimes(g, v, next);
    for (let i = 0; i < n; i++) next[i] = -next[i]!;
    alpha[step] = dot(v, next);
    const w = next.slice();
    choleskySolve(factor, w);
    // Lanczos' own three terms first; one pass over the whole basis then takes what rounding left
    const before = step > 0 ? beta[step - 1]! : 0;
    subtract(w, next, v, kv, alpha[step]!);
    if (step > 0) subtract(w, next, basis[step - 1]!, images[step - 1]!, before);
    for (let j = 0; j <= step; j++) subtract(w, next, basis[j]!, images[j]!, dot(images[j]!, w));
    norm = Math.sqrt(Math.max(0, dot(w, next)));
    const ended = !(norm > 1e-12 * (Math.abs(alpha[step]!) + before));
    if (ended || step % CHECK_EVERY === CHECK_EVERY - 1) {
      const mu = largestEigenvalue(alpha, beta, done);
      if (ended || Math.abs(mu - last) <= settled * Math.abs(mu)) {
        last = mu;
        break;
      }
      last = mu;
    }
    beta[step] = norm;
    v = w;
    kv = next;
  }
  let spectrum = Number.MIN_VALUE;
  for (let i = 0; i < done; i++) spectrum = Math.max(spectrum, Math.abs(alpha[i]!), beta[i]!);
  return last > NONE * spectrum ? 1 / last : Number.POSITIVE_INFINITY;
}

/** Takes `c` times a basis vector off `w`, and the same off its image. */
function subtract(w: Float64Array, image: Float64Array, b: Float64Array, kb: Float64Array, c: number): void {
  for (let i = 0; i < w.length; i++) {
    w[i] = w[i]! - c * b[i]!;
    image[i] = image[i]! - c * kb[i]!;
  }
}

function dot(a: Float64Array, b: Float64Array): number {
  let s = 0;
  for (let i = 0; i < a.length; i++) s += a[i]! * b[i]!;
  return s;
}

/** Largest eigenvalue of the symmetric tridiagonal matrix of `m` rows (alpha, beta), by bisection on the sign count. */
function largestEigenvalue(alpha: Float64Array, beta: Float64Array, m: number): number {
  let hi = Number.NEGATIVE_INFINITY;
  let lo = Number.NEGATIVE_INFINITY;
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
