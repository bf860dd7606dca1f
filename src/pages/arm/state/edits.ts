import { resolveMaterial } from "../../../core/arm/materials.ts";
import { armVolumeMm3, relaidAtSameVolume } from "../../../core/arm/plastic.ts";
import { armLengthMm } from "../../../core/design/corner-geometry.ts";
import { sectionSize } from "../../../core/design/section-shapes.ts";
import { cornerOf } from "../../../core/design/sides.ts";
import { type Arm, type ArmLayout, type ArmName, type Scenario, SIDES, type Side } from "../../../core/design/types.ts";
import type { Doc } from "../../../state/document.ts";
import { at, withAt } from "../../../state/edit.ts";
import { fixed, holes } from "../../../view/format.ts";
import { ARM_WORDS } from "../../../view/words.ts";
import { type ArmHandleId, boundsOf, HANDLE_WORDS, measureOf } from "../picture/handles.ts";
import { sizeWords, withHeight, withWidth } from "../picture/section.ts";
import { LAYOUT_WORDS } from "../picture/words.ts";

/** Which arm is worked on: the one that both sides share (side null), or one side's alone. */
export interface ArmChoice {
  name: ArmName;
  side: Side | null;
}

const keyOf = (name: ArmName): "upperArm" | "lowerArm" => (name === "upper" ? "upperArm" : "lowerArm");

/** The arm as one side has it. */
export const armOn = (scenario: Scenario, side: Side, name: ArmName): Arm => cornerOf(scenario, side)[keyOf(name)];

/**
 * Sets a field of an arm. For both sides: the shared value, and what a side has of its own there goes along. For one
 * side: its own value, the shared one stays.
 */
export function withArm(scenario: Scenario, { name, side }: ArmChoice, field: keyof Arm, value: unknown): Scenario {
  const path = `${keyOf(name)}.${field}`;
  if (side) return withAt(scenario, `${side}.${path}`, value);
  let out = withAt(scenario, `corner.${path}`, value);
  for (const s of SIDES) if (at(out[s], path) !== undefined) out = withAt(out, `${s}.${path}`, value);
  return out;
}

/** All of an arm at once. */
export function withWholeArm(scenario: Scenario, choice: ArmChoice, arm: Arm): Scenario {
  let out = scenario;
  for (const field of Object.keys(arm) as (keyof Arm)[]) out = withArm(out, choice, field, arm[field]);
  return out;
}

/** Whether left and right differ in this arm. */
export const sidesDiffer = (scenario: Scenario, name: ArmName): boolean =>
  JSON.stringify(armOn(scenario, "left", name)) !== JSON.stringify(armOn(scenario, "right", name));

/** One arm for both sides; what a side had of its own is gone. */
export function madeAlike(scenario: Scenario, name: ArmName, arm: Arm): Scenario {
  let out = withAt(scenario, `corner.${keyOf(name)}`, arm);
  for (const s of SIDES) {
    const { [keyOf(name)]: _own, ...rest } = out[s];
    out = { ...out, [s]: rest };
  }
  return out;
}

const SECTION_STEP_MM = 0.2;
const STEM_LEAST_MM = 0.5;
export type Grid = "coarse" | "half" | "fine";

/** Step of a measure, mm: holes for places, a nozzle's width for sections; 0.1 mm when fine. */
export function stepOf(id: ArmHandleId, grid: Grid, pitchMm: number): number {
  if (grid === "fine") return 0.1;
  if (id === "height" || id === "width") return grid === "coarse" ? 2.5 * SECTION_STEP_MM : SECTION_STEP_MM;
  return grid === "coarse" ? pitchMm : pitchMm / 2;
}

const snapped = (mm: number, step: number): number => Math.round(Math.round(mm / step) * step * 1e6) / 1e6;

/** The scenario with a handle's measure set, kept in bounds and on a step of `stepMm`. */
export function withMeasure(scenario: Scenario, choice: ArmChoice, arm: Arm, lengthMm: number, id: ArmHandleId, mm: number, stepMm: number): Scenario {
  const { min, max } = boundsOf(id, arm, lengthMm);
  const value = Math.max(min, Math.min(max, snapped(mm, stepMm)));
  if (Math.abs(value - measureOf(id, arm, lengthMm)) < 1e-9) return scenario;
  switch (id) {
    case "fork":
      // a stem too short to be made is none
      return withArm(scenario, choice, "stemShare", lengthMm - value < STEM_LEAST_MM ? 0 : Math.min(0.95, Math.round((1 - value / lengthMm) * 1e6) / 1e6));
    case "spreadFront":
    case "spreadRear":
      return withArm(scenario, choice, "spreadMm", value);
    case "height":
      return withArm(scenario, choice, "section", withHeight(arm.section, value));
    case "width":
      return withArm(scenario, choice, "section", withWidth(arm.section, value));
  }
}

/** "lower arm, fork point 60 % out", "lower arm, spread 6 holes", "right lower arm, height 5.0 mm". */
export function changeName(choice: ArmChoice, arm: Arm, lengthMm: number, id: ArmHandleId, pitchMm: number): string {
  const whose = armWords(choice);
  const mm = measureOf(id, arm, lengthMm);
  if (id === "fork") return `${whose}, fork point ${fixed((1 - arm.stemShare) * 100, 0)} % out`;
  if (id === "spreadFront" || id === "spreadRear") return `${whose}, spread ${holes(mm, pitchMm)} holes`;
  return `${whose}, ${HANDLE_WORDS[id]} ${fixed(mm, 1)} mm`;
}

export const armWords = ({ name, side }: ArmChoice): string => `${side ? `${side} ` : ""}${ARM_WORDS[name]}`;

/** What stays when an arm gets another layout: its mass of material, or the section of one of its bars. */
export const KEEPS = ["plastic", "bar"] as const;
export type Keep = (typeof KEEPS)[number];
export const KEEP_WORDS: Record<Keep, string> = { plastic: "as much plastic as now", bar: "the same bar" };

export interface Relaid {
  /** name of the change for undo */
  name: string;
  scenario: Scenario;
  /** the new arm in words: "one bar 8.6 × 4.6 mm, 3.0 g" */
  words: string;
  /** what the two were compared by, one sentence */
  compared: string;
}

/** The scenario with this arm in another layout, its mass or its bar kept. */
export function relaid(scenario: Scenario, choice: ArmChoice, arm: Arm, lengthMm: number, layout: ArmLayout, keep: Keep): Relaid {
  const next: Arm = keep === "plastic" ? relaidAtSameVolume(arm, lengthMm, layout) : { ...arm, layout };
  const words = (a: Arm): string => `${BARS[a.layout]} ${sizeWords(a.section)}, ${fixed(massG(a, lengthMm), 1)} g`;
  return {
    name: `${armWords(choice)}, ${LAYOUT_WORDS[layout]}, ${KEEP_WORDS[keep]}`,
    scenario: withWholeArm(scenario, choice, next),
    words: words(next),
    compared: `Compared at ${keep === "plastic" ? "the same mass of material and height" : "the same section of a bar"}: ${words(arm)} before, ${words(next)} now.`,
  };
}

const BARS: Record<ArmLayout, string> = { straight: "one bar", split: "fork of bars", A: "two bars", twin: "two bars and a cross piece" };

/** Mass of an arm's bars without blocks and eyes, g. */
const massG = (arm: Arm, lengthMm: number): number => (armVolumeMm3(arm, lengthMm) * resolveMaterial(arm.material).densityKgPerM3) / 1e6;

const TAKES = ["whole", "height", "width"] as const;
export type Take = (typeof TAKES)[number];

export interface TakeRow {
  take: Take;
  words: string;
  /** name of the change for undo */
  name: string;
  /** null: nothing would change */
  scenario: Scenario | null;
}

/** The arm as one straight bar, by what is kept; none for one that is straight. */
export function asStraight(scenario: Scenario, choice: ArmChoice, shownSide: Side): (Relaid & { keep: Keep })[] {
  const corner = cornerOf(scenario, shownSide);
  const arm = corner[keyOf(choice.name)];
  if (arm.layout === "straight") return [];
  return KEEPS.map((keep) => ({ keep, ...relaid(scenario, choice, arm, armLengthMm(corner, choice.name), "straight", keep) }));
}

/** What can be taken from B's arm, each with the design that it makes. */
export function takesFromB(doc: Doc, choice: ArmChoice, shownSide: Side): TakeRow[] {
  const mine = armOn(doc.a, shownSide, choice.name);
  const theirs = armOn(doc.b, shownSide, choice.name);
  const size = sectionSize(theirs.section);
  const changed = (next: Scenario): Scenario | null => (JSON.stringify(next) === JSON.stringify(doc.a) ? null : next);
  const whose = armWords(choice);
  const rows: TakeRow[] = [{ take: "whole", words: "The whole arm", name: `whole ${whose} from B`, scenario: changed(withWholeArm(doc.a, choice, theirs)) }];
  if (sectionSize(mine.section).round) {
    rows.push({
      take: "height",
      words: `Its thickness only, ${fixed(size.heightMm, 1)} mm`,
      name: `${whose} thickness from B`,
      scenario: changed(withArm(doc.a, choice, "section", withHeight(mine.section, size.heightMm))),
    });
    return rows;
  }
  rows.push({
    take: "height",
    words: `Its height only, ${fixed(size.heightMm, 1)} mm`,
    name: `${whose} height from B`,
    scenario: changed(withArm(doc.a, choice, "section", withHeight(mine.section, size.heightMm))),
  });
  rows.push({
    take: "width",
    words: `Its width only, ${fixed(size.widthMm, 1)} mm`,
    name: `${whose} width from B`,
    scenario: changed(withArm(doc.a, choice, "section", withWidth(mine.section, size.widthMm))),
  });
  return rows;
}

/** times by which a stand-in is stiffer that hardly bends */
const RIGID = 100;

/** The design with this arm on both sides as good as rigid: what the wheel would do if it did not bend. */
export function withRigidArm(scenario: Scenario, name: ArmName, resolve: (m: Arm["material"]) => Exclude<Arm["material"], string>): Scenario {
  let out = scenario;
  for (const side of SIDES) {
    const m = resolve(armOn(scenario, side, name).material);
    const shear = (m as { shearMPa?: number }).shearMPa;
    out = withArm(out, { name, side }, "material", { ...m, youngMPa: m.youngMPa * RIGID, ...(shear === undefined ? {} : { shearMPa: shear * RIGID }) });
  }
  return out;
}

export const sectionWords = (arm: Arm): string => `${arm.layout === "straight" ? "" : "legs "}${sizeWords(arm.section)}`;
