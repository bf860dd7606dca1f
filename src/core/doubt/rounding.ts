import type { Scenario } from "../design/types.ts";

/**
 * How far a number that was typed in may be from what it stands for, where nobody told a ±: it was rounded at its last digit, evenly spread over
 * half a digit to either side, so that one standard deviation is half a digit over √3 (GUM, JCGM 100:2008, 4.3.7).
 */

/** Half a digit is at most this share of the value: 0.6 means no 8 % of doubt, nor 2000 that of a whole thousand (common practice, no source). */
const MOST_HALF_DIGIT = 0.025;
/**
 * What a place on the car is built to, mm, one standard deviation: a hole on the pitch of the parts system is exact on the drawing and moulded or
 * printed to some hundredths, and one that was dragged to ten decimals is drilled no better (common practice, no source).
 */
const BUILT_MM = 0.05;
/** Further from the pitch than this, mm, a place is in no hole. */
const ON_PITCH_MM = 1e-6;

/** Half of the last digit that was told; trailing zeros of whole numbers tell nothing: 1400 was rounded to hundreds. */
export function halfDigit(value: number): number {
  const [digits = "", exponent = "0"] = Math.abs(value).toString().split("e");
  const [whole = "", decimals] = digits.split(".");
  const last = decimals === undefined ? /0*$/.exec(whole)![0].length : -decimals.length;
  return 0.5 * 10 ** (last + Number(exponent));
}

/**
 * One standard deviation of an entered number, in its unit; 0 for what is exact: nothing at all (no play, no packing), and the plain law of the
 * tyres' load share, an assumption rather than a number.
 */
export function roundingOf(s: Scenario, path: string, value: number): { amount: number; why: string } {
  if (/\.(sMm|zMm)$/.test(path)) {
    const pitch = s.halfPitchAllowed ? s.holePitchMm / 2 : s.holePitchMm;
    const inHole = Math.abs(value - pitch * Math.round(value / pitch)) < ON_PITCH_MM;
    const rounding = halfDigit(value) / Math.sqrt(3);
    return inHole || rounding < BUILT_MM
      ? { amount: BUILT_MM, why: "a place on the car is built to some hundredths of a millimetre" }
      : { amount: Math.min(rounding, MOST_PLACE_MM), why: ROUNDED };
  }
  if (value === 0 || (path.endsWith(".loadExponent") && value === 1)) return { amount: 0, why: "exact" };
  return { amount: Math.min(halfDigit(value), MOST_HALF_DIGIT * Math.abs(value)) / Math.sqrt(3), why: ROUNDED };
}

/** A place that is told in tens of millimetres was still measured to the millimetre. */
const MOST_PLACE_MM = 0.5 / Math.sqrt(3);
const ROUNDED = "rounded at its last digit";
