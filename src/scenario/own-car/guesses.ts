import { distanceMm, springSeatPoint } from "../../core/design/corner-geometry.ts";
import { JOINT_NAMES, type JointName, type PointSZ, type Scenario, type Section } from "../../core/design/types.ts";
import { buildCorner } from "../../core/linkage/corner.ts";
import { kinematicsAt } from "../../core/linkage/outputs.ts";
import { G } from "../../core/units.ts";

/**
 * Guesses that fit the size of a car. They are measured on one invented 1:8 car (`REF`): lengths grow with the scale, weights with its cube,
 * since a car that is twice as long holds eight times the material. Stiffnesses follow so that the car sinks by the same share of its size:
 * N/mm with weight over scale. Hubs, pins and joints are parts that are bought, the same for every size. Common practice, no source.
 */

/** the invented car that guesses are measured on: mm, kg, N/mm */
const REF = {
  carKg: 5,
  axleShare: 0.58,
  radiusMm: 48,
  centreOutMm: 152,
  treadMm: 36,
  /** from the tyre's inner face inwards to the outer pins */
  pinsInsideMm: 14,
  cgMm: 92,
  pins: {
    upperInner: { sMm: 56, zMm: 76 },
    upperOuter: { sMm: 120, zMm: 72 },
    lowerInner: { sMm: 48, zMm: 32 },
    lowerOuter: { sMm: 120, zMm: 28 },
  } satisfies Record<JointName, PointSZ>,
  /** spring top from the upper inner pin */
  springOutMm: 20,
  springUpMm: 12,
  seatShare: 0.6,
  /** how far a spring is pressed together by the car that stands */
  sagMm: 7.5,
  bumpMm: 10.4,
  droopMm: 6.2,
  springNPerMm: 2.4,
  bumpNsPerM: 25,
  reboundNsPerM: 45,
  /** share of the weight on both wheels that one wheel, and one corner below its spring, has */
  wheelShare: 0.22 / 2.9,
  unsprungShare: 0.35 / 2.9,
  tyreNPerMm: 14,
  bandN: 30,
  bandGPerMm: 0.15,
  stallNmm: 120,
  rpm: 4800,
  bumpTravelMm: 12,
  droopTravelMm: 8,
  /** holes between the two inner pins of an arm, fore-aft */
  spreadHoles: 7,
} as const;

/** Scale and weight that guesses are made for. */
interface Size {
  /** length over that of the invented car */
  scale: number;
  carMassKg: number;
  /** what the size was read off */
  from: "measures" | "weight" | "nothing";
}

const mean = (of: readonly number[]): number => Math.exp(of.reduce((sum, v) => sum + Math.log(v), 0) / of.length);
const LEAST_SCALE = 0.25;
const MOST_SCALE = 4;

/** The size of a car from what is known of it. */
function sizeOf(s: Scenario, known: (path: string) => boolean): Size {
  const c = s.corner;
  const ratios: number[] = [];
  const add = (path: string, value: number, ref: number): void => {
    if (known(path) && value > 0) ratios.push(value / ref);
  };
  add("corner.wheel.radiusMm", c.wheel.radiusMm, REF.radiusMm);
  add("corner.wheelCentre.sMm", c.wheelCentre.sMm, REF.centreOutMm);
  add("corner.lowerOuter.sMm", c.lowerOuter.sMm, REF.pins.lowerOuter.sMm);
  add("corner.upperOuter.sMm", c.upperOuter.sMm, REF.pins.upperOuter.sMm);
  const weighed = known("body.carMassKg");
  const from = ratios.length > 0 ? "measures" : weighed ? "weight" : "nothing";
  const raw = ratios.length > 0 ? mean(ratios) : weighed ? Math.cbrt(s.body.carMassKg / REF.carKg) : 1;
  const scale = Math.min(MOST_SCALE, Math.max(LEAST_SCALE, raw));
  return { scale, carMassKg: weighed ? s.body.carMassKg : REF.carKg * scale ** 3, from };
}

const figures = (v: number, n = 3): number => Number(v.toPrecision(n));
const tenth = (v: number): number => Math.round(v * 10) / 10 + 0;

/** The same section for another hole pitch: the thickness of bars goes with the holes that they have. */
export const guessedSection = (pitchMm: number): Section => ({
  shape: "pinHoleBar",
  widthMm: tenth(0.95 * pitchMm),
  heightMm: tenth(0.95 * pitchMm),
  holeMm: tenth(0.6 * pitchMm),
  holePitchMm: pitchMm,
  holesRun: "foreAft",
});

/** A pin that is not told: as far from those that are as in the invented car, or by wheel and scale; in whole half holes. */
function guessedPin(s: Scenario, name: JointName, key: "sMm" | "zMm", size: Size, known: (path: string) => boolean): number {
  const c = s.corner;
  const told = JOINT_NAMES.filter((j) => known(`corner.${j}.${key}`));
  const half = s.holePitchMm / 2;
  const onGrid = (v: number): number => Math.round(v / half) * half;
  const from = told.map((j) => c[j][key] + (REF.pins[name][key] - REF.pins[j][key]) * size.scale);
  if (from.length > 0) return onGrid(from.reduce((a, b) => a + b, 0) / from.length);
  if (key === "zMm") return onGrid((REF.pins[name].zMm / REF.radiusMm) * c.wheel.radiusMm);
  const outer = c.wheelCentre.sMm - c.wheel.treadWidthMm / 2 - REF.pinsInsideMm * size.scale;
  return onGrid((REF.pins[name].sMm / REF.pins.lowerOuter.sMm) * outer);
}

/** Weight that stands on one spring, N, and how far the spring gives way per mm of the wheel, as drawn. */
function atSpring(s: Scenario): { sprungN: number; ratio: number } {
  const { carMassKg, axleShare } = s.body;
  const sprungN = Math.max(0.05, (carMassKg * axleShare) / 2 - s.corner.wheel.unsprungMassKg) * G;
  const linkage = buildCorner(s.corner);
  const at = linkage.ok ? kinematicsAt(linkage, 0) : null;
  const ratio = at?.ok ? at.motionRatio : Number.NaN;
  return { sprungN, ratio: ratio > 0.05 && ratio < 3 ? ratio : 0.6 };
}

/** A value by the path of its field; `write` puts it where it is not known. */
export type WriteGuess = (path: string, value: (s: Scenario) => unknown) => void;

/**
 * Writes every guess that depends on the size, in an order in which each finds what it hangs on.
 * @param now the scenario as written so far
 */
export function writeGuesses(now: () => Scenario, known: (path: string) => boolean, write: WriteGuess): void {
  const size = sizeOf(now(), known);
  const k = size.scale;
  const kg = size.carMassKg;
  const heavy = kg / REF.carKg;
  write("body.carMassKg", () => figures(kg));
  const bothOuter = JOINT_NAMES.filter((j) => j.endsWith("Outer"));
  write("corner.wheel.radiusMm", ({ corner: c }) =>
    // the hub's two pins sit about the wheel's middle
    tenth(bothOuter.every((j) => known(`corner.${j}.zMm`)) ? ((c.upperOuter.zMm + c.lowerOuter.zMm) / 100) * REF.radiusMm : REF.radiusMm * k),
  );
  write("corner.wheel.treadWidthMm", () => tenth(REF.treadMm * k));
  write("corner.wheelCentre.sMm", ({ corner: c }) => {
    const outer = bothOuter.filter((j) => known(`corner.${j}.sMm`)).map((j) => c[j].sMm);
    return tenth(outer.length > 0 ? Math.max(...outer) + c.wheel.treadWidthMm / 2 + REF.pinsInsideMm * k : REF.centreOutMm * k);
  });
  write("corner.wheelCentre.zMm", ({ corner: c }) => c.wheel.radiusMm);
  for (const j of JOINT_NAMES) for (const key of ["sMm", "zMm"] as const) write(`corner.${j}.${key}`, (s) => guessedPin(s, j, key, size, known));
  write("body.cgHeightMm", () => tenth(REF.cgMm * k));
  const onAxle = (s: Scenario): number => s.body.carMassKg * s.body.axleShare;
  write("corner.wheel.massKg", (s) => figures(REF.wheelShare * onAxle(s)));
  write("corner.wheel.unsprungMassKg", (s) => figures(s.corner.wheel.massKg * (REF.unsprungShare / REF.wheelShare)));
  for (const arm of ["lowerArm", "upperArm"] as const) {
    // an upper arm that nothing is told of is made as the lower one
    const like = arm === "upperArm" ? (s: Scenario) => s.corner.lowerArm : null;
    write(`corner.${arm}.spreadMm`, (s) => like?.(s).spreadMm ?? tenth(REF.spreadHoles * s.holePitchMm));
    write(`corner.${arm}.layout`, (s) => like?.(s).layout ?? "straight");
    write(`corner.${arm}.material`, (s) => like?.(s).material ?? "abs");
    write(`corner.${arm}.section`, (s) => like?.(s).section ?? guessedSection(s.holePitchMm));
  }
  write("corner.spring.top.sMm", ({ corner: c }) => tenth(c.upperInner.sMm + REF.springOutMm * k));
  write("corner.spring.top.zMm", ({ corner: c }) => tenth(Math.max(c.upperInner.zMm, c.lowerInner.zMm) + REF.springUpMm * k));
  write("corner.spring.seat.fraction", () => REF.seatShare);
  write("corner.spring.rateNPerMm", (s) => {
    const { sprungN, ratio } = atSpring(s);
    return figures(sprungN / (ratio * s.corner.spring.count * REF.sagMm * k));
  });
  // the spring's length, unloaded, that lets the car stand as it is drawn (its weight over the motion ratio, over its rate)
  write("corner.spring.freeLengthMm", (s) => {
    const { sprungN, ratio } = atSpring(s);
    const { rateNPerMm, count, preloadMm } = s.corner.spring;
    return tenth(drawnLength(s) + sprungN / (ratio * rateNPerMm * count) - preloadMm);
  });
  write("corner.spring.bumpStop.lengthMm", (s) => tenth(Math.max(0.3 * drawnLength(s), drawnLength(s) - REF.bumpMm * k)));
  write("corner.spring.droopStop.lengthMm", (s) => tenth(drawnLength(s) + REF.droopMm * k));
  // damping goes with the root of weight times rate
  const calm = (s: Scenario): number => Math.sqrt((heavy * s.corner.spring.rateNPerMm * s.corner.spring.count) / REF.springNPerMm);
  write("corner.spring.damping.bumpNsPerM", (s) => figures(REF.bumpNsPerM * calm(s)));
  write("corner.spring.damping.reboundNsPerM", (s) => figures(REF.reboundNsPerM * calm(s)));
  write("corner.tyre.verticalNPerMm", () => figures((REF.tyreNPerMm * heavy) / k));
  write("corner.tyre.seat.bandTensionN", () => figures(REF.bandN * k * k));
  write("corner.tyre.seat.bandMassGPerMm", () => figures(REF.bandGPerMm * k * k));
  write("drive.stallTorqueNmm", () => figures(REF.stallNmm * heavy * k));
  write("drive.noLoadRpm", () => figures(REF.rpm / k));
  write("fit.bumpTravelMm", () => tenth(REF.bumpTravelMm * k));
  write("fit.droopTravelMm", () => tenth(REF.droopTravelMm * k));
}

const drawnLength = (s: Scenario): number => distanceMm(s.corner.spring.top, springSeatPoint(s.corner));
