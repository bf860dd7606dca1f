import type { MotionPart } from "../analysis.ts";
import type { JointName, Side } from "../design/types.ts";
import type { AxleModel, CornerModel } from "../equilibrium/model.ts";
import type { AxleState } from "../equilibrium/state.ts";
import { gaussLegendre } from "../numerics/quadrature.ts";
import { radToDeg } from "../units.ts";
import type { V2 } from "../vec.ts";

/**
 * Camber by cause of motion (Aumann-Shapley path integral): all causes of the solved position grow together from 0 to 1
 * and each one's partial derivative is integrated. Causes: static setting, body roll, wheel travel on the rigid linkage,
 * change of each arm's length between its pins, offset of each pin in its hole (clearance and give), wheel against hub.
 * Source: Aumann & Shapley, Values of Non-Atomic Games, 1974; it adds up and needs no order.
 */

interface Causes {
  travel: number;
  stretch: Record<"upper" | "lower", number>;
  /** offset of both pins of an arm, body frame */
  offset: Record<"upper" | "lower", V2>;
  own: { part: MotionPart; arm: "upper" | "lower"; d: V2 }[];
}

const rotate = (v: V2, a: number): V2 => [Math.cos(a) * v[0] - Math.sin(a) * v[1], Math.sin(a) * v[0] + Math.cos(a) * v[1]];

function causesOf(c: CornerModel, state: AxleState): { causes: Causes; end: [number, number, number] } {
  const s = state[c.side];
  const body = state.body.angleRad;
  // the hub as the body sees it, against as-built
  const seen = rotate([s.hub.at[0] - state.body.cg[0], s.hub.at[1] - state.body.cg[1]], -body);
  const at: V2 = [seen[0], seen[1] + state.body.cg[1] - state.body.heaveMm];
  const built = c.centre;
  const causes: Causes = { travel: at[1] - built[1], stretch: { upper: 0, lower: 0 }, offset: { upper: [0, 0], lower: [0, 0] }, own: [] };
  for (const arm of ["upper", "lower"] as const) {
    const nodes = s.arms[arm].nodes;
    const a = nodes[0]!;
    const b = nodes[nodes.length - 1]!;
    causes.stretch[arm] = Math.sqrt((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) - c.arms[arm].length;
    for (const end of ["Inner", "Outer"] as const) {
      const name: JointName = `${arm}${end}`;
      const d = rotate(s.joints[name].offset, -body);
      const size = Math.sqrt(d[0] * d[0] + d[1] * d[1]);
      const open = size > c.joints[name].clearance ? c.joints[name].clearance / size : 1;
      causes.own.push(
        { part: `${name}Clearance`, arm, d: [open * d[0], open * d[1]] },
        { part: `${name}Give`, arm, d: [(1 - open) * d[0], (1 - open) * d[1]] },
      );
      causes.offset[arm][0] += d[0];
      causes.offset[arm][1] += d[1];
    }
  }
  return { causes, end: [at[0] - built[0], at[1] - built[1], s.hub.angleRad - body] };
}

/** Constraint rows by (hub x, hub z, hub turn) and unit chords at path share t. */
function linkage(
  c: CornerModel,
  causes: Causes,
  t: number,
  x: readonly [number, number, number],
): { g: [number, number, number]; j: number[]; unit: Record<"upper" | "lower", V2> } {
  const g: [number, number, number] = [x[1] - t * causes.travel, 0, 0];
  const j = [0, 1, 0];
  const unit = {} as Record<"upper" | "lower", V2>;
  for (const [i, arm] of (["upper", "lower"] as const).entries()) {
    const lever = rotate(c.hubLever[arm], x[2]);
    const inner = c.arms[arm].nodes[0]!;
    const px = c.centre[0] + x[0] + lever[0] - inner[0] - t * causes.offset[arm][0];
    const pz = c.centre[1] + x[1] + lever[1] - inner[1] - t * causes.offset[arm][1];
    const len = Math.sqrt(px * px + pz * pz);
    const u: V2 = [px / len, pz / len];
    unit[arm] = u;
    g[(i + 1) as 1 | 2] = len - c.arms[arm].length - t * causes.stretch[arm];
    j.push(u[0], u[1], -u[0] * lever[1] + u[1] * lever[0]);
  }
  return { g, j, unit };
}

/** Row 3 of the inverse of the 3 x 3 constraint matrix: hub turn by each right-hand side. */
function turnRow(j: readonly number[]): [number, number, number] {
  const [a, b, c, d, e, f, g, h, i] = j as [number, number, number, number, number, number, number, number, number];
  const det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  return [(d * h - e * g) / det, (b * g - a * h) / det, (a * e - b * d) / det];
}

function solve3(j: readonly number[], r: readonly [number, number, number]): [number, number, number] {
  const [a, b, c, d, e, f, g, h, i] = j as [number, number, number, number, number, number, number, number, number];
  const det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  return [
    (r[0] * (e * i - f * h) - b * (r[1] * i - f * r[2]) + c * (r[1] * h - e * r[2])) / det,
    (a * (r[1] * i - f * r[2]) - r[0] * (d * i - f * g) + c * (d * r[2] - r[1] * g)) / det,
    (a * (e * r[2] - r[1] * h) - b * (d * r[2] - r[1] * g) + r[0] * (d * h - e * g)) / det,
  ];
}

function integrate(c: CornerModel, causes: Causes, end: readonly [number, number, number], points: number): Map<MotionPart, number> {
  const out = new Map<MotionPart, number>();
  const add = (part: MotionPart, v: number): void => void out.set(part, (out.get(part) ?? 0) + v);
  const { x: nodes, w: weights } = gaussLegendre(points);
  for (let k = 0; k < points; k++) {
    const t = nodes[k]!;
    let x: [number, number, number] = [t * end[0], t * end[1], t * end[2]];
    for (let it = 0; it < 30; it++) {
      const { g, j } = linkage(c, causes, t, x);
      const d = solve3(j, g);
      x = [x[0] - d[0], x[1] - d[1], x[2] - d[2]];
      if (Math.abs(d[0]) + Math.abs(d[1]) + 50 * Math.abs(d[2]) < 1e-12) break;
    }
    const { j, unit } = linkage(c, causes, t, x);
    const row = turnRow(j);
    const w = weights[k]!;
    const arms = { upper: row[1], lower: row[2] };
    add("wheelTravel", w * row[0] * causes.travel);
    add("upperArm", w * row[1] * causes.stretch.upper);
    add("lowerArm", w * row[2] * causes.stretch.lower);
    for (const { part, arm, d } of causes.own) add(part, w * arms[arm] * (unit[arm][0] * d[0] + unit[arm][1] * d[1]));
  }
  return out;
}

/** The sum must meet the solved turn of the hub within this, rad (model, section 6: 1e-6°). */
const CLOSE_RAD = 1e-9;

/** @returns camber by motion of one wheel, °; the parts sum to the solved camber */
export function camberByMotion(model: AxleModel, state: AxleState, side: Side): Record<MotionPart, number> {
  const c = model.corners[side === "left" ? 0 : 1];
  const s = state[side];
  const { causes, end } = causesOf(c, state);
  let parts = new Map<MotionPart, number>();
  for (const points of [6, 12, 24, 48, 96]) {
    parts = integrate(c, causes, end, points);
    let sum = 0;
    for (const v of parts.values()) sum += v;
    if (Math.abs(sum - end[2]) < CLOSE_RAD) break;
  }
  const out = {} as Record<MotionPart, number>;
  const deg = (a: number): number => radToDeg(-c.sign * a) + 0;
  out.staticSetting = deg(c.staticTurn);
  out.bodyRoll = deg(state.body.angleRad);
  for (const [part, v] of parts) out[part] = deg(v);
  const tilt = s.wheelTiltRad;
  const played = Math.min(Math.max(tilt, -c.bearing.play), c.bearing.play);
  out.bearingPlay = deg(played);
  out.bearingGive = deg(tilt - played);
  return out;
}
