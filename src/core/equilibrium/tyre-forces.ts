import type { Load } from "../design/types.ts";
import type { AxleSystem } from "./condense.ts";
import { addK } from "./couple.ts";
import type { AxleModel, CornerModel } from "./model.ts";
import { type TreadOut, tread } from "./tread.ts";
import { HUB_TURN, HUB_X, HUB_Z, TREAD_SHIFT, WHEEL_TILT, wheelTurn } from "./unknowns.ts";
import type { Workspace } from "./workspace.ts";

/** Forces of the road on the wheels, and their derivative. */

/** Turned bearing lever (hub): px, pz; turned lever from bearing to wheel centre (wheel): cx, cz. mm */
export interface WheelLevers {
  px: number;
  pz: number;
  cx: number;
  cz: number;
}

/** Places of the wheel's centre and of its bearing against the hub's point, turned by the hub and the tilt. @param hubTurn rad @param tilt rad; lengths in mm */
export function wheelLevers(c: CornerModel, hubTurn: number, tilt: number): WheelLevers {
  const bx = c.bearingLever[0];
  const bz = c.bearingLever[1];
  const ch = Math.cos(hubTurn);
  const sh = Math.sin(hubTurn);
  const cw = Math.cos(hubTurn + tilt);
  const sw = Math.sin(hubTurn + tilt);
  return { px: ch * bx - sh * bz, pz: sh * bx + ch * bz, cx: -(cw * bx - sw * bz), cz: -(sw * bx + cw * bz) };
}

/** Displacement of the wheel centre from as-built. */
export function wheelCentreShift(c: CornerModel, q: Float64Array): [number, number] {
  const b = c.base;
  const { px, pz, cx, cz } = wheelLevers(c, q[b + HUB_TURN]!, q[b + WHEEL_TILT]!);
  return [q[b + HUB_X]! + px + cx, q[b + HUB_Z]! + pz + cz];
}

const softPower = (x: number, p: number, soft: number): number => (p === 1 ? x : (x / soft) * (1 + x / soft) ** (p - 1));
const softSlope = (x: number, p: number, soft: number): number =>
  p === 1 ? 1 : ((1 + x / soft) ** (p - 1) + (((p - 1) * x) / soft) * (1 + x / soft) ** (p - 2)) / soft;

/** Share of the cornering force that goes to each tyre: F_i = -level · ΣF · F_i^p / ΣF^p, and its derivatives. */
export function sideForces(model: AxleModel, level: number, treads: readonly [TreadOut, TreadOut], side: [number, number], d: Float64Array | null): void {
  const f0 = model.corners[0].tyre.verticalFactor * treads[0].force;
  const f1 = model.corners[1].tyre.verticalFactor * treads[1].force;
  const p0 = model.corners[0].tyre.exponent;
  const p1 = model.corners[1].tyre.exponent;
  if (p0 === 1 && p1 === 1) {
    side[0] = -level * f0;
    side[1] = -level * f1;
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
  const w0 = softPower(f0, p0, soft),
    w1 = softPower(f1, p1, soft);
  const sum = f0 + f1;
  const w = w0 + w1;
  if (!(w > 0)) {
    side[0] = 0;
    side[1] = 0;
    d?.fill(0);
    return;
  }
  side[0] = (-level * sum * w0) / w;
  side[1] = (-level * sum * w1) / w;
  if (d) {
    const s0 = softSlope(f0, p0, soft),
      s1 = softSlope(f1, p1, soft);
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

/** Adds both tyres to the residual and, with `sys`, to the tangent. */
export function tyres(sys: AxleSystem | null, r: Float64Array, q: Float64Array, model: AxleModel, load: Load, ws: Workspace): void {
  const [left, right] = model.corners;
  if (left.tyre.rate === 0 && right.tyre.rate === 0 && ws.scrub[0] === 0 && ws.scrub[1] === 0) {
    // tyres that press on nothing hold their tread under the rim, that is all
    for (const { base, tyre } of model.corners) {
      const k = Number.isFinite(tyre.lateralK) ? tyre.lateralK : 1;
      r[base + TREAD_SHIFT] = r[base + TREAD_SHIFT]! + k * q[base + TREAD_SHIFT]!;
      if (sys) addK(sys, base + TREAD_SHIFT, base + TREAD_SHIFT, k);
    }
    return;
  }
  for (let i = 0; i < 2; i++) {
    const c = model.corners[i]!;
    const [, uz] = wheelCentreShift(c, q);
    const turn = wheelTurn(c, q);
    tread(c.tyre, c.centre[1] + uz, turn, q[c.base + TREAD_SHIFT]!, i === 0 ? load.bumpLeftMm : load.bumpRightMm, ws.treads[i]!);
  }
  sideForces(model, load.lateralG, ws.treads, ws.side, sys ? dSide : null);
  for (let i = 0; i < 2; i++) {
    const c = model.corners[i]!;
    const t = ws.treads[i]!;
    const b = c.base;
    const tyre = c.tyre;
    const shift = q[b + TREAD_SHIFT]!;
    const turn = wheelTurn(c, q);
    const sin = Math.sin(turn);
    const cos = Math.cos(turn);
    const { px, pz, cx, cz } = wheelLevers(c, q[b + HUB_TURN]!, q[b + WHEEL_TILT]!);
    const vf = tyre.verticalFactor;
    const tf = tyre.tiltFactor;
    const fx = ws.side[i]! + ws.scrub[i]!;
    const fz = vf * t.force;
    const road = i === 0 ? load.bumpLeftMm : load.bumpRightMm;
    const down = road - (c.centre[1] + q[b + HUB_Z]! + pz + cz);
    const leverForce = tyre.radius * sin + shift * cos;
    const moment = vf * t.force * leverForce + tf * (t.moment * cos - t.second * tyre.crown * sin) - down * fx;
    const across = fx * cos + fz * sin;
    // wheel centre moves with the hub's turn by perp(p + c), with the tilt by perp(c)
    const hx = -(pz + cz),
      hz = px + cx,
      tx = -cz,
      tz = cx;
    r[b + HUB_X] = r[b + HUB_X]! - fx;
    r[b + HUB_Z] = r[b + HUB_Z]! - fz;
    r[b + HUB_TURN] = r[b + HUB_TURN]! - (hx * fx + hz * fz + moment);
    r[b + WHEEL_TILT] = r[b + WHEEL_TILT]! - (tx * fx + tz * fz + moment);
    const rigid = !Number.isFinite(tyre.lateralK);
    r[b + TREAD_SHIFT] = r[b + TREAD_SHIFT]! + (rigid ? shift : tyre.lateralK * shift - across);
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
    addK(sys, b + TREAD_SHIFT, b + TREAD_SHIFT, rigid ? 1 : tyre.lateralK);
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
