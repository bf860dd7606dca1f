import type { V2 } from "../vec.ts";

/** Distances in the plane between a moving convex part and a fixed line. Points in mm; polygons counter-clockwise or clockwise, closed. */
export interface Gap {
  /** negative: how deep the line lies inside the part, or the part inside a closed outline, mm */
  distanceMm: number;
  /** the place on the fixed line (or, inside a closed outline, the part's deepest corner) */
  at: V2;
}

/** Closest point of a segment to `p`. */
function closest(p: V2, a: V2, b: V2): V2 {
  const dx = b[0] - a[0];
  const dz = b[1] - a[1];
  const size = dx * dx + dz * dz;
  const t = size > 0 ? Math.max(0, Math.min(1, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dz) / size)) : 0;
  return [a[0] + t * dx, a[1] + t * dz];
}

const apart = (a: V2, b: V2): number => Math.sqrt((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2);

function signedArea(poly: readonly V2[]): number {
  let s = 0;
  for (let i = 0; i < poly.length; i++) {
    const a = poly[i]!;
    const b = poly[(i + 1) % poly.length]!;
    s += a[0] * b[1] - b[0] * a[1];
  }
  return s / 2;
}

/** Part of the segment inside the convex polygon as parameters 0..1; null when it stays outside. */
function clip(a: V2, b: V2, poly: readonly V2[], turn: number): [number, number] | null {
  let from = 0;
  let to = 1;
  for (let i = 0; i < poly.length; i++) {
    const p = poly[i]!;
    const q = poly[(i + 1) % poly.length]!;
    const side = (v: V2): number => turn * ((q[0] - p[0]) * (v[1] - p[1]) - (q[1] - p[1]) * (v[0] - p[0]));
    const sa = side(a);
    const sb = side(b);
    if (sa < 0 && sb < 0) return null;
    if (sa === sb) continue;
    const t = sa / (sa - sb);
    if (sa < 0) from = Math.max(from, t);
    else if (sb < 0) to = Math.min(to, t);
  }
  return from < to ? [from, to] : null;
}

/** Distance of a point inside a convex polygon to its border. */
function inside(p: V2, poly: readonly V2[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < poly.length; i++) {
    const a = poly[i]!;
    const b = poly[(i + 1) % poly.length]!;
    const l = apart(a, b);
    if (l > 0) least = Math.min(least, Math.abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / l);
  }
  return least;
}

/** A fixed segment against a moving convex polygon. Depth inside is a concave function along the segment: golden section. */
export function segmentGap(a: V2, b: V2, poly: readonly V2[]): Gap {
  const span = clip(a, b, poly, Math.sign(signedArea(poly)) || 1);
  const at = (t: number): V2 => [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
  if (span) {
    let [lo, hi] = span;
    const share = (Math.sqrt(5) - 1) / 2;
    for (let i = 0; i < 40; i++) {
      const x = hi - share * (hi - lo);
      const y = lo + share * (hi - lo);
      if (inside(at(x), poly) > inside(at(y), poly)) hi = y;
      else lo = x;
    }
    const deepest = at((lo + hi) / 2);
    return { distanceMm: -inside(deepest, poly), at: deepest };
  }
  let best: Gap = { distanceMm: Number.POSITIVE_INFINITY, at: a };
  const consider = (distanceMm: number, place: V2): void => {
    if (distanceMm < best.distanceMm) best = { distanceMm, at: place };
  };
  for (let i = 0; i < poly.length; i++) {
    const p = poly[i]!;
    const q = poly[(i + 1) % poly.length]!;
    const near = closest(p, a, b);
    consider(apart(p, near), near);
    consider(apart(a, closest(a, p, q)), a);
    consider(apart(b, closest(b, p, q)), b);
  }
  return best;
}

function within(p: V2, outline: readonly V2[]): boolean {
  let odd = false;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const a = outline[i]!;
    const b = outline[j]!;
    if (a[1] > p[1] !== b[1] > p[1] && p[0] < a[0] + ((p[1] - a[1]) / (b[1] - a[1])) * (b[0] - a[0])) odd = !odd;
  }
  return odd;
}

/** Upright box around the polygon. */
function boxOf(poly: readonly V2[]): { left: number; right: number; low: number; high: number } {
  const box = { left: Number.POSITIVE_INFINITY, right: Number.NEGATIVE_INFINITY, low: Number.POSITIVE_INFINITY, high: Number.NEGATIVE_INFINITY };
  for (const [x, z] of poly) {
    if (x < box.left) box.left = x;
    if (x > box.right) box.right = x;
    if (z < box.low) box.low = z;
    if (z > box.high) box.high = z;
  }
  return box;
}

/**
 * A fixed polyline or closed outline against a moving convex polygon: the tightest place, or the deepest touch.
 * @param wanted places further apart than this need not be found, mm: the gap is infinite when there is none nearer
 */
export function outlineGap(outline: readonly V2[], closed: boolean, poly: readonly V2[], wanted = Number.POSITIVE_INFINITY): Gap {
  let best: Gap = { distanceMm: Number.POSITIVE_INFINITY, at: outline[0] ?? [0, 0] };
  const last = closed ? outline.length : outline.length - 1;
  const box = boxOf(poly);
  for (let i = 0; i < last; i++) {
    const a = outline[i]!;
    const b = outline[(i + 1) % outline.length]!;
    // the boxes are no further apart than what they hold
    const dx = Math.max(Math.min(a[0], b[0]) - box.right, box.left - Math.max(a[0], b[0]), 0);
    const dz = Math.max(Math.min(a[1], b[1]) - box.high, box.low - Math.max(a[1], b[1]), 0);
    const least = Math.sqrt(dx * dx + dz * dz);
    if (least > 0 && least >= Math.min(wanted, best.distanceMm)) continue;
    const g = segmentGap(a, b, poly);
    if (g.distanceMm < best.distanceMm) best = g;
  }
  if (!closed) return best;
  for (const p of poly) {
    if (!within(p, outline)) continue;
    let depth = Number.POSITIVE_INFINITY;
    for (let i = 0; i < last; i++) depth = Math.min(depth, apart(p, closest(p, outline[i]!, outline[(i + 1) % outline.length]!)));
    if (-depth < best.distanceMm) best = { distanceMm: -depth, at: p };
  }
  return best;
}
