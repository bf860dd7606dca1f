import { describe, expect, it } from "vitest";
import { analyze } from "../../../src/core/analyze.ts";
import { splitPath, withValueAt } from "../../../src/core/design/field-path.ts";
import { withOrigins } from "../../../src/core/design/origins.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import { type Contradiction, contradictionsOf } from "../../../src/core/runs/contradictions.ts";
import { drivenIn, runLoad } from "../../../src/core/runs/pace.ts";
import { runsTold } from "../../../src/core/runs/told.ts";
import { toTheEnd } from "../../../src/core/steps.ts";
import { rangeOf } from "../../../src/scenario/ranges.ts";
import { expectRel } from "../../support/close.ts";
import { car, hubGave, run } from "./runs.ts";

function contradictions(s: Scenario): Contradiction[] {
  return toTheEnd(contradictionsOf(s, runsTold(s), rangeOf), (share) => {
    expect(share).toBeGreaterThanOrEqual(0);
    expect(share).toBeLessThan(1);
  });
}

/** The lip's pull measured on the bench. */
const measured = (s: Scenario, plusMinus: number): Scenario =>
  withOrigins(s, { "corner.hub.retention.capacityN": { how: "measured", plusMinus, date: "2026-11-20" } });

describe("runs against the model", () => {
  it("agree where they do what the model foretells, and where they are only somewhat unlikely", () => {
    expect(contradictions(car([run(15), run(18), run(20), run(24, hubGave("right"))]))).toEqual([]);
    expect(contradictions(car([run(24)]))).toEqual([]);
  });

  it("contradict it where a measured part gave far too early, and the inputs that would explain it come in the order of their standard deviations", () => {
    const s = measured(car([run(12), run(15, hubGave("right"))]), 5);
    const [c, ...rest] = contradictions(s);
    expect(rest).toEqual([]);
    expect(c).toMatchObject({ run: 1, kind: "gave", about: { limit: "hubRetention" }, noHold: null });
    expect(c!.strength!.chance).toBeLessThan(1e-3);
    expect(c!.strength!.asked).toBeLessThan(62);
    expect(c!.strength!.expected.value).toBeGreaterThan(80);
    const sizes = c!.explanations.map((e) => Math.abs(e.sds));
    expect(sizes.length).toBeGreaterThan(0);
    expect(sizes).toEqual([...sizes].sort((a, b) => a - b));
    // each is true: with that input there the model's hub just gives at the run's load
    for (const e of c!.explanations) {
      const r = s.runs[1]!;
      const moved = e.key === "run" || e.key.startsWith("material.") ? null : withValueAt(s, splitPath(e.key), e.to);
      const g = e.key === "run" ? e.to : drivenIn(r).lateralG;
      if (e.key.startsWith("material.")) continue;
      const a = analyze(moved ?? s, runLoad(r, g), { bands: false, stiffer: false, byPart: false, leaveOut: ["fit", "armBuckling"] });
      if (!a.ok) throw new Error(a.reason.message);
      const used = Math.max(...a.report.limits.filter((l) => l.name === "hubRetention").map((l) => l.utilization));
      expectRel(used, 1, 0.012, `use with ${e.key} at ${e.to}`);
    }
  });

  it("contradict it where a measured part held far too long", () => {
    const [c] = contradictions(measured(car([run(18), run(27)]), 2));
    expect(c).toMatchObject({ run: 1, kind: "held", about: { limit: "hubRetention" } });
    expect(c!.strength!.asked).toBeGreaterThan(100);
  });

  it("of two that contradict each other the one that goes against the design is told", () => {
    const all = contradictions(car([run(5, hubGave()), run(16)]));
    expect(all.map((c) => [c.run, c.kind])).toEqual([[0, "gave"]]);
    // that the lip is so weak goes against the other run, which held: further off than the design's own scatter says
    const lip = all[0]!.explanations.find((e) => e.key === "corner.hub.retention.capacityN");
    if (lip) expect(Math.abs(lip.sds)).toBeGreaterThan(Math.log(85 / lip.to) / 0.25);
  });

  it("contradict it where a wheel lifted that no single input lets lift", () => {
    const all = contradictions(car([run(9, { gave: [{ limit: "wheelLift", side: null, at: null }] })]));
    expect(all).toHaveLength(1);
    expect(all[0]).toMatchObject({ run: 0, kind: "gave", about: { limit: "wheelLift" }, strength: null });
    expect(all[0]!.explanations.every((e) => Math.abs(e.sds) > 3)).toBe(true);
  });
});
