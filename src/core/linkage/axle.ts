import type { Side } from "../design/types.ts";
import { DEG } from "../units.ts";
import type { V2 } from "../vec.ts";
import { bracketedRoot } from "./bracket.ts";
import { CLOSURE_SIZE } from "./closure.ts";
import type { CornerLinkage } from "./corner.ts";
import { motionAt } from "./motion.ts";
import { type CornerKinematics, kinematicsOf, type PointOrFar } from "./outputs.ts";
import { type CornerPose, type Locked, poseFrom, positionInto } from "./position.ts";
import { lockSentence } from "./travel.ts";

/**
 * The chassis over the road: it rises by `heaveMm` and rolls by `rollDeg` (positive: left side up, which is
 * clockwise in the picture) about the point of its centreline at `pivotHeightMm` above the as-built ground
 * (default 0). Sideways it stays; the wheels slide on the flat road.
 */
export interface ChassisPlace {
  heaveMm: number;
  rollDeg: number;
  pivotHeightMm?: number;
}

/** Where lines through both contact points towards the instant centres meet (Aronhold-Kennedy). */
export type RollCentre =
  | PointOrFar
  /** both lines are one: any point of it; `at` is its place on the car's centreline side (middle of the contacts) */
  | { kind: "onLine"; at: V2; direction: V2 };

/** A wheel's contact point in the picture (x right, z up) and the direction it moves in against the chassis. */
export interface ContactMotion {
  at: V2;
  velocity: V2;
}

interface WheelOnRoad {
  side: Side;
  kinematics: CornerKinematics;
  /** rise of the wheel centre against the chassis, mm */
  travelMm: number;
  /** against the road, positive: top outward */
  camberDeg: number;
  contact: ContactMotion;
}

export interface AxleKinematics {
  ok: true;
  left: WheelOnRoad;
  right: WheelOnRoad;
  /** in the picture, x right of the as-built centreline, z above the road */
  rollCentre: RollCentre;
  /** distance of the contact points, mm */
  trackMm: number;
}

/** A wheel that cannot stand on the road within its travel: locks `missMm` above (+) or below (-) the road. */
export interface OffRoad {
  ok: false;
  kind: "offRoad";
  side: Side;
  missMm: number;
  locked: Locked;
  message: string;
}

const OUTWARD: Record<Side, 1 | -1> = { left: -1, right: 1 };
/** Samples over the travel in the rare case where its ends do not bracket the road. */
const ROAD_SAMPLES = 60;

/** A point or vector of the chassis (corner coordinates) to the picture. */
export function toPicture(side: Side, place: ChassisPlace, p: V2): V2 {
  const pivot = place.pivotHeightMm ?? 0;
  const v = vectorToPicture(side, place, [p[0], p[1] - pivot]);
  return [v[0], v[1] + pivot + place.heaveMm];
}

function vectorToPicture(side: Side, place: ChassisPlace, v: V2): V2 {
  const c = Math.cos(place.rollDeg * DEG);
  const s = Math.sin(place.rollDeg * DEG);
  const x = OUTWARD[side] * v[0];
  return [c * x + s * v[1], c * v[1] - s * x];
}

/** The wheel travel at which the contact point stands on the road z = 0, near the as-built one where several exist. */
function cornerOnRoad(linkage: CornerLinkage, side: Side, place: ChassisPlace): CornerPose | OffRoad {
  const { bumpMm, droopMm } = linkage.limits;
  const out = new Float64Array(CLOSURE_SIZE).fill(Number.NaN);
  const above = (travel: number): number => toPicture(side, place, poseAt(linkage, out, travel).contact)[1];
  const span = bumpMm - droopMm;
  const from = Math.min(Math.max(0, droopMm), bumpMm);
  // outward from the as-built travel, so that the first crossing met is the nearest
  let [up, down] = [from, from];
  let [aboveUp, aboveDown] = [above(from), above(from)];
  let nearest = aboveUp;
  let at = from;
  for (let i = 1; i <= ROAD_SAMPLES; i++) {
    const step = (span * i * i) / (ROAD_SAMPLES * ROAD_SAMPLES);
    const nextUp = Math.min(bumpMm, from + step);
    const nextDown = Math.max(droopMm, from - step);
    const a = above(nextUp);
    const b = above(nextDown);
    if (a > 0 !== aboveUp > 0 || a === 0) return poseAt(linkage, out, bracketedRoot(above, up, nextUp));
    if (b > 0 !== aboveDown > 0 || b === 0) return poseAt(linkage, out, bracketedRoot(above, down, nextDown));
    for (const [value, travel] of [
      [a, nextUp],
      [b, nextDown],
    ] as const) {
      if (Math.abs(value) < Math.abs(nearest)) {
        nearest = value;
        at = travel;
      }
    }
    [up, down, aboveUp, aboveDown] = [nextUp, nextDown, a, b];
  }
  const end = Math.abs(bumpMm - at) < Math.abs(at - droopMm) ? "bump" : "droop";
  const reason = end === "bump" ? linkage.limits.bumpReason : linkage.limits.droopReason;
  const limitMm = end === "bump" ? bumpMm : droopMm;
  const where = `${Math.abs(nearest).toFixed(1)} mm ${nearest > 0 ? "above" : "below"} the road`;
  const message = `the ${side} wheel cannot stand on the road, it ends ${where}: at ${limitMm.toFixed(1)} mm of travel ${lockSentence(reason)}`;
  return { ok: false, kind: "offRoad", side, missMm: nearest, locked: { ok: false, kind: "locked", end, reason, limitMm, message }, message };
}

/** The pose at a travel within the limits. */
function poseAt(linkage: CornerLinkage, out: Float64Array, travel: number): CornerPose {
  positionInto(linkage, travel, out);
  return poseFrom(linkage, out);
}

/**
 * Both wheels on a flat road under a heaved and rolled chassis. Camber against the road: the chassis' roll leans
 * the right wheel outward and the left one inward when the left side is up.
 */
export function kinematicsAxle(left: CornerLinkage, right: CornerLinkage, place: ChassisPlace): AxleKinematics | OffRoad {
  const leftPose = cornerOnRoad(left, "left", place);
  if (!leftPose.ok) return leftPose;
  const rightPose = cornerOnRoad(right, "right", place);
  if (!rightPose.ok) return rightPose;
  const l = wheelOnRoad(left, leftPose, "left", place);
  const r = wheelOnRoad(right, rightPose, "right", place);
  return { ok: true, left: l, right: r, rollCentre: axleRollCentre(l.contact, r.contact), trackMm: r.contact.at[0] - l.contact.at[0] };
}

function wheelOnRoad(linkage: CornerLinkage, pose: CornerPose, side: Side, place: ChassisPlace): WheelOnRoad {
  return {
    side,
    kinematics: kinematicsOf(linkage, pose),
    travelMm: pose.travelMm,
    camberDeg: pose.camberDeg + OUTWARD[side] * place.rollDeg,
    contact: contactMotion(linkage, pose, side, place),
  };
}

function contactMotion(linkage: CornerLinkage, pose: CornerPose, side: Side, place: ChassisPlace): ContactMotion {
  return { at: toPicture(side, place, pose.contact), velocity: vectorToPicture(side, place, motionAt(linkage, pose).contact.first) };
}

/**
 * Roll centre of the axle: chassis, wheel and road have their three instant centres in line (Aronhold-Kennedy),
 * so it lies on the normal to each contact point's motion against the chassis. Uses those normals instead of the
 * instant centres, which may be at infinity. No velocity (a contact at rest) gives the road as its line.
 */
export function axleRollCentre(left: ContactMotion, right: ContactMotion): RollCentre {
  const a = normal(left.velocity);
  const b = normal(right.velocity);
  const gap: V2 = [right.at[0] - left.at[0], right.at[1] - left.at[1]];
  const sine = a[0] * b[1] - a[1] * b[0];
  // rounding of a unit vector's product
  if (Math.abs(sine) > 1e-12) {
    const f = (gap[0] * b[1] - gap[1] * b[0]) / sine;
    return { kind: "point", at: [left.at[0] + f * a[0], left.at[1] + f * a[1]] };
  }
  const off = gap[0] * a[1] - gap[1] * a[0];
  if (Math.abs(off) > 1e-9 * Math.hypot(gap[0], gap[1])) return { kind: "atInfinity", direction: a };
  return { kind: "onLine", at: [left.at[0] + gap[0] / 2, left.at[1] + gap[1] / 2], direction: a };
}

/** Unit normal of a velocity, pointing to the right where it can. */
function normal(v: V2): V2 {
  const l = Math.hypot(v[0], v[1]);
  if (l === 0) return [1, 0];
  const sign = v[1] < 0 ? -1 : 1;
  return [(sign * v[1]) / l, (-sign * v[0]) / l];
}
