import { describe, expect, it } from "vitest";
import { changesOptions, studyChanges } from "../../../src/core/studies/changes.ts";
import type { ChangeResult, Outcome } from "../../../src/core/studies/rank-changes.ts";
import { mpsToKmh } from "../../../src/core/units.ts";
import { aimNow, aimOf, aimsOf, barScale, changeRow, littleOf, noHelp, shownFirst } from "../../../src/pages/map/picture/change-rows.ts";
import { scenarioFile } from "../../view/fixture.ts";

const scenario = scenarioFile("heavy-forked");
/** the first few changes are enough to see what a row says */
const results: ChangeResult[] = [];
let base!: Outcome;
for (const p of studyChanges(scenario, changesOptions(scenario, { radiusM: 6 }))) {
  base = p.base;
  if (p.result) results.push(p.result);
  if (results.length >= 5) break;
}

describe("a change as a row", () => {
  it("tells what it buys in the unit of the aim", () => {
    const r = results[0] as ChangeResult;
    expect(changeRow(r, "speed", base, "0.80").buys).toBe(mpsToKmh(r.buys.speedMps));
    expect(changeRow(r, "lean", base, "0.80").buys).toBe(r.buys.leanDeg);
    expect(changeRow(r, "hubRetention", base, "0.80").buys).toBe(r.buys.utilization.hubRetention);
  });

  it("tells where it leads, beside where the design stands now", () => {
    const r = results[0] as ChangeResult;
    expect(changeRow(r, "speed", base, "0.80").words).toBe(`to ${mpsToKmh(r.outcome.safeSpeedMps).toFixed(1)}`);
    expect(changeRow(r, "lean", base, "0.80").words).toBe(`to ${r.outcome.leanDeg?.toFixed(1)}°`);
    expect(changeRow(r, "hubRetention", base, "0.80").words).toBe(`to ${r.outcome.utilization?.hubRetention?.toFixed(2)}`);
    expect(aimNow("lean", base, scenario, "6", "0.80")).toBe("The outer wheel now leans 6.6° at 0.80 g.");
    expect(aimNow("speed", base, scenario, "6", "0.80")).toBe("Now safe on 6 m up to 20.7 km/h.");
    expect(aimNow("hubRetention", base, scenario, "6", "0.80")).toBe("Hub lip at its limit: now 1.80 of what it can take, at 0.80 g.");
    const lost = { ...r, outcome: { ...r.outcome, leanDeg: null, utilization: null }, buys: { ...r.buys, leanDeg: null } };
    expect(changeRow(lost, "lean", base, "0.80").words).toBe("no hold");
  });

  it("tells what else it does, and what gives at the load", () => {
    const r = results[0] as ChangeResult;
    const by = (more: Partial<Outcome>, aim: "lean" | "speed" = "lean"): string => changeRow({ ...r, outcome: { ...base, ...more } }, aim, base, "0.80").next;
    expect(by({})).toBe("as fast as before; hub lip gives at 0.80 g as before");
    expect(by({ utilization: { ...base.utilization, hubRetention: 1.5 } })).toBe(
      "as fast as before; hub lip gives at 0.80 g: 1.50 instead of 1.80 of what it can take",
    );
    expect(by({ safeSpeedMps: 5, utilization: {} })).toBe("safe up to 18.0 km/h instead of 20.7");
    expect(by({ gives: "sliding", leanDeg: 2, utilization: {} }, "speed")).toBe("outer wheel leans 2.0° instead of 6.6°; first to give then: wheels slide");
  });

  it("carries the changed design and its cost in words", () => {
    for (const r of results) {
      const row = changeRow(r, "speed", base, "0.80");
      expect(row.scenario).toBe(r.change.scenario);
      expect(row.cost.length).toBeGreaterThan(3);
      expect(row.title.charAt(0)).toBe(row.title.charAt(0).toUpperCase());
    }
  });

  it("has bars about one zero, gains to the right of it", () => {
    const rows = results.map((r) => changeRow(r, "speed", base, "0.80"));
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

describe("why a change costs what it should not", () => {
  const r = results[0] as ChangeResult;
  const row = (outcome: Partial<Outcome>) => changeRow({ ...r, outcome: { ...base, ...outcome } }, "speed", base, "0.80");
  const safeSpeedMps = base.safeSpeedMps - 0.04;

  it("is told: the other wheel's turn comes first, or the wheel stood on its outer edge before", () => {
    expect(base.givesWheel).toBe("outer");
    expect(row({ givesWheel: "inner", safeSpeedMps }).next).toContain("the inner wheel's hub lip gives first then, and sooner");
    expect(row({ leanDeg: 6, safeSpeedMps }).next).toContain("a wheel that leans less stands less on its outer edge, which eased its hub");
    expect(row({ leanDeg: 6 }).next).not.toContain("edge");
  });

  it("and what it makes worse stands in its first line", () => {
    expect(row({ utilization: { ...base.utilization, hubRetention: 1.96 } }).worse).toBe("worse for the hub lip, 1.96 instead of 1.80");
    expect(row({}).worse).toBe("");
    expect(row({ utilization: null, leanDeg: null }).worse).toBe("no hold at 0.80 g");
  });
});

describe("where nothing helps", () => {
  it("the bars stay short and the list says so", () => {
    const rows = results.map((r) => ({ ...changeRow({ ...r, buys: { ...r.buys, speedMps: 0.003 } }, "speed", base, "0.80"), worse: "" }));
    expect(barScale(rows, littleOf("speed")).at(0.01)).toBeLessThan(0.05);
    expect([noHelp(rows), shownFirst(rows)]).toEqual(["No single change on the list helps here.", []]);
    const helping = { ...rows[0], helps: true } as (typeof rows)[number];
    expect([noHelp([helping, ...rows]), shownFirst([helping, ...rows])]).toEqual(["", [helping]]);
    // what makes worse what gives first does not lead, however much it buys
    const worse = { ...helping, worse: "worse for the hub lip, 1.96 instead of 1.80" };
    expect(shownFirst([worse])).toEqual([]);
    expect(noHelp([worse])).toBe("No single change helps here without making worse what gives first.");
  });
});

describe("the aims", () => {
  it("are speed, lean, the limits that are near and the chosen one", () => {
    expect(aimsOf(scenario, { hubRetention: 1.3, sliding: 0.7, fit: 0.1 }, "fit").map((a) => a.key)).toEqual([
      "speed",
      "lean",
      "hubRetention",
      "sliding",
      "fit",
    ]);
  });

  it("fall back to speed when a kept one is unknown", () => {
    expect(aimOf("lean")).toBe("lean");
    expect(aimOf("of old")).toBe("speed");
  });
});
