import { beforeAll, describe, expect, it } from "vitest";
import type { AxleReport } from "../../../src/core/analysis.ts";
import { analyzeBench, type Bench, buildBench } from "../../../src/core/analyze.ts";
import { STIFF_PARTS, scaleStiffness } from "../../../src/core/budget/stiffer.ts";
import { cornerOf } from "../../../src/core/design/sides.ts";
import { JOINT_NAMES, type Load, type Scenario, SIDES } from "../../../src/core/design/types.ts";
import { assemble } from "../../../src/core/equilibrium/assemble.ts";
import { factor, solveSystem } from "../../../src/core/equilibrium/condense.ts";
import { FINAL_BLEND } from "../../../src/core/equilibrium/newton.ts";
import { camberRad } from "../../../src/core/equilibrium/readout.ts";
import type { AxleState } from "../../../src/core/equilibrium/state.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";

/** The budgets of two cars that have every kind of part between them; `budget.test.ts` holds the same for a hundred cars. */

const DEG = 180 / Math.PI;

/** Bar, rest of the car, pivot springs, round soft tyres that share unevenly; spring on the lower arm of the left and on the hub of the right wheel. */
function everything(): Scenario {
  const s = structuredClone(shipped("heavy-forked.json"));
  s.antiRollBar = { rateNPerMm: 0.6, atFraction: 0.7 };
  s.body.otherRollStiffnessNmmPerDeg = 120;
  s.corner.upperArm.pivotStiffnessNmmPerDeg = 30;
  s.corner.lowerArm.pivotStiffnessNmmPerDeg = 20;
  Object.assign(s.corner.tyre, { crownRadiusMm: 60, lateralNPerMm: 12, loadExponent: 0.85 });
  const seat = { on: "hub" as const, sMm: 112, zMm: 34 };
  s.right = { spring: { ...s.corner.spring, seat, top: { sMm: 100, zMm: 96 }, freeLengthMm: 68, droopStop: null } };
  return s;
}

const cases: { name: string; scenario: () => Scenario; load: Load }[] = [
  { name: "every kind of part", scenario: everything, load: { lateralG: 0.5, bumpLeftMm: -1, bumpRightMm: 3 } },
  { name: "the other way round", scenario: everything, load: { lateralG: -0.4, bumpLeftMm: 2, bumpRightMm: 0 } },
  { name: "forked arms", scenario: () => shipped("heavy-forked.json"), load: { lateralG: 0.6, bumpLeftMm: 0, bumpRightMm: 2 } },
];

describe.each(cases)("camber budget of $name", ({ scenario, load }) => {
  let bench: Bench;
  let report: AxleReport;
  let state: AxleState;
  let q: Float64Array;
  beforeAll(() => {
    bench = buildBench(scenario());
    const a = analyzeBench(bench, load, { bands: false, leaveOut: ["armBuckling"] });
    if (!a.ok) throw new Error(a.reason.message);
    ({ report, state } = a);
    q = bench.last!.slice();
  });

  it("sums to the camber, by motion and by part, with little left over", () => {
    const sum = (o: Record<string, number>): number => Object.values(o).reduce((a, b) => a + b, 0);
    for (const side of SIDES) {
      const { byMotion, byPart } = report[side].camberBudgetDeg;
      expectAbs(sum(byMotion), report[side].camberDeg, 1e-6, `${side}: sum by motion, °`);
      expectAbs(sum(byPart), report[side].camberDeg, 1e-12, `${side}: sum by part, °`);
      expectAbs(byPart.unassigned, 0, 2e-3, `${side}: unassigned, °`);
    }
  });

  it("charges bearing, roll and static setting with what the file and the state say of them", () => {
    for (const side of SIDES) {
      const { byMotion } = report[side].camberBudgetDeg;
      const out = side === "right" ? -1 : 1;
      // 260 N·mm/° beyond a play of half a degree; counter-clockwise leans the right wheel inwards
      const give = (out * state[side].bearing.momentNmm) / 260;
      expectAbs(Math.abs(byMotion.bearingGive), Math.abs(give), 1e-4, `${side}: give of the bearing, °`);
      if (Math.abs(give) > 1e-3) expectAbs(Math.abs(byMotion.bearingPlay), 0.5, 1e-6, `${side}: play of the bearing, °`);
      expectAbs(byMotion.bearingPlay + byMotion.bearingGive, out * state[side].wheelTiltRad * DEG, 1e-9, `${side}: tilt in the bearing, °`);
      expectAbs(byMotion.bodyRoll, side === "right" ? report.rollDeg : -report.rollDeg, 1e-12, `${side}: roll, °`);
      expectAbs(byMotion.staticSetting, 0.5, 1e-12, `${side}: static setting, °`);
    }
  });

  it("shares a pin's way between its clearance and what gives beyond it", () => {
    let beyond = 0;
    for (const side of SIDES) {
      const { byMotion } = report[side].camberBudgetDeg;
      for (const joint of JOINT_NAMES) {
        const { clearanceMm } = cornerOf(bench.model.scenario, side).joints[joint];
        const way = Math.hypot(...state[side].joints[joint].offset);
        const lean = byMotion[`${joint}Clearance`] + byMotion[`${joint}Give`];
        const share = Math.min(1, clearanceMm / way);
        if (share < 1) beyond++;
        expectAbs(byMotion[`${joint}Clearance`], share * lean, 1e-9, `${side} ${joint}: clearance, °`);
      }
    }
    expect(beyond).toBeGreaterThan(4);
  });

  it("tells of each part made 1 % stiffer what solving again with a change of 1e-5 brings", () => {
    const { model, solver } = bench;
    const again = (start: Float64Array): Float64Array => {
      const x = start.slice();
      const dx = new Float64Array(x.length);
      for (let step = 0; step < 4; step++) {
        assemble(model, x, load, FINAL_BLEND, solver.r, solver.sys, solver.ws);
        factor(solver.sys);
        solveSystem(solver.sys, solver.r, dx);
        for (let i = 0; i < x.length; i++) x[i] = x[i]! - dx[i]!;
      }
      return x;
    };
    const sharp = again(q);
    let told = 0;
    for (const part of STIFF_PARTS) {
      const [up, down] = [1 + 1e-5, 1 - 1e-5].map((by) => {
        const undo = scaleStiffness(model, part, by);
        const x = again(sharp);
        undo();
        return x;
      }) as [Float64Array, Float64Array];
      for (const [i, side] of SIDES.entries()) {
        const change = (0.01 * DEG * (camberRad(model, up, i as 0 | 1) - camberRad(model, down, i as 0 | 1))) / 2e-5;
        const value = report[side].camberPer1PercentStifferDeg[part];
        expectAbs(value, change, 1e-3 * Math.abs(change) + 1e-9, `${side} wheel, ${part}: change, °`);
        if (Math.abs(value) > 1e-6) told++;
      }
    }
    expect(told).toBeGreaterThan(20);
  });
});

describe("stiffness of one part", () => {
  it("is scaled by the factor where it belongs and put back to the bit", () => {
    const { model } = buildBench(everything());
    const [left, right] = model.corners;
    const look = (): number[] => [
      model.barK,
      model.otherRollK,
      ...[left, right].flatMap((c) => [
        c.spring.k,
        c.tyre.verticalFactor,
        c.tyre.tiltFactor,
        c.arms.upper.ea[0]!,
        c.arms.upper.kNear[1]!,
        c.arms.upper.kFar[1]!,
        c.arms.lower.ea[0]!,
        c.arms.lower.kNear[1]!,
        c.arms.lower.kFar[1]!,
        c.arms.upper.pivotK,
        c.arms.lower.pivotK,
        c.joints.upperInner.k,
        c.joints.upperOuter.k,
        c.joints.lowerInner.k,
        c.joints.lowerOuter.k,
        c.bearing.k,
      ]),
    ];
    const before = look();
    // which of the values above a part holds, counted from the left wheel's first
    const holds: [string, number[]][] = [
      ["spring", [0]],
      ["tyreVertical", [1]],
      ["tyreTilt", [2]],
      ["upperArm", [3, 4, 5]],
      ["lowerArm", [6, 7, 8]],
      ["innerPivotSprings", [9, 10]],
      ["upperInnerGive", [11]],
      ["upperOuterGive", [12]],
      ["lowerInnerGive", [13]],
      ["lowerOuterGive", [14]],
      ["bearingGive", [15]],
    ];
    const expected = new Map<string, number[]>([
      ["antiRollBar", [0]],
      ["restOfCar", [1]],
    ]);
    for (const [part, at] of holds) {
      expected.set(
        `left.${part}`,
        at.map((i) => 2 + i),
      );
      expected.set(
        `right.${part}`,
        at.map((i) => 18 + i),
      );
    }
    expect([...STIFF_PARTS].sort()).toEqual([...expected.keys()].sort());
    for (const part of STIFF_PARTS) {
      const undo = scaleStiffness(model, part, 3);
      const now = look();
      before.forEach((v, i) => expectRel(now[i]!, expected.get(part)!.includes(i) ? 3 * v : v, 1e-15, `${part}, value ${i}`));
      undo();
      expect(look()).toEqual(before);
    }
  });
});
