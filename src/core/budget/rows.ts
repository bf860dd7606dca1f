import type { AxleSystem } from "../equilibrium/condense.ts";
import type { Point } from "../equilibrium/couple.ts";

/**
 * Rows B = de/dq of small elements in flat memory, with the rows Bf of what their forces do to the unknowns, and the stiffness D
 * between the one or two rows of an element. Filled anew at every state, without allocating.
 */
export interface Rows {
  count: number;
  /** up to 6 unknowns a row */
  idx: Int32Array;
  b: Float64Array;
  f: Float64Array;
  len: Int32Array;
  /** stiffness by the row itself and by its partner (the next row of a pair, or the one before) */
  own: Float64Array;
  cross: Float64Array;
  partner: Int32Array;
}

const WIDTH = 6;

/** Empty rows with room for `capacity` of them. */
export function newRows(capacity: number): Rows {
  return {
    count: 0,
    idx: new Int32Array(WIDTH * capacity),
    b: new Float64Array(WIDTH * capacity),
    f: new Float64Array(WIDTH * capacity),
    len: new Int32Array(capacity),
    own: new Float64Array(capacity),
    cross: new Float64Array(capacity),
    partner: new Int32Array(capacity).fill(-1),
  };
}

/** Starts a row with its stiffness; entries follow with `entry`. */
export function row(r: Rows, stiffness: number): void {
  const k = r.count++;
  r.len[k] = 0;
  r.own[k] = stiffness;
  r.cross[k] = 0;
  r.partner[k] = -1;
}

/** Adds an entry to the last row: what the unknown does to the deformation, and what the force does to the unknown. */
export function entry(r: Rows, unknown: number, b: number, f = b): void {
  if (unknown < 0) return;
  const k = r.count - 1;
  const at = WIDTH * k + r.len[k]!;
  r.idx[at] = unknown;
  r.b[at] = b;
  r.f[at] = f;
  r.len[k] = r.len[k]! + 1;
}

/** Ties the last two rows into one element with a stiffness between them. */
export function pair(r: Rows, cross: number): void {
  const k = r.count - 1;
  r.partner[k] = k - 1;
  r.partner[k - 1] = k;
  r.cross[k] = cross;
  r.cross[k - 1] = cross;
}

/** Rows of the component (nx, nz) of d = x2 - x1. */
export function distanceRow(r: Rows, p1: Point, p2: Point, nx: number, nz: number, stiffness: number): void {
  row(r, stiffness);
  entry(r, p1.ix, -nx);
  entry(r, p1.iz, -nz);
  entry(r, p1.it, nx * p1.pz - nz * p1.px);
  entry(r, p2.ix, nx);
  entry(r, p2.iz, nz);
  entry(r, p2.it, -nx * p2.pz + nz * p2.px);
}

/** Adds Bfᵀ D B of all rows to the dense part of the system. */
export function addRows(sys: AxleSystem, r: Rows): void {
  const { kept, nKept } = sys.model;
  const a = sys.a;
  for (let k = 0; k < r.count; k++) {
    for (const other of [k, r.partner[k]!]) {
      if (other < 0) continue;
      const d = other === k ? r.own[k]! : r.cross[k]!;
      if (d === 0) continue;
      const left = WIDTH * k;
      const right = WIDTH * other;
      for (let i = 0; i < r.len[k]!; i++) {
        const v = r.f[left + i]! * d;
        if (v === 0) continue;
        const line = kept[r.idx[left + i]!]! * nKept;
        for (let j = 0; j < r.len[other]!; j++) {
          const at = line + kept[r.idx[right + j]!]!;
          a[at] = a[at]! + v * r.b[right + j]!;
        }
      }
    }
  }
}

/** Forces n = Dᵀ Bf v of all rows, written from `at` on. */
export function rowForces(r: Rows, v: Float64Array, out: Float64Array, at: number): void {
  for (let k = 0; k < r.count; k++) {
    let s = 0;
    for (let i = 0; i < r.len[k]!; i++) s += r.f[WIDTH * k + i]! * v[r.idx[WIDTH * k + i]!]!;
    out[at + k] = (out[at + k] ?? 0) + r.own[k]! * s;
    const p = r.partner[k]!;
    if (p >= 0) out[at + p] = (out[at + p] ?? 0) + r.cross[k]! * s;
  }
}
