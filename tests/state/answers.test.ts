import { describe, expect, it } from "vitest";
import { type Answer, type Answers, createAnswers, type LongQuestion } from "../../src/state/answers.ts";
import { expectRel } from "../support/close.ts";
import { scenarioFile } from "../view/fixture.ts";

describe("the answers of the page", () => {
  it("go with the curve that the page stands on, at rest of a hand too", () => {
    let radiusM = 4;
    const answers = createAnswers(false, () => radiusM);
    const scenario = scenarioFile("heavy-forked");
    const load = { lateralG: 0.8, bumpLeftMm: 0, bumpRightMm: 0 };
    const riseK = (): number => {
      const { analysis } = answers.at(scenario, load, "live");
      if (!analysis.ok) throw new Error(analysis.reason.message);
      return analysis.report.limits.find((l) => l.name === "hubHeat")?.demand ?? Number.NaN;
    };
    const small = riseK();
    radiusM = 9;
    // same cornering level: v = sqrt(a R), and friction heat grows as the speed, so by 3/2 on 9 m against 4 m
    expectRel(riseK(), 1.5 * small, 1e-6, "K above the air");
    expect(small).toBeGreaterThan(0);
  });
});

describe("a search that takes longer than a hand may wait", () => {
  const scenario = scenarioFile("heavy-forked");
  const load = { lateralG: 0.6, bumpLeftMm: 0, bumpRightMm: 0 };
  const whole = createAnswers(false, () => 4).at(scenario, load, "full").analysis;

  const patient = (ms: number): { answers: Answers; asked: LongQuestion[]; ended: () => number } => {
    const asked: LongQuestion[] = [];
    let ended = 0;
    const long = { patienceMs: { hand: ms, live: ms, full: ms }, ask: (q: LongQuestion) => void asked.push(q), end: () => void ended++ };
    return { answers: createAnswers(false, () => 4, long), asked, ended: () => ended };
  };
  const kind = (a: Answer): string => (a.analysis.ok ? "solved" : a.analysis.reason.kind);

  it("is left to others, asked for once, and its answer is the whole one", () => {
    const { answers, asked } = patient(-1);
    expect(kind(answers.at(scenario, load, "full"))).toBe("stopped");
    answers.at(scenario, load, "full");
    expect(asked).toEqual([{ scenario, load, radiusM: 4, depth: "full", rival: false }]);
    expect(answers.searching()).toBe(true);
    const before = answers.version();
    expect(answers.found(asked[0]!, whole, 900)).toBe(true);
    expect([answers.searching(), answers.version() > before]).toEqual([false, true]);
    expect(answers.at(scenario, load, "full").analysis).toBe(whole);
    expect(asked).toHaveLength(1);
  });

  it("is as deep as was asked; a deeper one is asked for once that is there, and what is known stands meanwhile", () => {
    const { answers, asked } = patient(-1);
    const hand = createAnswers(false, () => 4).at(scenario, load, "hand").analysis;
    expect(kind(answers.at(scenario, load, "hand"))).toBe("stopped");
    expect(answers.found(asked[0]!, hand, 900)).toBe(true);
    expect(answers.at(scenario, load, "full").analysis).toBe(hand);
    expect(asked.map((q) => q.depth)).toEqual(["hand", "full"]);
    expect(answers.found(asked[0]!, hand, 900)).toBe(false);
    expect(answers.found(asked[1]!, whole, 900)).toBe(true);
    expect(answers.at(scenario, load, "full").analysis).toBe(whole);
  });

  it("is dropped when something else is asked, and an answer to what was asked before is not taken", () => {
    const { answers, asked, ended } = patient(-1);
    answers.at(scenario, load, "hand");
    answers.at(scenario, { ...load, lateralG: 0.5 }, "hand");
    expect([asked.length, ended()]).toEqual([2, 1]);
    expect(answers.found(asked[0]!, whole, 900)).toBe(false);
    expect(kind(answers.at(scenario, { ...load, lateralG: 0.5 }, "hand"))).toBe("stopped");
  });

  it("can be ended by hand and begun again", () => {
    const { answers, asked, ended } = patient(-1);
    answers.at(scenario, load, "full");
    answers.stop();
    expect([answers.searching(), ended(), kind(answers.at(scenario, load, "full"))]).toEqual([false, 1, "stopped"]);
    expect(answers.found(asked[0]!, whole, 900)).toBe(false);
    answers.again();
    expect([answers.searching(), asked.length]).toEqual([true, 2]);
  });

  it("is waited for where nobody can search beside the page", () => {
    const { answers } = patient(-1);
    expect(kind(answers.at(scenario, load, "full"))).toBe("stopped");
    answers.alone();
    expect(answers.at(scenario, load, "full").analysis).toEqual(whole);
  });

  it("is waited for at once where asking shows that nobody can", () => {
    const long = { patienceMs: { hand: -1, live: -1, full: -1 }, ask: () => answers.alone(), end: () => {} };
    const answers: Answers = createAnswers(false, () => 4, long);
    expect(answers.at(scenario, load, "full").analysis).toEqual(whole);
    expect(answers.searching()).toBe(false);
  });

  it("is no long one within the patience of a hand: the answer is the page's own", () => {
    const { answers, asked } = patient(60_000);
    expect(answers.at(scenario, load, "full").analysis).toEqual(whole);
    expect(asked).toEqual([]);
  });
});
