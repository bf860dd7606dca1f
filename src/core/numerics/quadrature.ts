/**
 * Gauss-Legendre nodes and weights on [0, 1]: exact for polynomials up to degree 2n - 1.
 * Nodes are the roots of the Legendre polynomial, by Newton from Tricomi's estimate (Abramowitz & Stegun 25.4, 22.16).
 */
const cache = new Map<number, { x: Float64Array; w: Float64Array }>();

/** Places in [-1, 1] and weights of the Gauss-Legendre rule with n points, exact to degree 2n - 1; kept, so not to be changed. */
export function gaussLegendre(n: number): { x: Float64Array; w: Float64Array } {
  const known = cache.get(n);
  if (known) return known;
  const x = new Float64Array(n);
  const w = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let z = Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let it = 0; it < 50; it++) {
      let p0 = 1;
      let p1 = 0;
      for (let k = 1; k <= n; k++) {
        const p2 = p1;
        p1 = p0;
        p0 = ((2 * k - 1) * z * p1 - (k - 1) * p2) / k;
      }
      slope = (n * (z * p0 - p1)) / (z * z - 1);
      const step = p0 / slope;
      z -= step;
      if (Math.abs(step) < 1e-15) break;
    }
    x[i] = (1 - z) / 2;
    w[i] = 1 / ((1 - z * z) * slope * slope);
  }
  const made = { x, w };
  cache.set(n, made);
  return made;
}
