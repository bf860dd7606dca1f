import { fieldsOf, numberOr, oneOf } from "../../../state/read.ts";

/** Six steps on the user's own design; each is done by doing it. */
export const LESSON_STEPS = ["push", "press", "load", "lean", "fork", "change"] as const;
export type LessonStep = (typeof LESSON_STEPS)[number];

/** What stood on the sheet when a step began, to tell what has been done since. */
export interface LessonBase {
  lateralG: number;
  leanDeg: number;
  /** from the inner pins to the fork point, mm; null: the arm has none */
  forkMm: number | null;
  /** the bend under the spring's push, null without one, and the shift under the drive's, mm */
  bendMm: number | null;
  shiftMm: number;
  /** the arms as they were, in letters */
  arms: string;
}

/** Where the lesson stands; plain data that survives a reload. `step` null: not running. */
export interface Lesson {
  step: LessonStep | null;
  done: readonly LessonStep[];
  base: LessonBase | null;
}

export const NEW_LESSON: Lesson = { step: null, done: [], base: null };

/** longest description of arms that a lesson keeps, letters */
const ARMS_MOST = 20_000;

/** A lesson from plain values of unknown origin. */
export function readLesson(raw: unknown): Lesson {
  const r = fieldsOf(raw);
  const base = fieldsOf(r.base);
  const lateralG = numberOr(base.lateralG, null);
  const leanDeg = numberOr(base.leanDeg, null);
  const shiftMm = numberOr(base.shiftMm, null);
  return {
    step: oneOf(r.step, LESSON_STEPS, null),
    done: LESSON_STEPS.filter((s) => Array.isArray(r.done) && r.done.includes(s)),
    base:
      lateralG !== null && leanDeg !== null && shiftMm !== null && typeof base.arms === "string" && base.arms.length <= ARMS_MOST
        ? { lateralG, leanDeg, forkMm: numberOr(base.forkMm, null), bendMm: numberOr(base.bendMm, null), shiftMm, arms: base.arms }
        : null,
  };
}

/** What the lesson looks at: the hand on the arm, the load and the answer. */
export interface LessonFacts extends LessonBase {
  pushN: number;
  pressN: number;
  /** the arm is held rigid for a look, and the answer to that is at hand */
  rigidSeen: boolean;
}

/** a push that is plain to see, N */
const ENOUGH_N = 5;
/** change of cornering that is plain to see, g */
const ENOUGH_G = 0.1;
/** drop of the lean that counts as help, degrees */
const ENOUGH_DEG = 0.05;
/** way of the fork point that is plain to see, mm */
const ENOUGH_MM = 4;
/** the arrow keys add up in decimals */
const ROUNDING = 1e-6;

/** Whether the facts show that a step's action was taken. */
function stepDone(step: LessonStep, facts: LessonFacts, base: LessonBase | null): boolean {
  switch (step) {
    case "push":
      return Math.abs(facts.pushN) >= ENOUGH_N - ROUNDING;
    case "press":
      return Math.abs(facts.pressN) >= ENOUGH_N - ROUNDING;
    case "load":
      return base !== null && Math.abs(facts.lateralG - base.lateralG) >= ENOUGH_G - ROUNDING;
    case "lean":
      return facts.rigidSeen;
    case "fork":
      // an arm without a fork has nothing to move
      return facts.forkMm === null || (base !== null && base.forkMm !== null && Math.abs(facts.forkMm - base.forkMm) >= ENOUGH_MM - ROUNDING);
    case "change":
      return base !== null && facts.arms !== base.arms && facts.lateralG === base.lateralG && Math.abs(base.leanDeg) - Math.abs(facts.leanDeg) >= ENOUGH_DEG;
  }
}

/** Begins a step; what stands now is what its action is measured against. */
export const begun = (lesson: Lesson, step: LessonStep, facts: LessonBase): Lesson => ({
  ...lesson,
  step,
  base: { lateralG: facts.lateralG, leanDeg: facts.leanDeg, forkMm: facts.forkMm, bendMm: facts.bendMm, shiftMm: facts.shiftMm, arms: facts.arms },
});

/**
 * The lesson after a look at the facts: ticks the running step when its action was taken, and measures the last
 * two steps anew when the load is another one. The same object when nothing changed.
 */
export function watched(lesson: Lesson, facts: LessonFacts): Lesson {
  const { step, base } = lesson;
  if (step === null) return lesson;
  if (base === null || ((step === "change" || step === "fork") && !lesson.done.includes(step) && base.lateralG !== facts.lateralG))
    return watchedFrom(begun(lesson, step, facts), facts);
  return watchedFrom(lesson, facts);
}

function watchedFrom(lesson: Lesson, facts: LessonFacts): Lesson {
  const { step } = lesson;
  if (step === null || lesson.done.includes(step) || !stepDone(step, facts, lesson.base)) return lesson;
  return { ...lesson, done: [...lesson.done, step] };
}
