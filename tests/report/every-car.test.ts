import { describe, expect, it } from "vitest";
import { toTheEnd } from "../../src/core/steps.ts";
import { type ChangesReport, studyChanges } from "../../src/core/studies/changes.ts";
import { changesTask, type ReportRequest, wholeReport } from "../../src/report/data.ts";
import { reportHtml } from "../../src/report/html.ts";
import { reportCsv } from "../../src/report/plain-data.ts";
import { markupFaults } from "../support/markup.ts";
import { SHIPPED, shipped } from "../support/shipped.ts";

/** Each car tries a ninth of its changes, another ninth than the car before it, so that all are tried on some car; report.test.ts and the command line make whole reports. */
const SHARES = 9;

function someChanges(r: ReportRequest, turn: number): ChangesReport | null {
  return toTheEnd(studyChanges(r.scenario, changesTask(r), { index: turn % SHARES, of: SHARES }));
}

describe("every shipped car", () => {
  it.each(SHIPPED.map((file, turn) => [file, turn] as const))("has a whole report at its first load: %s", (file, turn) => {
    const scenario = shipped(file);
    const first = scenario.loadCases[0]!;
    const asked: ReportRequest = {
      scenario,
      b: null,
      load: { lateralG: first.lateralG, bumpLeftMm: first.bumpLeftMm, bumpRightMm: first.bumpRightMm },
      caseName: first.name,
      radiusM: 6,
      trackName: null,
      shock: 1,
      date: "2026-02-03",
    };
    const g = wholeReport(asked, { changes: someChanges(asked, turn) });
    if (!g.ok) throw new Error(g.reason.message);
    const html = reportHtml(g.data);
    expect(markupFaults(html)).toEqual([]);
    expect(html).not.toMatch(/NaN|undefined|Infinity|\[object/);
    expect(reportCsv(g.data)).not.toMatch(/NaN|undefined|Infinity|\[object/);
    expect(g.data.map.safe.every((p) => p.speedMps > 0)).toBe(true);
  });
});
