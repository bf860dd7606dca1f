import { SIDES, type Side } from "../../../core/design/types.ts";
import { fieldsOf, flagOr, oneOf, wordOr } from "../../../state/read.ts";
import { defineSlice } from "../../../state/slice.ts";

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

type Numbers = MotionView["numbers"];

/** Numbers by manoeuvre and key; which keys a manoeuvre has, and their ranges, is looked at where they are used. */
const readNumbers = (raw: unknown): Numbers =>
  Object.fromEntries(
    Object.entries(fieldsOf(raw)).map(([run, set]) => [
      run,
      Object.fromEntries(Object.entries(fieldsOf(set)).filter((e): e is [string, number] => Number.isFinite(e[1]))),
    ]),
  );

const INITIAL: MotionView = {
  run: "singleBump",
  numbers: { singleBump: { lateralG: 0.5, heightMm: 4, lengthMm: 120 }, slalom: { lateralG: 0.5 }, washboard: { heightMm: 3 }, kerbStrike: { angleDeg: 5 } },
  wheel: null,
  slow: true,
};

export const motionSlice = defineSlice<MotionView>("motion", INITIAL, (raw) => ({
  run: wordOr(raw.run, INITIAL.run),
  numbers: typeof raw.numbers === "object" ? readNumbers(raw.numbers) : INITIAL.numbers,
  wheel: oneOf(raw.wheel, SIDES, null),
  slow: flagOr(raw.slow, INITIAL.slow),
}));

/** With one number of a manoeuvre set. */
export const withNumber = (view: MotionView, run: string, key: string, value: number): MotionView => ({
  ...view,
  numbers: { ...view.numbers, [run]: { ...view.numbers[run], [key]: value } },
});
