import { sectionSize } from "../../../core/design/section-shapes.ts";
import type { Arm } from "../../../core/design/types.ts";
import type { V2 } from "../../../core/vec.ts";
import { fixed, holes, withUnit } from "../../../view/format.ts";
import { type PlanShape, type PlanView, planPx } from "./plan.ts";

/** What can be taken in hand on the arm sheet. */
export type ArmHandleId = "fork" | "spreadFront" | "spreadRear" | "height" | "width";

export interface ArmHandle {
  id: ArmHandleId;
  at: V2;
  name: string;
  /** the measure that it sets, mm */
  mm: number;
  min: number;
  max: number;
  words: string;
  axis: "across" | "up";
  /** mm of the measure per px to the right, or up */
  mmPerPx: number;
}

/** Bounds of a measure, mm; a wider value that a file brought along stays reachable. */
export function boundsOf(id: ArmHandleId, arm: Arm, lengthMm: number): { min: number; max: number } {
  const wide = (min: number, max: number, now: number): { min: number; max: number } => ({ min: Math.min(min, now), max: Math.max(max, now) });
  switch (id) {
    case "fork":
      return { min: 0.05 * lengthMm, max: lengthMm };
    case "spreadFront":
    case "spreadRear":
      return wide(8, 96, arm.spreadMm);
    case "height":
      return wide(1, 16, sectionSize(arm.section).heightMm);
    case "width":
      return wide(1, 16, sectionSize(arm.section).widthMm);
  }
}

/** The measure that a handle sets, mm: inner pins to fork, pin to pin, height, width. */
export function measureOf(id: ArmHandleId, arm: Arm, lengthMm: number): number {
  switch (id) {
    case "fork":
      return (1 - arm.stemShare) * lengthMm;
    case "spreadFront":
    case "spreadRear":
      return arm.spreadMm;
    case "height":
      return sectionSize(arm.section).heightMm;
    case "width":
      return sectionSize(arm.section).widthMm;
  }
}

const plainMm = (mm: number): string => withUnit(mm, 1, "mm").replace(".0", "");

export function measureWords(id: ArmHandleId, arm: Arm, lengthMm: number, pitchMm: number): string {
  const mm = measureOf(id, arm, lengthMm);
  switch (id) {
    case "fork":
      return `${fixed((1 - arm.stemShare) * 100, 0)} % of the way out, ${plainMm(mm)} from the inner pins, ${holes(mm, pitchMm)} holes`;
    case "spreadFront":
    case "spreadRear":
      return `${plainMm(mm)}, ${holes(mm, pitchMm)} holes`;
    default:
      return withUnit(mm, 1, "mm");
  }
}

export const HANDLE_WORDS: Record<ArmHandleId, string> = {
  fork: "fork point",
  spreadFront: "spread, front pin",
  spreadRear: "spread, rear pin",
  height: "height",
  width: "width",
};

export interface SectionBox {
  /** middle of the cut, px */
  at: V2;
  pxPerMm: number;
  /** px that the grips stand off the edge that they move */
  stalk: number;
}

export function armHandles(arm: Arm, shape: PlanShape, lengthMm: number, view: PlanView, cut: SectionBox, pitchMm: number): ArmHandle[] {
  const px = planPx(view, "a");
  const make = (id: ArmHandleId, at: V2, axis: "across" | "up", mmPerPx: number, name = HANDLE_WORDS[id]): ArmHandle => ({
    id,
    at,
    name,
    mm: measureOf(id, arm, lengthMm),
    ...boundsOf(id, arm, lengthMm),
    words: measureWords(id, arm, lengthMm, pitchMm),
    axis,
    mmPerPx,
  });
  const out: ArmHandle[] = [];
  if (shape.pivots.length === 2) {
    out.push(make("spreadFront", px(shape.pivots[0]!), "up", 2 / view.scale), make("spreadRear", px(shape.pivots[1]!), "up", -2 / view.scale));
  }
  if (shape.fork) out.push(make("fork", px(shape.fork), "across", 1 / view.scale));
  const size = sectionSize(arm.section);
  const legs = arm.layout === "straight" ? "" : "leg ";
  const grow = 2 / cut.pxPerMm;
  const top: V2 = [cut.at[0], cut.at[1] - (size.heightMm / 2) * cut.pxPerMm - cut.stalk];
  out.push(make("height", top, "up", grow, `${legs}${size.round ? "thickness" : "height"}`));
  if (!size.round) out.push(make("width", [cut.at[0] + (size.widthMm / 2) * cut.pxPerMm + cut.stalk, cut.at[1]], "across", grow, `${legs}width`));
  return out;
}
