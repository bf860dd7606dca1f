import { resolveMaterial } from "../arm/materials.ts";
import { splitPath, valueAt } from "../design/field-path.ts";
import { fieldValue } from "../design/origins.ts";
import type { Material, Scenario } from "../design/types.ts";

/**
 * How far off a guess plausibly is, where nobody told a ±. One table; what is not listed is a tenth off. All of it common practice or
 * from memory, no source: what parts and rulers of a hobby workshop usually scatter by, one standard deviation.
 */
interface StepRule {
  /** fields by the end of their path, without the side */
  of: RegExp;
  /** of the value */
  share?: number;
  /** in the field's unit; with a share: at least */
  amount?: number;
  why: string;
}

const RULES: readonly StepRule[] = [
  { of: /\.(sMm|zMm|bearingOffsetMm)$/, amount: 0.5, why: "half a millimetre, what a ruler in an awkward place tells" },
  { of: /\.clearanceMm$/, share: 0.5, amount: 0.02, why: "play differs by half from joint to joint and grows with wear" },
  { of: /\.tiltPlayDeg$/, share: 0.5, amount: 0.1, why: "play differs by half from hub to hub" },
  { of: /\.staticCamberDeg$/, amount: 0.25, why: "a quarter of a degree, what an eye tells along a ruler" },
  { of: /\.axleShare$/, amount: 0.03, why: "three hundredths, a car that nobody put on two scales" },
  { of: /\.(massKg|unsprungMassKg|carMassKg)$/, share: 0.1, why: "a tenth, a weight that was lifted and not put on a scale" },
  { of: /\.cgHeightMm$/, share: 0.15, why: "nobody sees it; it is found by tilting the car" },
  { of: /raction$|\.(stemShare|efficiency)$/, amount: 0.03, why: "three hundredths of the whole" },
  { of: /^spring\.rateNPerMm$/, share: 0.1, why: "a tenth, what springs of one bag scatter by" },
  { of: /^spring\.freeLengthMm$/, share: 0.02, why: "a fiftieth, what springs of one bag scatter by" },
  { of: /^spring\.(preloadMm|\w+Stop\.lengthMm)$/, amount: 1, why: "a millimetre of packing" },
  { of: /^wheel\.(radiusMm|treadWidthMm)$|\.(section|stemSection)\.\w+Mm$/, share: 0.03, why: "a few per cent, a measure that was taken by eye" },
  { of: /(NPerMm|NmmPerDeg)$/, share: 0.3, why: "stiffness of small parts is seldom known better than by a third" },
  { of: /\.(pullOutN|capacityN|extraHoldN|bandTensionN)$/, share: 0.25, why: "a quarter, what holds by friction or a snap scatters so" },
  { of: /\.(yieldMPa|shearStrengthMPa)$/, share: 0.2, why: "a fifth, strength of plastics scatters with how they were made" },
  { of: /\.youngMPa$/, share: 0.15, why: "stiffness of plastics scatters with how they were made, and with their age" },
  { of: /friction$/, share: 0.2, why: "a fifth, friction changes with dust and warmth" },
  { of: /^hub\.heat\.|damping\.|crownRadiusMm$|^drive\.(rolling|drag)/, share: 0.25, why: "a quarter, seldom measured" },
];
const SIDE = /^(corner|left|right)\./;
const USUAL: StepRule = { of: /./, share: 0.1, why: "a tenth, for want of anything better" };

/** Metals and fibre rods come from mills that hold them tighter than any plastic, shares of stiffness and strength (from memory). */
const TIGHT = { youngMPa: 0.03, yieldMPa: 0.08, why: "metals and fibre rods hold what their tables say within some per cent" } as const;

/** How far stiffness and strength of a material scatter that is known by its name alone: shares of its values, one standard deviation. */
export function materialScatter(m: Material): { youngMPa: number; yieldMPa: number; why: string } {
  if (!m.plastic) return TIGHT;
  return { youngMPa: shareOf(".youngMPa"), yieldMPa: shareOf(".yieldMPa"), why: "stiffness and strength of a material that was not measured" };
}

/** A plausible way of a guess: what it may be instead, lower and higher, and why so far. */
export interface GuessStep {
  /** in the field's unit; null: no number */
  amount: number | null;
  why: string;
  /** values to put in its place */
  values: readonly unknown[];
}

/** What a number of the file may be: `rangeOf` of the scenario's schema. */
export type Allowed = (path: string, s: Scenario) => { min: number; max: number; whole: boolean } | undefined;

const FLIPS: Readonly<Record<string, readonly string[]>> = { model: ["ring", "shoulder"], seat: ["stretchedBand", "sideDiscs", "glue"] };

/** The plausible steps of a guess both ways, within what is allowed; null for a choice that has no neighbours (a shape, a kind), and for none. */
export function guessStep(s: Scenario, path: string, allowed: Allowed): GuessStep | null {
  const value = fieldValue(s, path);
  const of = path.replace(SIDE, "");
  if (typeof value === "boolean") return { amount: null, why: "the other of two", values: [!value] };
  if (typeof value === "string") return wordStep(of, value);
  if (typeof value !== "number") return null;
  const range = allowed(path, s);
  if (!range) return null;
  const { amount, why } = scatterOf(s, path, value);
  const step = range.whole ? Math.max(1, Math.round(amount)) : amount;
  const values = [value - step, value + step].map((v) => Math.min(range.max, Math.max(range.min, v))).filter((v) => v !== value);
  return values.length > 0 ? { amount: step, why, values } : null;
}

/** One standard deviation of a guessed number, in the field's unit, and why so far: its own \u00b1 where one is told, else what such parts scatter by. */
export function scatterOf(s: Scenario, path: string, value: number): { amount: number; why: string } {
  const told = s.origins[path]?.plusMinus;
  if (told !== undefined) return { amount: told, why: "its own \u00b1" };
  const of = path.replace(SIDE, "");
  const [, arm, key] = /^(.*\.material)\.(youngMPa|yieldMPa)$/.exec(path) ?? [];
  const material = arm === undefined ? undefined : (valueAt(s, splitPath(arm)) as string | Material | undefined);
  if (material !== undefined && !resolveMaterial(material).plastic) return { amount: TIGHT[key as "youngMPa"] * Math.abs(value), why: TIGHT.why };
  const rule = RULES.find((r) => r.of.test(of)) ?? USUAL;
  return { amount: Math.max((rule.share ?? 0) * Math.abs(value), rule.amount ?? 0), why: rule.why };
}

function wordStep(of: string, value: string): GuessStep | null {
  if (/material$/.test(of)) {
    const m = resolveMaterial(value);
    const { youngMPa, yieldMPa, why } = materialScatter(m);
    const times = (way: number): Material => ({ ...m, youngMPa: m.youngMPa * (1 + way * youngMPa), yieldMPa: m.yieldMPa * (1 + way * yieldMPa) });
    return { amount: null, why, values: [times(-1), times(1)] };
  }
  const others = Object.entries(FLIPS).find(([end, words]) => of.split(".").includes(end) && words.includes(value))?.[1];
  return others ? { amount: null, why: "the others that it may be", values: others.filter((o) => o !== value) } : null;
}
const shareOf = (end: string): number => RULES.find((r) => r.of.test(end))?.share ?? 0;
