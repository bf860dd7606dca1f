import { describe, expect, it } from "vitest";
import type { ChangeResult } from "../../../src/core/studies/changes.ts";
import { changesOptions, studyChanges } from "../../../src/core/studies/changes.ts";
import { mpsToKmh } from "../../../src/core/units.ts";
import { aimOf, aimsOf, barScale, changeRow, littleOf, noHelp } from "../../../src/view/map/changeRows.ts";
import { scenarioFile } from "../fixture.ts";

const scenario = scenarioFile("heavy-forked");
/** the first few changes are enough to see what a row says */
const results: ChangeResult[] = [];
for (const p of studyChanges(scenario, changesOptions())) {
  if (p.result) results.push(p.result);
  if (results.length >= 5) break;
}

describe("a change as a row", () => {
  it("tells what it buys in the unit of the aim", () => {
    const r = results[0] as ChangeResult;
    expect(changeRow(r, "speed", scenario).buys).toBe(mpsToKmh(r.buys.speedMps));
    expect(changeRow(r, "lean", scenario).buys).toBe(r.buys.leanDeg);
    expect(changeRow(r, "hubRetention", scenario).buys).toBe(r.buys.utilization.hubRetention);
  });

  it("carries the changed design and its cost in words", () => {
    for (const r of results) {
      const row = changeRow(r, "speed", scenario);
      expect(row.scenario).toBe(r.change.scenario);
      expect(row.cost.length).toBeGreaterThan(3);
      expect(row.title.charAt(0)).toBe(row.title.charAt(0).toUpperCase());
    }
  });

  it("has bars about one zero, gains to the right of it", () => {
    const rows = results.map((r) => changeRow(r, "speed", scenario));
    const scale = barScale(rows, littleOf("speed"));
    expect(scale.at(0)).toBeCloseTo(scale.zero, 12);
    for (const r of rows) {
      const x = scale.at(r.buys ?? 0);
      expect(x).toBeGreaterThanOrEqual(0);
      expect(x).toBeLessThanOrEqual(1);
      expect(Math.sign(Math.round((x - scale.zero) * 1e9))).toBe(Math.sign(Math.round((r.buys ?? 0) * 1e9)));
    }
  });
});

describe("where nothing helps", () => {
  it("the bars stay short and the list says so", () => {
    const rows = results.map((r) => ({ ...changeRow(r, "speed", scenario), buys: 0.01 }));
    expect(barScale(rows, littleOf("speed")).at(0.01)).toBeLessThan(0.05);
    expect(noHelp(rows, "speed")).toBe("No single change on the list helps here.");
    expect(noHelp([{ ...rows[0], buys: 2 } as (typeof rows)[number]], "speed")).toBe("");
  });
});

describe("the aims", () => {
  it("are speed, lean and the limits that are near", () => {
    expect(aimsOf(scenario, { hubRetention: 1.3, sliding: 0.7, fit: 0.1 }).map((a) => a.key)).toEqual(["speed", "lean", "hubRetention", "sliding"]);
  });

  it("fall back to speed when a kept one is unknown", () => {
    expect(aimOf("lean")).toBe("lean");
    expect(aimOf("of old")).toBe("speed");
  });
});
