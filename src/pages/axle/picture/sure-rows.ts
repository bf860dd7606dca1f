import type { AxleReport } from "../../../core/analysis.ts";
import { pathName } from "../../../core/design/field-words.ts";
import { fieldValue, guesses } from "../../../core/design/origins.ts";
import { ARM_NAMES, type Scenario, SIDES } from "../../../core/design/types.ts";
import type { Band } from "../../../core/doubt/bands.ts";
import { bandOf, type Doubts, inputName, inputSdWords, rangeWords, type ShareRow, safeBandOf, sdWords } from "../../../view/doubt-words.ts";
import { fixed, withUnit } from "../../../view/format.ts";
import type { How } from "../../../view/origin-words.ts";
import { outerSide } from "../../../view/poses.ts";

/** What the panel of doubts shows, in words. */

/** A number of the answer with its ± and its range. */
export interface SureNumber {
  key: string;
  name: string;
  value: string;
  sure: string;
  range: string;
}

/** The answer's numbers with their bands, about the values at hand. `safeKmh`: null: not known yet, or nothing gives. */
export function sureNumbers(report: AxleReport, safeKmh: number | null, d: Doubts | null): SureNumber[] {
  const outer = outerSide(report.lateralG);
  const inner = outer === "right" ? "left" : "right";
  const row = (key: string, name: string, value: number | null, band: Band | null, digits: number, unit: string): SureNumber => ({
    key,
    name,
    value: value === null ? "–" : withUnit(value, digits, unit),
    sure: band ? sdWords(band.sd, digits, unit) : "–",
    range: band ? rangeWords(band, digits, unit) : "–",
  });
  const { rollDeg } = report;
  return [
    row("outer", "outer lean", report[outer].camberDeg, bandOf(d, `camberDeg.${outer}`, report[outer].camberDeg), 1, "°"),
    row("inner", "inner lean", report[inner].camberDeg, bandOf(d, `camberDeg.${inner}`, report[inner].camberDeg), 1, "°"),
    row("outerLoad", "outer wheel's load", report[outer].verticalLoadN, bandOf(d, `verticalLoadN.${outer}`, report[outer].verticalLoadN), 1, "N"),
    row("innerLoad", "inner wheel's load", report[inner].verticalLoadN, bandOf(d, `verticalLoadN.${inner}`, report[inner].verticalLoadN), 1, "N"),
    row("roll", "body roll", rollDeg, bandOf(d, "rollDeg", rollDeg), 1, "°"),
    row("safe", "safe speed", safeKmh, safeBandOf(d, safeKmh), 1, "km/h"),
  ];
}

/** The big number's ± and range; null: nothing is known of it. */
export const heroSure = (band: Band | null): { sure: string; range: string } | null =>
  band && { sure: sdWords(band.sd, 1, "°"), range: rangeWords(band, 1, "°") };

/** An input that the answer's band is made of. */
export interface SureInput {
  key: string;
  /** where it stands in the file: where its ± is set */
  path: string;
  name: string;
  how: How;
  share: string;
  sure: string;
  /** why the ± is so large; empty where it was told */
  why: string;
}

export function sureInputs(s: Scenario, rows: readonly ShareRow[]): SureInput[] {
  return rows.map((r) => {
    const told = s.origins[r.key]?.plusMinus !== undefined;
    const sure = inputSdWords(r.key, r.sd, r.unit);
    return {
      key: r.key,
      path: homeOfInput(s, r.key),
      name: inputName(r.key),
      how: r.how === "material" ? "guess" : r.how,
      share: shareWords(r.share),
      sure: told ? sure : `assumed ${sure}`,
      why: told ? "" : r.why,
    };
  });
}

/** A material that is known by its name stands where an arm is made of it. */
function homeOfInput(s: Scenario, key: string): string {
  const name = /^material\.(.+)\.\w+$/.exec(key)?.[1];
  if (name === undefined) return key;
  const arms = ["corner", ...SIDES].flatMap((side) => ARM_NAMES.map((arm) => `${side}.${arm}Arm.material`));
  return arms.find((path) => fieldValue(s, path) === name) ?? key;
}

/** "41 %", "less than 1 %"; what a test told together may take from the rest */
function shareWords(share: number): string {
  const percent = 100 * share;
  return percent >= 0 && percent < 1 ? "less than 1 %" : `${fixed(percent, 0)} %`;
}

/** so many are named */
const CHOICES_NAMED = 3;

/** Guesses that are choices, which have no ±: what is said of them; empty where there are none. */
export function choiceWords(s: Scenario): string {
  const choices = guesses(s).filter((path) => typeof fieldValue(s, path) !== "number");
  if (choices.length === 0) return "";
  const named = choices.slice(0, CHOICES_NAMED).map(pathName).join("; ");
  const more = choices.length - CHOICES_NAMED;
  const head = choices.length === 1 ? "One guess is a choice, which has no ±" : `${choices.length} guesses are choices, which have no ±`;
  return `${head}: ${named}${more > 0 ? `; and ${more} more` : ""}.`;
}
