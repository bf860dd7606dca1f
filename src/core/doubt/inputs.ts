import { resolveMaterial } from "../arm/materials.ts";
import { joinPath, type Path, splitPath, valueAt, withValueAt } from "../design/field-path.ts";
import { fieldValue, homeOf } from "../design/origins.ts";
import { cornerOf } from "../design/sides.ts";
import { ARM_NAMES, type Corner, type Material, type Scenario, SIDES } from "../design/types.ts";
import { type Allowed, materialScatter } from "../studies/guess-steps.ts";
import { plusMinusOf } from "./assumed.ts";
import { type Correlation, correlationOf } from "./correlation.ts";

/**
 * The uncertain inputs of a design: every number that its answer rests on, with one standard deviation.
 *
 * - A guess scatters as such parts do (its own ±, else the table of `studies/guess-steps.ts`); a measured value has its own ±.
 * - An entered value has its own ±, else that of the rounding with which it was written (`rounding.ts`).
 * - A material that is known by its name has two: stiffness and strength, shared by every arm that is made of it.
 * - What is asked is not uncertain (loads, tracks, the builder's limits, the free distance wanted), nor are whole numbers (teeth, motors,
 *   springs), nor the outlines of the body: only the free distance hangs on those, millimetre for millimetre.
 * - An input is one number of the file: a shared value moves both sides of the car together, a side's own value that side alone.
 *
 * Distributions: normal; log-normal (with the same mean and standard deviation) for what cannot be negative and is known worse than 15 %, so
 * that no stiffness is drawn below nothing. What falls out of the range of its field is taken at the end of the range.
 */
export interface Uncertain {
  /** path of the field, or `material.abs.youngMPa` for a material that is known by its name */
  key: string;
  value: number;
  /** one standard deviation, in the field's unit, above 0 */
  sd: number;
  how: "guess" | "entered" | "measured" | "material";
  /** why it is so uncertain, in plain words */
  why: string;
  law: "normal" | "logNormal";
  min: number;
  max: number;
  unit: string;
}

export interface UncertainInputs {
  scenario: Scenario;
  list: readonly Uncertain[];
  correlation: Correlation;
}

export interface InputOptions {
  /** numbers of the drive count too: where the wheels are pushed */
  drive: boolean;
}

/** From this share of the value on a number that cannot be negative is spread log-normally. */
const LOG_NORMAL_FROM = 0.15;

/** Ranges of fields with their units: `rangeOf` of the scenario's schema. */
export type Ranges = (path: string, s: Scenario) => (ReturnType<Allowed> & { unit: string }) | undefined;

/** Ranges that were told, by path and by the choice that it stands in: to look one up costs more than all the rest here. */
const known = new WeakMap<Ranges, Map<string, ReturnType<Ranges>>>();

function rangeAt(s: Scenario, path: string, ranges: Ranges): ReturnType<Ranges> {
  let told = known.get(ranges);
  if (!told) {
    told = new Map();
    known.set(ranges, told);
  }
  const choice = valueAt(s, pathOf(path).slice(0, -1)) as { shape?: string; on?: string; kind?: string } | undefined;
  const key = `${path} ${choice?.shape ?? choice?.on ?? choice?.kind ?? ""}`;
  if (!told.has(key)) told.set(key, ranges(path, s));
  return told.get(key);
}

/** All uncertain inputs of a design, in the order of the file. */
export function uncertainInputs(s: Scenario, ranges: Ranges, options: InputOptions = { drive: true }): UncertainInputs {
  const fields = numberPaths(s, options).flatMap((path) => fieldInput(s, path, ranges) ?? []);
  const list = [...fields, ...materials(s)];
  return { scenario: s, list, correlation: correlationOf(s, list) };
}

function fieldInput(s: Scenario, path: string, ranges: Ranges): Uncertain | null {
  const value = fieldValue(s, path);
  const range = rangeAt(s, path, ranges);
  if (typeof value !== "number" || !range || range.whole) return null;
  const how = s.origins[path]?.how ?? "entered";
  const { amount, why } = plusMinusOf(s, path, value);
  if (!(amount > 0)) return null;
  const law = value > 0 && range.min >= 0 && amount > LOG_NORMAL_FROM * value ? "logNormal" : "normal";
  return { key: path, value, sd: amount, how, why, law, min: range.min, max: range.max, unit: range.unit };
}

const MATERIAL = /^material\.(.+)\.(youngMPa|yieldMPa)$/;
/** Range of a material's own values in the file. */
const MATERIAL_RANGE = { youngMPa: [1, 1e6], yieldMPa: [0.1, 5000] } as const;

/** Names of materials of arms, with the fields that hold them. */
function namedMaterials(s: Scenario): Map<string, Set<string>> {
  const out = new Map<string, Set<string>>();
  for (const side of SIDES)
    for (const arm of ARM_NAMES) {
      const home = homeOf(s, side, `${arm}Arm.material`);
      const name = cornerOf(s, side)[`${arm}Arm`].material;
      if (typeof name !== "string") continue;
      out.set(name, (out.get(name) ?? new Set()).add(home));
    }
  return out;
}

const materials = (s: Scenario): Uncertain[] =>
  [...namedMaterials(s).keys()].flatMap((name) => {
    const m = resolveMaterial(name);
    const scatter = materialScatter(m);
    return (["youngMPa", "yieldMPa"] as const).map((key): Uncertain => {
      const [min, max] = MATERIAL_RANGE[key];
      const law = scatter[key] > LOG_NORMAL_FROM ? "logNormal" : "normal";
      const sd = scatter[key] * m[key];
      return { key: `material.${name}.${key}`, value: m[key], sd, how: "material", why: scatter.why, law, min, max, unit: "N/mm²" };
    });
  });

/**
 * The design with some of its uncertain inputs at other values; what is not named stays.
 * @param values by index into the list
 */
export function withInputs(inputs: UncertainInputs, values: ReadonlyMap<number, number>): Scenario {
  let s = inputs.scenario;
  const made = new Map<string, Material>();
  for (const [i, value] of values) {
    const { key } = inputs.list[i]!;
    const named = MATERIAL.exec(key);
    if (named) {
      const [, name, what] = named as unknown as [string, string, "youngMPa" | "yieldMPa"];
      made.set(name, { ...(made.get(name) ?? resolveMaterial(name)), [what]: value });
    } else s = withValueAt(s, pathOf(key), value);
  }
  if (made.size === 0) return s;
  const homes = namedMaterials(inputs.scenario);
  for (const [name, material] of made) for (const home of homes.get(name)!) s = withValueAt(s, pathOf(home), material);
  return s;
}

const paths = new Map<string, Path>();
function pathOf(key: string): Path {
  let path = paths.get(key);
  if (!path) {
    path = splitPath(key);
    paths.set(key, path);
  }
  return path;
}

/** Groups whose numbers the answer may rest on; all else asks, or is the file's own. */
const GROUPS = ["corner", "left", "right", "body", "antiRollBar", "drive", "fit"] as const;
/** What is driven, wanted or drawn: no doubt about it, or it changes nothing. */
const ASKED = /^fit\.(?!alongRoadMm$)|\.topSpeedDrivenKmh$/;

/** Paths of all numbers that an answer at rest in a curve may rest on, in the order of the file. */
function numberPaths(s: Scenario, { drive }: InputOptions): string[] {
  const out: string[] = [];
  const walk = (v: unknown, at: Path): void => {
    if (typeof v === "number") out.push(joinPath(at));
    else if (Array.isArray(v)) v.forEach((e, i) => walk(e, [...at, i]));
    else if (typeof v === "object" && v !== null) for (const [key, e] of Object.entries(v)) walk(e, [...at, key]);
  };
  for (const group of GROUPS) if (group !== "drive" || drive) walk(s[group], [group]);
  const corners = SIDES.map((side) => ({ side, corner: cornerOf(s, side) }));
  return out.filter((path) => {
    if (ASKED.test(path)) return false;
    if (path === "antiRollBar.atFraction") return s.antiRollBar.rateNPerMm > 0;
    const [, group, rest] = /^(corner|left|right)\.(.+)$/.exec(path) ?? [];
    if (group === undefined || rest === undefined) return true;
    return corners.some(({ side, corner }) => homeOf(s, side, rest) === path && !idle(corner, rest));
  });
}

/** Numbers that stand in the file and change nothing in a corner as it is. */
function idle(c: Corner, path: string): boolean {
  if (path.startsWith("spring.damping.")) return true;
  const arm = /^(upper|lower)Arm\.(\w+)/.exec(path);
  if (arm) {
    const { layout } = c[arm[1] === "upper" ? "upperArm" : "lowerArm"];
    if (arm[2] === "stemShare" || arm[2] === "stemSection") return layout !== "split";
    if (arm[2] === "spreadMm") return layout === "straight";
    return /\.material\.(densityKgPerM3|maxTempC)$/.test(path);
  }
  const { retention } = c.hub;
  if (path === "hub.retention.shoulderRadiusMm") return retention.kind === "lip" && retention.model === "ring";
  return path === "tyre.seat.extraHoldN" && c.tyre.seat.kind === "stretchedBand";
}

/** The value that a standard normal score stands for, within the range of the field. */
export function valueAtScore(u: Uncertain, score: number): number {
  if (u.law === "normal") return Math.min(u.max, Math.max(u.min, u.value + u.sd * score));
  const sigma = Math.sqrt(Math.log(1 + (u.sd / u.value) ** 2));
  return Math.min(u.max, Math.max(u.min, u.value * Math.exp(sigma * score - (sigma * sigma) / 2)));
}
