import { describe, expect, it } from "vitest";
import type { LimitResult } from "../../../src/core/analysis.ts";
import { analyze, buildBench } from "../../../src/core/analyze.ts";
import type { Scenario, Side } from "../../../src/core/design/types.ts";
import { failuresOf } from "../../../src/core/limits/records.ts";
import { safeSpeedOf } from "../../../src/core/studies/safe-speed.ts";
import { expectAbs } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";
import { wholeSpeedMap } from "../../support/whole-studies.ts";

/** A touch of the body is a caution unless the builder says that it must hold; what lies below the road is told. */

const base = shipped("heavy-forked.json");
const rest = { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 };
/** a shelf that reaches well into the swept tyre */
const touching = (mustHold: boolean): Scenario => ({
  ...base,
  fit: { ...base.fit, mustHold, outlines: [], keepOut: [{ name: "shelf", fromSMm: 100, toSMm: 220, fromZMm: 80, toZMm: 90, bothSides: true }] },
});
const told = (s: Scenario, name: LimitResult["name"], side: Side): LimitResult => {
  const r = analyze(s, rest, { pathSteps: 1, bands: false });
  if (!r.ok) throw new Error(r.reason.message);
  return r.report.limits.find((l) => l.name === name && l.wheel === side)!;
};

describe("a touch of the body", () => {
  const clear = { ...base, fit: { ...base.fit, outlines: [], keepOut: [] } };

  it("leaves what gives first and the safe speed as they are without the body", () => {
    const [a, b] = [analyze(touching(false), rest), analyze(clear, rest)];
    if (!a.ok || !b.ok) throw new Error("no rest");
    expect(a.report.limits.find((l) => l.name === "fit")).toMatchObject({ caution: true, part: "tyre touches shelf" });
    expect(a.report.firstToGive).toEqual(b.report.firstToGive);
    expect(safeSpeedOf(buildBench(touching(false)), 6).speedMps).toBe(safeSpeedOf(buildBench(clear), 6).speedMps);
  });

  it("counts from the first km/h where it must hold, and on the map", () => {
    const s = touching(true);
    const r = analyze(s, rest);
    if (!r.ok) throw new Error(r.reason.message);
    expect(r.report.firstToGive).toMatchObject({ name: "fit", caution: false });
    expect(safeSpeedOf(buildBench(s), 6)).toMatchObject({ speedMps: 0, limit: { name: "fit" } });
    expect(failuresOf(s)).toContain("fit");
    const few = { radiiM: [4, 8], speedsMps: [1, 5], tolerance: 0.2, leastStepG: 0.05 };
    const last = (design: Scenario) => wholeSpeedMap(design, few);
    expect(last(s).safe[1]).toMatchObject({ speedMps: 0, limit: "fit" });
    const alone = last(touching(false));
    expect(alone.safe[1]!.speedMps).toBeGreaterThan(1);
    expect(alone.limits[alone.highest[0]!]).not.toBe("fit");
  });
});

describe("what lies below the road", () => {
  it("is told by part and depth: a keel on the body, as deep as it is drawn and as the body sinks", () => {
    const keel = { name: "keel", fromSMm: -20, toSMm: 20, fromZMm: -3, toZMm: 5, bothSides: false };
    const s = { ...base, fit: { ...base.fit, outlines: [], keepOut: [keel] } };
    const r = analyze(s, rest);
    if (!r.ok) throw new Error(r.reason.message);
    for (const side of ["left", "right"] as const) {
      const l = r.report.limits.find((x) => x.name === "belowRoad" && x.wheel === side)!;
      expect(l).toMatchObject({ part: "keel below the road", caution: true, unit: "mm", place: { between: "keel" } });
      // at rest on a level road the body of this car, alike on both sides, only sinks
      expectAbs(l.place!.distanceMm, -3 + r.report.heaveMm, 1e-9, "mm");
      expect(l.utilization).toBeGreaterThan(1);
    }
    expect(r.report.firstToGive.name).not.toBe("belowRoad");
  });

  it("is a pin that stands there, and on its own side alone", () => {
    const low: Scenario = {
      ...base,
      fit: { ...base.fit, outlines: [], keepOut: [] },
      right: { lowerInner: { sMm: base.corner.lowerInner.sMm, zMm: -6 } },
    };
    const right = told(low, "belowRoad", "right");
    // half of the lower arm's height hangs below its pin
    expect(right.part).toMatch(/^lower arm below the road$/);
    expect(right.place!.distanceMm).toBeLessThan(-6);
    expect(told(low, "belowRoad", "left").place!.distanceMm).toBeGreaterThan(0);
    expect(told(base, "belowRoad", "right")).toMatchObject({ caution: true });
    expect(told(base, "belowRoad", "right").utilization).toBeLessThan(1);
  });
});
