import { describe, expect, it } from "vitest";
import type { AxleReport } from "../../src/core/analysis.ts";
import { analyze, analyzeBench, buildBench, solveLoad } from "../../src/core/analyze.ts";
import { type Load, type Scenario, SIDES } from "../../src/core/design/types.ts";
import { buildAxle } from "../../src/core/equilibrium/model.ts";
import { gripG } from "../../src/core/equilibrium/solve.ts";
import { RESIDUAL_SHARE } from "../../src/core/tolerances.ts";
import { randomScenario } from "../support/arbitrary-scenario.ts";
import { randomLoad } from "../support/axle-states.ts";
import { expectAbs } from "../support/close.ts";
import { notFinite } from "../support/not-finite.ts";
import { SHIPPED, shipped } from "../support/shipped.ts";

const SEEDS = 120;
const G = 9.80665;

const cases = (): { name: string; scenario: Scenario; load: Load }[] => [
  ...SHIPPED.flatMap((file) => {
    const scenario = shipped(file);
    return scenario.loadCases.map(({ name, ...load }) => ({ name: `${file}, ${name}`, scenario, load }));
  }),
  ...Array.from({ length: SEEDS }, (_, seed) => {
    const scenario = randomScenario(seed);
    // up to the grip, so that some slide
    return { name: `seed ${seed}`, scenario, load: randomLoad(seed, gripG(buildAxle(scenario)), 1.05, 8) };
  }),
];

function weightN(s: Scenario): number {
  return s.body.carMassKg * s.body.axleShare * G;
}

describe("the whole answer", () => {
  const answers = cases().map((c) => ({ ...c, analysis: analyze(c.scenario, c.load) }));
  const reports = answers.flatMap(({ analysis, ...c }) => (analysis.ok ? [{ ...c, report: analysis.report }] : []));

  it("is never anything but numbers, and survives JSON", () => {
    for (const { name, analysis } of answers) {
      expect(notFinite(analysis), name).toEqual([]);
      compare(JSON.parse(JSON.stringify(analysis)), analysis, name, 0);
    }
    expect(reports.length).toBeGreaterThan(0.85 * answers.length);
  });

  it("carries the axle's weight and its side force on the tyres", () => {
    for (const { name, scenario, load, report } of reports) {
      const w = weightN(scenario);
      // both balances are sums of a handful of the solver's own
      const tolerance = 20 * RESIDUAL_SHARE * w;
      expectAbs(report.left.verticalLoadN + report.right.verticalLoadN, w, tolerance, `${name}: upright load, N`);
      expectAbs(report.left.lateralLoadN + report.right.lateralLoadN, -load.lateralG * w, tolerance, `${name}: side force, N`);
      expect(report.solver.residualN, `${name}: residual, N`).toBeLessThanOrEqual(RESIDUAL_SHARE * w);
      if (load.lateralG !== 0) expect(report.solver.iterations, `${name}: iterations`).toBeGreaterThan(0);
    }
  });

  it("is worst first, and what gives first is no mere caution", () => {
    for (const { name, report } of reports) {
      for (let i = 1; i < report.limits.length; i++) expect(report.limits[i]!.utilization, name).toBeLessThanOrEqual(report.limits[i - 1]!.utilization);
      expect(report.firstToGive.caution, name).toBe(false);
      expect(report.firstToGive, name).toEqual(report.limits.find((l) => !l.caution));
    }
  });

  it("keeps the camber inside its own bands", () => {
    for (const { name, report } of reports)
      for (const side of SIDES) {
        const { camberDeg, camberBandDeg, camberByLoadExponentDeg } = report[side];
        for (const band of [camberBandDeg, camberByLoadExponentDeg]) {
          if (!band) continue;
          expect(band[0], `${name}, ${side}: lower end, °`).toBeLessThanOrEqual(camberDeg);
          expect(band[1], `${name}, ${side}: upper end, °`).toBeGreaterThanOrEqual(camberDeg);
        }
      }
  });

  it("is the same whatever was solved before, and does not change the scenario", () => {
    for (const file of SHIPPED) {
      const scenario = shipped(file);
      const before = JSON.stringify(scenario);
      const load: Load = { lateralG: 0.6, bumpLeftMm: 0, bumpRightMm: 3 };
      const fresh = analyze(scenario, load);
      const bench = buildBench(scenario);
      for (const lateralG of [-0.7, 0.3]) solveLoad(bench, { ...load, lateralG });
      const after = analyzeBench(bench, load);
      expect(JSON.stringify(scenario)).toBe(before);
      if (!fresh.ok || !after.ok) throw new Error(`${file} does not stand at 0.6 g`);
      const strip = (r: AxleReport) => ({ ...r, solver: null });
      compare(strip(after.report), strip(fresh.report), file, 1e-5);
    }
  });
});

/** Same shape, same words, numbers within a relative tolerance, with that of the unit they are in as floor. */
function compare(a: unknown, b: unknown, path: string, tolerance: number): void {
  if (typeof a === "number" && typeof b === "number") expectAbs(a, b, tolerance * (1 + Math.abs(b)), path);
  else if (typeof a === "object" && a !== null && typeof b === "object" && b !== null) {
    expect(Object.keys(a), path).toEqual(Object.keys(b));
    for (const k of Object.keys(a)) compare((a as Record<string, unknown>)[k], (b as Record<string, unknown>)[k], `${path}.${k}`, tolerance);
  } else expect(a, path).toEqual(b);
}

describe("signs", () => {
  it("a left-hand curve loads the right wheel, rolls the left side up and leans the right wheel outwards", () => {
    const a = analyze(shipped("heavy-straight.json"), { lateralG: 0.6, bumpLeftMm: 0, bumpRightMm: 0 });
    if (!a.ok) throw new Error(a.reason.message);
    const { left, right, rollDeg } = a.report;
    expect(right.verticalLoadN).toBeGreaterThan(left.verticalLoadN);
    expect(rollDeg).toBeGreaterThan(0);
    // on the right in the picture: the road pushes the wheels to the left
    expect(right.lateralLoadN).toBeLessThan(0);
    expect(right.camberDeg).toBeGreaterThan(left.camberDeg);
    expect(right.wheelTravelMm).toBeGreaterThan(left.wheelTravelMm);
  });

  it("a bump under the right wheel lifts it against the body and compresses its spring", () => {
    // an axle alone would just tilt with the road: the rest of the car keeps the body level
    const s = shipped("heavy-straight.json");
    s.body.otherRollStiffnessNmmPerDeg = 1e5;
    const flat = analyze(s, { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 });
    const bump = analyze(s, { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 5 });
    if (!flat.ok || !bump.ok) throw new Error("the car does not stand");
    expect(bump.report.right.wheelTravelMm).toBeGreaterThan(flat.report.right.wheelTravelMm + 1);
    expect(bump.report.right.springLengthMm).toBeLessThan(flat.report.right.springLengthMm - 0.5);
    expect(bump.report.heaveMm).toBeGreaterThan(flat.report.heaveMm + 1);
    expectAbs(bump.report.rollDeg, 0, 0.1, "roll, °");
    const alone = analyze(shipped("heavy-straight.json"), { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 5 });
    if (!alone.ok) throw new Error(alone.reason.message);
    // right side up: about 5 mm over the track
    expectAbs(alone.report.rollDeg, -Math.atan2(5, 304) * (180 / Math.PI), 0.1, "roll of the axle alone, °");
  });
});
