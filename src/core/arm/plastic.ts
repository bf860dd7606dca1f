import type { Arm, Section } from "../design/types.ts";
import { armPlan } from "./layout.ts";

/** Solid area of a section, holes taken off on average along the bar, mm². */
function solidArea(s: Section): number {
  switch (s.shape) {
    case "rectangle":
      return s.widthMm * s.heightMm;
    case "round":
      return (Math.PI * s.diameterMm ** 2) / 4;
    case "tube":
      return (Math.PI * (s.outerMm ** 2 - s.innerMm ** 2)) / 4;
    case "I":
      return 2 * s.widthMm * s.flangeMm + s.webMm * (s.heightMm - 2 * s.flangeMm);
    case "pinHoleBar":
      return s.widthMm * s.heightMm - holeArea(s) * (s.holesRun === "foreAft" ? s.widthMm : s.heightMm);
  }
}

/** area of the holes over the length of the bar that they stand in, mm: times the bar's size along a hole it is mm² */
const holeArea = (s: Extract<Section, { shape: "pinHoleBar" }>): number => (Math.PI * s.holeMm ** 2) / 4 / s.holePitchMm;

/** to hundredths of a millimetre */
const hundredth = (mm: number): number => Math.round(mm * 100) / 100;

/** The section of that solid area, mm²: as tall as before and wider or narrower; a round one thicker or thinner all round. */
function withSolidArea(s: Section, areaMm2: number): Section {
  const factor = areaMm2 / solidArea(s);
  switch (s.shape) {
    case "round":
      return { ...s, diameterMm: hundredth(s.diameterMm * Math.sqrt(factor)) };
    case "tube":
      return { ...s, outerMm: hundredth(s.outerMm * Math.sqrt(factor)), innerMm: hundredth(s.innerMm * Math.sqrt(factor)) };
    case "I":
      return { ...s, widthMm: hundredth(s.widthMm * factor), webMm: hundredth(s.webMm * factor) };
    case "pinHoleBar":
      return { ...s, widthMm: hundredth(s.holesRun === "foreAft" ? s.widthMm * factor : areaMm2 / s.heightMm + holeArea(s)) };
    default:
      return { ...s, widthMm: hundredth(s.widthMm * factor) };
  }
}

/** Length of all bars of the legs' section, and of a stem's own, mm; blocks and eyes are left out. */
function barLengths(arm: Arm, lengthMm: number): { legs: number; stem: number } {
  const plan = armPlan(arm, lengthMm);
  const cross = plan.legs === 2 && plan.parallel ? 2 * plan.halfSpread : 0;
  return { legs: plan.legs * plan.legLength + cross, stem: lengthMm - plan.legEnd };
}

/** Volume of an arm's bars, mm³: legs, stem, and the cross piece of a twin arm. @param lengthMm inner pivots to ball joint */
export function armVolumeMm3(arm: Arm, lengthMm: number): number {
  const { legs, stem } = barLengths(arm, lengthMm);
  return legs * solidArea(arm.section) + stem * solidArea(arm.stemSection ?? arm.section);
}

/** The arm in another layout with the volume of bars that it has now, one section throughout; heights stay, widths follow. */
export function relaidAtSameVolume(arm: Arm, lengthMm: number, layout: Arm["layout"]): Arm {
  const next: Arm = { ...arm, layout, stemSection: null };
  const { legs, stem } = barLengths(next, lengthMm);
  return { ...next, section: withSolidArea(arm.section, armVolumeMm3(arm, lengthMm) / (legs + stem)) };
}
