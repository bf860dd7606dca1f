import type { ArmName, JointName, Side } from "./design/types.ts";
import type { AxleState, NoEquilibrium } from "./equilibrium/state.ts";
import type { V2 } from "./vec.ts";

/** Camber by cause of motion, degrees; the parts sum to the camber. */
export type MotionPart =
  | "staticSetting"
  | "bodyRoll"
  | "wheelTravel"
  | "upperArm"
  | "lowerArm"
  | `${JointName}Clearance`
  | `${JointName}Give`
  | "bearingPlay"
  | "bearingGive";

/** Parts whose give is charged in the budget by part, on each side of the car. */
export type SidePart =
  | "spring"
  | "tyreVertical"
  | "tyreTilt"
  | "upperArm"
  | "lowerArm"
  | "innerPivotSprings"
  | `${JointName}Clearance`
  | `${JointName}Give`
  | "bearingPlay"
  | "bearingGive"
  | "road";
/** `left.spring`, `right.lowerArm`, ..., and the two that belong to the whole axle. */
export type BudgetPart = `${Side}.${SidePart}` | "antiRollBar" | "restOfCar";
/** Parts that can be made stiffer. */
export type StiffPart =
  | `${Side}.${"spring" | "tyreVertical" | "tyreTilt" | "upperArm" | "lowerArm" | "innerPivotSprings" | `${JointName}Give` | "bearingGive"}`
  | "antiRollBar"
  | "restOfCar";

export interface CamberBudget {
  byMotion: Record<MotionPart, number>;
  byPart: Record<BudgetPart, number> & { atRest: number; unassigned: number };
}

export interface SideReport {
  camberDeg: number;
  camberBudgetDeg: CamberBudget;
  /** change of camber when a part is made 1 % stiffer, ° */
  camberPer1PercentStifferDeg: Record<StiffPart, number>;
  /** where clearance or play leaves a range: lowest and highest camber a tyre that has not rolled can hold; null: no play */
  camberBandDeg: [number, number] | null;
  /** the same for an exponent of the tyres' load share between 0.7 and 1 */
  camberByLoadExponentDeg: [number, number];
  verticalLoadN: number;
  lateralLoadN: number;
  /** rise of the wheel centre against the body, mm, positive in bump */
  wheelTravelMm: number;
  springForceN: number;
  springLengthMm: number;
  jointForceN: Record<JointName, number>;
  /** at the arm's outer end, tension positive */
  armAxialForceN: Record<ArmName, number>;
  /** joints whose pin carries nothing */
  floatingJoints: JointName[];
  /** along the road; null: neither drive nor brakes push this wheel */
  push: PushReport | null;
}

/** What drive and brakes do to one wheel along the road, forwards positive. */
export interface PushReport {
  /** of drive and brakes together, N */
  askedN: number;
  /** what reaches the road, N; less than asked where the wheel spins or locks */
  passedOnN: number;
  spinsOrLocks: boolean;
  /** share of the push that each outer joint carries, N */
  jointPushN: Record<ArmName, number>;
  /** about the arm itself where it carries motor, brake or last gear stage, N·mm */
  armTwistNmm: Record<ArmName, number>;
  /** of each outer joint: the arm's bend, the joint's give and its clearance, mm */
  jointShiftMm: Record<ArmName, number>;
  /** of the wheel's centre, mm */
  wheelShiftMm: number;
  /** of the steering axis seen from the side, top backwards positive, ° */
  axisTiltDeg: number;
  /** about the steering axis: push times its distance outside of that axis, held by the steering rod; positive turns the wheel's front inwards, N·mm */
  steeringNmm: number;
  /** of each joint in space, N */
  jointForceN: Record<JointName, number>;
}

export const LIMIT_NAMES = [
  "hubRetention",
  "armYield",
  "armSet",
  "armBuckling",
  "tyreOffRim",
  "jointPullOut",
  "camber",
  "springOnStop",
  "wheelLift",
  "sliding",
  "fit",
  "belowRoad",
  "hubHeat",
  "wheelShift",
  "axisTilt",
] as const;
export type LimitName = (typeof LIMIT_NAMES)[number];

export interface LimitResult {
  name: LimitName;
  wheel: Side | "both";
  /** the part concerned in plain words: "lower arm, at the spring seat", "hub lip" */
  part: string;
  /** demand over capacity; 1 = gives. Distances (`place`) are straight in mm instead: 1 at the wanted distance, see `fitUtilization` */
  utilization: number;
  demand: number;
  capacity: number;
  unit: string;
  /** only a caution: does not count for what gives first */
  caution: boolean;
  /** the numbers that made it, each with its unit, for the eye and for the report */
  inputs: { name: string; value: number; unit: string }[];
  /** what is told by a distance: the tightest place, in the picture frame at this load; a negative distance is the depth of the touch, or below the road */
  place?: { at: V2; distanceMm: number; between: string; outline: string };
}

export interface AxleReport {
  lateralG: number;
  bumpLeftMm: number;
  bumpRightMm: number;
  throttle: number;
  brakeG: number;
  /** with which the cornering is driven on its curve, m/s; what the throttle gives depends on it */
  speedMps: number;
  /** positive: left side up */
  rollDeg: number;
  /** rise of the body's centre of gravity against as-built, mm */
  heaveMm: number;
  left: SideReport;
  right: SideReport;
  antiRollBarN: number;
  limits: LimitResult[];
  /** the limit with the largest utilization that is no mere caution */
  firstToGive: LimitResult;
  solver: { iterations: number; residualN: number };
}

export type Analysis = { ok: true; report: AxleReport; state: AxleState } | { ok: false; reason: NoEquilibrium };

/** What the equilibrium needs of an arm, from the 3D frame: piecewise uniform planar beam from inner (0) to outer (1). */
export interface PlanarSegment {
  fromFraction: number;
  toFraction: number;
  /** axial stiffness, N */
  ea: number;
  /** bending stiffness in the front view, N·mm² */
  ei: number;
  /** shear stiffness, N (Infinity: none lost to shear) */
  ga: number;
}
