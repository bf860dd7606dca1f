import { describe, expect, it } from "vitest";
import { LIMIT_NAMES } from "../../../src/core/analysis.ts";
import { buildBench } from "../../../src/core/analyze.ts";
import { checkScenario } from "../../../src/core/design/check.ts";
import { cornerOf } from "../../../src/core/design/sides.ts";
import { hubRetention } from "../../../src/core/limits/hub-retention.ts";
import { type Change, singleChanges } from "../../../src/core/studies/change-list.ts";
import { allChanges, rankChanges, studyChanges, trimRideHeight } from "../../../src/core/studies/changes.ts";
import { limitContext } from "../../../src/core/studies/cornering-table.ts";
import { leanAndLip } from "../../../src/core/studies/lean-and-lip.ts";
import { directPoint, safeSpeed } from "../../../src/core/studies/safe-speed.ts";
import { parseScenario } from "../../../src/scenario/parse.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";

const forked = shipped("heavy-forked.json");
const report = allChanges(forked, { radiusM: 6 })!;
const found = (id: string) => report.results.find((r) => r.change.id === id)!;

describe("the list of single changes", () => {
  it.each(SHIPPED)("of %s holds valid scenarios with different names and their cost in words", (file) => {
    const s = shipped(file);
    const list = singleChanges(s);
    expect(list.length).toBeGreaterThan(25);
    expect(new Set(list.map((c) => c.id)).size).toBe(list.length);
    for (const c of list) {
      expect(c.cost.length).toBeGreaterThan(3);
      if (checkScenario(c.scenario).length > 0) continue;
      const read = parseScenario(JSON.stringify(c.scenario), c.id);
      expect(read.ok ? [] : read.problems.map((p) => `${c.id}: ${p.message}`)).toEqual([]);
      expect(JSON.stringify({ ...c.scenario, name: s.name })).not.toBe(JSON.stringify(s));
    }
  });

  it("covers springs, bar, arms, pins, bearing, retention, weight, track, holes, camber and tyres", () => {
    const ids = singleChanges(forked).map((c) => c.id);
    for (const id of [
      "spring×1.25",
      "bar",
      "straight lower",
      "taller both 1",
      "tight pins",
      "stiff bearing",
      "cross-pin",
      "lower",
      "wider track",
      "upperInner up",
      "lowerInner inwards",
      "camber -1",
      "glue",
    ])
      expect(ids).toContain(id);
  });

  it("does not offer what is already there", () => {
    const ids = (file: string): string[] => singleChanges(shipped(file)).map((c) => c.id);
    expect(ids("heavy-cross-pinned.json")).not.toContain("cross-pin");
    expect(ids("heavy-straight.json")).not.toContain("straight lower");
    expect(ids("twin-tube-hub-spring.json")).not.toContain("discs");
    expect(ids("heavy-stiff-bar.json")).toContain("noBar");
  });

  it("moves pivots by whole holes and keeps the spring's seat where it is", () => {
    const c = singleChanges(forked).find((x) => x.id === "lowerInner inwards")!.scenario.corner;
    expect(c.lowerInner.sMm).toBe(forked.corner.lowerInner.sMm - forked.holePitchMm);
    const at = (k: typeof c): number => {
      const seat = k.spring.seat;
      if (seat.on === "hub") throw new Error("seat on the hub");
      return k.lowerInner.sMm + seat.fraction * (k.lowerOuter.sMm - k.lowerInner.sMm);
    };
    expectAbs(at(c), at(forked.corner), 0.05, "mm");
  });
});

describe("what to change first", () => {
  it("ranks by the speed that a change buys, best first, and says what gives then", () => {
    for (let i = 1; i < report.results.length; i++)
      expect(report.results[i - 1]!.buys.speedMps).toBeGreaterThanOrEqual(report.results[i]!.buys.speedMps - 1e-4);
    expect(report.base.gives).toBe("hubRetention");
    const first = report.results[0]!;
    expect(first.change.title).toContain("cross-pin");
    expect(first.outcome.gives).not.toBe("hubRetention");
    expect(first.buys.speedMps).toBeGreaterThan(1);
  });

  it("tells of each change what solving its scenario anew tells", () => {
    for (const r of [report.results[0]!, found("stiff bearing"), found("spring×1.6"), found("lower")]) {
      const again = safeSpeed(r.change.scenario, 6, "left");
      expectRel(r.outcome.safeSpeedMps, again.speedMps, 1e-5, `${r.change.id}, m/s`);
      const p = directPoint(buildBench(r.change.scenario), 6, Math.sqrt(0.8 * 9.80665 * 6));
      if (!p.ok) throw new Error("no equilibrium");
      for (const l of p.limits) expect(r.outcome.utilization![l.name]!).toBeGreaterThanOrEqual(l.utilization - 1e-6);
    }
  });

  it("leaves a glued tyre's other limits as they were, and buys hold on the rim", () => {
    const glue = found("glue");
    expect(glue.buys.utilization.tyreOffRim!).toBeGreaterThan(0);
    for (const n of LIMIT_NAMES) if (n !== "tyreOffRim") expectAbs(glue.buys.utilization[n] ?? 0, 0, 1e-7, n);
  });

  it("tells that a stiffer bearing buys lean and hardly any hold of the lip", () => {
    const r = found("stiff bearing");
    expect(r.buys.leanDeg!).toBeGreaterThan(0.5);
    expect(Math.abs(r.buys.utilization.hubRetention!)).toBeLessThan(0.05);
  });

  it("can be ranked again for lean or for one limit without solving again", () => {
    const byLean = rankChanges(report.results, "lean");
    for (let i = 1; i < byLean.length; i++) expect(byLean[i - 1]!.buys.leanDeg!).toBeGreaterThanOrEqual(byLean[i]!.buys.leanDeg! - 1e-4);
    expect(rankChanges(report.results, "armYield")[0]!.change.id).toMatch(/taller|straight|material/);
  });

  it("yields once per change and can be stopped", () => {
    const run = studyChanges(forked, { radiusM: 6 });
    const total = singleChanges(forked).length;
    for (let i = 1; i <= 3; i++) {
      const step = run.next();
      if (step.done) throw new Error("ended early");
      expect(step.value.done).toBe(i);
      expect(step.value.total).toBe(total);
    }
  });

  it("buys at no road shock less than it costs at a rough one: the ranking takes the shock", () => {
    const rough = allChanges(forked, { radiusM: 6, shock: 1.6 })!;
    expect(rough.base.safeSpeedMps).toBeLessThan(report.base.safeSpeedMps);
  });
});

describe("the ride height", () => {
  const wanted = (change: Change) => {
    const b = buildBench(change.scenario);
    if (!b.rest.ok) throw new Error("no rest");
    return b.rest.state;
  };
  it("is kept by trimming the springs when their rate or a pivot is changed", () => {
    const before = buildBench(forked);
    if (!before.rest.ok) throw new Error("no rest");
    for (const id of ["spring×1.6", "spring×0.8", "lowerInner inwards", "wider track"]) {
      const state = wanted(found(id).change);
      expectAbs(state.body.heaveMm, before.rest.state.body.heaveMm, 0.1, `${id}: rise of the body, mm`);
    }
  });

  it("needs no trim where it is already right", () => {
    const b = buildBench(forked);
    if (!b.rest.ok) throw new Error("no rest");
    const s = b.rest.state;
    const travel = s.right.wheelCentre[1] - s.body.heaveMm - cornerOf(forked, "right").wheelCentre.zMm;
    expect(trimRideHeight(forked, { left: travel, right: travel }).corner.spring.freeLengthMm).toBeCloseTo(forked.corner.spring.freeLengthMm, 1);
  });
});

describe("lean and the lip, as the model tells it", () => {
  const load = { lateralG: 0.56, bumpLeftMm: 0, bumpRightMm: 0 };
  const told = leanAndLip(forked, load)!;

  it("adds up: side force, wheel load and the wheel's own weight make the moment on the bearing", () => {
    const b = buildBench(forked);
    for (const side of ["left", "right"] as const) {
      const t = told[side];
      const own = b.model.corners[0].wheelWeight * forked.corner.hub.bearingOffsetMm;
      // the wheel's own share is at most its weight at the offset, a little turned
      expectAbs(t.momentNmm - t.bySideForceNmm - t.byWheelLoadNmm, 0, 1.3 * own, "N·mm");
    }
  });

  it("has the leaning outer wheel's load work against the side force, which prying alone would not show", () => {
    expect(told.right.leanDeg).toBeGreaterThan(2);
    expect(told.right.byWheelLoadNmm).toBeLessThan(0);
    expect(Math.abs(told.right.byWheelLoadNmm)).toBeLessThan(Math.abs(told.right.bySideForceNmm));
  });

  it("finds that standing the outer wheel up loads the lip of this car, and says so", () => {
    expect(told.right.perDegUprightN).toBeGreaterThan(0.5);
    expect(told.right.words).toContain("loads the hub lip");
  });

  it("agrees with turning the static camber and solving again", () => {
    const demand = (add: number) => {
      const s = { ...forked, corner: { ...forked.corner, hub: { ...forked.corner.hub, staticCamberDeg: forked.corner.hub.staticCamberDeg + add } } };
      const b = buildBench(s);
      const p = directPoint(b, 6, Math.sqrt(0.56 * 9.80665 * 6));
      if (!p.ok) throw new Error("no equilibrium");
      return { n: hubRetention(limitContext(b, p.state, 0)!, "right").demand, lean: (-p.state.right.wheelAngleRad * 180) / Math.PI };
    };
    const a = demand(-0.1);
    const b = demand(0.1);
    expectRel(told.right.perDegUprightN, -(b.n - a.n) / (b.lean - a.lean), 0.1, "N per degree");
  });

  it("pulls and pries the inner wheel together, and pushes the outer one on", () => {
    expect(told.left.pullN).toBeGreaterThan(0);
    expect(told.right.pullN).toBeLessThan(0);
  });
});
