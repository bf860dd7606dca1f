import { type ArmName, SIDES, type Side } from "../../../core/design/types.ts";
import { numberOr, oneOf } from "../../../state/read.ts";
import { defineSlice } from "../../../state/slice.ts";
import { type Lesson, NEW_LESSON, readLesson } from "./lesson.ts";

/** How the arm sheet shows an arm; kept with the session, not undone. */
export interface ArmView {
  name: ArmName;
  /** whose arm is changed: one side's alone, or (null) the one that both share */
  side: Side | null;
  /** the hand on the arm's ball joint, N: forward along the road, and up */
  pushN: number;
  pressN: number;
  lesson: Lesson;
}

const FORCE_MOST_N = 1000;

export const armSlice = defineSlice<ArmView>("arm", { name: "lower", side: null, pushN: 0, pressN: 0, lesson: NEW_LESSON }, (raw) => ({
  name: oneOf(raw.name, ["lower", "upper"] as const, "lower"),
  side: oneOf(raw.side, SIDES, null),
  pushN: numberOr(raw.pushN, 0, -FORCE_MOST_N, FORCE_MOST_N),
  pressN: numberOr(raw.pressN, 0, -FORCE_MOST_N, FORCE_MOST_N),
  lesson: readLesson(raw.lesson),
}));
