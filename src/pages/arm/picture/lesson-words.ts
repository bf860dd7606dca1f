import { degrees, fixed, newtons } from "../../../view/format.ts";
import type { Lesson } from "../state/lesson.ts";
import type { ArmView } from "../state/slice.ts";
import type { ArmFacts } from "./facts.ts";
import { bendAndShift, way } from "./words.ts";

export interface LessonInput {
  lesson: Lesson;
  look: ArmView;
  a: ArmFacts;
  b: ArmFacts;
  leanDeg: number | null;
  rigidDeg: number | null;
  rigidOn: boolean;
}

/** What to do in the running step, and what has come of it so far. */
export function lessonWords(x: LessonInput): { todo: string; reading: string } {
  const { lesson, look, a, b } = x;
  switch (lesson.step) {
    case "push":
      return {
        todo: "Drag the ring on the plan's ball joint up or down by 5\u2009N: along the road.",
        reading:
          look.pushN === 0 ? "" : `${Math.abs(look.pushN)}\u2009N move A ${way(look.pushN / a.stiffness.foreAft)}, B ${way(look.pushN / b.stiffness.foreAft)}.`,
      };
    case "press": {
      const told = (f: ArmFacts): string => (f.stiffness.vertical > 0 ? way(look.pressN / f.stiffness.vertical) : "freely");
      return {
        todo:
          a.stiffness.vertical > 0
            ? "Drag the ring in the picture from behind by 5\u2009N. The spring seat is held."
            : "No spring sits on this arm: any press swings it. Take the arm with the spring.",
        reading: look.pressN === 0 ? "" : `${Math.abs(look.pressN)}\u2009N move A ${told(a)}, B ${told(b)}.`,
      };
    }
    case "load": {
      const u = a.under;
      return {
        todo: "Move the cornering pointer by 0.1\u2009g and watch the spring's arrow.",
        reading: u
          ? `The spring's ${fixed(u.springN, 0)}\u2009N bend A by ${way(u.state.bowMm)}; ${a.drive.own ? "this load's push" : "the drive's hardest push"}, ${newtons(a.drive.pushN)}, shifts it by ${way(a.drive.shiftMm)}.`
          : "",
      };
    }
    case "lean":
      return {
        todo: "Stop the bend and look at the wheel.",
        reading: !x.rigidOn || x.leanDeg === null ? "" : x.rigidDeg === null ? "solving…" : `lean ${degrees(x.leanDeg)} → ${degrees(x.rigidDeg)}`,
      };
    case "fork": {
      const both = bendAndShift(a);
      const base = lesson.base;
      if (a.arm.layout !== "split") return { todo: "This arm has no fork point to move. Go on, or choose fork under shape.", reading: "" };
      const from = (was: number | null | undefined, now: number): string =>
        typeof was === "number" && Math.abs(was - now) > 0.005 ? `${way(was)} → ${way(now)}` : way(now);
      return {
        todo: "Drag it on the drawing, or type in its field.",
        reading: `${a.drive.own ? "The push" : "The drive"} shifts it ${from(base?.shiftMm, a.drive.shiftMm)}${both ? `, the spring bends it ${from(base?.bendMm, both.bendMm)}` : ""}.`,
      };
    }
    case "change":
      return {
        todo: "Change the arm until the wheel leans less under the same load: shape, height, material.",
        reading: lesson.base === null || x.leanDeg === null ? "" : `lean ${degrees(lesson.base.leanDeg, 2)} → ${degrees(x.leanDeg, 2)}`,
      };
    default:
      return { todo: "", reading: "" };
  }
}
