import { resolveMaterial } from "../arm/materials.ts";
import { BENCH_TESTS } from "../bench/definitions.ts";
import { fieldValue, homeOf, withOrigins } from "../design/origins.ts";
import { cornerOf } from "../design/sides.ts";
import { BENCH_KINDS, type BenchKind } from "../design/tried.ts";
import { JOINT_NAMES, type Scenario, SIDES, type Side } from "../design/types.ts";
import { scatterOf } from "../studies/guess-steps.ts";
import { spreadOf } from "./bands.ts";
import type { Uncertain, UncertainInputs } from "./inputs.ts";

/**
 * What is worth measuring next: by how much narrower the safe speed's band becomes, to first order, when a bench test is done as well as a
 * careful builder does it; not by how much the speed hangs on a number that is known already. A material that is known by its name counts as
 * measured in every arm that is made of it.
 */
interface MeasureRow {
  test: BenchKind;
  /** whose part: where both sides share the values, one test does for both */
  side: Side | "both";
  minutes: number;
  /** what it measures of what is uncertain: ± now and after, and the band if that one alone were known so well */
  inputs: { key: string; sdNow: number; sdAfter: number; bandSdAlone: number }[];
  /** the band's standard deviation after the test, in the unit of the answer */
  bandSd: number;
  /** share of the band that is gone */
  narrower: number;
  /** of the band's variance, what its inputs make now */
  share: number;
}

/** What a value that was measured has bought: the band with the scatter of a guess in its place, and as it is. */
interface BoughtRow {
  key: string;
  sdAsGuess: number;
  sd: number;
  bandSdBefore: number;
  bandSdNow: number;
}

export interface MeasureNext {
  /** standard deviation of the band as it is */
  bandSd: number;
  /** best first; tests that make nothing narrower are left out */
  rows: MeasureRow[];
  /** parts of the variance that no bench test takes away, largest first */
  beyondTests: { key: string; share: number }[];
  bought: BoughtRow[];
}

/** A test that narrows the band by less than this share is not told. */
const LEAST = 0.002;
/** Of the variance, what an input must make to be told of where no test measures it. */
const LEAST_SHARE = 0.01;

/** @param by derivatives of the answer by the inputs, as `SafeDerivatives` has them */
export function measureNext(inputs: UncertainInputs, by: readonly (number | null)[]): MeasureNext {
  const s = inputs.scenario;
  const of = (i: number): number | null => by[i] ?? null;
  const now = spreadOf(inputs, of);
  const measured = new Set<number>();
  const seen = new Set<string>();
  const rows = BENCH_KINDS.flatMap((kind) => variantsOf(s, kind)).flatMap(({ test, side, minutes, reach }): MeasureRow[] => {
    const better = new Map<number, number>();
    for (const [path, sd] of Object.entries(reach)) {
      const i = inputs.list.findIndex((u) => u.key === keyOf(s, path));
      if (i < 0) continue;
      measured.add(i);
      if (sd < inputs.list[i]!.sd) better.set(i, sd);
    }
    // either arm of one material tells the same
    const same = `${test} ${[...better.keys()].join()}`;
    if (better.size === 0 || seen.has(same)) return [];
    seen.add(same);
    const bandSd = spreadOf(known(inputs, better), of).sd;
    const narrower = now.sd > 0 ? 1 - bandSd / now.sd : 0;
    if (narrower < LEAST) return [];
    const told = [...better].map(([i, sdAfter]) => ({
      key: inputs.list[i]!.key,
      sdNow: inputs.list[i]!.sd,
      sdAfter,
      bandSdAlone: spreadOf(known(inputs, new Map([[i, sdAfter]])), of).sd,
    }));
    return [{ test, side, minutes, inputs: told, bandSd, narrower, share: [...better.keys()].reduce((sum, i) => sum + now.shares[i]!, 0) }];
  });
  const beyondTests = [...inputs.list.entries()]
    .filter(([i]) => !measured.has(i) && now.shares[i]! >= LEAST_SHARE)
    .map(([i, u]) => ({ key: u.key, share: now.shares[i]! }));
  return {
    bandSd: now.sd,
    rows: rows.sort((a, b) => b.narrower - a.narrower || a.minutes - b.minutes),
    beyondTests: beyondTests.sort((a, b) => b.share - a.share),
    bought: boughtRows(inputs, of),
  };
}

/** The inputs with some of them known better, each by itself. */
function known(inputs: UncertainInputs, sd: ReadonlyMap<number, number>): UncertainInputs {
  const list = inputs.list.map((u, i): Uncertain => (sd.has(i) ? { ...u, sd: sd.get(i)! } : u));
  const pairs = inputs.correlation.pairs.filter((p) => !sd.has(p.a) && !sd.has(p.b));
  return { ...inputs, list, correlation: { ...inputs.correlation, pairs } };
}

function boughtRows(inputs: UncertainInputs, of: (i: number) => number | null): BoughtRow[] {
  const s = inputs.scenario;
  const rows = [...inputs.list.entries()].flatMap(([i, u]): BoughtRow[] => {
    if (u.how !== "measured") return [];
    const sdAsGuess = scatterOf(withOrigins(s, { [u.key]: null }), u.key, u.value).amount;
    if (!(sdAsGuess > u.sd)) return [];
    const bandSdBefore = spreadOf(known(inputs, new Map([[i, sdAsGuess]])), of).sd;
    return [{ key: u.key, sdAsGuess, sd: u.sd, bandSdBefore, bandSdNow: spreadOf(inputs, of).sd }];
  });
  return rows.sort((a, b) => b.bandSdBefore - a.bandSdBefore);
}

interface Variant {
  test: BenchKind;
  side: Side | "both";
  minutes: number;
  reach: Record<string, number>;
}

/** A test for each part that it may be done on: both arms, each joint, and each side where the sides have values of their own. */
function variantsOf(s: Scenario, kind: BenchKind): Variant[] {
  const { minutes, reach } = BENCH_TESTS[kind];
  const usual = Object.entries(reach(s, "both"));
  const bySide = new Map<Side | "both", Record<string, number>>();
  for (const [path, sd] of usual) {
    const side = SIDES.find((name) => path.startsWith(`${name}.`)) ?? "both";
    bySide.set(side, { ...bySide.get(side), [path]: sd });
  }
  return [...bySide].flatMap(([side, of]) => {
    const paths = Object.entries(of);
    const elsewhere = ELSEWHERE.find(({ here }) => paths.some(([path]) => here.test(path)));
    if (!elsewhere) return [{ test: kind, side, minutes, reach: of }];
    const { here, there } = elsewhere;
    return there.map((name) => ({
      test: kind,
      side,
      minutes,
      reach: Object.fromEntries(paths.map(([path, sd]) => moved(s, path, sd, path.replace(here, name)))),
    }));
  });
}

/** What a test tells of one arm or joint it tells of any. */
const ELSEWHERE = [
  { here: /\blowerArm\b/, there: ["lowerArm", "upperArm"] },
  { here: /\bjoints\.lowerInner\b/, there: JOINT_NAMES.map((name) => `joints.${name}`) },
] as const;

/** The same share of the value there. */
function moved(s: Scenario, from: string, sd: number, to: string): [string, number] {
  const [a, b] = [numberAt(s, from), numberAt(s, to)];
  return [to, a !== null && b !== null && a !== 0 && from !== to && !from.endsWith("clearanceMm") ? (sd * b) / a : sd];
}

const ARM_YOUNG = /^(corner|left|right)\.((upper|lower)Arm)\.material\.youngMPa$/;

/** A number as it stands, or that of a material that is known by its name. */
function numberAt(s: Scenario, path: string): number | null {
  const value = fieldValue(s, path);
  if (typeof value === "number") return value;
  const [, , arm] = ARM_YOUNG.exec(path) ?? [];
  return arm === undefined ? null : resolveMaterial(materialOf(s, path)).youngMPa;
}

function materialOf(s: Scenario, path: string) {
  const [, group, arm] = ARM_YOUNG.exec(path)!;
  const side: Side = group === "left" || group === "right" ? group : (SIDES.find((of) => homeOf(s, of, `${arm}.material`).startsWith("corner.")) ?? "right");
  return cornerOf(s, side)[arm as "upperArm" | "lowerArm"].material;
}

/** The uncertain input that a measured field stands for. */
function keyOf(s: Scenario, path: string): string {
  if (ARM_YOUNG.test(path)) {
    const material = materialOf(s, path);
    return typeof material === "string" ? `material.${material}.youngMPa` : path;
  }
  // a tread whose width was not told apart carries with all of it
  if (path.endsWith(".tyre.effectiveWidthMm") && fieldValue(s, path) === null) return path.replace("tyre.effectiveWidthMm", "wheel.treadWidthMm");
  return path;
}
