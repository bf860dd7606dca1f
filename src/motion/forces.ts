import type { AxleSystem } from "../core/equilibrium/condense.ts";
import { addK, bodyPoint, couple, hubPoint, nodePoint, type Point, point, pushApart } from "../core/equilibrium/couple.ts";
import type { AxleModel, CornerModel } from "../core/equilibrium/model.ts";
import { springEnds, springSpan } from "../core/equilibrium/spring-ends.ts";
import { lastNodeAt, WHEEL_TILT } from "../core/equilibrium/unknowns.ts";
import { positivePart } from "../core/numerics/positive-part.ts";
import { BEARING_DAMPING_S, BLEND_MM, JOINT_DAMPING_S } from "./settings.ts";

/**
 * Damping between the parts: pins in their holes, wheel bearings, spring dampers. All are added to the residual (inside forces minus outside
 * ones) as forces of the speeds at the end of the step, with their share of the tangent, so that none of them can drive a light part wild.
 */

/** Speeds by unknown, mm/s and rad/s, and how much of a change of the unknowns at the end of the step they carry, 1/s. */
export interface Rates {
  /** steps to a second */
  perStep: number;
  /** at the end of the step, from the last two steps: second order */
  end: Float64Array;
  perEnd: number;
}

const p1 = point();
const p2 = point();
const span = springSpan();

/** Speed of point 2 against point 1 along x and z, left in `between`. */
const between = { x: 0, z: 0 };
function speedBetween(rate: Float64Array, a: Point, b: Point): void {
  let x = (b.ix >= 0 ? rate[b.ix]! : 0) - (a.ix >= 0 ? rate[a.ix]! : 0);
  let z = (b.iz >= 0 ? rate[b.iz]! : 0) - (a.iz >= 0 ? rate[a.iz]! : 0);
  if (b.it >= 0) {
    x -= b.pz * rate[b.it]!;
    z += b.px * rate[b.it]!;
  }
  if (a.it >= 0) {
    x += a.pz * rate[a.it]!;
    z -= a.px * rate[a.it]!;
  }
  between.x = x;
  between.z = z;
}

/** Order of the joints in `jointForce`: per corner upper inner, upper outer, lower inner, lower outer. */
export const JOINTS_PER_CORNER = 4;

/** Damping of the eight joints; writes each joint's force on its outboard part, spring and damping together, N: x, z. */
export function jointDamping(sys: AxleSystem | null, r: Float64Array, q: Float64Array, model: AxleModel, rates: Rates, jointForce: Float64Array): void {
  for (let i = 0; i < 2; i++) {
    const c = model.corners[i]!;
    for (let a = 0; a < 2; a++) {
      const { arm, inner, outer, chassisLever, hubLever } = c.links[a]!;
      for (let end = 0; end < 2; end++) {
        const j = end === 0 ? inner : outer;
        if (end === 0) {
          bodyPoint(p1, q, chassisLever);
          nodePoint(p2, q, arm.base);
        } else {
          nodePoint(p1, q, lastNodeAt(arm));
          hubPoint(p2, q, c.base, hubLever);
        }
        speedBetween(rates.end, p1, p2);
        const vx = between.x;
        const vz = between.z;
        // N·s/mm
        const damp = JOINT_DAMPING_S * j.k;
        if (!sys) pushApart(r, p1, p2, damp * vx, damp * vz);
        else couple(sys, r, p1, p2, damp * vx, damp * vz, damp * rates.perEnd, 0, damp * rates.perEnd);
        const dx = p2.dx - p1.dx;
        const dz = p2.dz - p1.dz;
        const d = Math.sqrt(dx * dx + dz * dz);
        const f = j.clearance === 0 ? j.k : d > 0 ? (j.k * positivePart(d - j.clearance, Math.min(BLEND_MM, j.clearance))) / d : 0;
        const fx = f * dx + damp * vx;
        const fz = f * dz + damp * vz;
        const o = 2 * (JOINTS_PER_CORNER * i + 2 * a + end);
        jointForce[o] = -fx;
        jointForce[o + 1] = -fz;
      }
    }
  }
}

/** Damping of a bearing against tilt. Returns the bearing's whole moment, N·mm, as the static core counts it. */
export function bearingDamping(sys: AxleSystem | null, r: Float64Array, q: Float64Array, c: CornerModel, rates: Rates): number {
  const i = c.base + WHEEL_TILT;
  const damp = BEARING_DAMPING_S * c.bearing.k;
  const moment = damp * rates.end[i]!;
  r[i] = r[i]! + moment;
  if (sys) addK(sys, i, i, damp * rates.perEnd);
  const tilt = q[i]!;
  const over = Math.abs(tilt) - c.bearing.play;
  return moment + (c.bearing.play === 0 ? c.bearing.k * tilt : Math.sign(tilt) * c.bearing.k * Math.max(0, over));
}

/** The spring's damper, along the spring; pushes against closing by the bump rate, against opening by the rebound rate. Returns its push, N. */
export function springDamper(sys: AxleSystem | null, r: Float64Array, q: Float64Array, c: CornerModel, rates: Rates): number {
  const { bumpNsPerM, reboundNsPerM } = c.corner.spring.damping;
  if (bumpNsPerM === 0 && reboundNsPerM === 0) return 0;
  const { dx, dz, length } = springEnds(p1, p2, q, c, span);
  const nx = dx / length;
  const nz = dz / length;
  speedBetween(rates.end, p1, p2);
  const opening = between.x * nx + between.z * nz;
  const damp = (opening > 0 ? reboundNsPerM : bumpNsPerM) / 1000;
  const f = damp * opening;
  const k = damp * rates.perEnd;
  if (!sys) pushApart(r, p1, p2, f * nx, f * nz);
  else couple(sys, r, p1, p2, f * nx, f * nz, k * nx * nx, k * nx * nz, k * nz * nz);
  return -f;
}
