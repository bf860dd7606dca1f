import type { Load } from "../design/types.ts";
import { type BeamOut, beamElement, beamOut } from "./beam.ts";
import type { AxleSystem } from "./condense.ts";
import { positivePart, positiveSlope } from "./contact-law.ts";
import type { AxleModel, CornerModel, SpringModel } from "./model.ts";
import { type TreadOut, tread, treadOut } from "./tread.ts";

/**
 * Residual (inside forces minus outside forces) and its exact derivative.
 * Everything but the tyres' side force is the gradient of a potential; the side force hands on the cornering level of the
 * vertical force and makes the tangent unsymmetric.
 */
export interface Blend {
  /** half-width of the rounded corners: lengths, mm, and turns, rad */
  mm: number;
  rad: number;
}

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

const point = (): Point => ({ ix: -1, iz: -1, it: -1, px: 0, pz: 0, dx: 0, dz: 0 });

/** Displacement and turned lever of a point fixed to a rigid body; small turns keep their digits. */
export function rigidPoint(p: Point, ix: number, iz: number, it: number, ux: number, uz: number, turn: number, rx: number, rz: number): Point {
  const sin = Math.sin(turn);
  const half = Math.sin(turn / 2);
  const cosm = -2 * half * half;
  p.ix = ix;
  p.iz = iz;
  p.it = it;
  p.dx = ux + cosm * rx - sin * rz;
  p.dz = uz + sin * rx + cosm * rz;
  p.px = rx + cosm * rx - sin * rz;
  p.pz = rz + sin * rx + cosm * rz;
  return p;
}

export function nodePoint(p: Point, q: Float64Array, i: number): Point {
  p.ix = i;
  p.iz = i + 1;
  p.it = -1;
  p.px = 0;
  p.pz = 0;
  p.dx = q[i]!;
  p.dz = q[i + 1]!;
  return p;
}

export const bodyPoint = (p: Point, q: Float64Array, lever: readonly [number, number]): Point => rigidPoint(p, -1, 0, 1, 0, q[0]!, q[1]!, lever[0], lever[1]);
export const hubPoint = (p: Point, q: Float64Array, base: number, lever: readonly [number, number]): Point =>
  rigidPoint(p, base, base + 1, base + 2, q[base]!, q[base + 1]!, q[base + 2]!, lever[0], lever[1]);

/** Force of the spring and its stops at a length, N (push positive), and its derivative by shortening, N/mm. */
export function springForce(s: SpringModel, length: number, w: number): { spring: number; bump: number; droop: number; rate: number } {
  const a = s.free - length;
  const b = s.bumpLength - length;
  const d = length - s.droopLength;
  return {
    spring: s.k * positivePart(a, w),
    bump: s.bumpK * positivePart(b, w),
    droop: s.droopK === 0 ? 0 : s.droopK * positivePart(d, w),
    rate: s.k * positiveSlope(a, w) + s.bumpK * positiveSlope(b, w) + (s.droopK === 0 ? 0 : s.droopK * positiveSlope(d, w)),
  };
}

export interface Workspace {
  beam: BeamOut;
  treads: [TreadOut, TreadOut];
  /** side force of each tyre, N, positive to the right */
  side: [number, number];
  /** further side force of each tyre, N, positive to the right: what a tyre that has not rolled may hold */
  scrub: [number, number];
  p1: Point;
  p2: Point;
}

export function workspace(): Workspace {
  return { beam: beamOut(), treads: [treadOut(), treadOut()], side: [0, 0], scrub: [0, 0], p1: point(), p2: point() };
}

/** Couples points 1 and 2 by a potential of their distance vector d = x2 - x1: gradient f, second derivative (kxx, kxz, kzz). */
export function couple(sys: AxleSystem | null, r: Float64Array, p1: Point, p2: Point, fx: number, fz: number, kxx: number, kxz: number, kzz: number): void {
  const idx = [p1.ix, p1.iz, p1.it, p2.ix, p2.iz, p2.it];
  // columns of d by each unknown
  const jx = [-1, 0, p1.pz, 1, 0, -p2.pz];
  const jz = [0, -1, -p1.px, 0, 1, p2.px];
  for (let a = 0; a < 6; a++) {
    const i = idx[a]!;
    if (i >= 0) r[i] = r[i]! + jx[a]! * fx + jz[a]! * fz;
  }
  if (!sys) return;
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

export function addK(sys: AxleSystem, i: number, j: number, v: number): void {
  const c = sys.model.kept[i]! * sys.model.nKept + sys.model.kept[j]!;
  sys.a[c] = sys.a[c]! + v;
}

function pinJoint(sys: AxleSystem | null, r: Float64Array, p1: Point, p2: Point, clearance: number, k: number, kc: number, w: number): void {
  const dx = p2.dx - p1.dx;
  const dz = p2.dz - p1.dz;
  if (clearance === 0) {
    couple(sys, r, p1, p2, k * dx, k * dz, k, 0, k);
    return;
  }
  const d = Math.sqrt(dx * dx + dz * dz);
  const blend = Math.min(w, clearance);
  const f = k * positivePart(d - clearance, blend) + kc * d;
  const slope = k * positiveSlope(d - clearance, blend) + kc;
  if (d === 0) {
    couple(sys, r, p1, p2, 0, 0, kc, 0, kc);
    return;
  }
  const nx = dx / d;
  const nz = dz / d;
  const side = f / d;
  couple(sys, r, p1, p2, f * nx, f * nz, slope * nx * nx + side * nz * nz, (slope - side) * nx * nz, slope * nz * nz + side * nx * nx);
}

function springs(sys: AxleSystem | null, r: Float64Array, q: Float64Array, c: CornerModel, ws: Workspace, w: number): void {
  const s = c.spring;
  bodyPoint(ws.p1, q, s.top);
  const p2 = s.on === "hub" ? hubPoint(ws.p2, q, c.base, s.hubLever) : nodePoint(ws.p2, q, c.arms[s.arm!].base + 3 * c.arms[s.arm!].seatNode!);
  const dx = s.seatAt[0] - s.topAt[0] + p2.dx - ws.p1.dx;
  const dz = s.seatAt[1] - s.topAt[1] + p2.dz - ws.p1.dz;
  const length = Math.sqrt(dx * dx + dz * dz);
  const f = springForce(s, length, w);
  const push = f.spring + f.bump - f.droop;
  const nx = dx / length;
  const nz = dz / length;
  const side = -push / length;
  couple(sys, r, ws.p1, p2, -push * nx, -push * nz, f.rate * nx * nx + side * nz * nz, (f.rate - side) * nx * nz, f.rate * nz * nz + side * nx * nx);
}

/** Unsprung weights and their inertia: constant forces at the wheel centre, on the hub and on the wheel. */
function masses(sys: AxleSystem | null, r: Float64Array, q: Float64Array, c: CornerModel, lateralG: number): void {
  const b = c.base;
  const turn = q[b + 2]!;
  const hubX = c.hubWeight * lateralG;
  r[b] = r[b]! - hubX - c.wheelWeight * lateralG;
  r[b + 1] = r[b + 1]! + c.hubWeight + c.wheelWeight;
  // the rest of the unsprung mass sits at the hub's reference point: no lever
  const fx = c.wheelWeight * lateralG;
  const fz = -c.wheelWeight;
  const [px, pz, cx, cz] = wheelLevers(c, turn, q[b + 3]!);
  // wheel centre = hub point + bearing lever + lever in the wheel
  r[b + 2] = r[b + 2]! - (-(pz + cz) * fx + (px + cx) * fz);
  r[b + 3] = r[b + 3]! - (-cz * fx + cx * fz);
  if (!sys) return;
  const both = fx * (px + cx) + fz * (pz + cz);
  const wheel = fx * cx + fz * cz;
  addK(sys, b + 2, b + 2, both);
  addK(sys, b + 2, b + 3, wheel);
  addK(sys, b + 3, b + 2, wheel);
  addK(sys, b + 3, b + 3, wheel);
}

/** Turned bearing lever (hub) and turned lever from bearing to wheel centre (wheel). */
export function wheelLevers(c: CornerModel, hubTurn: number, tilt: number): [number, number, number, number] {
  const [bx, bz] = c.bearingLever;
  const ch = Math.cos(hubTurn),
    sh = Math.sin(hubTurn);
  const cw = Math.cos(hubTurn + tilt),
    sw = Math.sin(hubTurn + tilt);
  return [ch * bx - sh * bz, sh * bx + ch * bz, -(cw * bx - sw * bz), -(sw * bx + cw * bz)];
}

/** Displacement of the wheel centre from as-built. */
export function wheelCentreShift(c: CornerModel, q: Float64Array): [number, number] {
  const b = c.base;
  const [px, pz, cx, cz] = wheelLevers(c, q[b + 2]!, q[b + 3]!);
  return [q[b]! + px + cx, q[b + 1]! + pz + cz];
}

/** Share of the cornering force that goes to each tyre: F_i = -level · ΣF · F_i^p / ΣF^p, and its derivatives. */
export function sideForces(model: AxleModel, level: number, treads: readonly [TreadOut, TreadOut], side: [number, number], d: Float64Array | null): void {
  const f = [0, 1].map((i) => model.corners[i]!.tyre.verticalFactor * treads[i]!.force) as [number, number];
  const p0 = model.corners[0].tyre.exponent;
  const p1 = model.corners[1].tyre.exponent;
  if (p0 === 1 && p1 === 1) {
    side[0] = -level * f[0];
    side[1] = -level * f[1];
    if (d) {
      d[0] = -level;
      d[1] = 0;
      d[2] = 0;
      d[3] = -level;
    }
    return;
  }
  // rounding the power off near zero keeps its slope finite: a wheel that carries next to nothing steers next to nothing
  const soft = 1e-3 * model.totalWeight;
  const pow = (x: number, p: number): number => (p === 1 ? x : (x / soft) * (1 + x / soft) ** (p - 1));
  const slope = (x: number, p: number): number => (p === 1 ? 1 : ((1 + x / soft) ** (p - 1) + (((p - 1) * x) / soft) * (1 + x / soft) ** (p - 2)) / soft);
  const w0 = pow(f[0], p0),
    w1 = pow(f[1], p1);
  const sum = f[0] + f[1];
  const w = w0 + w1;
  if (!(w > 0)) {
    side[0] = 0;
    side[1] = 0;
    d?.fill(0);
    return;
  }
  const s0 = slope(f[0], p0),
    s1 = slope(f[1], p1);
  side[0] = (-level * sum * w0) / w;
  side[1] = (-level * sum * w1) / w;
  if (d) {
    d[0] = -level * (w0 / w + (sum * s0 * w1) / (w * w));
    d[1] = -level * (w0 / w - (sum * w0 * s1) / (w * w));
    d[2] = -level * (w1 / w - (sum * w1 * s0) / (w * w));
    d[3] = -level * (w1 / w + (sum * s1 * w0) / (w * w));
  }
}

const dSide = new Float64Array(4);
/** per tyre, over (ux, uz, turn, tilt, shift): d(vertical force) */
const dForce = [new Float64Array(5), new Float64Array(5)] as const;
/** generalised force of a unit side force on the same unknowns */
const unitSide = [new Float64Array(5), new Float64Array(5)] as const;
const G5 = new Float64Array(25);

/** Rows of `tread` by (wheel centre height, wheel turn, shift): for force, moment, second. */
export function treadSlopes(
  t: TreadOut,
  radius: number,
  crown: number,
  turn: number,
  shift: number,
): { fz: [number, number, number]; m: [number, number, number]; s: [number, number, number] } {
  const sin = Math.sin(turn);
  const cos = Math.cos(turn);
  const d0t = -radius * sin - shift * cos;
  const d1t = -cos;
  const d2t = -crown * sin;
  const j = t.j;
  const by = (n: number): [number, number, number] => [-j[n]!, j[n]! * d0t + j[n + 1]! * d1t - j[n + 2]! * d2t, -j[n]! * sin];
  return { fz: by(0), m: by(1), s: by(2) };
}

function tyres(sys: AxleSystem | null, r: Float64Array, q: Float64Array, model: AxleModel, load: Load, ws: Workspace): void {
  for (let i = 0; i < 2; i++) {
    const c = model.corners[i]!;
    const [, uz] = wheelCentreShift(c, q);
    const turn = q[c.base + 2]! + q[c.base + 3]! + c.staticTurn;
    tread(c.tyre, c.centre[1] + uz, turn, q[c.base + 4]!, i === 0 ? load.bumpLeftMm : load.bumpRightMm, ws.treads[i]!);
  }
  sideForces(model, load.lateralG, ws.treads, ws.side, sys ? dSide : null);
  for (let i = 0; i < 2; i++) {
    const c = model.corners[i]!;
    const t = ws.treads[i]!;
    const b = c.base;
    const tyre = c.tyre;
    const shift = q[b + 4]!;
    const turn = q[b + 2]! + q[b + 3]! + c.staticTurn;
    const sin = Math.sin(turn);
    const cos = Math.cos(turn);
    const [px, pz, cx, cz] = wheelLevers(c, q[b + 2]!, q[b + 3]!);
    const vf = tyre.verticalFactor;
    const tf = tyre.tiltFactor;
    const fx = ws.side[i]! + ws.scrub[i]!;
    const fz = vf * t.force;
    const road = i === 0 ? load.bumpLeftMm : load.bumpRightMm;
    const down = road - (c.centre[1] + q[b + 1]! + pz + cz);
    const leverForce = tyre.radius * sin + shift * cos;
    const moment = vf * t.force * leverForce + tf * (t.moment * cos - t.second * tyre.crown * sin) - down * fx;
    const across = fx * cos + fz * sin;
    // wheel centre moves with the hub's turn by perp(p + c), with the tilt by perp(c)
    const hx = -(pz + cz),
      hz = px + cx,
      tx = -cz,
      tz = cx;
    r[b] = r[b]! - fx;
    r[b + 1] = r[b + 1]! - fz;
    r[b + 2] = r[b + 2]! - (hx * fx + hz * fz + moment);
    r[b + 3] = r[b + 3]! - (tx * fx + tz * fz + moment);
    const rigid = !Number.isFinite(tyre.lateralK);
    r[b + 4] = r[b + 4]! + (rigid ? shift : tyre.lateralK * shift - across);
    if (!sys) continue;
    const slopes = treadSlopes(t, tyre.radius, tyre.crown, turn, shift);
    // columns: ux, uz, turn, tilt, shift -> (height, turn, shift)
    const fzv = slopes.fz,
      mv = slopes.m,
      sv = slopes.s;
    const full = (v: readonly [number, number, number], o: Float64Array, scale: number): void => {
      o[0] = 0;
      o[1] = scale * v[0];
      o[2] = scale * (v[0] * hz + v[1]);
      o[3] = scale * (v[0] * tz + v[1]);
      o[4] = scale * v[2];
    };
    const df = dForce[i]!;
    full(fzv, df, vf);
    const u = unitSide[i]!;
    u[0] = 1;
    u[1] = 0;
    u[2] = hx - down;
    u[3] = tx - down;
    u[4] = rigid ? 0 : cos;
    // moment by the five, with fx held
    const dm0 = df[0]! * leverForce;
    const dm = [
      dm0,
      df[1]! * leverForce + tf * (mv[0] * cos - sv[0] * tyre.crown * sin) + fx,
      0,
      0,
      df[4]! * leverForce + fz * cos + tf * (mv[2] * cos - sv[2] * tyre.crown * sin),
    ];
    const own = fz * (tyre.radius * cos - shift * sin) + tf * (-t.moment * sin - t.second * tyre.crown * cos);
    const dTurn = vf * fzv[1] * leverForce + tf * (mv[1] * cos - sv[1] * tyre.crown * sin) + own;
    const perHeight = dm[1]!;
    dm[2] = perHeight * hz + dTurn;
    dm[3] = perHeight * tz + dTurn;
    const g = G5;
    g.fill(0);
    for (let col = 0; col < 5; col++) {
      g[5 + col] = df[col]!;
      g[10 + col] = hz * df[col]! + dm[col]!;
      g[15 + col] = tz * df[col]! + dm[col]!;
      if (!rigid) g[20 + col] = sin * df[col]!;
    }
    // the wheel centre's lever turns with the hub and with the tilt
    const curveBoth = -(px + cx) * fx - (pz + cz) * fz;
    const curveTilt = -cx * fx - cz * fz;
    g[12] = g[12]! + curveBoth;
    g[13] = g[13]! + curveTilt;
    g[17] = g[17]! + curveTilt;
    g[18] = g[18]! + curveTilt;
    if (!rigid) {
      const dAcross = -fx * sin + fz * cos;
      g[22] = g[22]! + dAcross;
      g[23] = g[23]! + dAcross;
    }
    for (let a = 0; a < 5; a++) for (let col = 0; col < 5; col++) if (g[5 * a + col] !== 0) addK(sys, b + a, b + col, -g[5 * a + col]!);
    addK(sys, b + 4, b + 4, rigid ? 1 : tyre.lateralK);
  }
  if (!sys) return;
  for (let i = 0; i < 2; i++)
    for (let j = 0; j < 2; j++) {
      const cij = dSide[2 * i + j]!;
      if (cij === 0) continue;
      for (let a = 0; a < 5; a++)
        for (let col = 0; col < 5; col++) addK(sys, model.corners[i]!.base + a, model.corners[j]!.base + col, -unitSide[i]![a]! * cij * dForce[j]![col]!);
    }
}

function antiRollBar(sys: AxleSystem | null, r: Float64Array, q: Float64Array, model: AxleModel): void {
  if (model.barK === 0) return;
  const e = barElement(model, q);
  const f = model.barK * e.value;
  for (let a = 0; a < 6; a++) r[e.idx[a]!] = r[e.idx[a]!]! + f * e.grad[a]!;
  if (!sys) return;
  for (let a = 0; a < 6; a++) for (let b = 0; b < 6; b++) addK(sys, e.idx[a]!, e.idx[b]!, model.barK * e.grad[a]! * e.grad[b]! + f * e.hess[6 * a + b]!);
}

/** Difference of the bar ends' height in the body's own frame, right minus left, mm, with its derivatives by (h, turn, left x z, right x z). */
export function barElement(model: AxleModel, q: Float64Array): { value: number; idx: number[]; grad: number[]; hess: Float64Array } {
  const turn = q[1]!;
  const sin = Math.sin(turn),
    cos = Math.cos(turn);
  const half = Math.sin(turn / 2);
  const cosm = -2 * half * half;
  const idx = [0, 1];
  const grad = [0, 0];
  const hess = new Float64Array(36);
  let value = 0;
  for (let i = 0; i < 2; i++) {
    const sign = i === 0 ? -1 : 1;
    const arm = model.corners[i]!.arms.lower;
    const at = arm.base + 3 * arm.barNode!;
    const rx = arm.nodes[arm.barNode!]![0] - model.cg[0];
    const rz = arm.nodes[arm.barNode!]![1] - model.cg[1];
    const dx = q[at]!;
    const dz = q[at + 1]! - q[0]!;
    const x = rx + dx,
      z = rz + dz;
    // own-frame height minus as-built height
    value += sign * (-sin * x + cosm * rz + cos * dz);
    const col = 2 + 2 * i;
    idx.push(at, at + 1);
    grad.push(sign * -sin, sign * cos);
    const own = -(cos * x + sin * z);
    grad[0] = grad[0]! - sign * cos;
    grad[1] = grad[1]! + sign * own;
    const set = (a: number, b: number, v: number): void => {
      hess[6 * a + b] = hess[6 * a + b]! + v;
      if (a !== b) hess[6 * b + a] = hess[6 * b + a]! + v;
    };
    set(1, 1, sign * (sin * x - cos * z));
    set(1, col, sign * -cos);
    set(1, col + 1, sign * -sin);
    set(0, 1, sign * sin);
  }
  return { value, idx, grad, hess };
}

/**
 * Fills `r` with the residual at `q`; with `sys`, fills its matrices with the exact tangent too.
 * Residual rows are forces (N) and moments (N·mm), positive when the inside forces exceed the outside ones.
 */
export function assemble(model: AxleModel, q: Float64Array, load: Load, blend: Blend, r: Float64Array, sys: AxleSystem | null, ws: Workspace): void {
  r.fill(0);
  if (sys) sys.a.fill(0);
  for (const arm of model.arms) {
    for (let e = 0; e < arm.count - 1; e++) {
      const i = arm.base + 3 * e;
      const n0 = arm.nodes[e]!;
      const n1 = arm.nodes[e + 1]!;
      const out = ws.beam;
      beamElement(q, i, n1[0] - n0[0], n1[1] - n0[1], arm.l0[e]!, arm.ea[e]!, arm.kNear[e]!, arm.kFar[e]!, out, sys !== null);
      for (let a = 0; a < 6; a++) r[i + a] = r[i + a]! + out.g[a]!;
      if (sys) sys.ke.set(out.k, 36 * (arm.firstElement + e));
    }
    if (arm.pivotK > 0) {
      const i = arm.base + 2;
      const m = arm.pivotK * (q[i]! - q[1]!);
      r[i] = r[i]! + m;
      r[1] = r[1]! - m;
      if (sys) {
        addK(sys, i, i, arm.pivotK);
        addK(sys, 1, 1, arm.pivotK);
        addK(sys, i, 1, -arm.pivotK);
        addK(sys, 1, i, -arm.pivotK);
      }
    }
  }
  r[0] = r[0]! + model.bodyWeight;
  r[1] = r[1]! + model.otherRollK * q[1]!;
  if (sys) addK(sys, 1, 1, model.otherRollK);
  for (const c of model.corners) {
    for (const name of ["upper", "lower"] as const) {
      const arm = c.arms[name];
      const inner = c.joints[`${name}Inner`];
      const outer = c.joints[`${name}Outer`];
      pinJoint(sys, r, bodyPoint(ws.p1, q, c.chassisLever[name]), nodePoint(ws.p2, q, arm.base), inner.clearance, inner.k, inner.kc, blend.mm);
      pinJoint(
        sys,
        r,
        nodePoint(ws.p1, q, arm.base + 3 * (arm.count - 1)),
        hubPoint(ws.p2, q, c.base, c.hubLever[name]),
        outer.clearance,
        outer.k,
        outer.kc,
        blend.mm,
      );
    }
    springs(sys, r, q, c, ws, blend.mm);
    const tilt = q[c.base + 3]!;
    const { k, play, kc } = c.bearing;
    const w = Math.min(blend.rad, play);
    const over = Math.abs(tilt) - play;
    r[c.base + 3] = r[c.base + 3]! + (play === 0 ? k * tilt : Math.sign(tilt) * k * positivePart(over, w) + kc * tilt);
    if (sys) addK(sys, c.base + 3, c.base + 3, play === 0 ? k : k * positiveSlope(over, w) + kc);
    masses(sys, r, q, c, load.lateralG);
  }
  tyres(sys, r, q, model, load, ws);
  antiRollBar(sys, r, q, model);
}

/** Largest residual, N; moments count over `momentArm` mm. */
export function residualSize(model: AxleModel, r: Float64Array, momentArm: number): number {
  let worst = 0;
  const see = (v: number): void => {
    const a = Math.abs(v);
    if (!(a <= worst)) worst = a;
  };
  see(r[0]!);
  see(r[1]! / momentArm);
  for (const c of model.corners) {
    see(r[c.base]!);
    see(r[c.base + 1]!);
    see(r[c.base + 2]! / momentArm);
    see(r[c.base + 3]! / momentArm);
    see(r[c.base + 4]!);
  }
  for (let i = 12; i < model.n; i++) see(i % 3 === 2 ? r[i]! / momentArm : r[i]!);
  return worst;
}
