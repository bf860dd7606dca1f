import { springForce } from "../linkage/spring-force.ts";
import { positivePart, positiveSlope } from "../numerics/positive-part.ts";
import type { AxleSystem } from "./condense.ts";
import { addK, coupleStiffness, type Point, pushApart } from "./couple.ts";
import type { AxleModel, CornerModel, JointModel } from "./model.ts";
import { springEnds } from "./spring-ends.ts";
import { wheelLevers } from "./tyre-forces.ts";
import { BODY_TURN, HEAVE, HUB_TURN, HUB_X, HUB_Z, NODE_X, NODE_Z, nodeAt, WHEEL_TILT } from "./unknowns.ts";
import type { Workspace } from "./workspace.ts";

/** Pin joints, springs with their stops, unsprung weights and the anti-roll bar. */

/** Adds a pin in its hole to residual and tangent: the joint's `k` beyond its clearance, a faint `kc` throughout, the corner rounded over `w` mm. */
export function pinJoint(sys: AxleSystem | null, r: Float64Array, p1: Point, p2: Point, joint: JointModel, w: number): void {
  const { clearance, k, kc } = joint;
  const dx = p2.dx - p1.dx;
  const dz = p2.dz - p1.dz;
  if (clearance === 0) {
    pushApart(r, p1, p2, k * dx, k * dz);
    if (sys) coupleStiffness(sys, p1, p2, k * dx, k * dz, k, 0, k);
    return;
  }
  const d = Math.sqrt(dx * dx + dz * dz);
  if (d === 0) {
    if (sys) coupleStiffness(sys, p1, p2, 0, 0, kc, 0, kc);
    return;
  }
  const blend = Math.min(w, clearance);
  const f = k * positivePart(d - clearance, blend) + kc * d;
  const nx = dx / d;
  const nz = dz / d;
  pushApart(r, p1, p2, f * nx, f * nz);
  if (!sys) return;
  const slope = k * positiveSlope(d - clearance, blend) + kc;
  const side = f / d;
  coupleStiffness(sys, p1, p2, f * nx, f * nz, slope * nx * nx + side * nz * nz, (slope - side) * nx * nz, slope * nz * nz + side * nx * nx);
}

/** Adds a corner's spring with its stops to residual and tangent, their corners rounded over `w` mm. */
export function springs(sys: AxleSystem | null, r: Float64Array, q: Float64Array, c: CornerModel, ws: Workspace, w: number): void {
  const { dx, dz, length } = springEnds(ws.p1, ws.p2, q, c, ws.span);
  const f = springForce(c.spring, length, w);
  const { push } = f;
  const nx = dx / length;
  const nz = dz / length;
  pushApart(r, ws.p1, ws.p2, -push * nx, -push * nz);
  if (!sys) return;
  const side = -push / length;
  coupleStiffness(sys, ws.p1, ws.p2, -push * nx, -push * nz, f.rate * nx * nx + side * nz * nz, (f.rate - side) * nx * nz, f.rate * nz * nz + side * nx * nx);
}

/** Unsprung weights and their inertia: constant forces at the wheel centre, on the hub and on the wheel. */
export function masses(sys: AxleSystem | null, r: Float64Array, q: Float64Array, c: CornerModel, lateralG: number): void {
  // motion has its weights elsewhere
  if (c.hubWeight === 0 && c.wheelWeight === 0) return;
  const b = c.base;
  const turn = q[b + HUB_TURN]!;
  const hubX = c.hubWeight * lateralG;
  r[b + HUB_X] = r[b + HUB_X]! - hubX - c.wheelWeight * lateralG;
  r[b + HUB_Z] = r[b + HUB_Z]! + c.hubWeight + c.wheelWeight;
  // the rest of the unsprung mass sits at the hub's reference point: no lever
  const fx = c.wheelWeight * lateralG;
  const fz = -c.wheelWeight;
  const { px, pz, cx, cz } = wheelLevers(c, turn, q[b + WHEEL_TILT]!);
  // wheel centre = hub point + bearing lever + lever in the wheel
  r[b + HUB_TURN] = r[b + HUB_TURN]! - (-(pz + cz) * fx + (px + cx) * fz);
  r[b + WHEEL_TILT] = r[b + WHEEL_TILT]! - (-cz * fx + cx * fz);
  if (!sys) return;
  const both = fx * (px + cx) + fz * (pz + cz);
  const wheel = fx * cx + fz * cz;
  addK(sys, b + HUB_TURN, b + HUB_TURN, both);
  addK(sys, b + HUB_TURN, b + WHEEL_TILT, wheel);
  addK(sys, b + WHEEL_TILT, b + HUB_TURN, wheel);
  addK(sys, b + WHEEL_TILT, b + WHEEL_TILT, wheel);
}

/** Adds the anti-roll bar between both lower arms to residual and tangent. */
export function antiRollBar(sys: AxleSystem | null, r: Float64Array, q: Float64Array, model: AxleModel): void {
  if (model.barK === 0) return;
  const e = barScratch;
  fillBar(model, q, e, sys !== null);
  const f = model.barK * e.value;
  for (let a = 0; a < 6; a++) r[e.idx[a]!] = r[e.idx[a]!]! + f * e.grad[a]!;
  if (!sys) return;
  for (let a = 0; a < 6; a++) for (let b = 0; b < 6; b++) addK(sys, e.idx[a]!, e.idx[b]!, model.barK * e.grad[a]! * e.grad[b]! + f * e.hess[6 * a + b]!);
}

/** Difference of the bar ends' height in the body's own frame, right minus left, mm, with its derivatives by (h, turn, left x z, right x z). */
export function barElement(model: AxleModel, q: Float64Array): BarElement {
  const e = barOut();
  fillBar(model, q, e, true);
  return e;
}

interface BarElement {
  value: number;
  idx: Int32Array;
  grad: Float64Array;
  hess: Float64Array;
}

const barOut = (): BarElement => ({ value: 0, idx: new Int32Array(6), grad: new Float64Array(6), hess: new Float64Array(36) });
const barScratch = barOut();

/** Adds to both mirrored places of a 6 x 6. */
function addBoth(hess: Float64Array, a: number, b: number, v: number): void {
  hess[6 * a + b] = hess[6 * a + b]! + v;
  if (a !== b) hess[6 * b + a] = hess[6 * b + a]! + v;
}

/** Fills `out`; its second derivatives only where `tangent` asks for them. */
function fillBar(model: AxleModel, q: Float64Array, out: BarElement, tangent: boolean): void {
  const { idx, grad, hess } = out;
  const turn = q[BODY_TURN]!;
  const sin = Math.sin(turn),
    cos = Math.cos(turn);
  const half = Math.sin(turn / 2);
  const cosm = -2 * half * half;
  idx[0] = HEAVE;
  idx[1] = BODY_TURN;
  grad[0] = 0;
  grad[1] = 0;
  if (tangent) hess.fill(0);
  let value = 0;
  for (let i = 0; i < 2; i++) {
    const sign = i === 0 ? -1 : 1;
    const arm = model.corners[i]!.arms.lower;
    const at = nodeAt(arm, arm.barNode!);
    const rx = arm.nodes[arm.barNode!]![0] - model.cg[0];
    const rz = arm.nodes[arm.barNode!]![1] - model.cg[1];
    const dx = q[at + NODE_X]!;
    const dz = q[at + NODE_Z]! - q[HEAVE]!;
    const x = rx + dx,
      z = rz + dz;
    // own-frame height minus as-built height
    value += sign * (-sin * x + cosm * rz + cos * dz);
    const col = 2 + 2 * i;
    idx[col] = at + NODE_X;
    idx[col + 1] = at + NODE_Z;
    grad[col] = sign * -sin;
    grad[col + 1] = sign * cos;
    const own = -(cos * x + sin * z);
    grad[0] = grad[0]! - sign * cos;
    grad[1] = grad[1]! + sign * own;
    if (!tangent) continue;
    addBoth(hess, 1, 1, sign * (sin * x - cos * z));
    addBoth(hess, 1, col, sign * -cos);
    addBoth(hess, 1, col + 1, sign * -sin);
    addBoth(hess, 0, 1, sign * sin);
  }
  out.value = value;
}
