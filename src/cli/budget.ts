import type { AxleReport, StiffPart } from "../core/analysis.ts";
import { SIDES, type Side } from "../core/design/types.ts";
import { MOTION_STEPS, PART_STEPS } from "../view/words.ts";
import { num, signed, table } from "./table.ts";

const DIGITS = 3;
const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);

export interface BudgetRow {
  words: string;
  left: number;
  right: number;
}

/** Lean of both wheels by motion, in the order of the road from wheel to body. */
export function motionRows(report: AxleReport): BudgetRow[] {
  return MOTION_STEPS.map((step) => {
    const of = (side: Side): number => sum(step.parts.map((p) => report[side].camberBudgetDeg.byMotion[p]));
    return { words: step.term === "" ? step.words : `${step.words} (${step.term})`, left: of("left"), right: of("right") };
  });
}

export interface PartRow extends BudgetRow {
  /** change of each wheel's camber when these parts are made 1 % stiffer; null: nothing to stiffen */
  stiffer: Record<Side, number> | null;
}

/** Lean of both wheels by the parts whose give is to blame, both sides of the car together, largest first. */
export function partRows(report: AxleReport): PartRow[] {
  const row = (words: string, keys: readonly string[]): PartRow => {
    const of = (side: Side): number => {
      const budget: Record<string, number> = report[side].camberBudgetDeg.byPart;
      return sum(keys.map((k) => budget[k]!));
    };
    const stiff = keys.filter((k) => Object.hasOwn(report.left.camberPer1PercentStifferDeg, k));
    const per = (side: Side): number => sum(stiff.map((k) => report[side].camberPer1PercentStifferDeg[k as StiffPart]));
    return { words, left: of("left"), right: of("right"), stiffer: stiff.length === 0 ? null : { left: per("left"), right: per("right") } };
  };
  const rows = PART_STEPS.map((step) =>
    row(
      step.words,
      step.parts.flatMap((p) => SIDES.map((s) => `${s}.${p}`)),
    ),
  );
  rows.push(row("anti-roll bar", ["antiRollBar"]), row("rest of the car", ["restOfCar"]));
  const size = (r: PartRow): number => Math.max(Math.abs(r.left), Math.abs(r.right));
  return rows.sort((a, b) => size(b) - size(a));
}

const SHOWN_DEG = 0.5 * 10 ** -DIGITS;
const worthTelling = (r: BudgetRow): boolean => Math.max(Math.abs(r.left), Math.abs(r.right)) >= SHOWN_DEG;
const angles = (l: number, r: number): string[] => [signed(l, DIGITS), signed(r, DIGITS)];

export function motionTable(report: AxleReport): string {
  const rows = motionRows(report);
  return table(
    ["what moved", "left, °", "right, °"],
    [
      ...rows.filter(worthTelling).map((r) => [r.words, ...angles(r.left, r.right)]),
      ["together (camber)", ...angles(sum(rows.map((r) => r.left)), sum(rows.map((r) => r.right)))],
    ],
  );
}

export function partTable(report: AxleReport): string {
  const { left, right } = report;
  const per = (r: PartRow): string[] => (r.stiffer ? [signed(r.stiffer.left, 5), signed(r.stiffer.right, 5)] : ["", ""]);
  const shown = partRows(report).filter((r) => worthTelling(r) || (r.stiffer && Math.max(Math.abs(r.stiffer.left), Math.abs(r.stiffer.right)) >= 1e-5));
  const l = left.camberBudgetDeg.byPart;
  const r = right.camberBudgetDeg.byPart;
  return table(
    ["which part flexes (both sides of the car)", "left, °", "right, °", "1 % stiffer: left, °", "right, °"],
    [
      ["at rest on a level road", ...angles(l.atRest, r.atRest), "", ""],
      ...shown.map((p) => [p.words, ...angles(p.left, p.right), ...per(p)]),
      ["small parts together", num(l.unassigned, 6), num(r.unassigned, 6), "", ""],
      ["together (camber)", ...angles(left.camberDeg, right.camberDeg), "", ""],
    ],
  );
}
