import { describe, expect, it } from "vitest";
import type { Scenario } from "../../../src/core/design/types.ts";
import { createAnswersBeside, type MomentAnswers } from "../../../src/pages/axle/answers-beside.ts";
import { createAnswers } from "../../../src/state/answers.ts";
import type { Doc } from "../../../src/state/document.ts";
import type { BesideAnswer } from "../../../src/worker/beside.ts";
import { scenarioFile } from "../../view/fixture.ts";

const radiusM = 5;
const a = scenarioFile("heavy-forked");
const b = scenarioFile("heavy-straight");
const load = { lateralG: 0.6, bumpLeftMm: 0, bumpRightMm: 0 };
const raised = (mm: number): Doc => ({
  a: { ...a, corner: { ...a.corner, upperInner: { ...a.corner.upperInner, zMm: a.corner.upperInner.zMm + mm } } },
  b,
  load,
});

/** A worker that answers when the test says so, with an answer that names its question. */
function setUp() {
  const answers = { a: createAnswers(false, () => radiusM), b: createAnswers(true, () => radiusM) };
  const beside = createAnswers(false, () => radiusM);
  const asked: { q: { moment: number; doc: Doc } }[] = [];
  let reply: (q: never, answer: BesideAnswer) => void = () => undefined;
  let news = 0;
  const shown = createAnswersBeside(
    answers,
    (onAnswer) => {
      reply = onAnswer as typeof reply;
      return { ask: (q) => void asked.push({ q }) };
    },
    () => news++,
  );
  const behind = (): boolean => shown.behind();
  const frame = (doc: Doc, here = false): MomentAnswers => shown.of(doc, radiusM, answers.a.at(doc.a, doc.load, here ? "full" : "hand"), here);
  const answer = (i: number): void => {
    const { q } = asked[i]!;
    const { analysis } = beside.at(q.doc.a, q.doc.load, "live");
    reply(q as never, { a: analysis.ok ? { ok: true, report: analysis.report } : analysis, b: null });
  };
  return { frame, answer, behind, asked, news: () => news };
}

const of = (t: MomentAnswers): Scenario => t.doc.a;

describe("what is told while a hand drags", () => {
  it("comes from beside the page, A and B of one moment", () => {
    const { frame, answer, news } = setUp();
    const still = raised(0);
    const one = raised(1);
    frame(still, true);
    expect(of(frame(one))).toBe(still.a);
    answer(0);
    expect(news()).toBe(1);
    const told = frame(one);
    expect(of(told)).toBe(one.a);
    expect(told.b.drawn?.report.lateralG).toBe(load.lateralG);
  });

  it("is never older than two frames, answered or not", () => {
    const { frame } = setUp();
    const docs = Array.from({ length: 9 }, (_, i) => raised(i / 4));
    frame(docs[0]!, true);
    for (let i = 1; i < docs.length; i++) expect(docs.findIndex((d) => d.a === of(frame(docs[i]!)))).toBeGreaterThanOrEqual(i - 2);
  });

  it("comes within two frames of a hand that holds still, whether or not it is answered", () => {
    const { frame, behind } = setUp();
    frame(raised(0), true);
    const one = raised(1);
    frame(one);
    expect(behind()).toBe(true);
    frame(one);
    expect(of(frame(one))).toBe(one.a);
    expect(behind()).toBe(false);
  });

  it("is the newest: an answer that comes late does not take its place", () => {
    const { frame, answer, asked, news } = setUp();
    frame(raised(0), true);
    const [one, two, three] = [raised(1), raised(2), raised(3)];
    frame(one);
    frame(two);
    // the first answer is due now and is not there
    expect(of(frame(three))).toBe(three.a);
    for (const i of asked.keys()) answer(i);
    expect(news()).toBe(0);
    expect(of(frame(three))).toBe(three.a);
  });

  it("is the whole answer once the hand rests", () => {
    const { frame, answer } = setUp();
    frame(raised(0), true);
    const one = raised(1);
    frame(one);
    answer(0);
    const quick = frame(one);
    const whole = frame(one, true);
    if (!quick.a.ok || !whole.a.ok) throw new Error("no equilibrium");
    // what stiffening does is only in the whole answer
    expect(Object.keys(quick.a.report.right.camberPer1PercentStifferDeg)).toHaveLength(0);
    expect(Object.keys(whole.a.report.right.camberPer1PercentStifferDeg).length).toBeGreaterThan(5);
  });
});
