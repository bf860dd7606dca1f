import type { ArmName, Side } from "../core/design/types.ts";
import { type Lesson, NEW_LESSON } from "./lesson.ts";

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

export const INITIAL_ARM_VIEW: ArmView = { name: "lower", side: null, pushN: 0, pressN: 0, lesson: NEW_LESSON };
