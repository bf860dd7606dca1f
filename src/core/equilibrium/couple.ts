import type { AxleSystem } from "./condense.ts";
import { BODY_TURN, HEAVE, HUB_TURN, HUB_X, HUB_Z, NODE_X, NODE_Z } from "./unknowns.ts";

/** Points of body, hub and arms, and what a force between two of them does to residual and tangent. */

/** A point for `couple`: its unknowns (-1: none) and its lever from the body's origin, turned with the body. */
export interface Point {
  ix: number;
  iz: number;
  it: number;
  px: number;
  pz: number;
  /** displacement from as-built */
  dx: number;
  dz: number;
}

/** Room for a point; it depends on nothing yet. */
export const point = (): Point => ({ ix: -1, iz: -1, it: -1, px: 0, pz: 0, dx: 0, dz: 0 });

/** Sine, and cosine less one, of the last turn seen: a body's points are asked for one after the other. */
interface Turn {
  rad: number;
  sin: number;
  cosm: number;
}

const bodyTurn: Turn = { rad: 0, sin: 0, cosm: 0 };
const hubTurn: Turn = { rad: 0, sin: 0, cosm: 0 };

/** Displacement and turned lever of a point fixed to a rigid body; small turns keep their digits. */
function rigidPoint(p: Point, ix: number, iz: number, it: number, ux: number, uz: number, t: Turn, turn: number, rx: number, rz: number): Point {
  if (turn !== t.rad) {
    const half = Math.sin(turn / 2);
    t.rad = turn;
    t.sin = Math.sin(turn);
    t.cosm = -2 * half * half;
  }
  const { sin, cosm } = t;
  p.ix = ix;
  p.iz = iz;
  p.it = it;
  p.dx = ux + cosm * rx - sin * rz;
  p.dz = uz + sin * rx + cosm * rz;
  p.px = rx + cosm * rx - sin * rz;
  p.pz = rz + sin * rx + cosm * rz;
  return p;
}

/** Fills `p` with the arm node whose unknowns begin at `i`; its turn does not move it. */
export function nodePoint(p: Point, q: Float64Array, i: number): Point {
  p.ix = i + NODE_X;
  p.iz = i + NODE_Z;
  p.it = -1;
  p.px = 0;
  p.pz = 0;
  p.dx = q[i + NODE_X]!;
  p.dz = q[i + NODE_Z]!;
  return p;
}

/** Fills `p` with a point of the body, `lever` (mm, as built) from the centre of gravity. */
export const bodyPoint = (p: Point, q: Float64Array, lever: readonly [number, number]): Point =>
  rigidPoint(p, -1, HEAVE, BODY_TURN, 0, q[HEAVE]!, bodyTurn, q[BODY_TURN]!, lever[0], lever[1]);
/** Fills `p` with a point of the hub whose unknowns begin at `base`, `lever` (mm, as built) from the wheel centre as built. */
export const hubPoint = (p: Point, q: Float64Array, base: number, lever: readonly [number, number]): Point =>
  rigidPoint(p, base + HUB_X, base + HUB_Z, base + HUB_TURN, q[base + HUB_X]!, q[base + HUB_Z]!, hubTurn, q[base + HUB_TURN]!, lever[0], lever[1]);

const idx = new Int32Array(6);
// columns of the distance vector by each unknown
const jx = Float64Array.of(-1, 0, 0, 1, 0, 0);
const jz = Float64Array.of(0, -1, 0, 0, 1, 0);

/** Adds force f on point 2, its opposite on point 1, to the residual of inside forces. */
export function pushApart(r: Float64Array, p1: Point, p2: Point, fx: number, fz: number): void {
  if (p2.ix >= 0) r[p2.ix] = r[p2.ix]! + fx;
  if (p2.iz >= 0) r[p2.iz] = r[p2.iz]! + fz;
  if (p2.it >= 0) r[p2.it] = r[p2.it]! - p2.pz * fx + p2.px * fz;
  if (p1.ix >= 0) r[p1.ix] = r[p1.ix]! - fx;
  if (p1.iz >= 0) r[p1.iz] = r[p1.iz]! - fz;
  if (p1.it >= 0) r[p1.it] = r[p1.it]! + p1.pz * fx - p1.px * fz;
}

/** Couples points 1 and 2 by a potential of their distance vector d = x2 - x1: gradient f, second derivative (kxx, kxz, kzz). */
export function couple(sys: AxleSystem | null, r: Float64Array, p1: Point, p2: Point, fx: number, fz: number, kxx: number, kxz: number, kzz: number): void {
  pushApart(r, p1, p2, fx, fz);
  if (sys) coupleStiffness(sys, p1, p2, fx, fz, kxx, kxz, kzz);
}

/** The tangent's part of `couple`. */
export function coupleStiffness(sys: AxleSystem, p1: Point, p2: Point, fx: number, fz: number, kxx: number, kxz: number, kzz: number): void {
  idx[0] = p1.ix;
  idx[1] = p1.iz;
  idx[2] = p1.it;
  idx[3] = p2.ix;
  idx[4] = p2.iz;
  idx[5] = p2.it;
  jx[2] = p1.pz;
  jx[5] = -p2.pz;
  jz[2] = -p1.px;
  jz[5] = p2.px;
  const { kept, nKept } = sys.model;
  const k = sys.a;
  for (let a = 0; a < 6; a++) {
    const i = idx[a]!;
    if (i < 0) continue;
    const row = kept[i]! * nKept;
    const ax = jx[a]! * kxx + jz[a]! * kxz;
    const az = jx[a]! * kxz + jz[a]! * kzz;
    for (let b = 0; b < 6; b++) {
      const j = idx[b]!;
      if (j < 0) continue;
      const c = row + kept[j]!;
      k[c] = k[c]! + ax * jx[b]! + az * jz[b]!;
    }
  }
  if (p1.it >= 0) addK(sys, p1.it, p1.it, fx * p1.px + fz * p1.pz);
  if (p2.it >= 0) addK(sys, p2.it, p2.it, -(fx * p2.px + fz * p2.pz));
}

/** Adds to the tangent at two kept unknowns. */
export function addK(sys: AxleSystem, i: number, j: number, v: number): void {
  const c = sys.model.kept[i]! * sys.model.nKept + sys.model.kept[j]!;
  sys.a[c] = sys.a[c]! + v;
}
