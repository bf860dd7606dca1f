import { joinPath, splitPath, valueAt, withValueAt } from "../../core/design/field-path.ts";
import { fieldValue, withOrigins } from "../../core/design/origins.ts";
import { reshaped } from "../../core/design/section-shapes.ts";
import type { Hub, Origin, Scenario, Section } from "../../core/design/types.ts";
import { rangeOf } from "../ranges.ts";
import { type AnswerKey, type Answers, ARM_NUMBER, CHOICE_FIELDS, isChoice, NUMBER_FIELDS, type NumberKey, REQUIRED } from "./answers.ts";
import { guessedSection, writeGuesses } from "./guesses.ts";

/** Groups whose values are guesses until they are told; the rest is the builder's own choice or belongs to the page. */
const GUESSED = ["holePitchMm", "corner", "body", "antiRollBar", "drive", "brake"] as const;

const PITCH_MM = 8;
const joint = (mountNPerMm: number) => ({ clearanceMm: 0.1, pinNPerMm: 2000, holeNPerMm: 1200, mountNPerMm, pullOutN: 60 });
const at = (sMm: number, zMm: number) => ({ sMm, zMm });
const arm = () => ({
  layout: "straight" as const,
  stemShare: 0.15,
  spreadMm: 56,
  section: guessedSection(PITCH_MM),
  stemSection: null,
  material: "abs",
  pivotStiffnessNmmPerDeg: 0,
  pivotFreeAboutArm: false,
});

/** Everything a guess: typical bought parts, and what goes by the size as in the invented car; `fitted` puts the size in. */
const SEED: Scenario = {
  format: "wheelstay-scenario",
  version: 2,
  name: "My own car",
  teaches: "",
  holePitchMm: PITCH_MM,
  halfPitchAllowed: true,
  corner: {
    upperInner: at(56, 76),
    upperOuter: at(120, 72),
    lowerInner: at(48, 32),
    lowerOuter: at(120, 28),
    wheelCentre: at(152, 48),
    upperArm: arm(),
    lowerArm: arm(),
    joints: { upperInner: joint(800), upperOuter: joint(1500), lowerInner: joint(800), lowerOuter: joint(1500) },
    spring: {
      top: at(76, 88),
      seat: { on: "lowerArm", fraction: 0.6 },
      rateNPerMm: 2.4,
      freeLengthMm: 67.8,
      preloadMm: 0,
      count: 1,
      bumpStop: { lengthMm: 50, rateNPerMm: 40 },
      droopStop: { lengthMm: 66.5, rateNPerMm: 60 },
      damping: { bumpNsPerM: 25, reboundNsPerM: 45 },
    },
    hub: {
      tiltStiffnessNmmPerDeg: 260,
      tiltPlayDeg: 0.5,
      staticCamberDeg: 0,
      bearingOffsetMm: 6,
      retention: { kind: "lip", radiusMm: 7, capacityN: 85, model: "ring", shoulderRadiusMm: 10, journalShare: 0 },
      heat: { friction: 0.06, journalRadiusMm: 2.4, journalLengthMm: 18, coolingAreaMm2: 4000, coolingWPerM2K: 13, material: "abs" },
    },
    wheel: { radiusMm: 48, treadWidthMm: 36, massKg: 0.22, unsprungMassKg: 0.35 },
    tyre: {
      verticalNPerMm: 14,
      effectiveWidthMm: null,
      crownRadiusMm: null,
      lateralNPerMm: null,
      friction: 1.05,
      loadExponent: 1,
      seat: { kind: "stretchedBand", bandTensionN: 30, bandMassGPerMm: 0.15, friction: 0.6, extraHoldN: 0 },
    },
  },
  left: {},
  right: {},
  body: { carMassKg: 5, axleShare: 0.58, cgHeightMm: 92, otherRollStiffnessNmmPerDeg: 0 },
  antiRollBar: { rateNPerMm: 0, atFraction: 0.7 },
  limits: { camberDeg: 8, wheelShiftMm: 3, axisTiltDeg: 2, spinMustHold: false },
  drive: {
    drivenWheels: 4,
    onThisAxle: true,
    carriedBy: "body",
    motorsPerWheel: 1,
    stallTorqueNmm: 120,
    noLoadRpm: 4800,
    stages: [{ drivingTeeth: 12, drivenTeeth: 40, efficiency: 0.88 }],
    rollingResistance: 0.035,
    dragNPerMps2: 0.02,
    topSpeedDrivenKmh: null,
  },
  brake: { wheels: 4, onThisAxle: true, carriedBy: "body" },
  fit: { clearanceMm: 2, mustHold: false, outlines: [], keepOut: [], bumpTravelMm: 12, droopTravelMm: 8, alongRoadMm: null },
  loadCases: [
    { name: "cornering 0.6 g", lateralG: 0.6, bumpLeftMm: 0, bumpRightMm: 0, throttle: 0, brakeG: 0 },
    { name: "standing still", lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0, throttle: 0, brakeG: 0 },
  ],
  tracks: [{ name: "car park", radiusM: 6 }],
  origins: {},
  bench: [],
  runs: [],
};

/** What holds the wheel, each with the values of a typical part. */
const RETENTIONS: Readonly<Record<Hub["retention"]["kind"], Hub["retention"]>> = {
  lip: { kind: "lip", radiusMm: 7, capacityN: 85, model: "ring", shoulderRadiusMm: 10, journalShare: 0 },
  crossPin: { kind: "crossPin", pinDiameterMm: 3, shearStrengthMPa: 35, shearRadiusMm: 7, journalShare: 0.3 },
  screwedRing: { kind: "screwedRing", threadRadiusMm: 6, engagedLengthMm: 4, shearStrengthMPa: 20, journalShare: 0.3 },
};

const withValue = (s: Scenario, path: string, value: unknown): Scenario => withValueAt(s, splitPath(path), value);

/** Paths of all values at and below a path. */
function leaves(s: Scenario, path: string): string[] {
  if (fieldValue(s, path) !== undefined) return [path];
  const v = valueAt(s, splitPath(path));
  if (typeof v !== "object" || v === null) return [];
  return Object.keys(v).flatMap((key) => leaves(s, joinPath([...splitPath(path), Array.isArray(v) ? Number(key) : key])));
}

/** what a guess made here is known by: another one, of a part that was taken or marked by hand, stays as it is */
const GUESS: Origin = { how: "guess", note: "typical for a car of this size" };
const guessed = (s: Scenario, paths: readonly string[]): Scenario => withOrigins(s, Object.fromEntries(paths.map((p) => [p, GUESS])));

/** That a value at a path stays: told, or a guess that was chosen. A group stays when one of its values does. */
const stays = (s: Scenario, path: string): boolean => {
  const chosen = (p: string): boolean => s.origins[p]?.how !== "guess" || s.origins[p]?.note !== GUESS.note;
  return fieldValue(s, path) !== undefined ? chosen(path) : leaves(s, path).some(chosen);
};

/** The scenario with all its guesses made anew from what is told, so that they fit the size of the car. What is told stays. */
export function fitted(s: Scenario): Scenario {
  let now = s;
  const known = (path: string): boolean => stays(s, path);
  writeGuesses(
    () => now,
    known,
    (path, value) => {
      if (known(path) || (path.startsWith("corner.spring.droopStop") && now.corner.spring.droopStop === null)) return;
      if (path.endsWith("seat.fraction") && now.corner.spring.seat.on === "hub") return;
      const before = leaves(now, path);
      const next = value(now);
      const range = typeof next === "number" ? rangeOf(path, now) : undefined;
      now = withValue(now, path, range ? Math.min(range.max, Math.max(range.min, next as number)) : next);
      const after = leaves(now, path);
      const isGuessed = path.startsWith("fit.") ? [] : after;
      now = withOrigins(now, { ...Object.fromEntries(before.filter((p) => !after.includes(p)).map((p) => [p, null])) });
      now = guessed(now, isGuessed);
    },
  );
  return now;
}

/** A car of which nothing is told yet: all of it guesses. */
export const startedCar = (): Scenario =>
  fitted(
    guessed(
      SEED,
      GUESSED.flatMap((group) => leaves(SEED, group)),
    ),
  );

/** Where height and width of a section stand, by its shape. */
function sectionPaths(section: Section, number: "heightMm" | "widthMm"): string {
  if (section.shape === "round") return "diameterMm";
  if (section.shape === "tube") return "outerMm";
  return number;
}

/** Where an answer stands in the scenario; the first path is read back. */
export function pathsOf(s: Scenario, key: AnswerKey): readonly [string, ...string[]] {
  if (isChoice(key)) return [CHOICE_FIELDS[key]];
  if (key === "axleMassKg") return ["body.axleShare"];
  const arm = ARM_NUMBER.exec(key);
  if (!arm) return NUMBER_FIELDS[key as keyof typeof NUMBER_FIELDS].paths;
  const which = `${arm[1] as "lower" | "upper"}Arm` as const;
  if (arm[2] === "spreadMm") return [`corner.${which}.spreadMm`];
  return [`corner.${which}.section.${sectionPaths(s.corner[which].section, arm[2] as "heightMm" | "widthMm")}`];
}

/** Value of the field over the answer. */
export const timesOf = (s: Scenario, key: NumberKey): number =>
  key === "axleMassKg" ? 1 / s.body.carMassKg : ARM_NUMBER.test(key) ? 1 : NUMBER_FIELDS[key as keyof typeof NUMBER_FIELDS].times;

/** A told number or choice as it stands in the scenario, guess or not; undefined: this car has no such part. */
export function answerOf(s: Scenario, key: AnswerKey): number | string | undefined {
  const v = fieldValue(s, pathsOf(s, key)[0]);
  if (isChoice(key)) return typeof v === "string" ? v : undefined;
  return typeof v === "number" ? Math.round((v / timesOf(s, key)) * 1e6) / 1e6 : undefined;
}

/** That an answer is told. */
export const isTold = (s: Scenario, key: AnswerKey): boolean => {
  const [path] = pathsOf(s, key);
  return fieldValue(s, path) !== undefined && s.origins[path]?.how !== "guess";
};

/** What is still wanted before there is an answer. */
export const missing = (s: Scenario): NumberKey[] => REQUIRED.filter((key) => !isTold(s, key));

/** A choice that brings other fields along: their values are guesses. */
function chosen(s: Scenario, key: AnswerKey, value: string): Scenario {
  const swap = (path: string, next: unknown): Scenario => {
    const before = leaves(s, path);
    const after = withValue(s, path, next);
    const now = leaves(after, path);
    const kept = (p: string): boolean => before.includes(p) && Object.is(fieldValue(s, p), fieldValue(after, p));
    const out = withOrigins(after, Object.fromEntries(before.filter((p) => !now.includes(p)).map((p) => [p, null])));
    return guessed(
      out,
      now.filter((p) => !kept(p)),
    );
  };
  if (key === "lowerArm.shape" || key === "upperArm.shape") {
    const which = key === "lowerArm.shape" ? "lowerArm" : "upperArm";
    return swap(`corner.${which}.section`, reshaped(s.corner[which].section, value as Section["shape"], s.holePitchMm));
  }
  if (key === "wheelHeldBy" && s.corner.hub.retention.kind !== value) return swap("corner.hub.retention", RETENTIONS[value as Hub["retention"]["kind"]]);
  if (key === "springOn" && s.corner.spring.seat.on !== value) {
    const { wheelCentre, lowerOuter } = s.corner;
    return swap("corner.spring.seat", value === "hub" ? { on: value, sMm: lowerOuter.sMm, zMm: wheelCentre.zMm } : { on: value, fraction: 0.6 });
  }
  return withValue(s, CHOICE_FIELDS[key as keyof typeof CHOICE_FIELDS], value);
}

/**
 * The car with some answers more, and every guess made anew.
 * @param known how these answers are known; null: entered
 */
export function answered(s: Scenario, answers: Answers, known: Origin | null = null): Scenario {
  let now = s;
  const entries = Object.entries(answers) as [AnswerKey, number | string][];
  // choices first: they decide where numbers stand; the weight before the share of it
  const order = ([key]: [AnswerKey, unknown]): number => (isChoice(key) ? 0 : key === "axleMassKg" ? 2 : 1);
  for (const [key, value] of [...entries].sort((a, b) => order(a) - order(b))) {
    if (isChoice(key)) now = chosen(now, key, value as string);
    else {
      const onAxle = isTold(now, "axleMassKg") ? now.body.axleShare * now.body.carMassKg : null;
      // a share or half of a diameter is no round number: to a hundred-millionth, far below any scale or ruler
      const v = Math.round((value as number) * timesOf(now, key) * 1e8) / 1e8;
      for (const path of pathsOf(now, key)) now = withValue(now, path, v);
      // what the scale showed under this axle stays what it was
      if (key === "carMassKg" && onAxle !== null && onAxle <= v) now = withValue(now, "body.axleShare", onAxle / v);
    }
    const kept = isChoice(key) || !known || known.plusMinus === undefined ? known : { ...known, plusMinus: known.plusMinus * timesOf(now, key) };
    now = withOrigins(now, Object.fromEntries(pathsOf(now, key).map((path) => [path, kept])));
  }
  return fitted(now);
}

/** The car without an answer: it is a guess again. */
export const leftOut = (s: Scenario, key: AnswerKey): Scenario => fitted(guessed(s, pathsOf(s, key)));
