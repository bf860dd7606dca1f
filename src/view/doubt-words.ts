import { materialWords } from "../core/design/field-names.ts";
import { fieldName, pathName } from "../core/design/field-words.ts";
import type { Scenario } from "../core/design/types.ts";
import { assumedOf } from "../core/doubt/assumed.ts";
import { type Band, bandAbout } from "../core/doubt/bands.ts";
import type { Uncertain } from "../core/doubt/inputs.ts";
import type { OutputKey } from "../core/doubt/outputs.ts";
import { normalCdf } from "../core/numerics/distributions.ts";
import { fixed, withUnit } from "./format.ts";

/** How sure an answer is, in numbers and words: for the page, the report and the terminal. */

/** An uncertain input with its part of an answer's variance. */
export type ShareRow = Uncertain & { share: number };

/** What is known of an answer's doubts, of the moment at hand or of some frames ago; plain data. */
export interface Doubts {
  /** one standard deviation by output, to first order */
  sd: ReadonlyMap<OutputKey, number>;
  /** of the safe speed, km/h; null: not told */
  safeSdKmh: number | null;
  /** what sampled cars say; they count for the very answer that they were drawn for. Null: none yet */
  sampled: { bands: ReadonlyMap<OutputKey, Band>; safeKmh: Band | null } | null;
}

/** An output's band about the value at hand; null: nothing is known of it. */
export function bandOf(d: Doubts | null, key: OutputKey, value: number): Band | null {
  const sampled = d?.sampled?.bands.get(key);
  if (sampled) return sampled;
  const sd = d?.sd.get(key);
  return sd === undefined || !Number.isFinite(sd) ? null : bandAbout(value, sd);
}

export function safeBandOf(d: Doubts | null, kmh: number | null): Band | null {
  if (!d || kmh === null) return null;
  const band = d.sampled?.safeKmh ?? (d.safeSdKmh === null ? null : bandAbout(kmh, d.safeSdKmh));
  // no car goes slower than standing
  return band && { ...band, low: Math.max(0, band.low) };
}

/** most decimals more than the number itself has, so that a small ± is not told as nought */
const FINER = 2;
/** Decimals of a ±: those of its number, or as many more as its first figure needs. */
function sdDigits(sd: number, digits: number): number {
  let d = digits;
  while (d < digits + FINER && sd > 0 && Number(sd.toFixed(d)) === 0) d++;
  return d;
}

/** "± 0.4°", "± 0.03 N" */
export const sdWords = (sd: number, digits: number, unit: string): string => `± ${withUnit(sd, sdDigits(sd, digits), unit)}`;

/** "6.0° to 7.2°", "19.4 to 21.9 km/h" */
export function rangeWords({ low, high, sd }: Band, digits: number, unit: string): string {
  const d = sdDigits(sd, digits);
  return unit === "°" ? `${fixed(low, d)}° to ${fixed(high, d)}°` : `${fixed(low, d)} to ${withUnit(high, d, unit)}`;
}

/** The chance that a number with this band is past a border, to first order. */
export const chancePast = (band: Band, border: number): number => (band.sd > 0 ? normalCdf((band.value - border) / band.sd) : band.value >= border ? 1 : 0);

/** below and above it a chance is told as hardly and nearly */
const RARE = 0.001;
/** "less than 0.1 %", "3 %", "0.4 %", "99.6 %" */
export function chanceWords(chance: number): string {
  if (chance < RARE) return "less than 0.1 %";
  if (chance > 1 - RARE) return "more than 99.9 %";
  const percent = 100 * chance;
  return `${fixed(percent, percent < 2 || percent > 98 ? 1 : 0)} %`;
}

/** "gives in 3 of 10": what a bar says whose band crosses 1; empty where it does not. */
export function crossingWords(band: Band): string {
  if (!(band.low < 1 && band.high > 1)) return "";
  const chance = chancePast(band, 1);
  const of = chance < 0.1 ? 20 : 10;
  return `gives in ${Math.max(1, Math.min(of - 1, Math.round(chance * of)))} of ${of}`;
}

const MATERIAL = /^material\.(.+)\.(youngMPa|yieldMPa)$/;
const MATERIAL_HAS = { youngMPa: "stiffness", yieldMPa: "strength" } as const;

/** "spring, rate of one spring"; "ABS, stiffness" of a material that is known by its name. */
export function inputName(key: string): string {
  const [, name, what] = MATERIAL.exec(key) ?? [];
  return name === undefined ? pathName(key) : `${materialWords(name)}, ${MATERIAL_HAS[what as keyof typeof MATERIAL_HAS]}`;
}

/** figures of an amount that is told */
const FIGURES = 2;
/** "0.3", "12", "1500": two figures, no exponent */
function amountWords(amount: number): string {
  const text = Number(amount.toPrecision(FIGURES));
  return text >= 1e-4 || text === 0 ? String(text) : text.toFixed(6).replace(/0+$/, "");
}

/** An input's ± with its unit, shares in per cent: "± 0.3 N/mm". */
export function inputSdWords(key: string, sd: number, unit: string): string {
  const percent = fieldName(key)?.percent === true;
  const shown = fieldName(key)?.unit ?? unit;
  return `± ${amountWords(percent ? 100 * sd : sd)}${shown ? ` ${shown}` : ""}`;
}

/** What is assumed where nobody told a ±: "0.3", and "assumed ± 0.3 N/mm: a tenth, what springs of one bag scatter by"; null: no number, or exact. */
export function assumedWords(s: Scenario, path: string): { amount: string; words: string } | null {
  const assumed = assumedOf(s, path);
  if (!assumed) return null;
  const times = fieldName(path)?.percent === true ? 100 : 1;
  return { amount: amountWords(times * assumed.amount), words: `assumed ${inputSdWords(path, assumed.amount, "")}: ${assumed.why}` };
}
