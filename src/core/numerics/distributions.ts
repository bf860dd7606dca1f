/**
 * Normal and Student t distribution: probability below a value (cdf) and the value below which a probability lies
 * (quantile). Pure numbers without unit.
 */

/** Where series and continued fractions stop: below half the spacing of doubles at 1. */
const ENOUGH = 1e-16;
/** Terms after which a series is given up; none here needs more than 150. */
const MOST_TERMS = 1000;
/** Stands for a zero divisor in Lentz's method. */
const TINY = 1e-300;

const SQRT_2PI = Math.sqrt(2 * Math.PI);
const LOG_SQRT_2PI = Math.log(SQRT_2PI);
// Rational functions for the normal cdf near the middle and in the tail (W. J. Cody, Mathematics of Computation 23 (1969) 631-637), as they
// are in use for the probability itself; each to the digits of a double. Further out the continued fraction is quick.
const CENTRE_TO = 0.67448975;
const CENTRE_ABOVE = [18154.98125334356, 1067.6894854603709, 161.02823106855587, 2.235252035460684, 0.06568233791820745];
const CENTRE_BELOW = [45507.78933502673, 10260.932208618979, 976.0985517377767, 47.202581904688245, 1];
const TAIL_TO = Math.sqrt(32);
const TAIL_ABOVE = [
  9842.714838383978, 11602.65143764735, 6848.190450536283, 2494.5375852903726, 597.2702763948002, 93.50665613217785, 8.883149794388377, 0.39894151208813466,
  1.0765576773720192e-8,
];
const TAIL_BELOW = [
  19685.429676859992, 38912.00328609327, 34900.95272114598, 18615.571640885097, 6485.558298266761, 1519.3775994075547, 235.387901782625, 22.266688044328117, 1,
];

/** Continued fraction by Lentz's method as changed by Thompson and Barnett: b0 + a1/(b1 + a2/(b2 + …)). */
function continuedFraction(b0: number, a: (k: number) => number, b: (k: number) => number): number {
  let f = b0 === 0 ? TINY : b0;
  let c = f;
  let d = 0;
  for (let k = 1; k <= MOST_TERMS; k++) {
    d = b(k) + a(k) * d;
    c = b(k) + a(k) / c;
    if (d === 0) d = TINY;
    if (c === 0) c = TINY;
    d = 1 / d;
    const step = c * d;
    f *= step;
    if (Math.abs(step - 1) < 2 * ENOUGH) break;
  }
  return f;
}

const polynomial = (c: readonly number[], x: number): number => {
  let sum = 0;
  for (let i = c.length - 1; i >= 0; i--) sum = sum * x + c[i]!;
  return sum;
};

/** (1 - cdf) · exp(z²/2) for z > `CENTRE_TO`; far out density times Mills' ratio 1/(z + 1/(z + 2/(z + …))) (Abramowitz and Stegun 26.2.14). */
function tailOverBell(z: number): number {
  if (z <= TAIL_TO) return polynomial(TAIL_ABOVE, z) / polynomial(TAIL_BELOW, z);
  const fraction = continuedFraction(
    z,
    (k) => k,
    () => z,
  );
  return 1 / (fraction * SQRT_2PI);
}

/** Probability that a standard normal value lies below `z`; relative accuracy some 1e-14 down into the lower tail. */
export function normalCdf(z: number): number {
  if (Number.isNaN(z)) return Number.NaN;
  const size = Math.abs(z);
  if (size <= CENTRE_TO) return 0.5 + (z * polynomial(CENTRE_ABOVE, z * z)) / polynomial(CENTRE_BELOW, z * z);
  const tail = size === Infinity ? 0 : Math.exp(-0.5 * z * z) * tailOverBell(size);
  return z < 0 ? tail : 1 - tail;
}

/** Logarithm of `normalCdf(z)`, finite also where the probability itself is below the smallest double. */
export function normalLogCdf(z: number): number {
  if (z >= -CENTRE_TO) return Math.log1p(-normalCdf(-z));
  if (z === -Infinity) return -Infinity;
  return -0.5 * z * z + Math.log(tailOverBell(-z));
}

// Rational functions of algorithm AS 241 (Wichura, Applied Statistics 37 (1988) 477-484), to the digits of a double.
const MIDDLE_ABOVE = [
  3.3871328727963665, 1.3314166789178438e2, 1.9715909503065513e3, 1.373169376550946e4, 4.592195393154987e4, 6.72657709270087e4, 3.343057558358813e4,
  2.5090809287301227e3,
];
const MIDDLE_BELOW = [
  1, 4.231333070160091e1, 6.871870074920579e2, 5.394196021424751e3, 2.1213794301586597e4, 3.930789580009271e4, 2.8729085735721943e4, 5.226495278852854e3,
];
const NEAR_ABOVE = [
  1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045, 1.2704582524523684, 2.417807251774506e-1, 2.2723844989269184e-2,
  7.745450142783414e-4,
];
const NEAR_BELOW = [
  1, 2.053191626637759, 1.6763848301838038, 6.897673349851e-1, 1.4810397642748008e-1, 1.5198666563616457e-2, 5.475938084995345e-4, 1.0507500716444169e-9,
];
const FAR_ABOVE = [
  6.657904643501103, 5.463784911164114, 1.7848265399172913, 2.9656057182850487e-1, 2.6532189526576124e-2, 1.2426609473880784e-3, 2.7115555687434876e-5,
  2.0103343992922881e-7,
];
const FAR_BELOW = [
  1, 5.99832206555888e-1, 1.369298809227358e-1, 1.4875361290850615e-2, 7.868691311456133e-4, 1.8463183175100548e-5, 1.421511758316446e-7,
  2.0442631033899397e-15,
];
const MIDDLE_TO = 0.425;
const NEAR_TO = 5;

/** Value below which a standard normal value lies with probability `p`; -Infinity at 0, Infinity at 1, NaN outside. */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) return Number.NaN;
  if (p === 0) return -Infinity;
  if (p === 1) return Infinity;
  const q = p - 0.5;
  if (Math.abs(q) <= MIDDLE_TO) {
    const r = MIDDLE_TO * MIDDLE_TO - q * q;
    return (q * polynomial(MIDDLE_ABOVE, r)) / polynomial(MIDDLE_BELOW, r);
  }
  const r = Math.sqrt(-Math.log(q < 0 ? p : 1 - p));
  const z =
    r <= NEAR_TO ? polynomial(NEAR_ABOVE, r - 1.6) / polynomial(NEAR_BELOW, r - 1.6) : polynomial(FAR_ABOVE, r - NEAR_TO) / polynomial(FAR_BELOW, r - NEAR_TO);
  return q < 0 ? -z : z;
}

// Lanczos' approximation of the gamma function, g = 7, nine terms (coefficients by P. Godfrey, 2001), 15 digits.
const LANCZOS_G = 7;
const LANCZOS = [
  0.9999999999998099, 676.5203681218851, -1259.1392167224028, 771.3234287776531, -176.6150291621406, 12.507343278686905, -0.13857109526572012,
  9.984369578019572e-6, 1.5056327351493116e-7,
];

/** Logarithm of the gamma function for x >= 1/2. */
function logGamma(x: number): number {
  const t = x - 1 + LANCZOS_G + 0.5;
  let sum = LANCZOS[0]!;
  for (let k = 1; k < LANCZOS.length; k++) sum += LANCZOS[k]! / (x - 1 + k);
  return LOG_SQRT_2PI + (x - 0.5) * Math.log(t) - t + Math.log(sum);
}

/** Regularized incomplete beta function I_x(a, b), a and b >= 1/2; `y` is 1 - x, told apart so that neither loses digits. */
function incompleteBeta(x: number, y: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (y <= 0) return 1;
  // the fraction is quick below the distribution's bulk; above it the other tail is taken
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(y, x, b, a);
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log(y)) / a;
  // Abramowitz and Stegun 26.5.8
  const fraction = continuedFraction(
    1,
    (k) => {
      const m = k >> 1;
      return k % 2 === 0 ? (m * (b - m) * x) / ((a + k - 1) * (a + k)) : (-(a + m) * (a + b + m) * x) / ((a + k - 1) * (a + k));
    },
    () => 1,
  );
  return front / fraction;
}

/** Probability of a Student t value above `t` >= 0, or below -t, with `dof` > 0 degrees of freedom (Abramowitz and Stegun 26.7.1). */
function tUpper(t: number, dof: number): number {
  if (dof === Infinity) return normalCdf(-t);
  const square = t * t;
  if (square === Infinity) return 0;
  return 0.5 * incompleteBeta(dof / (dof + square), square / (dof + square), dof / 2, 0.5);
}

/**
 * Probability that a Student t value with `dof` degrees of freedom lies below `t`; `dof` >= 1, whole or not; Infinity
 * is the normal distribution. Relative accuracy 1e-12, and 1e-9 at a million degrees of freedom.
 */
export function tCdf(t: number, dof: number): number {
  if (Number.isNaN(t) || !(dof >= 1)) return Number.NaN;
  return t < 0 ? tUpper(-t, dof) : 1 - tUpper(t, dof);
}

/**
 * Value below which a Student t value with `dof` >= 1 degrees of freedom lies with probability `p`; infinite at 0
 * and 1, NaN outside. Found by bisection, which cannot fail.
 */
export function tQuantile(p: number, dof: number): number {
  if (!(p >= 0 && p <= 1) || !(dof >= 1)) return Number.NaN;
  if (p === 0.5) return 0;
  if (p === 0 || p === 1) return p === 0 ? -Infinity : Infinity;
  if (dof === Infinity) return normalQuantile(p);
  const wanted = Math.min(p, 1 - p);
  let low = 0;
  let high = 1;
  while (tCdf(-high, dof) > wanted) {
    low = high;
    high *= 2;
  }
  while (high - low > 4e-16 * high) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (tCdf(-middle, dof) > wanted) low = middle;
    else high = middle;
  }
  const t = (low + high) / 2;
  return p < 0.5 ? -t : t;
}
