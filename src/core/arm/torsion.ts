/**
 * Saint-Venant torsion of a rectangle a x b (either order), by its rapidly converging series.
 * Source: Timoshenko & Goodier, Theory of Elasticity, sec. 109.
 */
/** sum of 1/n^5 over odd n: (31/32) zeta(5) */
const ODD_SUM_5 = 1.004523762795139;
/** odd terms kept; each next one is smaller by exp(-pi) or better where it matters */
const TERMS = 15;

/** cosh(p)/cosh(q) for 0 <= p <= q without overflow. */
const coshRatio = (p: number, q: number): number => (Math.exp(p - q) * (1 + Math.exp(-2 * p))) / (1 + Math.exp(-2 * q));

/** Torsion constant J, mm^4, of a rectangle with sides in mm. Thin strips give a b³/3. */
export function rectangleTorsion(sideA: number, sideB: number): number {
  const a = Math.max(sideA, sideB);
  const b = Math.min(sideA, sideB);
  let s5 = ODD_SUM_5;
  for (let n = 1; n <= TERMS; n += 2) {
    const q = (n * Math.PI * a) / (2 * b);
    const e = Math.exp(-2 * q);
    s5 -= (2 * e) / (1 + e) / n ** 5;
  }
  return (a * b ** 3 * (1 - ((192 * b) / (Math.PI ** 5 * a)) * s5)) / 3;
}

/**
 * Shear stress per torque (MPa per N·mm) on the outline of the rectangle, at share `xi` (0 middle .. 1 corner)
 * along half a long side or half a short side.
 */
export function rectangleTorsionShear(sideA: number, sideB: number, torsion: number, side: "long" | "short", xi: number): number {
  if (xi >= 1) return 0;
  const a = Math.max(sideA, sideB);
  const b = Math.min(sideA, sideB);
  let sum = 0;
  let sign = 1;
  for (let n = 1; n <= TERMS; n += 2) {
    const q = (n * Math.PI * a) / (2 * b);
    if (side === "long") sum += coshRatio(q * xi, q) / (n * n);
    else sum += (sign * Math.cos((n * Math.PI * xi) / 2) * Math.tanh(q)) / (n * n);
    sign = -sign;
  }
  const share = (8 / Math.PI ** 2) * sum;
  return (b / torsion) * Math.max(0, side === "long" ? 1 - share : share);
}
