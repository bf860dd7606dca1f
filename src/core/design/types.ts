/**
 * What a scenario holds, as plain data: lengths in mm, forces in N, angles in degrees where the key says so.
 * The zod schema in src/scenario/schema.ts is the one place with ranges, defaults and descriptions; it is
 * type-checked against these interfaces. A corner is described once, by outboard distance `sMm` from the
 * centreline and height `zMm` above the ground of the as-built (unloaded) position; `left` and `right`
 * override single values of it.
 */

import type { BenchTest, Run } from "./tried.ts";

export interface PointSZ {
  /** outboard of the centreline, mm */
  sMm: number;
  /** above the ground of the as-built position, mm */
  zMm: number;
}

export const JOINT_NAMES = ["upperInner", "upperOuter", "lowerInner", "lowerOuter"] as const;
export type JointName = (typeof JOINT_NAMES)[number];
export const SIDES = ["left", "right"] as const;
export type Side = (typeof SIDES)[number];
export const ARM_NAMES = ["upper", "lower"] as const;
export type ArmName = (typeof ARM_NAMES)[number];

/** Cross-section. Width is fore-aft, height is up-down, both across the arm. */
export type Section =
  | { shape: "rectangle"; widthMm: number; heightMm: number }
  | { shape: "round"; diameterMm: number }
  | { shape: "tube"; outerMm: number; innerMm: number }
  /** flanges top and bottom, web upright */
  | { shape: "I"; widthMm: number; heightMm: number; flangeMm: number; webMm: number }
  /** rectangle with a row of pin holes along the arm; the holes run fore-aft or up-down */
  | { shape: "pinHoleBar"; widthMm: number; heightMm: number; holeMm: number; holePitchMm: number; holesRun: "foreAft" | "upDown" };

export interface Material {
  name: string;
  youngMPa: number;
  poisson: number;
  /** yield, or breaking strength of a brittle material, MPa */
  yieldMPa: number;
  densityKgPerM3: number;
  /** plastics creep: above half of yield a lasting set is cautioned */
  plastic: boolean;
  /** use below this temperature only, °C */
  maxTempC: number;
  /** where the values come from: a published source, or "from memory" */
  source: string;
}

/** Plan view of an arm (x forward): how the outer ball joint hangs on the inner pivots. */
export const ARM_LAYOUTS = ["straight", "split", "A", "twin"] as const;
export type ArmLayout = (typeof ARM_LAYOUTS)[number];

export interface Arm {
  /** straight: one beam; split: a stem from the outer joint that forks into two legs; A: split without stem; twin: two parallel beams */
  layout: ArmLayout;
  /** split only: share of the arm's length that is stem, counted from the outer joint, 0..0.95 */
  stemShare: number;
  /** fore-aft distance of the two inner pivots (split, A, twin), mm */
  spreadMm: number;
  /** section of the beam, or of each leg */
  section: Section;
  /** section of the stem (split); null: same as the legs */
  stemSection: Section | null;
  /** name of a built-in material or one of your own */
  material: string | Material;
  /** rotational stiffness of the inner pivot about the fore-aft axis, N·mm per degree; 0 = free pin */
  pivotStiffnessNmmPerDeg: number;
  /** a loose inner pin: also free to turn about the arm's own axis */
  pivotFreeAboutArm: boolean;
}

export interface Joint {
  /** radial play of the pin in its hole: the centres can move this far apart without force, mm */
  clearanceMm: number;
  /** stiffness of the pin, of the hole's wall and of what the joint is mounted on; they act in series, N/mm */
  pinNPerMm: number;
  holeNPerMm: number;
  mountNPerMm: number;
  /** radial pull at which the joint comes apart, N */
  pullOutN: number;
}

export type SpringSeat =
  /** on an arm's centre line at a fraction of its length, 0 = inner pivot, 1 = outer joint */
  { on: "lowerArm" | "upperArm"; fraction: number } | { on: "hub"; sMm: number; zMm: number };

export interface Spring {
  top: PointSZ;
  seat: SpringSeat;
  /** one spring, N/mm */
  rateNPerMm: number;
  /** from eye to eye with no force in the spring, mm */
  freeLengthMm: number;
  /** packing under the spring: adds to the free length, mm */
  preloadMm: number;
  /** springs side by side at this corner */
  count: number;
  /** below this length the bump stop pushes too */
  bumpStop: { lengthMm: number; rateNPerMm: number };
  /** above this length the droop stop pulls; null: none, the spring can drop out */
  droopStop: { lengthMm: number; rateNPerMm: number } | null;
  damping: { bumpNsPerM: number; reboundNsPerM: number };
}

export type Retention =
  | {
      kind: "lip";
      /** radius of the line on which the lip holds, mm */
      radiusMm: number;
      /** straight pull that strips the lip, N */
      capacityN: number;
      /** ring: lip and shoulder equally soft; shoulder: the lip only pulls, the unit pivots on a stiff shoulder */
      model: "ring" | "shoulder";
      /** radius of the stiff shoulder (shoulder model), mm */
      shoulderRadiusMm: number;
      /** share of the tilting moment that a journal takes instead of the lip, 0..1 */
      journalShare: number;
    }
  | {
      kind: "crossPin";
      pinDiameterMm: number;
      /** of the pin's material, MPa */
      shearStrengthMPa: number;
      /** radius at which the pin passes from hub to wheel (shear planes), mm */
      shearRadiusMm: number;
      journalShare: number;
    }
  | {
      kind: "screwedRing";
      threadRadiusMm: number;
      engagedLengthMm: number;
      shearStrengthMPa: number;
      journalShare: number;
    };

export interface Hub {
  /** moment that tilts the wheel's bearing by a degree once its play is used up, N·mm/° */
  tiltStiffnessNmmPerDeg: number;
  /** the wheel tilts freely this far to either side, ° */
  tiltPlayDeg: number;
  /** camber built in, °; positive: top outward */
  staticCamberDeg: number;
  /** bearing centre inboard of the wheel's mid-plane along the wheel's own axis, mm */
  bearingOffsetMm: number;
  retention: Retention;
  /** running heat: friction coefficient of the running faces, mean radius of rubbing on the journal, outer surface that cools */
  heat: { friction: number; journalRadiusMm: number; journalLengthMm: number; coolingAreaMm2: number; coolingWPerM2K: number; material: string | Material };
}

/** What holds the tyre on the rim. */
export interface TyreSeat {
  kind: "stretchedBand" | "sideDiscs" | "glue";
  /** tension of the stretched tread band as mounted, N */
  bandTensionN: number;
  /** mass of the band per mounted length, g per mm */
  bandMassGPerMm: number;
  /** friction of band on rim */
  friction: number;
  /** what side discs or glue hold besides, N sideways; used by sideDiscs and glue only */
  extraHoldN: number;
}

interface Wheel {
  /** unloaded outer radius of the tyre, mm */
  radiusMm: number;
  treadWidthMm: number;
  /** what hangs on the wheel side of the bearing: rim and tyre, kg */
  massKg: number;
  /** all unsprung mass of this corner, wheel included, at the wheel centre, kg */
  unsprungMassKg: number;
}

interface Tyre {
  /** pressed flat on the road, N/mm */
  verticalNPerMm: number;
  /** width that really carries (tilt test); null: the tread width, mm */
  effectiveWidthMm: number | null;
  /** crown radius of the tread across; null: flat, mm */
  crownRadiusMm: number | null;
  /** sideways give of the carcass; null: none, N/mm */
  lateralNPerMm: number | null;
  /** grip: lateral over vertical force at which the tyre lets go */
  friction: number;
  /** p in lateral force ~ (vertical force)^p; 1 = both tyres use the same share of their grip */
  loadExponent: number;
  seat: TyreSeat;
}

export interface Corner {
  upperInner: PointSZ;
  upperOuter: PointSZ;
  lowerInner: PointSZ;
  lowerOuter: PointSZ;
  wheelCentre: PointSZ;
  upperArm: Arm;
  lowerArm: Arm;
  joints: Record<JointName, Joint>;
  spring: Spring;
  hub: Hub;
  wheel: Wheel;
  tyre: Tyre;
}

export type DeepPartial<T> = T extends (infer U)[] ? U[] : T extends object ? { [K in keyof T]?: DeepPartial<T[K]> } : T;

interface Body {
  /** the whole car, ready to run, kg */
  carMassKg: number;
  /** share of it that stands on this axle's wheels, 0..1; what is on the springs follows, see mass.ts */
  axleShare: number;
  /** height of the sprung mass's centre of gravity in the as-built position, mm */
  cgHeightMm: number;
  /** roll stiffness lent by the other axle through the body, N·mm/°; 0 = this axle alone */
  otherRollStiffnessNmmPerDeg: number;
}

interface AntiRollBar {
  /** force per difference in height of its two ends, N/mm; 0 = none */
  rateNPerMm: number;
  /** where it pulls at the lower arms, fraction of their length from the inner pivot */
  atFraction: number;
}

interface UserLimits {
  /** largest camber you accept, either way, ° */
  camberDeg: number;
  /** largest shift of a wheel along the road that you accept, either way, mm */
  wheelShiftMm: number;
  /** largest tilt of the steering axis seen from the side that you accept, either way, ° */
  axisTiltDeg: number;
  /** a wheel that spins or locks under its push counts for what gives first and for the safe speed; otherwise it is a caution */
  spinMustHold: boolean;
}

/**
 * What carries a wheel's motor, brake or last gear stage, and so takes the couple that the road's push leaves on it. body: a shaft turns the
 * wheel, the push acts at the wheel's centre; hub: it acts at the road; an arm: at the wheel's centre, and the couple twists that arm.
 */
export const CARRIERS = ["body", "hub", "upperArm", "lowerArm"] as const;
export type Carrier = (typeof CARRIERS)[number];

interface Brake {
  /** wheels of the whole car that brake, alike */
  wheels: number;
  /** those of this axle are among them */
  onThisAxle: boolean;
  carriedBy: Carrier;
}

export interface Drive {
  drivenWheels: number;
  /** the wheels of this axle are among them */
  onThisAxle: boolean;
  /** what carries the last stage that turns the wheel */
  carriedBy: Carrier;
  motorsPerWheel: number;
  /** one motor */
  stallTorqueNmm: number;
  noLoadRpm: number;
  /** from motor to wheel; driven over driving teeth divides the speed */
  stages: { drivingTeeth: number; drivenTeeth: number; efficiency: number }[];
  rollingResistance: number;
  /** air and other drag, N per (m/s)^2 */
  dragNPerMps2: number;
  /** top speed that was really driven on a flat straight road, km/h; null: not driven yet. Changes none of the numbers above */
  topSpeedDrivenKmh: number | null;
}

export interface Outline {
  name: string;
  /** fixed to the body; the mirrored half is understood when `bothSides` */
  points: PointSZ[];
  closed: boolean;
  bothSides: boolean;
}

export interface Fit {
  /** distance that must stay free between moving parts and the outlines, mm */
  clearanceMm: number;
  /** a touch counts for what gives first and for the safe speed; otherwise it is a caution */
  mustHold: boolean;
  /** wheel arch, floor, ... of a body that must not change */
  outlines: Outline[];
  /** boxes that must stay free: motors, chassis beams */
  keepOut: { name: string; fromSMm: number; toSMm: number; fromZMm: number; toZMm: number; bothSides: boolean }[];
  /** wheel travel over which the parts are swept, mm */
  bumpTravelMm: number;
  droopTravelMm: number;
  /** distance from the tyre to the nearest part of the body before or behind it, as built, mm; null: not measured */
  alongRoadMm: number | null;
}

interface LoadCase {
  name: string;
  /** lateral acceleration in g, positive to the left: a left-hand curve, the right wheel is the outer one */
  lateralG: number;
  /** road height under each wheel, mm, positive up */
  bumpLeftMm: number;
  bumpRightMm: number;
  /** share of what the drive gives at the speed at hand, 0..1 */
  throttle: number;
  /** slowing down by the brakes, g */
  brakeG: number;
}

export interface Track {
  name: string;
  radiusM: number;
}

/** How a value is known: the guess of a typical part or rule, entered, or measured on the car; a value without an entry is entered, too. */
export interface Origin {
  how: "guess" | "entered" | "measured";
  /** one standard deviation, in the unit of the field in the file; only numbers have one */
  plusMinus?: number;
  /** the day it was measured, as 2026-11-26 */
  date?: string;
  /** how it was measured, or the part or the rule that a guess comes from */
  note?: string;
  /** correlation with other values that the same bench test gave, by their paths, -1..1; it holds while both list each other with the same number */
  together?: Record<string, number>;
}

export interface Scenario {
  format: "wheelstay-scenario";
  version: 2;
  name: string;
  /** one line: what this scenario teaches */
  teaches: string;
  /** hole pitch of the parts system, mm */
  holePitchMm: number;
  halfPitchAllowed: boolean;
  corner: Corner;
  left: DeepPartial<Corner>;
  right: DeepPartial<Corner>;
  body: Body;
  antiRollBar: AntiRollBar;
  limits: UserLimits;
  drive: Drive;
  brake: Brake;
  fit: Fit;
  loadCases: LoadCase[];
  tracks: Track[];
  /** how values are known, by the path of their field: "corner.spring.rateNPerMm", "left.spring.rateNPerMm", "drive.stages[0].efficiency" */
  origins: Record<string, Origin>;
  /** what was tried on the bench, oldest first */
  bench: BenchTest[];
  /** what was driven, oldest first */
  runs: Run[];
}

/** The load the axle is solved for; neither throttle nor brake where they are not told. */
export type Load = Pick<LoadCase, "lateralG" | "bumpLeftMm" | "bumpRightMm"> & Partial<Pick<LoadCase, "throttle" | "brakeG">>;
