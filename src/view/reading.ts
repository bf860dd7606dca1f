import { type AxleReport, LIMIT_NAMES, type LimitResult } from "../core/analysis.ts";
import { capital } from "../core/capital.ts";
import { pushes } from "../core/design/load.ts";
import type { Side } from "../core/design/types.ts";
import type { Band } from "../core/doubt/bands.ts";
import type { FullPush } from "../core/drive/thrust-on-arms.ts";
import { LIMITS } from "../core/limits/records.ts";
import { bandOf, crossingWords, type Doubts } from "./doubt-words.ts";
import { degrees, fixed, signed, withUnit } from "./format.ts";
import { rampStep } from "./parts/hub.ts";
import { outerSide } from "./poses.ts";
import { demandOf } from "./scene-labels.ts";
import { leanWords, MOTION_STEPS, PART_STEPS } from "./words.ts";

/** A step of the stair: from where the last one ended. Degrees. */
interface Step {
  key: string;
  words: string;
  deg: number;
  from: number;
  /** at rest and the small parts together are drawn hollow */
  hollow: boolean;
  /** change of the lean when this part is made 1 % stiffer; null where nothing can be stiffened */
  per1Percent: number | null;
}

export interface Stair {
  steps: Step[];
  total: number;
  low: number;
  high: number;
}

/** a step smaller than this is told in "smaller ones", degrees */
const SMALL_DEG = 0.045;

function inRow(rows: { key: string; words: string; deg: number; hollow?: boolean; per?: number | null }[]): Stair {
  let at = 0;
  let low = 0;
  let high = 0;
  const steps = rows.map((r): Step => {
    const step = { key: r.key, words: r.words, deg: r.deg, from: at, hollow: r.hollow ?? false, per1Percent: r.per ?? null };
    at += r.deg;
    low = Math.min(low, at);
    high = Math.max(high, at);
    return step;
  });
  return { steps, total: at, low, high };
}

const STIFF_KEYS: Record<string, readonly string[]> = {
  lowerArm: ["lowerArm"],
  upperArm: ["upperArm"],
  bearing: ["bearingGive"],
  spring: ["spring"],
  tyre: ["tyreVertical", "tyreTilt"],
  give: ["upperInnerGive", "upperOuterGive", "lowerInnerGive", "lowerOuterGive"],
  pivotSprings: ["innerPivotSprings"],
};

/** The lean of one wheel by the parts whose give is to blame, both sides of the car together; adds up to its camber. */
export function stairByPart(report: AxleReport, side: Side): Stair {
  const budget = report[side].camberBudgetDeg.byPart;
  const stiffer = report[side].camberPer1PercentStifferDeg as Record<string, number | undefined>;
  const rows = PART_STEPS.map((s) => ({
    key: s.key,
    words: s.words,
    deg: s.parts.reduce((sum, p) => sum + (budget[`left.${p}`] ?? 0) + (budget[`right.${p}`] ?? 0), 0),
    per: STIFF_KEYS[s.key]?.reduce((sum, p) => sum + (stiffer[`left.${p}`] ?? 0) + (stiffer[`right.${p}`] ?? 0), 0) ?? null,
  }));
  rows.push({ key: "antiRollBar", words: "anti-roll bar", deg: budget.antiRollBar ?? 0, per: stiffer.antiRollBar ?? null });
  rows.push({ key: "restOfCar", words: "rest of the car", deg: budget.restOfCar ?? 0, per: stiffer.restOfCar ?? null });
  rows.sort((x, y) => Math.abs(y.deg) - Math.abs(x.deg));
  const large = rows.filter((r) => Math.abs(r.deg) >= SMALL_DEG);
  const small = rows.filter((r) => Math.abs(r.deg) < SMALL_DEG).reduce((s, r) => s + r.deg, 0);
  return inRow([
    { key: "atRest", words: "at rest", deg: budget.atRest, hollow: true },
    ...large,
    { key: "unassigned", words: "small parts together", deg: small + budget.unassigned, hollow: true },
  ]);
}

/** The lean of one wheel by what moved it; adds up to its camber. */
export function stairByMotion(report: AxleReport, side: Side): Stair {
  const budget = report[side].camberBudgetDeg.byMotion;
  const rows = MOTION_STEPS.map((s) => ({
    key: s.key,
    words: s.words,
    deg: s.parts.reduce((sum, p) => sum + (budget[p] ?? 0), 0),
    hollow: s.key === "static",
  }));
  const small = rows.filter((r) => !r.hollow && Math.abs(r.deg) < SMALL_DEG).reduce((s, r) => s + r.deg, 0);
  return inRow([...rows.filter((r) => r.hollow || Math.abs(r.deg) >= SMALL_DEG), { key: "small", words: "smaller ones", deg: small, hollow: true }]);
}

export interface Headline {
  side: Side;
  title: string;
  term: string;
  deg: number;
  number: string;
  way: string;
  limit: string;
  past: boolean;
  band: string | null;
}

export function headline(report: AxleReport, limitDeg: number): Headline {
  const side = outerSide(report.lateralG);
  const r = report[side];
  const turning = Math.abs(report.lateralG) > 1e-9;
  const band = r.camberBandDeg;
  return {
    side,
    title: turning ? "Outer wheel leans" : "Right wheel leans",
    term: `camber, ${side} wheel`,
    deg: r.camberDeg,
    number: degrees(r.camberDeg),
    way: leanWords(r.camberDeg),
    limit: `limit ${degrees(limitDeg)}`,
    past: Math.abs(r.camberDeg) > limitDeg,
    band: band && band[1] - band[0] > 0.05 ? `${fixed(band[0], 1)}° to ${degrees(band[1])} (play)` : null,
  };
}

export interface LimitRow {
  key: string;
  name: LimitResult["name"];
  words: string;
  where: string;
  utilization: number;
  step: 0 | 1 | 2 | 3;
  demand: string;
  number: string;
  caution: boolean;
  /** how far what is used may be from what is told; null: nothing is known of it */
  band?: Band | null;
  /** "gives in 3 of 10", where the band crosses what the part can take */
  crossing?: string;
}

function limitWords(l: LimitResult): { words: string; where: string } {
  const wheel = l.wheel === "both" ? "both" : `${l.wheel} wheel`;
  const [part, ...rest] = l.part.split(",").map((s) => s.trim());
  const detail = rest.join(", ");
  const side = l.wheel === "both" ? "both" : l.wheel;
  switch (l.name) {
    case "hubRetention":
      return { words: `${capital(part ?? "hub")} ${part?.includes("pin") ? "shears" : part?.includes("ring") ? "strips" : "pulls off"}`, where: wheel };
    case "armYield":
      return { words: `${capital(part ?? "arm")} yields`, where: detail ? `${side}, ${detail}` : side };
    case "armSet":
      return { words: `${capital(part ?? "arm")} stays bent`, where: detail ? `${side}, in time, ${detail}` : `${side}, in time` };
    case "armBuckling":
      return { words: `${capital(part ?? "arm")} buckles`, where: detail ? `${side}, ${detail}` : side };
    case "jointPullOut":
      return { words: "Joint pulls apart", where: `${side}, ${l.part}` };
    case "sliding":
      return { words: l.part === "tyres let go" ? LIMITS.sliding.words.row : capital(l.part), where: l.part === "tyres let go" ? wheel : "under its push" };
    case "wheelShift":
      return { words: capital(l.part), where: wheel };
    case "fit":
      return {
        words: `${capital(l.place?.between ?? "tyre")} ${l.place && l.place.distanceMm >= 0 ? "comes near" : "touches"}`,
        where: `${side}, ${l.place?.outline ?? l.part}`,
      };
    case "belowRoad":
      return { words: l.place && l.place.distanceMm >= 0 ? "Near the road" : "Below the road", where: `${side}, ${l.place?.between ?? l.part}` };
    default:
      return { words: LIMITS[l.name].words.row, where: wheel };
  }
}

const CAUTIONS_SHOWN = 2;
const CAUTION_FROM = 0.85;

/** A share of what it can take; a distance in mm, below nought where it touches. */
const numberOf = (l: LimitResult): string => (l.place ? withUnit(l.place.distanceMm, 1, "mm") : fixed(l.utilization, l.utilization >= 10 ? 0 : 2));

/** Limits by how close they are, the worst of each kind, at most `most`, each with its band where one is known. */
export function limitRows(report: AxleReport, most: number, doubts: Doubts | null = null): LimitRow[] {
  const worst = new Map<LimitResult["name"], LimitResult>();
  for (const l of report.limits) {
    const old = worst.get(l.name);
    if (!old || l.utilization > old.utilization) worst.set(l.name, l);
  }
  const ranked = [...worst.values()].sort((x, y) => y.utilization - x.utilization || LIMIT_NAMES.indexOf(x.name) - LIMIT_NAMES.indexOf(y.name));
  // what gives comes first; a caution is told after it, once it is worth a word
  const wary = ranked.filter((l) => l.caution && l.utilization >= CAUTION_FROM);
  // what touches does so now, whatever else wants care; where there is little room it alone is told
  const touching = (l: LimitResult): boolean => l.place !== undefined && l.place.distanceMm < 0;
  const cautions =
    most > CAUTIONS_SHOWN + 1 ? [...wary.filter(touching), ...wary.filter((l) => !touching(l))].slice(0, CAUTIONS_SHOWN) : wary.filter(touching).slice(0, 1);
  const gives = ranked.filter((l) => !l.caution).slice(0, most - cautions.length);
  const told = (l: LimitResult): Band | null => bandOf(doubts, `limit.${l.name}.${l.wheel}.utilization`, l.utilization);
  return [...gives, ...cautions].map((l) => ({
    key: l.name,
    name: l.name,
    ...limitWords(l),
    utilization: l.utilization,
    step: rampStep(l.utilization),
    demand: demandOf(l),
    number: numberOf(l),
    caution: l.caution,
    band: told(l),
    crossing: l.caution ? "" : crossingWords(doubts, l.name, told(l)),
  }));
}

/** Name of a limit in one word, for a table cell. */
const limitShort = (l: LimitResult): string =>
  ({
    hubRetention: "hub",
    armYield: "yield",
    armSet: "set",
    armBuckling: "buckling",
    tyreOffRim: "tyre",
    jointPullOut: "joint",
    camber: "lean",
    springOnStop: "stop",
    wheelLift: "lift",
    sliding: "slide",
    fit: "touch",
    belowRoad: "road",
    hubHeat: "heat",
    wheelShift: "shift",
    axisTilt: "axis",
  })[l.name];

export interface CompareRow {
  what: string;
  a: string;
  b: string;
  change: string;
}

/** Shift along the road and tilt of the steering axis: of the worse wheel under the load's push, or else under the hardest push. */
function alongRows(
  a: AxleReport,
  b: AxleReport | null,
  full: { a: FullPush | null; b: FullPush | null },
): [what: string, a: number | null, b: number | null, digits: number, unit: string][] {
  const pushed = pushes(a);
  const most = (r: AxleReport | null, of: FullPush | null, key: "wheelShiftMm" | "axisTiltDeg"): number | null =>
    !pushed ? (r ? (of?.[key] ?? null) : null) : r ? Math.max(...[r.left.push, r.right.push].map((p) => Math.abs(p?.[key] ?? 0))) : null;
  if (!pushed && !full.a && !full.b) return [];
  const when = pushed ? "under the push" : "at full push";
  return [
    [`Shift ${when}, mm`, most(a, full.a, "wheelShiftMm"), most(b, full.b, "wheelShiftMm"), 1, ""],
    [`Axis tilt ${when}`, most(a, full.a, "axisTiltDeg"), most(b, full.b, "axisTiltDeg"), 1, "°"],
  ];
}

/** A against B under the same load, every number with its difference. `safe`: km/h at the chosen radius, null: not known yet. `full`: what the
 * drive's hardest push does, null: it does not push this axle; under a load that pushes, what that does stands instead. */
export function compareRows(
  a: AxleReport,
  b: AxleReport | null,
  safe: { radiusM: number; a: number | null; b: number | null },
  full: { a: FullPush | null; b: FullPush | null },
): CompareRow[] {
  const side = outerSide(a.lateralG);
  const other: Side = side === "right" ? "left" : "right";
  const none = "–";
  const row = (what: string, f: (r: AxleReport) => number, digits: number, unit: string): CompareRow => {
    const x = f(a);
    const y = b ? f(b) : null;
    return {
      what,
      a: `${fixed(x, digits)}${unit}`,
      b: y === null ? none : `${fixed(y, digits)}${unit}`,
      change: y === null ? none : `${signed(y - x, digits)}${unit}`,
    };
  };
  const verdict = (r: AxleReport): string => (r.firstToGive.utilization >= 1 ? "gives" : "holds");
  return [
    row("Outer lean", (r) => r[side].camberDeg, 1, "°"),
    row("Inner lean", (r) => r[other].camberDeg, 1, "°"),
    row("Body roll", (r) => r.rollDeg, 1, "°"),
    {
      what: "Closest limit",
      a: `${limitShort(a.firstToGive)} ${numberOf(a.firstToGive)}`,
      b: b ? `${limitShort(b.firstToGive)} ${numberOf(b.firstToGive)}` : none,
      change: b ? verdict(b) : none,
    },
    {
      what: `Safe at ${fixed(safe.radiusM, 1).replace(/\.0$/, "")} m, km/h`,
      a: safe.a === null ? none : fixed(safe.a, 1),
      b: safe.b === null ? none : fixed(safe.b, 1),
      change: safe.a === null || safe.b === null ? none : signed(safe.b - safe.a, 1),
    },
    ...alongRows(a, b, full).map(([what, x, y, digits, unit]) => ({
      what,
      a: x === null ? none : `${fixed(Math.abs(x), digits)}${unit}`,
      b: y === null ? none : `${fixed(Math.abs(y), digits)}${unit}`,
      change: x === null || y === null ? none : `${signed(Math.abs(y) - Math.abs(x), digits)}${unit}`,
    })),
  ];
}
