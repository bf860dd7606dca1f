import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { analyze, buildBench, solveLoad } from "../../../src/core/analyze.ts";
import { cannotStand } from "../../../src/core/cannot-stand.ts";
import type { Load, Scenario } from "../../../src/core/design/types.ts";
import { REST } from "../../../src/core/equilibrium/solve.ts";
import { parseScenario } from "../../../src/scenario/parse.ts";
import { fuzzCars } from "../../fuzz/cars.ts";
import { shipped } from "../../support/shipped.ts";

const text = (name: string): string => readFileSync(new URL(`../../fixtures/${name}.json`, import.meta.url), "utf8");
const curve = (lateralG: number): Load => ({ ...REST, lateralG });

function fixture(name: string): Scenario {
  const p = parseScenario(text(name), `${name}.json`);
  if (!p.ok) throw new Error(p.problems[0]?.message);
  return p.scenario;
}

/** Newton steps that one load may take: less than half a second where ten of them take a millisecond. */
const STEPS = 6100;

describe("bounded work", () => {
  it.each([
    // 43,000 steps without a bound: wheels in 10° of play fall over again at every step of the load
    ["rattles-without-end", curve(0.8)],
    // minutes without one: at every step of the load the axle creeps in circles
    ["falls-and-falls", { lateralG: 3, bumpLeftMm: 60, bumpRightMm: -60 }],
    ["falls-and-falls", { lateralG: -3, bumpLeftMm: -60, bumpRightMm: 60 }],
  ])("%s ends with its answer or a reason", (name, load) => {
    const bench = buildBench(fixture(name));
    const before = bench.solver.iterations;
    const r = solveLoad(bench, load);
    expect(bench.solver.iterations - before).toBeLessThan(STEPS);
    if (!r.ok) expect(r.reason.message.length).toBeGreaterThan(20);
  });

  it("can be stopped at any step, and starts anew afterwards", () => {
    const asked = { times: 0, most: 0 };
    const bench = buildBench(fixture("rattles-without-end"), { shouldStop: () => asked.most > 0 && ++asked.times > asked.most });
    expect(bench.rest.ok).toBe(true);
    const whole = solveLoad(bench, curve(0.8));
    const before = bench.solver.iterations;
    asked.most = 100;
    const r = solveLoad(bench, curve(0.8));
    expect(r.ok ? "answer" : r.reason.kind).toBe("stopped");
    expect(bench.solver.iterations - before).toBeLessThanOrEqual(asked.most);
    asked.most = 0;
    expect(solveLoad(bench, curve(0.8))).toEqual(whole);
  });

  it("holds for cars at the corners of the schema", async () => {
    expect((await fuzzCars(0, 8)).faults).toEqual([]);
  });
});

describe("what does not stand on its wheels", () => {
  it("a wheel that finds its balance lying on its side is laid over, not an answer", () => {
    const s = structuredClone(shipped("heavy-straight.json"));
    // on a narrow tread the weight of some 14 N has a lever of radius · sin(lean): built 20° out, a bearing of 15 N·mm/° balances it only
    // where 15 (lean - 20°) = 14 N · 48 mm · sin(lean), near 59° (by hand)
    Object.assign(s.corner.hub, { tiltStiffnessNmmPerDeg: 15, staticCamberDeg: 20, tiltPlayDeg: 0, bearingOffsetMm: 0 });
    Object.assign(s.corner.tyre, { effectiveWidthMm: 0.5, crownRadiusMm: null });
    const r = analyze(s, REST);
    expect(r.ok ? "answer" : r.reason.kind).toBe("laidOver");
    if (!r.ok) expect(r.reason.message).toContain("45°");
  });
});

describe("what cannot be built", () => {
  it("an arm that spins on its one free pin is refused with file and field", () => {
    const p = parseScenario(text("arm-spins-on-its-pin"), "car.json");
    expect(p.ok).toBe(false);
    if (!p.ok) expect(p.problems[0]?.message).toMatch(/^car\.json: corner\.upperArm\.spreadMm is 0 mm; allowed at least 1 mm where the inner pins are free/);
  });

  it("is told in a builder's words, and is an outcome of the analysis rather than an exception", () => {
    const s = structuredClone(shipped("heavy-forked.json"));
    Object.assign(s.corner.upperArm, { spreadMm: 0, pivotFreeAboutArm: true });
    expect(cannotStand(s)).toMatch(/upper arm.*allowed at least 1 mm/i);
    const r = analyze(s, curve(0.5));
    expect(r.ok ? "answer" : r.reason.kind).toBe("cannotBeBuilt");
    if (!r.ok) expect(r.reason.message).toMatch(/left upper arm/);
    Object.assign(s.corner.upperArm, { spreadMm: 1 });
    const wide = structuredClone(s);
    expect(cannotStand(wide)).toBeNull();
    expect(buildBench(wide).rest.ok).toBe(true);
  });
});
