import { JOINT_NAMES, type JointName } from "../../core/design/types.ts";

/**
 * What a builder tells of a car, each by its own name and in the unit that a scale, a ruler or a part's bag gives. What is not told becomes
 * a guess. The table says which fields of the scenario an answer fills, and by what the answer is multiplied.
 */

export const PLACES = ["out", "up"] as const;
type PinKey = `${JointName}.${(typeof PLACES)[number]}`;
const ARM_NUMBERS = ["heightMm", "widthMm", "spreadMm"] as const;
const ARM_CHOICES = ["layout", "material", "shape"] as const;
export type ArmNumberKey = `${"lower" | "upper"}Arm.${(typeof ARM_NUMBERS)[number]}`;
type ArmChoiceKey = `${"lower" | "upper"}Arm.${(typeof ARM_CHOICES)[number]}`;

export type NumberKey =
  | "carMassKg"
  | "axleMassKg"
  | "holePitchMm"
  | "trackMm"
  | "wheelDiameterMm"
  | "tyreWidthMm"
  | "wheelMassKg"
  | PinKey
  | "springTop.out"
  | "springTop.up"
  | "springSeatPercent"
  | ArmNumberKey
  | "springRateNPerMm"
  | "springLengthMm"
  | "springCount"
  | "lipN"
  | "crossPinMm"
  | "hubPlayDeg"
  | "drivenWheels"
  | "motorsPerWheel"
  | "stallTorqueNmm"
  | "noLoadRpm"
  | "drivingTeeth"
  | "drivenTeeth";

export type ChoiceKey = ArmChoiceKey | "springOn" | "wheelHeldBy" | "tyreHeldBy" | "motorOn";
export type AnswerKey = NumberKey | ChoiceKey;
export type Answers = Partial<Record<NumberKey, number> & Record<ChoiceKey, string>>;

interface NumberField {
  /** where it stands in the scenario, the first one is read back */
  paths: readonly [string, ...string[]];
  /** value of the field over the answer */
  times: number;
}

const one = (path: string, times = 1): NumberField => ({ paths: [path], times });

const pins = Object.fromEntries(
  JOINT_NAMES.flatMap((j): [string, NumberField][] => [
    [`${j}.out`, one(`corner.${j}.sMm`)],
    [`${j}.up`, one(`corner.${j}.zMm`)],
  ]),
) as Record<PinKey, NumberField>;

/** Heights and widths of a section go by its shape: see `sectionPaths`; the share of an axle goes by the car's weight. */
export const NUMBER_FIELDS: Readonly<Record<Exclude<NumberKey, ArmNumberKey | "axleMassKg">, NumberField>> = {
  carMassKg: one("body.carMassKg"),
  holePitchMm: one("holePitchMm"),
  trackMm: one("corner.wheelCentre.sMm", 0.5),
  // the unloaded tyre just stands on the road
  wheelDiameterMm: { paths: ["corner.wheel.radiusMm", "corner.wheelCentre.zMm"], times: 0.5 },
  tyreWidthMm: one("corner.wheel.treadWidthMm"),
  wheelMassKg: one("corner.wheel.massKg"),
  ...pins,
  "springTop.out": one("corner.spring.top.sMm"),
  "springTop.up": one("corner.spring.top.zMm"),
  springSeatPercent: one("corner.spring.seat.fraction", 0.01),
  springRateNPerMm: one("corner.spring.rateNPerMm"),
  springLengthMm: one("corner.spring.freeLengthMm"),
  springCount: one("corner.spring.count"),
  lipN: one("corner.hub.retention.capacityN"),
  crossPinMm: one("corner.hub.retention.pinDiameterMm"),
  hubPlayDeg: one("corner.hub.tiltPlayDeg"),
  drivenWheels: one("drive.drivenWheels"),
  motorsPerWheel: one("drive.motorsPerWheel"),
  stallTorqueNmm: one("drive.stallTorqueNmm"),
  noLoadRpm: one("drive.noLoadRpm"),
  drivingTeeth: one("drive.stages[0].drivingTeeth"),
  drivenTeeth: one("drive.stages[0].drivenTeeth"),
};

export const CHOICE_FIELDS: Readonly<Record<ChoiceKey, string>> = {
  "lowerArm.layout": "corner.lowerArm.layout",
  "lowerArm.material": "corner.lowerArm.material",
  "lowerArm.shape": "corner.lowerArm.section.shape",
  "upperArm.layout": "corner.upperArm.layout",
  "upperArm.material": "corner.upperArm.material",
  "upperArm.shape": "corner.upperArm.section.shape",
  springOn: "corner.spring.seat.on",
  wheelHeldBy: "corner.hub.retention.kind",
  tyreHeldBy: "corner.tyre.seat.kind",
  motorOn: "drive.carriedBy",
};

/** That an answer is a word of a choice, not a number. */
export const isChoice = (key: AnswerKey): key is ChoiceKey => Object.hasOwn(CHOICE_FIELDS, key);
export const ARM_NUMBER = /^(lower|upper)Arm\.(heightMm|widthMm|spreadMm)$/;

/** What must be told before there is an answer: the weight and the pins. */
export const REQUIRED: readonly NumberKey[] = ["carMassKg", ...JOINT_NAMES.flatMap((j) => PLACES.map((p): PinKey => `${j}.${p}`))];
