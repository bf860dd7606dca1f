import { describe, expect, it } from "vitest";
import { resolveMaterial } from "../../../src/core/arm/materials.ts";
import { springSeatPoint } from "../../../src/core/design/corner-geometry.ts";
import type { Arm, Corner, Load, Scenario } from "../../../src/core/design/types.ts";
import { buildAxle } from "../../../src/core/equilibrium/model.ts";
import { createSolver, solveAt } from "../../../src/core/equilibrium/newton.ts";
import { readState } from "../../../src/core/equilibrium/readout.ts";
import type { AxleState } from "../../../src/core/equilibrium/state.ts";
import { buildCorner, type CornerLinkage } from "../../../src/core/linkage/corner.ts";
import { kinematicsAt } from "../../../src/core/linkage/outputs.ts";
import { randomScenario } from "../../support/arbitrary-scenario.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";
import { outboardCorner, parallelCorner, referenceCorner } from "../linkage/reference-corner.ts";

/** Arms, joints and bearing this many times stiffer than the plain car's. */
const STIFFER = [1, 1e2, 1e4] as const;
/** A car's own give leans its wheels by a few degrees under load: stiffer by a factor, by that much less. */
const PLAIN_LEAN_DEG = 12;

const DEG = 180 / Math.PI;

function stiff(corner: Corner, factor: number): Corner {
  const arm = (a: Arm): Arm => {
    const m = resolveMaterial(a.material);
    return { ...a, material: { ...m, youngMPa: m.youngMPa * factor } };
  };
  const joints = { ...corner.joints };
  for (const k of Object.keys(joints) as (keyof typeof joints)[]) {
    const j = joints[k];
    joints[k] = { ...j, clearanceMm: 0, pinNPerMm: j.pinNPerMm * factor, holeNPerMm: j.holeNPerMm * factor, mountNPerMm: j.mountNPerMm * factor };
  }
  return {
    ...corner,
    upperArm: arm(corner.upperArm),
    lowerArm: arm(corner.lowerArm),
    joints,
    hub: { ...corner.hub, tiltPlayDeg: 0, tiltStiffnessNmmPerDeg: corner.hub.tiltStiffnessNmmPerDeg * factor },
  };
}

/** A corner on both sides of a car whose unsprung parts weigh nothing, clamped in a rig as built. */
function rig(corner: Corner, factor: number) {
  const base = shipped("heavy-straight.json");
  const scenario: Scenario = {
    ...base,
    corner: { ...stiff(corner, factor), wheel: { ...corner.wheel, massKg: 0, unsprungMassKg: 0 } },
    left: {},
    right: {},
    antiRollBar: { ...base.antiRollBar, rateNPerMm: 0 },
  };
  const model = buildAxle(scenario);
  model.held = { heaveMm: 0, turnRad: 0 };
  return { model, solver: createSolver(model) };
}

/** Travel of the wheel centre point fixed to the hub, which is the linkage's input. */
function hubTravel(c: Corner, s: AxleState): number {
  return s.right.hub.at[1] - c.wheelCentre.zMm;
}

function linkageOf(c: Corner): CornerLinkage {
  const l = buildCorner(c);
  if (!l.ok) throw new Error(l.message);
  return l;
}

/** Nothing pushes as built, so that the rig starts from the as-built position. */
function untensioned(c: Corner): Corner {
  const seat = springSeatPoint(c);
  const length = Math.sqrt((c.spring.top.sMm - seat.sMm) ** 2 + (c.spring.top.zMm - seat.zMm) ** 2);
  return {
    ...c,
    hub: { ...c.hub, staticCamberDeg: 0 },
    wheel: { ...c.wheel, radiusMm: c.wheelCentre.zMm },
    spring: { ...c.spring, freeLengthMm: length, preloadMm: 0, bumpStop: { lengthMm: 1, rateNPerMm: 1 }, droopStop: null },
  };
}

describe("the rigid linkage is the limit of stiff arms and joints", () => {
  const corners: [string, Corner][] = [
    ["reference corner (check 8)", referenceCorner()],
    ["parallel arms", parallelCorner()],
    ["instant centre outboard", outboardCorner()],
    ...[3, 5, 21, 34].map((seed): [string, Corner] => {
      return [`corner of seed ${seed}`, randomScenario(seed).corner];
    }),
  ];
  it.each(corners)("%s: camber over travel", (_, built) => {
    const corner = untensioned(built);
    const linkage = linkageOf(corner);
    const worst = STIFFER.map((factor) => {
      const { model, solver } = rig(corner, factor);
      let q: Float64Array = new Float64Array(model.n);
      let most = 0;
      let seen = 0;
      for (let bump = 0; bump <= 16; bump += 1) {
        const load: Load = { lateralG: 0, bumpLeftMm: bump, bumpRightMm: bump };
        const next = q.slice();
        if (!solveAt(solver, next, load, false, 40)) break;
        q = next;
        const s = readState(model, q, load);
        const travel = hubTravel(corner, s);
        const k = kinematicsAt(linkage, travel);
        if (!k.ok) break;
        seen++;
        most = Math.max(most, Math.abs(-s.right.hub.angleRad * DEG - k.camberDeg));
      }
      expect(seen, "heights of the pad that were compared").toBeGreaterThanOrEqual(8);
      return most;
    });
    STIFFER.forEach((f, i) => {
      expect(worst[i]!, `difference in camber at ${f} times the stiffness, °`).toBeLessThan(PLAIN_LEAN_DEG / f);
    });
    // in proportion to the give, as long as there is something to see
    expect(worst[1]! / worst[2]!, "gain from a hundred times the stiffness").toBeGreaterThan(50);
  });

  // check 12: statics of the reference corner, from moment balances and virtual work
  it.each([
    [0, 50, 22.916639, [-22.881356, -51.271186], 77.822177, [-42.971113, 23.913206]],
    [20, 50, 33.611071, [-53.559322, -51.864407], 82.755597, [-74.922639, 28.086187]],
    [-30, 80, 20.624976, [9.40678, -81.144068], 117.115352, [-20.826491, 32.001657]],
  ] as const)("side force %f N, upright force %f N: the forces of the rigid corner (check 12)", (fy, fz, upper, lowerOuter, spring, lowerInner) => {
    const corner = referenceCorner();
    const errors = [1e3, 1e4].map((factor) => {
      const { model, solver } = rig({ ...corner, spring: { ...corner.spring, freeLengthMm: 92.969380901 + spring / corner.spring.rateNPerMm } }, factor);
      // a tyre as stiff as a disc and as narrow, so that the force acts where the check has it
      for (const c of model.corners) Object.assign(c.tyre, { halfWidth: 0.01, rate: 1e9 });
      const rate = model.corners[1].tyre.rate * 2 * model.corners[1].tyre.halfWidth;
      solver.ws.scrub = [-fy, fy];
      const q = new Float64Array(model.n);
      let pad = fz / rate;
      let state: AxleState | null = null;
      // the pad's height that gives the wanted force: the tyre is by far the stiffest part, so by the suspension's rate
      for (let i = 0; i < 30; i++) {
        const load: Load = { lateralG: 0, bumpLeftMm: pad, bumpRightMm: pad };
        expect(solveAt(solver, q, load, false, 60)).toBe(true);
        state = readState(model, q, load);
        const error = fz - state.right.tyre.verticalN;
        if (Math.abs(error) < 1e-7) break;
        pad += error / 1.3;
      }
      const s = state!;
      expectAbs(s.right.tyre.verticalN, fz, 1e-5, "upright force, N");
      const scale = Math.abs(fy) + fz;
      const arm = s.right.arms.upper;
      const differences = [
        -arm.axialN[arm.axialN.length - 1]! - upper,
        s.right.joints.lowerOuter.force[0] - lowerOuter[0],
        s.right.joints.lowerOuter.force[1] - lowerOuter[1],
        s.right.spring.totalN - spring,
        s.right.joints.lowerInner.force[0] - lowerInner[0],
        s.right.joints.lowerInner.force[1] - lowerInner[1],
      ];
      return Math.max(...differences.map(Math.abs)) / scale;
    }) as [number, number];
    expect(errors[0], "largest difference of a force at 1e3 times the stiffness, of the load").toBeLessThan(5e-5);
    expect(errors[1], "largest difference of a force at 1e4 times the stiffness, of the load").toBeLessThan(5e-6);
    expectRel(errors[0] / errors[1], 10, 0.1, "gain from ten times the stiffness");
  });
});
