import type { PlanarSegment } from "../analysis.ts";
import { planarSegmentsOf } from "../arm/reduction.ts";
import { armEnds, armOf, armOfSeat, jointNPerMm, seatFractionOn } from "../design/corner-geometry.ts";
import { sprungMassKg } from "../design/mass.ts";
import { cornerOf } from "../design/sides.ts";
import type { Arm, ArmName, Corner, JointName, Scenario, Side, SpringSeat } from "../design/types.ts";
import { type SpringLaw, springLaw } from "../linkage/spring-force.ts";
import { ELEMENTS_PER_ARM, JOINT_CENTRING, PLAY_CENTRING } from "../tolerances.ts";
import { degToRad, perDegToPerRad, weightN } from "../units.ts";
import type { V2 } from "../vec.ts";
import type { Bearing } from "./bearing.ts";
import { BODY_TURN, cornerBase, FIRST_NODE, HEAVE, nodeAt, PER_CORNER, PER_NODE } from "./unknowns.ts";

/**
 * The axle as the solver sees it: constants and the numbering of unknowns, in the picture frame
 * (x right as seen from behind, z up, angles counter-clockwise; mm, N, N·mm, rad).
 *
 * The unknowns are named in unknowns.ts. The body's lateral place is the frame of reference. Arm nodes that
 * carry nothing but the arm itself are `interior` and are eliminated before the dense solve.
 */
export interface ArmModel {
  name: ArmName;
  side: Side;
  /** as-built length, mm */
  length: number;
  /** as-built positions of the nodes */
  nodes: V2[];
  fractions: Float64Array;
  /** first unknown of node 0 */
  base: number;
  count: number;
  /** per element */
  l0: Float64Array;
  ea: Float64Array;
  /** EI/L0 of the bending pairs (4+Φ)/(1+Φ) and (2-Φ)/(1+Φ), Φ the shear share */
  kNear: Float64Array;
  kFar: Float64Array;
  segments: PlanarSegment[];
  /** nodes that stay in the dense solve, ascending */
  keptNodes: number[];
  seatNode: number | null;
  barNode: number | null;
  pivotK: number;
  /** first element in the flat element arrays */
  firstElement: number;
}

export interface JointModel {
  clearance: number;
  k: number;
  /** vanishing stiffness that keeps a pin centred while it carries nothing */
  kc: number;
}

/** A corner's spring with its stops, and what its lower end stands on. */
type SpringModel = SpringLaw & {
  /** upper end from the body's centre of gravity */
  top: V2;
  /** both ends as built */
  topAt: V2;
  seatAt: V2;
} & (
    | /** from the hub's reference point */ { on: "hub"; hubLever: V2 }
    | /** on the arm's node with this first unknown */ { on: "arm"; arm: ArmName; node: number }
  );

export interface TyreModel {
  radius: number;
  halfWidth: number;
  /** N/mm per mm of width */
  rate: number;
  /** 1/(2 crown radius), 0 = flat */
  crown: number;
  /** sideways stiffness, Infinity = none */
  lateralK: number;
  friction: number;
  exponent: number;
  /** multipliers of the vertical force and of the tilting moment (1; changed only to ask what stiffening does) */
  verticalFactor: number;
  tiltFactor: number;
}

/** An arm with what it hangs on. */
interface LinkModel {
  arm: ArmModel;
  inner: JointModel;
  outer: JointModel;
  chassisLever: V2;
  hubLever: V2;
}

export interface CornerModel {
  side: Side;
  /** +1 right, -1 left */
  sign: number;
  corner: Corner;
  /** first unknown: hub x, z, turn, wheel tilt, tread shift */
  base: number;
  /** as-built wheel centre: the hub's reference point */
  centre: V2;
  /** chassis pivots from the centre of gravity */
  chassisLever: Record<ArmName, V2>;
  /** ball joints from the hub's reference point */
  hubLever: Record<ArmName, V2>;
  /** bearing centre from the hub's reference point, along the wheel's own axis; the wheel centre from the bearing centre is its negative */
  bearingLever: V2;
  arms: Record<ArmName, ArmModel>;
  joints: Record<JointName, JointModel>;
  /** the same by arm, upper first, for the loops that run in every iteration */
  links: readonly [LinkModel, LinkModel];
  spring: SpringModel;
  bearing: Bearing;
  /** turn of the wheel plane as built, counter-clockwise */
  staticTurn: number;
  tyre: TyreModel;
  /** N: weight of the wheel, and of the rest of the unsprung mass */
  wheelWeight: number;
  hubWeight: number;
}

export interface AxleModel {
  scenario: Scenario;
  n: number;
  /** full index -> index in the dense system, -1 for interior unknowns */
  kept: Int32Array;
  nKept: number;
  cg: V2;
  bodyWeight: number;
  /** all weight on this axle, N */
  totalWeight: number;
  /** N·mm/rad lent by the rest of the car */
  otherRollK: number;
  barK: number;
  corners: [CornerModel, CornerModel];
  /** [left upper, left lower, right upper, right lower] */
  arms: ArmModel[];
  elementCount: number;
  /** the body clamped at this rise, mm, and turn, rad, as on a test rig; null: free */
  held: { heaveMm: number; turnRad: number } | null;
}

export interface ModelOptions {
  elementsPerArm?: number;
}

/** The corner on that side. */
export function cornerModel(model: AxleModel, side: Side): CornerModel {
  return model.corners[side === "left" ? 0 : 1];
}

/** Two places on an arm closer than this share of its length are one: a sliver of an element between them would be too stiff to solve. */
const SLIVER = 1e-3;

function buildArm(
  arm: Arm,
  name: ArmName,
  side: Side,
  inner: V2,
  outer: V2,
  seat: number | null,
  bar: number | null,
  elements: number,
): Omit<ArmModel, "base" | "firstElement"> {
  const dx = outer[0] - inner[0];
  const dz = outer[1] - inner[1];
  const length = Math.sqrt(dx * dx + dz * dz);
  const segments = planarSegmentsOf(arm, length, seat);
  const marks = new Set<number>([0, 1]);
  for (const s of segments) marks.add(s.fromFraction).add(s.toFraction);
  const place = (f: number): number => {
    for (const m of marks) if (Math.abs(m - f) < SLIVER) return m;
    marks.add(f);
    return f;
  };
  const seatMark = seat === null ? null : place(seat);
  const barMark = bar === null ? null : place(bar);
  const spans = [...marks].sort((a, b) => a - b);
  const fractions: number[] = [0];
  for (let i = 1; i < spans.length; i++) {
    const from = spans[i - 1]!;
    const to = spans[i]!;
    const parts = Math.max(1, Math.round((to - from) * elements));
    for (let j = 1; j < parts; j++) fractions.push(from + ((to - from) * j) / parts);
    fractions.push(to);
  }
  const count = fractions.length;
  const m = count - 1;
  const l0 = new Float64Array(m);
  const ea = new Float64Array(m);
  const kNear = new Float64Array(m);
  const kFar = new Float64Array(m);
  for (let e = 0; e < m; e++) {
    const f0 = fractions[e]!;
    const f1 = fractions[e + 1]!;
    const mid = (f0 + f1) / 2;
    const seg = segments.find((s) => mid >= s.fromFraction && mid <= s.toFraction) ?? segments[0]!;
    const l = (f1 - f0) * length;
    const phi = Number.isFinite(seg.ga) ? (12 * seg.ei) / (seg.ga * l * l) : 0;
    l0[e] = l;
    ea[e] = seg.ea;
    kNear[e] = ((seg.ei / l) * (4 + phi)) / (1 + phi);
    kFar[e] = ((seg.ei / l) * (2 - phi)) / (1 + phi);
  }
  const seatNode = seatMark === null ? null : fractions.indexOf(seatMark);
  const barNode = barMark === null ? null : fractions.indexOf(barMark);
  const keep = new Set<number>([0, count - 1]);
  if (seatNode !== null) keep.add(seatNode);
  if (barNode !== null) keep.add(barNode);
  return {
    name,
    side,
    length,
    nodes: fractions.map((f): V2 => [inner[0] + f * dx, inner[1] + f * dz]),
    fractions: Float64Array.from(fractions),
    count,
    l0,
    ea,
    kNear,
    kFar,
    segments,
    keptNodes: [...keep].sort((a, b) => a - b),
    seatNode,
    barNode,
    pivotK: perDegToPerRad(arm.pivotStiffnessNmmPerDeg),
  };
}

/** The bearing lies inboard of the wheel's middle plane along the wheel's own axis, square to that plane: with static camber it stands higher or lower. */
const bearingLever = (inboardMm: number, sign: number, staticTurn: number): V2 => [
  -sign * inboardMm * Math.cos(staticTurn),
  -sign * inboardMm * Math.sin(staticTurn),
];

/** Where the spring's lower end stands; `onHub`: its place as built when it is on the hub. */
function springSeat(seat: SpringSeat, onHub: V2 | null, centre: V2, arms: Record<ArmName, ArmModel>) {
  const name = armOfSeat(seat);
  if (name === null) return { seatAt: onHub!, on: "hub", hubLever: from(onHub!, centre) } as const;
  const arm = arms[name];
  return { seatAt: [...arm.nodes[arm.seatNode!]!] as V2, on: "arm", arm: name, node: nodeAt(arm, arm.seatNode!) } as const;
}

const from = (p: V2, o: V2): V2 => [p[0] - o[0], p[1] - o[1]];

/** Builds the solver's model of a checked scenario. */
export function buildAxle(scenario: Scenario, options: ModelOptions = {}): AxleModel {
  const elements = options.elementsPerArm ?? ELEMENTS_PER_ARM;
  const cg: V2 = [0, scenario.body.cgHeightMm];
  const barK = scenario.antiRollBar.rateNPerMm;
  const arms: ArmModel[] = [];
  let next = FIRST_NODE;
  let element = 0;
  const corners = (["left", "right"] as const).map((side, c): CornerModel => {
    const corner = cornerOf(scenario, side);
    const sign = side === "right" ? 1 : -1;
    const at = (p: { sMm: number; zMm: number }): V2 => [sign * p.sMm, p.zMm];
    const centre = at(corner.wheelCentre);
    const seat = corner.spring.seat;
    const make = (name: ArmName): ArmModel => {
      const [inner, outer] = armEnds(corner, name);
      const bar = name === "lower" && barK > 0 ? scenario.antiRollBar.atFraction : null;
      const arm = buildArm(armOf(corner, name), name, side, at(inner), at(outer), seatFractionOn(seat, name), bar, elements);
      const out: ArmModel = { ...arm, base: next, firstElement: element };
      next += PER_NODE * out.count;
      element += out.count - 1;
      arms.push(out);
      return out;
    };
    const upper = make("upper");
    const lower = make("lower");
    const joint = (name: JointName): JointModel => {
      const j = corner.joints[name];
      const k = jointNPerMm(j);
      return { clearance: j.clearanceMm, k, kc: j.clearanceMm > 0 ? JOINT_CENTRING * k : 0 };
    };
    const topAt = at(corner.spring.top);
    const staticTurn = -sign * degToRad(corner.hub.staticCamberDeg);
    const bearingK = perDegToPerRad(corner.hub.tiltStiffnessNmmPerDeg);
    const width = corner.tyre.effectiveWidthMm ?? corner.wheel.treadWidthMm;
    const chassisLever = { upper: from(at(corner.upperInner), cg), lower: from(at(corner.lowerInner), cg) };
    const hubLever = { upper: from(at(corner.upperOuter), centre), lower: from(at(corner.lowerOuter), centre) };
    const joints = { upperInner: joint("upperInner"), upperOuter: joint("upperOuter"), lowerInner: joint("lowerInner"), lowerOuter: joint("lowerOuter") };
    return {
      side,
      sign,
      corner,
      base: cornerBase(c),
      centre,
      chassisLever,
      hubLever,
      bearingLever: bearingLever(corner.hub.bearingOffsetMm, sign, staticTurn),
      arms: { upper, lower },
      joints,
      links: [
        { arm: upper, inner: joints.upperInner, outer: joints.upperOuter, chassisLever: chassisLever.upper, hubLever: hubLever.upper },
        { arm: lower, inner: joints.lowerInner, outer: joints.lowerOuter, chassisLever: chassisLever.lower, hubLever: hubLever.lower },
      ],
      spring: { ...springLaw(corner.spring), top: from(topAt, cg), topAt, ...springSeat(seat, seat.on === "hub" ? at(seat) : null, centre, { upper, lower }) },
      bearing: { k: bearingK, play: degToRad(corner.hub.tiltPlayDeg), kc: corner.hub.tiltPlayDeg > 0 ? PLAY_CENTRING * bearingK : 0 },
      staticTurn,
      tyre: {
        radius: corner.wheel.radiusMm,
        halfWidth: width / 2,
        rate: corner.tyre.verticalNPerMm / width,
        crown: corner.tyre.crownRadiusMm === null ? 0 : 1 / (2 * corner.tyre.crownRadiusMm),
        lateralK: corner.tyre.lateralNPerMm ?? Number.POSITIVE_INFINITY,
        friction: corner.tyre.friction,
        exponent: corner.tyre.loadExponent,
        verticalFactor: 1,
        tiltFactor: 1,
      },
      wheelWeight: weightN(corner.wheel.massKg),
      hubWeight: weightN(corner.wheel.unsprungMassKg - corner.wheel.massKg),
    };
  }) as [CornerModel, CornerModel];

  const kept = new Int32Array(next).fill(-1);
  let k = 0;
  // arms, hubs, body: what touches least comes first, so that the factors stay sparse
  for (const arm of arms) for (const node of arm.keptNodes) for (let d = 0; d < PER_NODE; d++) kept[nodeAt(arm, node) + d] = k++;
  for (const c of corners) for (let d = 0; d < PER_CORNER; d++) kept[c.base + d] = k++;
  for (const i of [HEAVE, BODY_TURN]) kept[i] = k++;
  const bodyWeight = weightN(sprungMassKg(scenario));
  return {
    scenario,
    n: next,
    kept,
    nKept: k,
    cg,
    bodyWeight,
    totalWeight: bodyWeight + corners.reduce((sum, c) => sum + c.wheelWeight + c.hubWeight, 0),
    otherRollK: perDegToPerRad(scenario.body.otherRollStiffnessNmmPerDeg),
    barK,
    corners,
    arms,
    elementCount: element,
    held: null,
  };
}
