import type { Load } from "../design/types.ts";
import { armElement } from "./beam.ts";
import { bearingMoment, bearingSlope } from "./bearing.ts";
import type { AxleSystem } from "./condense.ts";
import { addK, bodyPoint, hubPoint, nodePoint } from "./couple.ts";
import { antiRollBar, masses, pinJoint, springs } from "./force-elements.ts";
import type { AxleModel } from "./model.ts";
import { tyres } from "./tyre-forces.ts";
import { BODY_TURN, FIRST_NODE, HEAVE, HUB_TURN, HUB_X, HUB_Z, isTurn, lastNodeAt, NODE_TURN, nodeAt, TREAD_SHIFT, WHEEL_TILT } from "./unknowns.ts";
import type { Workspace } from "./workspace.ts";

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

/**
 * Fills `r` with the residual at `q`; with `sys`, fills its matrices with the exact tangent too.
 * Residual rows are forces (N) and moments (N·mm), positive when the inside forces exceed the outside ones.
 */
export function assemble(model: AxleModel, q: Float64Array, load: Load, blend: Blend, r: Float64Array, sys: AxleSystem | null, ws: Workspace): void {
  const { beam } = ws;
  r.fill(0);
  if (sys) sys.a.fill(0);
  for (const arm of model.arms) {
    for (let e = 0; e < arm.count - 1; e++) {
      const i = nodeAt(arm, e);
      armElement(q, arm, e, beam, sys !== null);
      for (let a = 0; a < 6; a++) r[i + a] = r[i + a]! + beam.g[a]!;
      if (sys) sys.ke.set(beam.k, 36 * (arm.firstElement + e));
    }
    if (arm.pivotK > 0) {
      const i = arm.base + NODE_TURN;
      const m = arm.pivotK * (q[i]! - q[BODY_TURN]!);
      r[i] = r[i]! + m;
      r[BODY_TURN] = r[BODY_TURN]! - m;
      if (sys) {
        addK(sys, i, i, arm.pivotK);
        addK(sys, 1, 1, arm.pivotK);
        addK(sys, i, 1, -arm.pivotK);
        addK(sys, 1, i, -arm.pivotK);
      }
    }
  }
  r[HEAVE] = r[HEAVE]! + model.bodyWeight;
  r[BODY_TURN] = r[BODY_TURN]! + model.otherRollK * q[BODY_TURN]!;
  if (sys) addK(sys, 1, 1, model.otherRollK);
  for (const c of model.corners) {
    for (const { arm, inner, outer, chassisLever, hubLever } of c.links) {
      pinJoint(sys, r, bodyPoint(ws.p1, q, chassisLever), nodePoint(ws.p2, q, arm.base), inner, blend.mm);
      pinJoint(sys, r, nodePoint(ws.p1, q, lastNodeAt(arm)), hubPoint(ws.p2, q, c.base, hubLever), outer, blend.mm);
    }
    springs(sys, r, q, c, ws, blend.mm);
    const tilt = q[c.base + WHEEL_TILT]!;
    r[c.base + WHEEL_TILT] = r[c.base + WHEEL_TILT]! + bearingMoment(c.bearing, tilt, blend.rad);
    if (sys) addK(sys, c.base + WHEEL_TILT, c.base + WHEEL_TILT, bearingSlope(c.bearing, tilt, blend.rad));
    masses(sys, r, q, c, load.lateralG);
  }
  tyres(sys, r, q, model, load, ws);
  antiRollBar(sys, r, q, model);
  if (model.held) clampBody(sys, r, q, model.held);
}

/** Sizes of the rows that a clamped body puts in place of its balance, N/mm and N·mm/rad: like the rows they replace. */
const CLAMP_N_PER_MM = 1e3;
const CLAMP_NMM_PER_RAD = 1e6;

/** Replaces the body's two balances by its prescribed place. */
function clampBody(sys: AxleSystem | null, r: Float64Array, q: Float64Array, held: { heaveMm: number; turnRad: number }): void {
  r[HEAVE] = CLAMP_N_PER_MM * (q[HEAVE]! - held.heaveMm);
  r[BODY_TURN] = CLAMP_NMM_PER_RAD * (q[BODY_TURN]! - held.turnRad);
  if (!sys) return;
  const { kept, nKept } = sys.model;
  for (let i = 0; i < 2; i++) sys.a.fill(0, kept[i]! * nKept, (kept[i]! + 1) * nKept);
  addK(sys, 0, 0, CLAMP_N_PER_MM);
  addK(sys, 1, 1, CLAMP_NMM_PER_RAD);
}

/** Largest residual, N; moments count over `momentArm` mm. NaN where any of it is no number. */
export function residualSize(model: AxleModel, r: Float64Array, momentArm: number): number {
  let worst = 0;
  const see = (v: number): void => {
    const a = Math.abs(v);
    // what is no number stays the worst
    if (a > worst || Number.isNaN(a)) worst = a;
  };
  see(r[HEAVE]!);
  see(r[BODY_TURN]! / momentArm);
  for (const c of model.corners) {
    see(r[c.base + HUB_X]!);
    see(r[c.base + HUB_Z]!);
    see(r[c.base + HUB_TURN]! / momentArm);
    see(r[c.base + WHEEL_TILT]! / momentArm);
    see(r[c.base + TREAD_SHIFT]!);
  }
  for (let i = FIRST_NODE; i < model.n; i++) see(isTurn(i) ? r[i]! / momentArm : r[i]!);
  return worst;
}
