import type { LimitResult } from "../analysis.ts";
import { armHeight } from "../design/room.ts";
import { cornerOf } from "../design/sides.ts";
import type { ArmName, Corner, Scenario, Side } from "../design/types.ts";
import type { AxleModel } from "../equilibrium/model.ts";
import type { AxleState } from "../equilibrium/state.ts";
import { buildCorner } from "../linkage/corner.ts";
import { type CornerPose, positionAtTravel } from "../linkage/position.ts";
import { degToRad } from "../units.ts";
import type { V2 } from "../vec.ts";
import { type LimitContext, limitResult } from "./context.ts";
import { outlineGap } from "./fit-geometry.ts";
import { wheelPush } from "./push.ts";

/**
 * Whether tyre and arms keep clear of a body that must not change. All in the front view: a part in front of or behind another is taken
 * as beside it, which is on the safe side. Outlines and boxes are fixed to the body. Roll is not a motion of its own here: against the
 * body it is a rise of one wheel and a fall of the other, so that the sweep over travel holds it; what roll and load add in lean and
 * bending comes from the solved position.
 *
 * Body frame: the picture frame with the body in its as-built place.
 */
type MovingPart = "tyre" | "upper arm" | "lower arm";

export interface MovingShape {
  part: MovingPart;
  /** convex, closed */
  points: V2[];
}

export interface FitFinding {
  side: Side;
  between: MovingPart;
  outline: string;
  /** on the outline, in the body frame */
  at: V2;
  /** negative: how deep they touch */
  distanceMm: number;
  /** wheel travel of the rigid sweep at which it is tightest, mm; null: at the solved load */
  travelMm: number | null;
}

/** Steps of the sweep over travel; the way between two of them is at most a few millimetres and nearly straight. */
const SWEEP_STEPS = 12;

interface FixedOutline {
  name: string;
  points: V2[];
  closed: boolean;
}

/** Outlines and boxes of the scenario in the body frame, both halves; boxes as closed outlines. */
export function fixedOutlines(s: Scenario): FixedOutline[] {
  const out: FixedOutline[] = [];
  const add = (name: string, points: V2[], closed: boolean, both: boolean): void => {
    out.push({ name, points, closed });
    if (both) out.push({ name, points: points.map(([x, z]): V2 => [-x, z]), closed });
  };
  for (const o of s.fit.outlines)
    add(
      o.name,
      o.points.map((p): V2 => [p.sMm, p.zMm]),
      o.closed,
      o.bothSides,
    );
  for (const b of s.fit.keepOut)
    add(
      b.name,
      [
        [b.fromSMm, b.fromZMm],
        [b.toSMm, b.fromZMm],
        [b.toSMm, b.toZMm],
        [b.fromSMm, b.toZMm],
      ],
      true,
      b.bothSides,
    );
  return out;
}

function tyreShape(corner: Corner, centre: V2, turn: number): MovingShape {
  const cos = Math.cos(turn);
  const sin = Math.sin(turn);
  const h = corner.wheel.treadWidthMm / 2;
  const r = corner.wheel.radiusMm;
  const at = (e: number, v: number): V2 => [centre[0] + e * cos - v * sin, centre[1] + e * sin + v * cos];
  return { part: "tyre", points: [at(-h, -r), at(h, -r), at(h, r), at(-h, r)] };
}

/** The outline of a straight bar of a height between two points. */
export function barShape(a: V2, b: V2, height: number): V2[] {
  const dx = b[0] - a[0];
  const dz = b[1] - a[1];
  const l = Math.sqrt(dx * dx + dz * dz) || 1;
  const n: V2 = [(-dz / l) * (height / 2), (dx / l) * (height / 2)];
  return [
    [a[0] - n[0], a[1] - n[1]],
    [b[0] - n[0], b[1] - n[1]],
    [b[0] + n[0], b[1] + n[1]],
    [a[0] + n[0], a[1] + n[1]],
  ];
}

const ARM_PART: Record<ArmName, MovingPart> = { upper: "upper arm", lower: "lower arm" };

export interface SweptPlace {
  travelMm: number;
  shapes: MovingShape[];
}

const mirrored = (p: SweptPlace): SweptPlace => ({
  travelMm: p.travelMm,
  shapes: p.shapes.map((shape) => ({ part: shape.part, points: shape.points.map(([x, z]): V2 => [-x, z]) })),
});

/** Tyre and arms of a side at rigid travels from full droop to full bump, in the body frame: what is drawn as the swept area. */
export function sweptShapes(s: Scenario, side: Side, steps = SWEEP_STEPS): SweptPlace[] {
  const corner = cornerOf(s, side);
  const linkage = buildCorner(corner);
  if (!linkage.ok) return [];
  const sign = side === "right" ? 1 : -1;
  const at = (p: V2): V2 => [sign * p[0], p[1]];
  const from = Math.max(-s.fit.droopTravelMm, linkage.limits.droopMm);
  const to = Math.min(s.fit.bumpTravelMm, linkage.limits.bumpMm);
  const out: SweptPlace[] = [];
  for (let i = 0; i <= steps; i++) {
    const travelMm = from + ((to - from) * i) / steps;
    const pose: CornerPose | { ok: false } = positionAtTravel(linkage, travelMm);
    if (!pose.ok) continue;
    out.push({
      travelMm,
      shapes: [
        tyreShape(corner, at(pose.wheelCentre), -sign * degToRad(pose.camberDeg)),
        { part: "upper arm", points: barShape(at(pose.upperInner), at(pose.upperOuter), armHeight(corner.upperArm)) },
        { part: "lower arm", points: barShape(at(pose.lowerInner), at(pose.lowerOuter), armHeight(corner.lowerArm)) },
      ],
    });
  }
  return out;
}

/** From the picture into the body frame, and back. */
export function bodyFrame(model: AxleModel, state: AxleState): { into: (p: V2) => V2; back: (p: V2) => V2 } {
  const cos = Math.cos(state.body.angleRad);
  const sin = Math.sin(state.body.angleRad);
  const now = state.body.cg;
  const built = model.cg;
  return {
    into: ([x, z]) => {
      const dx = x - now[0];
      const dz = z - now[1];
      return [built[0] + cos * dx + sin * dz, built[1] - sin * dx + cos * dz];
    },
    back: ([x, z]) => {
      const dx = x - built[0];
      const dz = z - built[1];
      return [now[0] + cos * dx - sin * dz, now[1] + sin * dx + cos * dz];
    },
  };
}

/** Tyre and bent arms of a side at a solved load, in the body frame. */
export function loadedShapes(model: AxleModel, state: AxleState, side: Side): MovingShape[] {
  const c = model.corners[side === "left" ? 0 : 1];
  const s = state[side];
  const { into } = bodyFrame(model, state);
  const shapes = [tyreShape(c.corner, into(s.wheelCentre), s.wheelAngleRad - state.body.angleRad)];
  for (const name of ["upper", "lower"] as const) {
    const nodes = s.arms[name].nodes.map(into);
    const height = armHeight(name === "upper" ? c.corner.upperArm : c.corner.lowerArm);
    const middle = nodes.length >> 1;
    shapes.push(
      { part: ARM_PART[name], points: barShape(nodes[0]!, nodes[middle]!, height) },
      { part: ARM_PART[name], points: barShape(nodes[middle]!, nodes[nodes.length - 1]!, height) },
    );
  }
  return shapes;
}

function tightest(
  side: Side,
  shapes: readonly MovingShape[],
  fixed: readonly FixedOutline[],
  travelMm: number | null,
  best: FitFinding | null,
): FitFinding | null {
  for (const shape of shapes)
    for (const o of fixed) {
      const g = outlineGap(o.points, o.closed, shape.points, best?.distanceMm);
      if (!best || g.distanceMm < best.distanceMm) best = { side, between: shape.part, outline: o.name, at: g.at, distanceMm: g.distanceMm, travelMm };
    }
  return best;
}

interface Sweep {
  fixed: FixedOutline[];
  worst: Record<Side, FitFinding | null>;
}
/** The sweep depends on the scenario alone; scenarios are never changed in place. */
const sweeps = new WeakMap<Scenario, Sweep>();

function sweepOf(s: Scenario): Sweep {
  const known = sweeps.get(s);
  if (known) return known;
  const fixed = fixedOutlines(s);
  const right = fixed.length > 0 ? sweptShapes(s, "right") : [];
  const alike = cornerOf(s, "left") === cornerOf(s, "right");
  const left = alike ? right.map(mirrored) : fixed.length > 0 ? sweptShapes(s, "left") : [];
  const worst = (side: Side): FitFinding | null => {
    let best: FitFinding | null = null;
    for (const at of side === "left" ? left : right) best = tightest(side, at.shapes, fixed, at.travelMm, best);
    return best;
  };
  const sweep = { fixed, worst: { left: worst("left"), right: worst("right") } };
  sweeps.set(s, sweep);
  return sweep;
}

/** The tightest place of a side over the sweep and at the solved load; null when nothing is drawn that could be touched. */
export function fitFinding(model: AxleModel, state: AxleState, side: Side): FitFinding | null {
  const { fixed, worst } = sweepOf(model.scenario);
  if (fixed.length === 0) return null;
  return tightest(side, loadedShapes(model, state, side), fixed, null, worst[side]);
}

/** As much more than the wanted distance as leaves nothing to think of, mm (common practice, no source). */
const EASY_MM = 10;

/**
 * How far the wanted distance is used: 1 where exactly it is left, 0 where `EASY_MM` more are, straight between and beyond, so that a
 * touch goes on growing with its depth. It ranks and colours; what is told is the distance.
 */
export const fitUtilization = (clearanceMm: number, distanceMm: number): number => Math.max(0, 1 + (clearanceMm - distanceMm) / EASY_MM);

/** The free distance behind a utilization above 0, mm. */
export const fitDistance = (clearanceMm: number, utilization: number): number => clearanceMm + EASY_MM * (1 - utilization);

/** What is left of the room before and behind the tyre once its push has shifted it; null where that room was not measured. */
function alongRoad(x: LimitContext, side: Side): FitFinding | null {
  const room = x.model.scenario.fit.alongRoadMm;
  if (room === null) return null;
  const { into } = bodyFrame(x.model, x.state);
  const shift = wheelPush(x, side)?.wheelShiftMm ?? 0;
  const outline = shift < 0 ? "the body behind it" : shift > 0 ? "the body before it" : "the body before or behind it";
  return { side, between: "tyre", outline, at: into(x.state[side].wheelCentre), distanceMm: room - Math.abs(shift), travelMm: null };
}

/** Free distance of a side's tyre and arms; null when nothing is drawn that could be touched. */
export function fitLimit(x: LimitContext, side: Side): LimitResult | null {
  const body = fitFinding(x.model, x.state, side);
  const along = alongRoad(x, side);
  const f = along && (!body || along.distanceMm < body.distanceMm) ? along : body;
  if (!f) return null;
  const { clearanceMm } = x.model.scenario.fit;
  const touches = f.distanceMm < 0;
  const r = limitResult("fit", side, {
    part: `${f.between} ${touches ? "touches" : "to"} ${f.outline}`,
    demand: clearanceMm,
    capacity: f.distanceMm,
    unit: "mm",
    inputs: [
      { name: touches ? "touches, deep by" : "free distance", value: Math.abs(f.distanceMm), unit: "mm" },
      f.travelMm === null
        ? { name: "at cornering", value: Math.abs(x.state.load.lateralG), unit: "g" }
        : { name: "at wheel travel", value: f.travelMm, unit: "mm" },
    ],
  });
  const { back } = bodyFrame(x.model, x.state);
  return {
    ...r,
    caution: !x.model.scenario.fit.mustHold,
    utilization: fitUtilization(clearanceMm, f.distanceMm),
    place: { at: back(f.at), distanceMm: f.distanceMm, between: f.between, outline: f.outline },
  };
}
