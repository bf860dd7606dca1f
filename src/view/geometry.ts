import type { V2 } from "../core/vec.ts";

export const add = (a: V2, b: V2): V2 => [a[0] + b[0], a[1] + b[1]];
export const sub = (a: V2, b: V2): V2 => [a[0] - b[0], a[1] - b[1]];
export const scale = (a: V2, k: number): V2 => [a[0] * k, a[1] * k];
export const length = (a: V2): number => Math.sqrt(a[0] * a[0] + a[1] * a[1]);
export const distance = (a: V2, b: V2): number => length(sub(a, b));
export const mix = (a: V2, b: V2, t: number): V2 => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
/** Turned by an angle, counter-clockwise where y points up. */
export const turn = (a: V2, rad: number): V2 => {
  const c = Math.cos(rad);
  const s = Math.sin(rad);
  return [c * a[0] - s * a[1], s * a[0] + c * a[1]];
};
export const unit = (a: V2): V2 => {
  const l = length(a);
  return l > 0 ? [a[0] / l, a[1] / l] : [1, 0];
};
export const normalOf = (a: V2): V2 => [-a[1], a[0]];

/** Meeting point of the lines through a1-a2 and b1-b2; null when they are parallel. */
export function meet(a1: V2, a2: V2, b1: V2, b2: V2): V2 | null {
  const da = sub(a2, a1);
  const db = sub(b2, b1);
  const cross = da[0] * db[1] - da[1] * db[0];
  const size = length(da) * length(db);
  if (!(size > 0) || Math.abs(cross) < 1e-9 * size) return null;
  const t = ((b1[0] - a1[0]) * db[1] - (b1[1] - a1[1]) * db[0]) / cross;
  return [a1[0] + da[0] * t, a1[1] + da[1] * t];
}

/** A polyline cut into dashes: pairs of end points. The pattern is dash, gap, dash, gap in the unit of the points. */
export function dashes(points: readonly V2[], pattern: readonly number[], closed = false): V2[] {
  const out: V2[] = [];
  const path = closed && points[0] ? [...points, points[0]] : points;
  let slot = 0;
  let left = pattern[0] ?? 1;
  for (let i = 1; i < path.length; i++) {
    const from = path[i - 1] as V2;
    const to = path[i] as V2;
    const total = distance(from, to);
    let at = 0;
    while (total - at > 1e-6) {
      const step = Math.min(left, total - at);
      if (slot % 2 === 0) out.push(mix(from, to, at / total), mix(from, to, (at + step) / total));
      at += step;
      left -= step;
      if (left <= 1e-6) {
        slot = (slot + 1) % pattern.length;
        left = pattern[slot] ?? 1;
      }
    }
  }
  return out;
}

/** Points along an arc from one angle to another (rad, in the frame of the given points). */
export function arc(centre: V2, radius: number, from: number, to: number, steps = 16): V2[] {
  const out: V2[] = [];
  for (let i = 0; i <= steps; i++) {
    const a = from + ((to - from) * i) / steps;
    out.push([centre[0] + radius * Math.cos(a), centre[1] + radius * Math.sin(a)]);
  }
  return out;
}

/** The part of a polygon where n·p <= limit. */
export function clipHalfPlane(points: readonly V2[], n: V2, limit: number): V2[] {
  const out: V2[] = [];
  for (let i = 0; i < points.length; i++) {
    const a = points[i] as V2;
    const b = points[(i + 1) % points.length] as V2;
    const da = n[0] * a[0] + n[1] * a[1] - limit;
    const db = n[0] * b[0] + n[1] * b[1] - limit;
    if (da <= 0) out.push(a);
    if (da < 0 !== db < 0 && da !== db) out.push(mix(a, b, da / (da - db)));
  }
  return out;
}

/** Hatch lines of a convex or simple polygon: pairs of end points, `gap` apart, at `angle` (rad). */
export function hatch(points: readonly V2[], angle: number, gap: number): V2[] {
  if (points.length < 3) return [];
  const d: V2 = [Math.cos(angle), Math.sin(angle)];
  const n = normalOf(d);
  const across = points.map((p) => p[0] * n[0] + p[1] * n[1]);
  const out: V2[] = [];
  const low = Math.min(...across);
  const high = Math.max(...across);
  for (let c = Math.ceil(low / gap) * gap; c < high; c += gap) {
    const cuts: number[] = [];
    for (let i = 0; i < points.length; i++) {
      const j = (i + 1) % points.length;
      const a = across[i] as number;
      const b = across[j] as number;
      if (a < c === b < c) continue;
      const p = mix(points[i] as V2, points[j] as V2, (c - a) / (b - a));
      cuts.push(p[0] * d[0] + p[1] * d[1]);
    }
    cuts.sort((x, y) => x - y);
    for (let i = 0; i + 1 < cuts.length; i += 2) {
      const from = cuts[i] as number;
      const to = cuts[i + 1] as number;
      out.push([d[0] * from + n[0] * c, d[1] * from + n[1] * c], [d[0] * to + n[0] * c, d[1] * to + n[1] * c]);
    }
  }
  return out;
}

/** A polyline moved sideways by `by` (to the left of its direction where y points up), with mitred corners. */
export function offsetLine(points: readonly V2[], by: number): V2[] {
  return points.map((p, i) => {
    const before = i > 0 ? unit(sub(p, points[i - 1] as V2)) : null;
    const after = i + 1 < points.length ? unit(sub(points[i + 1] as V2, p)) : null;
    const n1 = normalOf(before ?? after ?? [1, 0]);
    const n2 = normalOf(after ?? before ?? [1, 0]);
    const sum: V2 = [n1[0] + n2[0], n1[1] + n2[1]];
    const k = by / Math.max(0.35, (sum[0] * sum[0] + sum[1] * sum[1]) / 2);
    return [p[0] + sum[0] * k, p[1] + sum[1] * k];
  });
}

/** Outline of a bar of even height along a line. */
export const barAlong = (points: readonly V2[], height: number): V2[] => [...offsetLine(points, height / 2), ...offsetLine(points, -height / 2).reverse()];

/** A smooth line through the points (Catmull-Rom, uniform), `per` pieces between two of them. */
export function smooth(points: readonly V2[], per = 3): V2[] {
  if (points.length < 3) return [...points];
  const at = (i: number): V2 => points[Math.max(0, Math.min(points.length - 1, i))] as V2;
  const out: V2[] = [at(0)];
  for (let i = 0; i + 1 < points.length; i++) {
    const [p0, p1, p2, p3] = [at(i - 1), at(i), at(i + 1), at(i + 2)];
    for (let k = 1; k <= per; k++) {
      const t = k / per;
      const axis = (n: 0 | 1): number =>
        0.5 * (2 * p1[n] + (p2[n] - p0[n]) * t + (2 * p0[n] - 5 * p1[n] + 4 * p2[n] - p3[n]) * t * t + (3 * p1[n] - p0[n] - 3 * p2[n] + p3[n]) * t * t * t);
      out.push([axis(0), axis(1)]);
    }
  }
  return out;
}

export function inside(points: readonly V2[], p: V2): boolean {
  let odd = false;
  for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
    const a = points[i] as V2;
    const b = points[j] as V2;
    if (a[1] > p[1] !== b[1] > p[1] && p[0] < ((b[0] - a[0]) * (p[1] - a[1])) / (b[1] - a[1]) + a[0]) odd = !odd;
  }
  return odd;
}

export function distanceToSegment(p: V2, a: V2, b: V2): number {
  const d = sub(b, a);
  const l2 = d[0] * d[0] + d[1] * d[1];
  const t = l2 > 0 ? Math.max(0, Math.min(1, ((p[0] - a[0]) * d[0] + (p[1] - a[1]) * d[1]) / l2)) : 0;
  return distance(p, mix(a, b, t));
}
