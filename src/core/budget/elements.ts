import type { BudgetPart, SidePart } from "../analysis.ts";
import type { Load } from "../design/types.ts";
import { type BeamOut, beamElement, beamOut } from "../equilibrium/beam.ts";
import { type AxleSystem, axleSystem, factor, solveSystem } from "../equilibrium/condense.ts";
import { bodyPoint, hubPoint, nodePoint, type Point, point } from "../equilibrium/couple.ts";
import { barElement } from "../equilibrium/force-elements.ts";
import type { AxleModel, CornerModel } from "../equilibrium/model.ts";
import { FINAL_BLEND } from "../equilibrium/newton.ts";
import { type SpringSpan, springEnds, springSpan } from "../equilibrium/spring-ends.ts";
import { type TreadOut, tread, treadOut } from "../equilibrium/tread.ts";
import { sideForces, wheelCentreShift, wheelLevers } from "../equilibrium/tyre-forces.ts";
import {
  BODY_TURN,
  HUB_TURN,
  HUB_X,
  HUB_Z,
  lastNodeAt,
  NODE_TURN,
  NODE_X,
  NODE_Z,
  nodeAt,
  PER_NODE,
  TREAD_SHIFT,
  WHEEL_TILT,
  wheelTurn,
} from "../equilibrium/unknowns.ts";
import { springForce } from "../linkage/spring-force.ts";
import { addRows, distanceRow, entry, newRows, pair, type Rows, row, rowForces } from "./rows.ts";

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
  /** scratch: rows of the small elements, rows of the beams (u, t1, t2; six each), one solution */
  rows: Rows;
  beams: Float64Array;
  beam: BeamOut;
  v: Float64Array;
  p1: Point;
  p2: Point;
  span: SpringSpan;
  treads: [TreadOut, TreadOut];
  side: [number, number];
}

/** A slack spring or a lifted tyre keeps this share of its stiffness, so that the unit load always finds a way. */
const SLACK_SHARE = 1e-6;

/** Unknowns of a beam element: its two nodes'. */
const PER_BEAM = 2 * PER_NODE;
/** Rows of a beam element over them: stretch, then the turn of either end. */
const T1_ROW = PER_BEAM;
const T2_ROW = 2 * PER_BEAM;
const BEAM_ROWS = 3 * PER_BEAM;

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
    rows: newRows(force),
    beams: new Float64Array(BEAM_ROWS * model.elementCount),
    beam: beamOut(),
    v: new Float64Array(model.n),
    p1: point(),
    p2: point(),
    span: springSpan(),
    treads: [treadOut(), treadOut()],
    side: [0, 0],
  };
}

/** Penetration and tilt of the tread, with the side force that goes with the vertical one. */
function tyreRows(r: Rows, q: Float64Array, c: CornerModel, t: TreadOut, level: number, road: number): void {
  const b = c.base;
  const turn = wheelTurn(c, q);
  const sin = Math.sin(turn);
  const cos = Math.cos(turn);
  const { px, pz, cx, cz } = wheelLevers(c, q[b + HUB_TURN]!, q[b + WHEEL_TILT]!);
  const shift = q[b + TREAD_SHIFT]!;
  const d0Turn = -c.tyre.radius * sin - shift * cos;
  const down = road - (c.centre[1] + q[b + HUB_Z]! + pz + cz);
  const floor = SLACK_SHARE * c.tyre.rate * c.tyre.halfWidth;
  row(r, t.j[0]! + floor);
  entry(r, b + HUB_X, 0, level);
  entry(r, b + HUB_Z, -1);
  entry(r, b + HUB_TURN, -(px + cx) + d0Turn, -(px + cx) + d0Turn + level * (-(pz + cz) - down));
  entry(r, b + WHEEL_TILT, -cx + d0Turn, -cx + d0Turn + level * (-cz - down));
  entry(r, b + TREAD_SHIFT, -sin, -sin + (Number.isFinite(c.tyre.lateralK) ? level * cos : 0));
  row(r, t.j[2]! + floor * c.tyre.halfWidth ** 2);
  entry(r, b + HUB_TURN, -cos);
  entry(r, b + WHEEL_TILT, -cos);
  pair(r, t.j[1]!);
}

/** Elongation with bowing and end turns of every beam element, their rows, and their material matrices. */
function beamsAt(set: ElementSet, q: Float64Array): number {
  const { model, sys, e, beams, beam: out } = set;
  let at = 0;
  let m = 0;
  for (const arm of model.arms) {
    for (let k = 0; k < arm.count - 1; k++, m++) {
      const a = arm.nodes[k]!;
      const b = arm.nodes[k + 1]!;
      const l0 = arm.l0[k]!;
      const near = arm.kNear[k]!;
      const far = arm.kFar[k]!;
      beamElement(q, nodeAt(arm, k), b[0] - a[0], b[1] - a[1], l0, arm.ea[k]!, near, far, out, false);
      e[at++] = out.stretch;
      e[at++] = out.t1;
      e[at++] = out.t2;
      const sl = out.s / out.length;
      const cl = out.c / out.length;
      const o = BEAM_ROWS * m;
      const t1 = o + T1_ROW;
      const t2 = o + T2_ROW;
      beams[t1 + NODE_X] = -sl;
      beams[t1 + NODE_Z] = cl;
      beams[t1 + NODE_TURN] = 1;
      beams[t1 + PER_NODE + NODE_X] = sl;
      beams[t1 + PER_NODE + NODE_Z] = -cl;
      beams[t1 + PER_NODE + NODE_TURN] = 0;
      for (let i = 0; i < PER_BEAM; i++) beams[t2 + i] = beams[t1 + i]!;
      beams[t2 + NODE_TURN] = 0;
      beams[t2 + PER_NODE + NODE_TURN] = 1;
      for (let i = 0; i < PER_BEAM; i++) beams[o + i] = l0 * (out.g1 * beams[t1 + i]! + out.g2 * beams[t2 + i]!);
      beams[o + NODE_X] = beams[o + NODE_X]! - out.c;
      beams[o + NODE_Z] = beams[o + NODE_Z]! - out.s;
      beams[o + PER_NODE + NODE_X] = beams[o + PER_NODE + NODE_X]! + out.c;
      beams[o + PER_NODE + NODE_Z] = beams[o + PER_NODE + NODE_Z]! + out.s;
      const ea = arm.ea[k]! / l0;
      const ke = PER_BEAM * PER_BEAM * m;
      for (let i = 0; i < PER_BEAM; i++) {
        const u = ea * beams[o + i]!;
        const x = near * beams[t1 + i]! + far * beams[t2 + i]!;
        const y = far * beams[t1 + i]! + near * beams[t2 + i]!;
        for (let j = i; j < PER_BEAM; j++) {
          const v = u * beams[o + j]! + x * beams[t1 + j]! + y * beams[t2 + j]!;
          sys.ke[ke + PER_BEAM * i + j] = v;
          sys.ke[ke + PER_BEAM * j + i] = v;
        }
      }
    }
  }
  return at;
}

function cornerRows(set: ElementSet, q: Float64Array, load: Load, i: 0 | 1, from: number): number {
  const { model, e, rows: r, p1, p2, treads, side } = set;
  const c = model.corners[i];
  let at = from;
  for (const name of ["upper", "lower"] as const) {
    const arm = c.arms[name];
    for (const end of ["Inner", "Outer"] as const) {
      const j = c.joints[`${name}${end}`];
      if (end === "Inner") {
        bodyPoint(p1, q, c.chassisLever[name]);
        nodePoint(p2, q, arm.base);
      } else {
        nodePoint(p1, q, lastNodeAt(arm));
        hubPoint(p2, q, c.base, c.hubLever[name]);
      }
      const dx = p2.dx - p1.dx;
      const dz = p2.dz - p1.dz;
      const dist = Math.sqrt(dx * dx + dz * dz);
      const open = dist > j.clearance ? j.clearance / dist : 1;
      distanceRow(r, p1, p2, 1, 0, j.k);
      distanceRow(r, p1, p2, 0, 1, j.k);
      e[at++] = open * dx;
      e[at++] = dx - open * dx;
      e[at++] = open * dz;
      e[at++] = dz - open * dz;
    }
  }
  const s = c.spring;
  const { dx, dz, length } = springEnds(p1, p2, q, c, set.span);
  distanceRow(r, p1, p2, dx / length, dz / length, Math.max(springForce(s, length, FINAL_BLEND.mm).rate, SLACK_SHARE * s.k));
  e[at++] = length;
  const tilt = q[c.base + WHEEL_TILT]!;
  const played = Math.min(Math.max(tilt, -c.bearing.play), c.bearing.play);
  row(r, c.bearing.k);
  entry(r, c.base + WHEEL_TILT, 1);
  e[at++] = played;
  e[at++] = tilt - played;
  const t = treads[i];
  const f = c.tyre.verticalFactor * t.force;
  tyreRows(r, q, c, t, f > 0 ? -side[i] / f : load.lateralG, i === 0 ? load.bumpLeftMm : load.bumpRightMm);
  e[at++] = t.d0;
  e[at++] = t.d1;
  row(r, Number.isFinite(c.tyre.lateralK) ? c.tyre.lateralK : 1);
  entry(r, c.base + TREAD_SHIFT, 1);
  e[at++] = q[c.base + TREAD_SHIFT]!;
  return at;
}

/** Deformations at `q`, and the unit-load forces there. */
export function unitLoad(set: ElementSet, q: Float64Array, load: Load): void {
  const { model, sys, e, rows: r, treads } = set;
  sys.a.fill(0);
  r.count = 0;
  let at = beamsAt(set, q);
  for (const arm of model.arms) {
    if (arm.pivotK === 0) continue;
    const i = arm.base + NODE_TURN;
    row(r, arm.pivotK);
    entry(r, i, 1);
    entry(r, BODY_TURN, -1);
    e[at++] = q[i]! - q[BODY_TURN]!;
  }
  for (const i of [0, 1] as const) {
    const c = model.corners[i];
    const [, uz] = wheelCentreShift(c, q);
    tread(c.tyre, c.centre[1] + uz, wheelTurn(c, q), q[c.base + TREAD_SHIFT]!, i === 0 ? load.bumpLeftMm : load.bumpRightMm, treads[i]);
  }
  sideForces(model, load.lateralG, treads, set.side, null);
  at = cornerRows(set, q, load, 0, at);
  at = cornerRows(set, q, load, 1, at);
  if (model.barK > 0) {
    const bar = barElement(model, q);
    row(r, model.barK);
    for (let a = 0; a < 6; a++) entry(r, bar.idx[a]!, bar.grad[a]!);
    e[at++] = bar.value;
  }
  if (model.otherRollK > 0) {
    row(r, model.otherRollK);
    entry(r, BODY_TURN, 1);
    e[at++] = q[BODY_TURN]!;
  }
  addRows(sys, r);
  factor(sys);
  const v = set.v;
  for (const w of [0, 1] as const) {
    v.fill(0);
    const c = model.corners[w];
    v[c.base + HUB_TURN] = -c.sign;
    v[c.base + WHEEL_TILT] = -c.sign;
    solveSystem(sys, v, v, true);
    const n = set.n[w];
    n.fill(0);
    let k = 0;
    let m = 0;
    for (const arm of model.arms) {
      for (let el = 0; el < arm.count - 1; el++, m++) {
        let u = 0;
        let t1 = 0;
        let t2 = 0;
        for (let a = 0; a < PER_BEAM; a++) {
          const x = v[nodeAt(arm, el) + a]!;
          u += set.beams[BEAM_ROWS * m + a]! * x;
          t1 += set.beams[BEAM_ROWS * m + T1_ROW + a]! * x;
          t2 += set.beams[BEAM_ROWS * m + T2_ROW + a]! * x;
        }
        n[k++] = (arm.ea[el]! / arm.l0[el]!) * u;
        n[k++] = arm.kNear[el]! * t1 + arm.kFar[el]! * t2;
        n[k++] = arm.kFar[el]! * t1 + arm.kNear[el]! * t2;
      }
    }
    rowForces(r, v, n, k);
  }
}
