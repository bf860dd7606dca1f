import { describe, expect, it } from "vitest";
import { wholeReport } from "../../src/report/data.ts";
import { reportHtml } from "../../src/report/html.ts";
import { reportCsv } from "../../src/report/plain-data.ts";
import { markupFaults } from "../support/markup.ts";
import { SHIPPED, shipped } from "../support/shipped.ts";

describe("every shipped car", () => {
  it.each(SHIPPED)("has a whole report at its first load: %s", (file) => {
    const scenario = shipped(file);
    const first = scenario.loadCases[0]!;
    const g = wholeReport({
      scenario,
      b: null,
      load: { lateralG: first.lateralG, bumpLeftMm: first.bumpLeftMm, bumpRightMm: first.bumpRightMm },
      caseName: first.name,
      radiusM: 6,
      trackName: null,
      shock: 1,
      date: "2026-02-03",
    });
    if (!g.ok) throw new Error(g.reason.message);
    const html = reportHtml(g.data);
    expect(markupFaults(html)).toEqual([]);
    expect(html).not.toMatch(/NaN|undefined|Infinity|\[object/);
    expect(reportCsv(g.data)).not.toMatch(/NaN|undefined|Infinity|\[object/);
    expect(g.data.map.safe.every((p) => p.speedMps > 0)).toBe(true);
  });
});
