import type { LimitName } from "../core/analysis.ts";
import { materialWords } from "../core/design/field-names.ts";
import { fieldName, pathName } from "../core/design/field-words.ts";
import type { Scenario } from "../core/design/types.ts";
import { assumedOf } from "../core/doubt/assumed.ts";
import { type Band, bandAbout } from "../core/doubt/bands.ts";
import type { Chance, SampledBand } from "../core/doubt/chance.ts";
import type { Uncertain } from "../core/doubt/inputs.ts";
import type { OutputKey } from "../core/doubt/outputs.ts";
import { notStraight, type Reason } from "../core/doubt/straight.ts";
import { LIMITS } from "../core/limits/records.ts";
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
  sampled: SampledDoubts | null;
}

export interface SampledDoubts {
  bands: Readonly<Partial<Record<OutputKey, Band>>>;
  safeKmh: Band | null;
  /** share of the cars in which a limit is passed */
  passed: ReadonlyMap<LimitName, number>;
  /** the speed to drive at most, km/h, with the chance that is accepted; null: not asked */
  atMost: { kmh: number; low: number; high: number; chance: number } | null;
}

/** An output's band about the value at hand; null: nothing is known of it. */
export function bandOf(d: Doubts | null, key: OutputKey, value: number): Band | null {
  const sampled = d?.sampled?.bands[key];
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

/** below and above it a chance is told as hardly and nearly */
const RARE = 0.001;
/** "less than 0.1 %", "3 %", "0.4 %", "99.6 %" */
export function chanceWords(chance: number): string {
  if (chance < RARE) return "less than 0.1 %";
  if (chance > 1 - RARE) return "more than 99.9 %";
  const percent = 100 * chance;
  return `${fixed(percent, percent < 2 || percent > 98 ? 1 : 0)} %`;
}

/** "3 % (2 to 5 %)", "0 % (0 to 0.7 %)": a sampled chance with its own error; none of some hundred cars is not yet less than 0.1 %. */
export function sampledChanceWords(c: Chance): string {
  if (c.high < RARE || c.low > 1 - RARE) return chanceWords(c.chance);
  const words = (x: number): string => fixed(100 * x, x === 0 || x === 1 ? 0 : x < 0.02 || x > 0.98 ? 1 : 0);
  return `${c.chance === 0 || c.chance === 1 ? `${words(c.chance)} %` : chanceWords(c.chance)} (${words(c.low)} to ${words(c.high)} %)`;
}

/** "gives in 3 of 10": what a bar says whose band crosses 1; empty where it does not. To first order where no sample tells. */
export function crossingWords(d: Doubts | null, limit: LimitName, band: Band | null): string {
  if (!band || !(band.low < 1 && band.high > 1)) return "";
  const chance = d?.sampled?.passed.get(limit) ?? (band.sd > 0 ? normalCdf((band.value - 1) / band.sd) : 0);
  // what is nearer to one of twenty than to one of ten
  if (chance < 0.075) return "gives in 1\u00a0of\u00a020";
  return `gives in ${Math.min(9, Math.round(chance * 10))}\u00a0of\u00a010`;
}

/** "20.1 km/h for a chance of 5 %" */
export const atMostWords = (m: { kmh: number; chance: number }): string => `${withUnit(m.kmh, 1, "km/h")} for a chance of ${chanceWords(m.chance)}`;

/** "20.3 to 20.4 by the sample's own error"; empty where that is less than what is shown. Of the speed to drive at most, km/h. */
export function atMostError({ low, high }: { low: number; high: number }): string {
  const [from, to] = [fixed(low, 1), fixed(high, 1)];
  return from === to ? "" : `${from} to ${to} by the sample's own error`;
}

/** Why sampling tells another band than first order, in words. */
function reasonWords(r: Reason): string {
  if (r.kind === "curved") return "what is not known is too much for a quick estimate";
  const of = `in ${chanceWords(r.chance.chance)} of the cars`;
  switch (r.kind) {
    case "takesOver":
      return `${of} another limit gives first (${LIMITS[r.limit].words.post})`;
    case "ends":
      return `${of} the axle finds no hold`;
    case "standsNot":
      return `${of} the car does not stand at all`;
    case "lifts":
      return `${of} a wheel is off the road that stands here, or the other way round`;
    case "stops":
      return `${of} a spring reaches a stop or hangs loose that does not here`;
  }
}

/** so many reasons are told */
const REASONS_TOLD = 2;
/** "The safe speed: the quick estimate (first order) said 20.4 to 21.0 km/h, the cars tried say otherwise: in 12 % of them …"; empty where both agree. */
export function differWords(what: string, first: Band | null, sampled: SampledBand | null, reasons: readonly Reason[], digits: number, unit: string): string {
  const differs = first && sampled && notStraight(first, sampled, reasons);
  if (!first || !differs) return "";
  return `${what}: the quick estimate (first order) said ${rangeWords(first, digits, unit)}, the cars tried say otherwise: ${differs.reasons.slice(0, REASONS_TOLD).map(reasonWords).join(", ")}.`;
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
  return `± ${amountWords(percent ? 100 * sd : sd)}${shown && shown !== "°" ? ` ${shown}` : shown}`;
}

/** What is assumed where nobody told a ±: "0.3", and "assumed ± 0.3 N/mm: a tenth, what springs of one bag scatter by"; null: no number, or exact. */
export function assumedWords(s: Scenario, path: string): { amount: string; words: string } | null {
  const assumed = assumedOf(s, path);
  if (!assumed) return null;
  const times = fieldName(path)?.percent === true ? 100 : 1;
  return { amount: amountWords(times * assumed.amount), words: `assumed ${inputSdWords(path, assumed.amount, "")}: ${assumed.why}` };
}
