import { describe, expect, it } from "vitest";
import { analyzeBench, buildBench, loadingPath } from "../../../src/core/analyze.ts";
import { resolveMaterial } from "../../../src/core/arm/materials.ts";
import { camberByMotion } from "../../../src/core/budget/by-motion.ts";
import { camberByPart } from "../../../src/core/budget/by-part.ts";
import { STIFF_PARTS, scaleStiffness } from "../../../src/core/budget/stiffer.ts";
import { type Load, type Scenario, SIDES } from "../../../src/core/design/types.ts";
import { assemble, residualSize } from "../../../src/core/equilibrium/assemble.ts";
import { factor, solveSystem } from "../../../src/core/equilibrium/condense.ts";
import { buildAxle } from "../../../src/core/equilibrium/model.ts";
import { FINAL_BLEND } from "../../../src/core/equilibrium/newton.ts";
import { camberRad, readState } from "../../../src/core/equilibrium/readout.ts";
import { gripG } from "../../../src/core/equilibrium/solve.ts";
import { buildCorner } from "../../../src/core/linkage/corner.ts";
import { kinematicsAt } from "../../../src/core/linkage/outputs.ts";
import { gaussLegendre } from "../../../src/core/numerics/quadrature.ts";
import { MOMENT_ARM_MM, PATH_STEPS } from "../../../src/core/tolerances.ts";
import { randomScenario } from "../../support/arbitrary-scenario.ts";
import { randomLoad } from "../../support/axle-states.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";

const DEG = 180 / Math.PI;
/** model, section 6: the budget by motion adds up */
const BY_MOTION_DEG = 1e-6;
/** nothing but rounding: what does not fit goes to `unassigned` */
const BY_PART_DEG = 1e-12;
/** model, section 6: at 16 steps */
const UNASSIGNED_DEG = 0.01;
/** stiffening column: relative, with a floor for values that are next to nothing */
const STIFFER = 1e-3;
const STIFFER_FLOOR_DEG = 1e-9;
const STIFFER_CHANGE = 1e-5;
/** residual share of the re-solve: a change of 1e-5 would vanish in the solver's own */
const SHARP_SHARE = 1e-9;

const sum = (o: Record<string, number>): number => Object.values(o).reduce((a, b) => a + b, 0);

const cases: { name: string; scenario: Scenario; load: Load }[] = [
  ...SHIPPED.flatMap((file) => {
    const scenario = shipped(file);
    return scenario.loadCases.map(({ name, ...load }) => ({ name: `${file}, ${name}`, scenario, load }));
  }),
  ...Array.from({ length: 80 }, (_, seed) => {
    const scenario = randomScenario(seed);
    return { name: `seed ${seed}`, scenario, load: randomLoad(seed, gripG(buildAxle(scenario)), 0.7, 6) };
  }),
];

describe("camber budgets of solved axles", () => {
  const solved = cases.flatMap(({ name, scenario, load }) => {
    const bench = buildBench(scenario);
    const a = analyzeBench(bench, load, { bands: false });
    return a.ok ? [{ name, bench, load, report: a.report, q: bench.last!.slice() }] : [];
  });

  it("has enough of them", () => {
    expect(solved.length).toBeGreaterThan(100);
  });

  it("by motion: the parts sum to the camber", () => {
    for (const { name, report } of solved)
      for (const side of SIDES) expectAbs(sum(report[side].camberBudgetDeg.byMotion), report[side].camberDeg, BY_MOTION_DEG, `${name}, ${side}: sum, °`);
  });

  it("by part: with what was there at rest and what is left over, the parts sum to the camber; little is left over", () => {
    let worst = 0;
    for (const { name, report } of solved)
      for (const side of SIDES) {
        const { byPart } = report[side].camberBudgetDeg;
        expectAbs(sum(byPart), report[side].camberDeg, BY_PART_DEG, `${name}, ${side}: sum, °`);
        expectAbs(byPart.unassigned, 0, UNASSIGNED_DEG, `${name}, ${side}: unassigned, °`);
        worst = Math.max(worst, Math.abs(byPart.unassigned));
      }
    console.log(`largest unassigned camber of ${solved.length} axles: ${worst.toExponential(1)}°`);
  });

  it("made 1 % stiffer: predicts what re-solving with a change of 1e-5 brings", () => {
    for (const { name, bench, load, report, q } of solved) {
      const { model, solver } = bench;
      const resolved = (start: Float64Array): Float64Array => {
        const x = start.slice();
        const dx = new Float64Array(x.length);
        // plain Newton steps, as many as rounding can use
        for (let step = 0; step < 4; step++) {
          assemble(model, x, load, FINAL_BLEND, solver.r, solver.sys, solver.ws);
          factor(solver.sys);
          solveSystem(solver.sys, solver.r, dx);
          for (let i = 0; i < x.length; i++) x[i] = x[i]! - dx[i]!;
        }
        assemble(model, x, load, FINAL_BLEND, solver.r, null, solver.ws);
        expect(residualSize(model, solver.r, MOMENT_ARM_MM), `${name}: residual of the re-solve, N`).toBeLessThan(SHARP_SHARE * model.totalWeight);
        return x;
      };
      const sharp = resolved(q);
      for (const part of STIFF_PARTS) {
        const [up, down] = [1 + STIFFER_CHANGE, 1 - STIFFER_CHANGE].map((factor) => {
          const undo = scaleStiffness(model, part, factor);
          const x = resolved(sharp);
          undo();
          return x;
        }) as [Float64Array, Float64Array];
        for (const [i, side] of SIDES.entries()) {
          const change = (0.01 * DEG * (camberRad(model, up, i as 0 | 1) - camberRad(model, down, i as 0 | 1))) / (2 * STIFFER_CHANGE);
          const told = report[side].camberPer1PercentStifferDeg[part];
          expectAbs(told, change, STIFFER * Math.abs(change) + STIFFER_FLOOR_DEG, `${name}, ${side} wheel, ${part}: change, °`);
        }
      }
    }
  });
});

describe("by motion", () => {
  it("body roll leans the outer wheel outwards and the inner one inwards by its own angle", () => {
    const bench = buildBench(shipped("heavy-straight.json"));
    const a = analyzeBench(bench, { lateralG: 0.7, bumpLeftMm: 0, bumpRightMm: 0 }, { bands: false });
    if (!a.ok) throw new Error(a.reason.message);
    expect(a.report.rollDeg).toBeGreaterThan(0.5);
    expectAbs(a.report.right.camberBudgetDeg.byMotion.bodyRoll, a.report.rollDeg, 1e-12, "right wheel, °");
    expectAbs(a.report.left.camberBudgetDeg.byMotion.bodyRoll, -a.report.rollDeg, 1e-12, "left wheel, °");
    for (const side of SIDES) expectAbs(a.report[side].camberBudgetDeg.byMotion.staticSetting, 0.5, 1e-12, `${side}: static setting, °`);
  });

  it("wheel travel gives what the rigid linkage gives when nothing else moves", () => {
    const base = shipped("converging-unequal.json");
    const scenario = stiffened(base, 1e5);
    const bench = buildBench(scenario);
    const load = { lateralG: 0.3, bumpLeftMm: 0, bumpRightMm: 5 };
    const way = loadingPath(bench, load, 4);
    if (!way.ok) throw new Error(way.reason.message);
    const q = way.path[way.path.length - 1]!.q;
    const state = readState(bench.model, q, load);
    for (const side of SIDES) {
      const parts = camberByMotion(bench.model, state, side);
      const linkage = buildCorner(scenario.corner);
      if (!linkage.ok) throw new Error(linkage.message);
      const c = bench.model.corners[side === "left" ? 0 : 1];
      const s = state[side];
      const turn = -state.body.angleRad;
      const [x, z] = [s.hub.at[0] - state.body.cg[0], s.hub.at[1] - state.body.cg[1]];
      const travel = Math.sin(turn) * x + Math.cos(turn) * z + bench.model.cg[1] - c.centre[1];
      const k = kinematicsAt(linkage, travel);
      if (!k.ok) throw new Error("locked");
      expect(Math.abs(travel), `${side}: travel, mm`).toBeGreaterThan(0.4);
      // what is left of give at a hundred thousand times the stiffness
      expectAbs(parts.wheelTravel, k.camberDeg - scenario.corner.hub.staticCamberDeg, 1e-3, `${side}: camber by travel, °`);
    }
  });
});

/** Arms, joints and bearings without play and this many times stiffer. */
function stiffened(s: Scenario, factor: number): Scenario {
  const c = s.corner;
  const arm = (a: typeof c.upperArm) => ({ ...a, material: { ...resolveMaterial(a.material), youngMPa: resolveMaterial(a.material).youngMPa * factor } });
  const joint = (j: typeof c.joints.lowerInner) => ({
    ...j,
    clearanceMm: 0,
    pinNPerMm: j.pinNPerMm * factor,
    holeNPerMm: j.holeNPerMm * factor,
    mountNPerMm: j.mountNPerMm * factor,
  });
  const { upperInner, upperOuter, lowerInner, lowerOuter } = c.joints;
  return {
    ...s,
    left: {},
    right: {},
    corner: {
      ...c,
      upperArm: arm(c.upperArm),
      lowerArm: arm(c.lowerArm),
      joints: { upperInner: joint(upperInner), upperOuter: joint(upperOuter), lowerInner: joint(lowerInner), lowerOuter: joint(lowerOuter) },
      hub: { ...c.hub, tiltPlayDeg: 0, tiltStiffnessNmmPerDeg: c.hub.tiltStiffnessNmmPerDeg * factor },
    },
  };
}

describe("by part", () => {
  const load = { lateralG: 0.7, bumpLeftMm: 0, bumpRightMm: 3 };
  const unassigned = (file: string, steps: number): number => {
    const bench = buildBench(shipped(file));
    const way = loadingPath(bench, load, steps);
    if (!way.ok) throw new Error(way.reason.message);
    return Math.max(...camberByPart(bench.model, way.path).map((b) => Math.abs(b.unassigned)));
  };

  it("leaves a quarter over at twice the steps (trapezoids), 2e-4° at 8", () => {
    const [at8, at16, at32] = [8, 16, 32].map((n) => unassigned("heavy-cross-pinned.json", n)) as [number, number, number];
    expect(at8, "unassigned at 8 steps, °").toBeLessThan(1e-3);
    expect(at16, `unassigned at ${PATH_STEPS} steps, °`).toBeLessThan(at8 / 3);
    expect(at32, "unassigned at 32 steps, °").toBeLessThan(at16 / 3);
  });

  it("charges nothing to parts that do not give", () => {
    const scenario = stiffened(shipped("heavy-forked.json"), 1e4);
    const a = analyzeBench(buildBench(scenario), load, { bands: false });
    if (!a.ok) throw new Error(a.reason.message);
    for (const side of SIDES) {
      const { byPart } = a.report[side].camberBudgetDeg;
      let given = 0;
      for (const [part, v] of Object.entries(byPart)) {
        if (/Arm$|Give$|Clearance$|Play$/.test(part)) expectAbs(v, 0, 1e-3, `${side} wheel, ${part}, °`);
        else given += Math.abs(v);
      }
      expect(given, "what spring, tyres and road do, °").toBeGreaterThan(0.5);
    }
  });

  it("charges the spring's give with the whole lean of a car whose arms do not give, on hard narrow tyres", () => {
    // rolling on rigid arms and hard tyres, springs are all that moves: by part and by motion tell the same story
    const base = stiffened(shipped("heavy-straight.json"), 1e4);
    const hard = { ...base.corner.tyre, verticalNPerMm: 5e4, effectiveWidthMm: 0.5 };
    const scenario = { ...base, corner: { ...base.corner, tyre: hard, hub: { ...base.corner.hub, staticCamberDeg: 0 } } };
    const bench = buildBench(scenario);
    const a = analyzeBench(bench, { lateralG: 0.6, bumpLeftMm: 0, bumpRightMm: 0 }, { bands: false });
    if (!a.ok) throw new Error(a.reason.message);
    const { byPart } = a.report.right.camberBudgetDeg;
    const springs = byPart["left.spring"] + byPart["right.spring"];
    const lean = a.report.right.camberDeg - byPart.atRest;
    expect(Math.abs(lean), "lean, °").toBeGreaterThan(0.1);
    expectRel(springs, lean, 0.02, "springs' share, °");
  });
});

describe("path integral (check 57)", () => {
  // Aumann & Shapley, Values of Non-Atomic Games, 1974: share_i = dx_i times the mean of df/dx_i on the straight path
  const { x: nodes, w: weights } = gaussLegendre(16);
  const shares = (from: number[], to: number[], gradient: (v: number[]) => number[]): number[] =>
    from.map((_, i) => nodes.reduce((acc, t, k) => acc + weights[k]! * (to[i]! - from[i]!) * gradient(from.map((a, j) => a + t * (to[j]! - a)))[i]!, 0));

  it("wheel rate k·MR² from (1000, 0.7) to (1200, 0.6)", () => {
    const [k, m] = shares([1000, 0.7], [1200, 0.6], ([a, b]) => [b! * b!, 2 * a! * b!]) as [number, number];
    expectRel(k, 84.66666666666667, 1e-8, "share of k");
    expectRel(m, -142.66666666666666, 1e-8, "share of MR");
  });

  it("deflection PL³/3EI", () => {
    const I = 341.3333333333333;
    const s = shares([10, 80, 2400], [12, 90, 2000], ([P, L, E]) => [L! ** 3 / (3 * E! * I), (P! * L! ** 2) / (E! * I), (-P! * L! ** 3) / (3 * E! ** 2 * I)]);
    [0.55154794, 1.07302651, 0.56357659].forEach((v, i) => {
      expectAbs(s[i]!, v, 1e-8, `share ${i}, mm`);
    });
  });
});
