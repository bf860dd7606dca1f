import type { Section } from "./types.ts";

/** Sections in other shapes. */

/** What a builder calls them; the one place for these words. */
export const SHAPE_WORDS: Record<Section["shape"], string> = {
  rectangle: "flat bar",
  round: "round bar",
  tube: "tube",
  I: "I bar",
  pinHoleBar: "bar with pin holes",
};

/** Height (up-down) and width (fore-aft) of a section, mm. Round ones have one measure for both. */
export function sectionSize(s: Section): { heightMm: number; widthMm: number; round: boolean } {
  switch (s.shape) {
    case "round":
      return { heightMm: s.diameterMm, widthMm: s.diameterMm, round: true };
    case "tube":
      return { heightMm: s.outerMm, widthMm: s.outerMm, round: true };
    default:
      return { heightMm: s.heightMm, widthMm: s.widthMm, round: false };
  }
}

/** share of the outside that a new tube, flange, web or hole takes */
const NEW = { inner: 0.6, flange: 0.22, web: 0.28, hole: 0.6 };

const tenth = (mm: number): number => Math.round(mm * 10) / 10;

/** The same outside in another shape, with plain proportions for what the old shape did not have. */
export function reshaped(s: Section, shape: Section["shape"], holePitchMm: number): Section {
  if (s.shape === shape) return s;
  const { heightMm, widthMm } = sectionSize(s);
  const least = Math.min(heightMm, widthMm);
  switch (shape) {
    case "rectangle":
      return { shape, widthMm, heightMm };
    case "round":
      return { shape, diameterMm: heightMm };
    case "tube":
      return { shape, outerMm: heightMm, innerMm: tenth(heightMm * NEW.inner) };
    case "I":
      return { shape, widthMm, heightMm, flangeMm: Math.max(0.3, tenth(heightMm * NEW.flange)), webMm: Math.max(0.3, tenth(widthMm * NEW.web)) };
    case "pinHoleBar":
      return { shape, widthMm, heightMm, holeMm: Math.max(0.3, tenth(least * NEW.hole)), holePitchMm, holesRun: "foreAft" };
  }
}
