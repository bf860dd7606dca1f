import { luFactor, luSolve } from "../numerics/dense.ts";
import type { V2 } from "../vec.ts";

/**
 * What a camera makes of a plane: (x, y) goes to ((h0 x + h1 y + h2)/w, (h3 x + h4 y + h5)/w) with w = h6 x + h7 y + h8, row by row of a
 * 3 x 3 matrix (Hartley and Zisserman, Multiple View Geometry, 2nd ed., section 2.3). Only ratios of the nine count; they are scaled so
 * that w is above 0 at the points they were made from.
 */
export type Homography = readonly [number, number, number, number, number, number, number, number, number];
export type FourPoints = readonly [V2, V2, V2, V2];

/** Where a point goes; null on the horizon and behind the camera, where w is not above 0. */
export function mapped(h: Homography, [x, y]: V2): V2 | null {
  const w = h[6] * x + h[7] * y + h[8];
  return w > 0 ? [(h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w] : null;
}

/** First b, then a. */
export function after(a: Homography, b: Homography): Homography {
  const at = (i: number, j: number): number => a[3 * i]! * b[j]! + a[3 * i + 1]! * b[3 + j]! + a[3 * i + 2]! * b[6 + j]!;
  return [at(0, 0), at(0, 1), at(0, 2), at(1, 0), at(1, 1), at(1, 2), at(2, 0), at(2, 1), at(2, 2)];
}

/** The way back, by cofactors over the determinant, so that w keeps its sign. A matrix of rank below three is a fault of the program. */
export function inverse(h: Homography): Homography {
  const [a, b, c, d, e, f, g, i, j] = h;
  const det = a * (e * j - f * i) - b * (d * j - f * g) + c * (d * i - e * g);
  if (!(Math.abs(det) > 0)) throw new RangeError("a homography without an inverse");
  return [
    (e * j - f * i) / det,
    (c * i - b * j) / det,
    (b * f - c * e) / det,
    (f * g - d * j) / det,
    (a * j - c * g) / det,
    (c * d - a * f) / det,
    (d * i - e * g) / det,
    (b * g - a * i) / det,
    (a * e - b * d) / det,
  ];
}

/** Twice the signed area of a triangle over the square of its longest side; 0: in line. */
function corner(a: V2, b: V2, c: V2): number {
  const [u, v] = [[b[0] - a[0], b[1] - a[1]] as const, [c[0] - b[0], c[1] - b[1]] as const];
  const w = [c[0] - a[0], c[1] - a[1]] as const;
  const longest = Math.max(u[0] ** 2 + u[1] ** 2, v[0] ** 2 + v[1] ** 2, w[0] ** 2 + w[1] ** 2);
  return longest > 0 ? (u[0] * v[1] - u[1] * v[0]) / longest : 0;
}

/** a corner flatter than this, about a degree and a half, is as good as in line: what hangs on it would be a guess */
const FLAT = 0.025;

/** Four points that go round a figure without a dent: what a rectangle looks like from any place before it. */
export function isConvex(p: FourPoints): boolean {
  const turns = [0, 1, 2, 3].map((i) => corner(p[i % 4]!, p[(i + 1) % 4]!, p[(i + 2) % 4]!));
  return turns.every((t) => t > FLAT) || turns.every((t) => t < -FLAT);
}

/** Points moved and scaled so that their middle is at 0 and they lie √2 from it on average (Hartley, In defence of the 8-point algorithm, 1997). */
function evened(points: FourPoints): { points: V2[]; to: Homography } {
  const cx = points.reduce((sum, p) => sum + p[0], 0) / 4;
  const cy = points.reduce((sum, p) => sum + p[1], 0) / 4;
  const mean = points.reduce((sum, p) => sum + Math.sqrt((p[0] - cx) ** 2 + (p[1] - cy) ** 2), 0) / 4;
  const k = mean > 0 ? Math.SQRT2 / mean : 1;
  return { points: points.map((p) => [k * (p[0] - cx), k * (p[1] - cy)]), to: [k, 0, -k * cx, 0, k, -k * cy, 0, 0, 1] };
}

/**
 * The one homography that takes four points to four others, in order: eight linear equations for eight unknowns, h8 being 1 in the evened
 * coordinates (Hartley and Zisserman, example 2.12). Null where either four are not the corners of a figure without a dent.
 */
export function homographyOf(from: FourPoints, to: FourPoints): Homography | null {
  if (!isConvex(from) || !isConvex(to)) return null;
  const [a, b] = [evened(from), evened(to)];
  const m = new Float64Array(64);
  const right = new Float64Array(8);
  for (let i = 0; i < 4; i++) {
    const [x, y] = a.points[i]!;
    const [u, v] = b.points[i]!;
    m.set([x, y, 1, 0, 0, 0, -x * u, -y * u], 16 * i);
    m.set([0, 0, 0, x, y, 1, -x * v, -y * v], 16 * i + 8);
    right.set([u, v], 2 * i);
  }
  const lu = luFactor(m, 8);
  if (lu.singular) return null;
  const h = new Float64Array(8);
  luSolve(lu, right, h);
  const inner: Homography = [h[0]!, h[1]!, h[2]!, h[3]!, h[4]!, h[5]!, h[6]!, h[7]!, 1];
  const whole = after(inverse(b.to), after(inner, a.to));
  const w = ([x, y]: V2): number => whole[6] * x + whole[7] * y + whole[8];
  const sign = Math.sign(w(from[0]));
  if (sign === 0 || from.some((p) => !(w(p) * sign > 0))) return null;
  return whole.map((v) => v * sign) as unknown as Homography;
}
