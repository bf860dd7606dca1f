import { expect, it } from "vitest";
import { analyze } from "../../src/core/analyze.ts";
import { sampleWorlds } from "../../src/core/doubt/sample.ts";
import { toTheEnd } from "../../src/core/steps.ts";
import type { ReportData, ReportRequest } from "../../src/report/data.ts";
import { atMostLine, sureSection, sureTask, sureTold } from "../../src/report/sure.ts";
import { rangeOf } from "../../src/scenario/ranges.ts";
import { markupFaults, textOf } from "../support/markup.ts";
import { shipped } from "../support/shipped.ts";

const request: ReportRequest = {
  scenario: shipped("heavy-straight.json"),
  b: null,
  load: { lateralG: 0.4, bumpLeftMm: 0, bumpRightMm: 0 },
  caseName: null,
  radiusM: 6,
  trackName: "car park",
  shock: 1,
  chance: 0.1,
  date: "2026-02-03",
};

it("the report tells in a few lines how sure it is, and the speed to drive at most", () => {
  const { scenario } = request;
  const samples = toTheEnd(sampleWorlds({ ...sureTask(request), samples: 16 }, rangeOf));
  const sure = samples && sureTold(request, samples);
  const answer = analyze(scenario, request.load, { radiusM: 6 });
  if (!sure?.safe || !answer.ok) throw new Error("nothing told");
  // all that the section reads
  const data = { request, sure, a: { corners: { right: scenario.corner }, report: answer.report } } as unknown as ReportData;
  const markup = sureSection(data);
  expect(markupFaults(markup)).toEqual([]);
  const text = textOf(markup);
  expect(text).toContain("How sure it is");
  expect(text).toContain(`From 16 cars tried, their values drawn within what is known of them (seed 1).`);
  // a speed below which one car of ten gives is no faster than the middle one
  expect(sure.safe.atMost.chance).toBe(0.1);
  expect(sure.safe.atMost.speedMps).toBeLessThanOrEqual(sure.safe.band.median);
  expect(atMostLine(data)).toMatch(/^Drive at most \d+\.\d\u2009km\/h.* on 6 m \(car park\) for a chance of 10 % that something gives\.$/);
  // none of 16: up to 3.841459/19.841459 = 19 % by the score interval
  expect(text).toContain("Under the load of this report the chance that anything gives is 0 % (0 to 19 %).");
  expect(sureSection({ ...data, sure: null })).toBe("");
});
