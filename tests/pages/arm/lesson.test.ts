import { describe, expect, it } from "vitest";
import { begun, LESSON_STEPS, type LessonFacts, NEW_LESSON, watched } from "../../../src/pages/arm/state/lesson.ts";

const still: LessonFacts = { pushN: 0, pressN: 0, lateralG: 0.8, leanDeg: 6.6, forkMm: 61, bendMm: 2.2, shiftMm: 0.15, arms: "as it was", rigidSeen: false };

describe("a step of the lesson", () => {
  it.each([
    ["push", { pushN: -5 }, { pushN: 4, pressN: 9 }],
    ["press", { pressN: 5 }, { pressN: -4, pushN: 9 }],
    ["load", { lateralG: 0.9 }, { lateralG: 0.85 }],
    ["lean", { rigidSeen: true }, { leanDeg: 5 }],
    ["fork", { forkMm: 56 }, { forkMm: 58, arms: "another" }],
    ["change", { leanDeg: 6.4, arms: "taller" }, { leanDeg: 6.6, arms: "taller" }],
  ] as const)("%s is done by doing it, and by nothing less", (step, enough, less) => {
    const lesson = begun(NEW_LESSON, step, still);
    expect(watched(lesson, still)).toBe(lesson);
    expect(watched(lesson, { ...still, ...less }).done).toEqual([]);
    const done = watched(lesson, { ...still, ...enough });
    expect(done.done).toEqual([step]);
    expect(watched(done, still)).toBe(done);
  });

  it("change does not count a lower lean that came from less cornering", () => {
    const lesson = begun(NEW_LESSON, "change", still);
    const eased = watched(lesson, { ...still, lateralG: 0.4, leanDeg: 3, arms: "taller" });
    expect(eased.done).toEqual([]);
    expect(eased.base).toEqual({ lateralG: 0.4, leanDeg: 3, forkMm: 61, bendMm: 2.2, shiftMm: 0.15, arms: "taller" });
    expect(watched(eased, { ...still, lateralG: 0.4, leanDeg: 2.9, arms: "taller still" }).done).toEqual(["change"]);
  });

  it("a wheel that leans inwards is helped by leaning less inwards", () => {
    const inward = { ...still, leanDeg: -4 };
    const lesson = begun(NEW_LESSON, "change", inward);
    expect(watched(lesson, { ...inward, leanDeg: -4.5, arms: "x" }).done).toEqual([]);
    expect(watched(lesson, { ...inward, leanDeg: -3.5, arms: "x" }).done).toEqual(["change"]);
  });
});

describe("the lesson", () => {
  it("watches nothing before it is started", () => {
    expect(watched(NEW_LESSON, { ...still, pushN: 9 })).toBe(NEW_LESSON);
  });

  it("has nothing to move on an arm without a fork", () => {
    const straight = { ...still, forkMm: null };
    expect(watched(begun(NEW_LESSON, "fork", straight), straight).done).toEqual(["fork"]);
  });

  it("goes through six steps and keeps its ticks through a reload", () => {
    let lesson = NEW_LESSON;
    const facts: LessonFacts = { ...still, pushN: 6, pressN: 6, lateralG: 0.95, leanDeg: 6, forkMm: 40, arms: "taller", rigidSeen: true };
    for (const step of LESSON_STEPS) {
      expect(lesson.done).not.toContain(step);
      lesson = begun(lesson, step, still);
      lesson = watched(JSON.parse(JSON.stringify(lesson)), step === "change" || step === "fork" ? { ...facts, lateralG: 0.8 } : facts);
    }
    expect(lesson.done).toEqual(LESSON_STEPS);
  });
});
