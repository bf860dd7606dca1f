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

/** The hub's way sideways, mm, and its turn, as the body sees it. */
interface HubMove {
  x: number;
  turn: number;
}

function causesOf(c: CornerModel, state: AxleState): { causes: Causes; end: HubMove } {
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
  return { causes, end: { x: at[0] - built[0], turn: s.hub.angleRad - body } };
}

/**
 * How the two arms hold the hub at path share t, its height given by the travel: what their lengths are out by, and how these grow with the
 * hub's way sideways, its height (the unit chord) and its turn.
 */
function linkage(
  c: CornerModel,
  causes: Causes,
  t: number,
  x: number,
  turn: number,
): { gap: Record<"upper" | "lower", number>; unit: Record<"upper" | "lower", V2>; byTurn: Record<"upper" | "lower", number> } {
  const gap = { upper: 0, lower: 0 };
  const byTurn = { upper: 0, lower: 0 };
  const unit = {} as Record<"upper" | "lower", V2>;
  for (const arm of ["upper", "lower"] as const) {
    const lever = rotate(c.hubLever[arm], turn);
    const inner = c.arms[arm].nodes[0]!;
    const px = c.centre[0] + x + lever[0] - inner[0] - t * causes.offset[arm][0];
    const pz = c.centre[1] + t * causes.travel + lever[1] - inner[1] - t * causes.offset[arm][1];
    const len = Math.sqrt(px * px + pz * pz);
    unit[arm] = [px / len, pz / len];
    gap[arm] = len - c.arms[arm].length - t * causes.stretch[arm];
    byTurn[arm] = (pz * lever[0] - px * lever[1]) / len;
  }
  return { gap, unit, byTurn };
}

function integrate(c: CornerModel, causes: Causes, end: HubMove, points: number): Map<MotionPart, number> {
  const out = new Map<MotionPart, number>();
  const add = (part: MotionPart, v: number): void => void out.set(part, (out.get(part) ?? 0) + v);
  const { x: nodes, w: weights } = gaussLegendre(points);
  for (let k = 0; k < points; k++) {
    const t = nodes[k]!;
    let x = t * end.x;
    let turn = t * end.turn;
    for (let it = 0; it < 30; it++) {
      const { gap, unit, byTurn } = linkage(c, causes, t, x, turn);
      const det = unit.upper[0] * byTurn.lower - unit.lower[0] * byTurn.upper;
      const dx = (gap.upper * byTurn.lower - gap.lower * byTurn.upper) / det;
      const dTurn = (unit.upper[0] * gap.lower - unit.lower[0] * gap.upper) / det;
      x -= dx;
      turn -= dTurn;
      if (Math.abs(dx) + 50 * Math.abs(dTurn) < 1e-12) break;
    }
    const { unit, byTurn } = linkage(c, causes, t, x, turn);
    const det = unit.upper[0] * byTurn.lower - unit.lower[0] * byTurn.upper;
    const w = weights[k]!;
    // turn of the hub by each arm's length, and by the hub's height with both lengths held
    const arms = { upper: -unit.lower[0] / det, lower: unit.upper[0] / det };
    add("wheelTravel", -w * (arms.upper * unit.upper[1] + arms.lower * unit.lower[1]) * causes.travel);
    add("upperArm", w * arms.upper * causes.stretch.upper);
    add("lowerArm", w * arms.lower * causes.stretch.lower);
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
    if (Math.abs(sum - end.turn) < CLOSE_RAD) break;
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
