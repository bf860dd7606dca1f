import type { BudgetPart, SidePart } from "../analysis.ts";
import type { Load } from "../design/types.ts";
import { beamElement, beamOut } from "../equilibrium/beam.ts";
import { type AxleSystem, axleSystem, factor, solveSystem } from "../equilibrium/condense.ts";
import { bodyPoint, hubPoint, nodePoint, type Point } from "../equilibrium/couple.ts";
import { barElement, springForce } from "../equilibrium/force-elements.ts";
import type { AxleModel, CornerModel } from "../equilibrium/model.ts";
import { FINAL_BLEND } from "../equilibrium/newton.ts";
import { type TreadOut, tread, treadOut } from "../equilibrium/tread.ts";
import { sideForces, wheelCentreShift, wheelLevers } from "../equilibrium/tyre-forces.ts";

/**
 * The axle as a set of elements with deformations e and material stiffness D, for the unit-load theorem.
 *
 * Every element gives rows B = de/dq. Forces n with Bᵀ n = (unit moment on a wheel) come from the material stiffness alone
 * (no geometric part, every clearance closed, the tyres with their present contact and handing on the cornering level of
 * their vertical force): K = Bfᵀ D B, Kᵀ v = c, n = Dᵀ Bf v, where Bf = B but for the tyres' side force.
 */
export interface ElementSet {
  model: AxleModel;
  sys: AxleSystem;
  /** deformations, one per force component and share of it */
  e: Float64Array;
  /** for each deformation: which force component works on it, and to which part it is charged */
  forceOf: Int32Array;
  part: BudgetPart[];
  /** unit-load forces for the left and the right wheel */
  n: [Float64Array, Float64Array];
  /** force component of each tyre's penetration, to charge the road's height with */
  tyreForce: [number, number];
}

/** A slack spring or a lifted tyre keeps this share of its stiffness, so that the unit load always finds a way. */
const SLACK_SHARE = 1e-6;

interface Row {
  idx: number[];
  b: number[];
}

interface Element {
  rows: Row[];
  /** as rows, but with what a force puts on the unknowns when that differs from b (tyres) */
  forceRows: Row[];
  d: number[];
}

const blank = (): Point => ({ ix: -1, iz: -1, it: -1, px: 0, pz: 0, dx: 0, dz: 0 });

/** Rows of the two components of d = x2 - x1. */
function distanceRows(p1: Point, p2: Point): [Row, Row] {
  const x: Row = { idx: [], b: [] };
  const z: Row = { idx: [], b: [] };
  const put = (row: Row, i: number, v: number): void => {
    if (i >= 0 && v !== 0) {
      row.idx.push(i);
      row.b.push(v);
    }
  };
  put(x, p1.ix, -1);
  put(x, p1.it, p1.pz);
  put(x, p2.ix, 1);
  put(x, p2.it, -p2.pz);
  put(z, p1.iz, -1);
  put(z, p1.it, -p1.px);
  put(z, p2.iz, 1);
  put(z, p2.it, p2.px);
  return [x, z];
}

/** Number of deformations and forces follows from the model alone. */
export function elementSet(model: AxleModel): ElementSet {
  const part: BudgetPart[] = [];
  const forceOf: number[] = [];
  let force = 0;
  const add = (p: BudgetPart, of: number): void => {
    part.push(p);
    forceOf.push(of);
  };
  for (const arm of model.arms) for (let e = 0; e < arm.count - 1; e++) for (let k = 0; k < 3; k++) add(`${arm.side}.${arm.name}Arm`, force++);
  for (const arm of model.arms) if (arm.pivotK > 0) add(`${arm.side}.innerPivotSprings`, force++);
  const tyreForce: [number, number] = [0, 0];
  for (const [i, c] of model.corners.entries()) {
    const name = (s: SidePart): BudgetPart => `${c.side}.${s}`;
    for (const joint of ["upperInner", "upperOuter", "lowerInner", "lowerOuter"] as const)
      for (let k = 0; k < 2; k++) {
        add(name(`${joint}Clearance`), force);
        add(name(`${joint}Give`), force++);
      }
    add(name("spring"), force++);
    add(name("bearingPlay"), force);
    add(name("bearingGive"), force++);
    tyreForce[i] = force;
    add(name("tyreVertical"), force++);
    add(name("tyreTilt"), force++);
    add(name("tyreTilt"), force++);
  }
  if (model.barK > 0) add("antiRollBar", force++);
  if (model.otherRollK > 0) add("restOfCar", force++);
  return {
    model,
    sys: axleSystem(model),
    e: new Float64Array(part.length),
    forceOf: Int32Array.from(forceOf),
    part,
    n: [new Float64Array(force), new Float64Array(force)],
    tyreForce,
  };
}

function tyreElement(q: Float64Array, c: CornerModel, t: TreadOut, level: number, road: number): { element: Element; e: [number, number] } {
  const b = c.base;
  const turn = q[b + 2]! + q[b + 3]! + c.staticTurn;
  const sin = Math.sin(turn),
    cos = Math.cos(turn);
  const [px, pz, cx, cz] = wheelLevers(c, q[b + 2]!, q[b + 3]!);
  const shift = q[b + 4]!;
  const d0Turn = -c.tyre.radius * sin - shift * cos;
  const idx = [b, b + 1, b + 2, b + 3, b + 4];
  const depth = [0, -1, -(px + cx) + d0Turn, -cx + d0Turn, -sin];
  const tilt = [0, 0, -cos, -cos, 0];
  const down = road - (c.centre[1] + q[b + 1]! + pz + cz);
  const across = Number.isFinite(c.tyre.lateralK) ? cos : 0;
  const side = [1, 0, -(pz + cz) - down, -cz - down, across];
  const floor = SLACK_SHARE * c.tyre.rate * c.tyre.halfWidth;
  const d = [t.j[0]! + floor, t.j[1]!, t.j[1]!, t.j[2]! + floor * c.tyre.halfWidth ** 2];
  return {
    element: {
      rows: [
        { idx, b: depth },
        { idx, b: tilt },
      ],
      forceRows: [
        { idx, b: depth.map((v, i) => v + level * side[i]!) },
        { idx, b: tilt },
      ],
      d,
    },
    e: [t.d0, t.d1],
  };
}

/** Deformations at `q`, and the unit-load forces there. */
export function unitLoad(set: ElementSet, q: Float64Array, load: Load): void {
  const { model, sys, e } = set;
  sys.a.fill(0);
  const out = beamOut();
  const others: Element[] = [];
  let at = 0;
  const beams: { idx: number; c: number; s: number; len: number; l0: number; g1: number; g2: number; ea: number; near: number; far: number }[] = [];
  for (const arm of model.arms) {
    for (let k = 0; k < arm.count - 1; k++) {
      const a = arm.nodes[k]!;
      const b = arm.nodes[k + 1]!;
      const i = arm.base + 3 * k;
      const l0 = arm.l0[k]!;
      beamElement(q, i, b[0] - a[0], b[1] - a[1], l0, arm.ea[k]!, arm.kNear[k]!, arm.kFar[k]!, out, false);
      e[at++] = out.stretch;
      e[at++] = out.t1;
      e[at++] = out.t2;
      beams.push({ idx: i, c: out.c, s: out.s, len: out.length, l0, g1: out.g1, g2: out.g2, ea: arm.ea[k]! / l0, near: arm.kNear[k]!, far: arm.kFar[k]! });
    }
  }
  const rowsOf = (o: (typeof beams)[number]): number[] => {
    const { c, s, len, l0, g1, g2 } = o;
    const sl = s / len,
      cl = c / len;
    const t1 = [-sl, cl, 1, sl, -cl, 0];
    const t2 = [-sl, cl, 0, sl, -cl, 1];
    const u = [-c, -s, 0, c, s, 0].map((v, i) => v + l0 * (g1 * t1[i]! + g2 * t2[i]!));
    return [...u, ...t1, ...t2];
  };
  const beamRows = beams.map(rowsOf);
  for (const [m, o] of beams.entries()) {
    const r = beamRows[m]!;
    for (let a = 0; a < 6; a++)
      for (let b = a; b < 6; b++) {
        const v = o.ea * r[a]! * r[b]! + (o.near * r[6 + a]! + o.far * r[12 + a]!) * r[6 + b]! + (o.far * r[6 + a]! + o.near * r[12 + a]!) * r[12 + b]!;
        sys.ke[36 * m + 6 * a + b] = v;
        sys.ke[36 * m + 6 * b + a] = v;
      }
  }
  const single = (row: Row, d: number): void => void others.push({ rows: [row], forceRows: [row], d: [d] });
  for (const arm of model.arms) {
    if (arm.pivotK === 0) continue;
    const i = arm.base + 2;
    single({ idx: [i, 1], b: [1, -1] }, arm.pivotK);
    e[at++] = q[i]! - q[1]!;
  }
  const treads: [TreadOut, TreadOut] = [treadOut(), treadOut()];
  for (const [i, c] of model.corners.entries()) {
    const [, uz] = wheelCentreShift(c, q);
    tread(
      c.tyre,
      c.centre[1] + uz,
      q[c.base + 2]! + q[c.base + 3]! + c.staticTurn,
      q[c.base + 4]!,
      i === 0 ? load.bumpLeftMm : load.bumpRightMm,
      treads[i as 0 | 1],
    );
  }
  const side: [number, number] = [0, 0];
  sideForces(model, load.lateralG, treads, side, null);
  for (const [i, c] of model.corners.entries()) {
    for (const name of ["upper", "lower"] as const) {
      const arm = c.arms[name];
      const ends = [
        [c.joints[`${name}Inner`], bodyPoint(blank(), q, c.chassisLever[name]), nodePoint(blank(), q, arm.base)],
        [c.joints[`${name}Outer`], nodePoint(blank(), q, arm.base + 3 * (arm.count - 1)), hubPoint(blank(), q, c.base, c.hubLever[name])],
      ] as const;
      for (const [j, p1, p2] of ends) {
        const dx = p2.dx - p1.dx;
        const dz = p2.dz - p1.dz;
        const dist = Math.sqrt(dx * dx + dz * dz);
        const open = dist > j.clearance ? j.clearance / dist : 1;
        const rows = distanceRows(p1, p2);
        others.push({ rows: [...rows], forceRows: [...rows], d: [j.k, 0, 0, j.k] });
        e[at++] = open * dx;
        e[at++] = dx - open * dx;
        e[at++] = open * dz;
        e[at++] = dz - open * dz;
      }
    }
    const s = c.spring;
    const p1 = bodyPoint(blank(), q, s.top);
    const p2 = s.on === "hub" ? hubPoint(blank(), q, c.base, s.hubLever) : nodePoint(blank(), q, c.arms[s.arm!].base + 3 * c.arms[s.arm!].seatNode!);
    const dx = s.seatAt[0] - s.topAt[0] + p2.dx - p1.dx;
    const dz = s.seatAt[1] - s.topAt[1] + p2.dz - p1.dz;
    const length = Math.sqrt(dx * dx + dz * dz);
    const [rx, rz] = distanceRows(p1, p2);
    single(
      { idx: [...rx.idx, ...rz.idx], b: [...rx.b.map((v) => (v * dx) / length), ...rz.b.map((v) => (v * dz) / length)] },
      Math.max(springForce(s, length, FINAL_BLEND.mm).rate, SLACK_SHARE * s.k),
    );
    e[at++] = length;
    const tilt = q[c.base + 3]!;
    const played = Math.min(Math.max(tilt, -c.bearing.play), c.bearing.play);
    single({ idx: [c.base + 3], b: [1] }, c.bearing.k);
    e[at++] = played;
    e[at++] = tilt - played;
    const f = c.tyre.verticalFactor * treads[i as 0 | 1].force;
    const level = f > 0 ? -side[i as 0 | 1] / f : load.lateralG;
    const t = tyreElement(q, c, treads[i as 0 | 1], level, i === 0 ? load.bumpLeftMm : load.bumpRightMm);
    others.push(t.element);
    e[at++] = t.e[0];
    e[at++] = t.e[1];
    single({ idx: [c.base + 4], b: [1] }, Number.isFinite(c.tyre.lateralK) ? c.tyre.lateralK : 1);
    e[at++] = q[c.base + 4]!;
  }
  if (model.barK > 0) {
    const bar = barElement(model, q);
    single({ idx: bar.idx, b: bar.grad }, model.barK);
    e[at++] = bar.value;
  }
  if (model.otherRollK > 0) {
    single({ idx: [1], b: [1] }, model.otherRollK);
    e[at++] = q[1]!;
  }
  for (const el of others) addMaterial(sys, el);
  factor(sys);
  const v = new Float64Array(model.n);
  for (const i of [0, 1] as const) {
    v.fill(0);
    const c = model.corners[i];
    v[c.base + 2] = -c.sign;
    v[c.base + 3] = -c.sign;
    solveSystem(sys, v, v, true);
    const n = set.n[i];
    let k = 0;
    for (const [m, o] of beams.entries()) {
      const r = beamRows[m]!;
      let u = 0,
        t1 = 0,
        t2 = 0;
      for (let a = 0; a < 6; a++) {
        const x = v[o.idx + a]!;
        u += r[a]! * x;
        t1 += r[6 + a]! * x;
        t2 += r[12 + a]! * x;
      }
      n[k++] = o.ea * u;
      n[k++] = o.near * t1 + o.far * t2;
      n[k++] = o.far * t1 + o.near * t2;
    }
    for (const el of others) {
      const m = el.rows.length;
      const strain = el.forceRows.map((row) => row.idx.reduce((sum, j, a) => sum + v[j]! * row.b[a]!, 0));
      for (let a = 0; a < m; a++) {
        let f = 0;
        for (let b = 0; b < m; b++) f += el.d[m * b + a]! * strain[b]!;
        n[k++] = f;
      }
    }
  }
}

function addMaterial(sys: AxleSystem, el: Element): void {
  const { kept, nKept } = sys.model;
  const m = el.rows.length;
  for (let a = 0; a < m; a++)
    for (let b = 0; b < m; b++) {
      const d = el.d[m * a + b]!;
      if (d === 0) continue;
      const left = el.forceRows[a]!;
      const right = el.rows[b]!;
      for (let i = 0; i < left.idx.length; i++)
        for (let j = 0; j < right.idx.length; j++) {
          const at = kept[left.idx[i]!]! * nKept + kept[right.idx[j]!]!;
          sys.a[at] = sys.a[at]! + left.b[i]! * d * right.b[j]!;
        }
    }
}
