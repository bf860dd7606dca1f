import type { Side } from "../core/design/types.ts";

/** How the motion page is looked at; kept with the session, not undone. */
export interface MotionView {
  /** name of the manoeuvre */
  run: string;
  /** numbers that were set, by manoeuvre and key; what is missing stands at its default */
  numbers: Readonly<Record<string, Readonly<Record<string, number>>>>;
  /** whose curves are drawn; null: the wheel that has most to bear */
  wheel: Side | null;
  /** at a tenth of the speed */
  slow: boolean;
}

export const INITIAL_MOTION_VIEW: MotionView = {
  run: "singleBump",
  numbers: { singleBump: { lateralG: 0.5, heightMm: 4, lengthMm: 120 }, slalom: { lateralG: 0.5 }, washboard: { heightMm: 3 }, kerbStrike: { angleDeg: 5 } },
  wheel: null,
  slow: true,
};

/** With one number of a manoeuvre set. */
export const withNumber = (view: MotionView, run: string, key: string, value: number): MotionView => ({
  ...view,
  numbers: { ...view.numbers, [run]: { ...view.numbers[run], [key]: value } },
});
