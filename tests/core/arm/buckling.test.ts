import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { buildArm3d } from "../../../src/core/arm/arm-frame.ts";
import { choleskyFactor } from "../../../src/core/arm/banded.ts";
import { armBucklingFactor, bucklingMatrices } from "../../../src/core/arm/buckling.ts";
import { armStress } from "../../../src/core/arm/stress.ts";
import type { Arm, Section } from "../../../src/core/design/types.ts";
import type { V3 } from "../../../src/core/vec.ts";
import { arbArm, arbLength, plainArm } from "../../support/arms.ts";
import { expectRel } from "../../support/close.ts";

const E = 2400;
const G = E / 2.7;
/** the meshes are coarse for speed */
const COARSE = 5e-3;
/** what halving every element may change */
const DOUBLING = 5e-3;
const rect = (widthMm: number, heightMm: number): Section => ({ shape: "rectangle", widthMm, heightMm });
const straight = (section: Section): Arm => ({ ...plainArm, layout: "straight", section });
const push: { ballJoint: V3; seat: null } = { ballJoint: [0, -1, 0], seat: null };
/** Engesser: shear lowers Euler's load to P/(1 + P/GAs). */
const withShear = (p: number, area: number) => p / (1 + p / ((5 / 6) * G * area));

describe("buckling of single arms against Euler (theoretical K of AISC 360, Table C-A-7.1; shear by Engesser)", () => {
  it("flat bar on a free pin buckles in the front view: K = 1", () => {
    const euler = (Math.PI ** 2 * E * ((20 * 64) / 12)) / 1e4;
    expectRel(armBucklingFactor(buildArm3d(straight(rect(20, 4)), 100, null), push), withShear(euler, 80), COARSE, "critical push (N)");
  });

  it("tall narrow bar buckles sideways, held against turning in plan by its pivot: 20.1907 EI/L²", () => {
    const euler = (20.190729 * E * ((8 * 8) / 12)) / 1e4;
    expectRel(armBucklingFactor(buildArm3d(straight(rect(2, 8)), 100, null), push), withShear(euler, 16), COARSE, "critical push (N)");
  });

  it("a stiff pin raises the front-view load to that of a clamped end", () => {
    const arm = { ...straight(rect(20, 4)), pivotStiffnessNmmPerDeg: 1e7 };
    const euler = (20.190729 * E * ((20 * 64) / 12)) / 1e4;
    expectRel(armBucklingFactor(buildArm3d(arm, 100, null), push), withShear(euler, 80), COARSE, "critical push (N)");
  });

  it("twin beams with a narrow gap act as two: sideways they sway together", () => {
    // ends that cannot turn in plan (pivots; rigid cross piece held in x by the ball joint): K = 1/2 each, but the cross
    // piece may turn, which the beams' axial stiffness at 60 mm spread prevents almost wholly
    const a = buildArm3d({ ...plainArm, layout: "twin", spreadMm: 60, section: rect(2, 12) }, 100, null);
    const euler = (2 * 4 * Math.PI ** 2 * E * ((12 * 8) / 12)) / 1e4;
    expectRel(armBucklingFactor(a, push), withShear(euler / 2, 24) * 2, 0.02, "critical push (N)");
  });

  it("a bar on its tall edge twists over under the spring alone: below the closed form for a beam in forks by no more than its free end explains", () => {
    // Timoshenko & Gere, ch. 6: 16.94 √(EI·GJ)/L² simply supported in forks. Here one end is held in plan and against
    // twist and the other free to twist, so the load lies between a third and one and a half times that
    const arm = straight(rect(1.5, 12));
    const a = buildArm3d(arm, 100, 0.5);
    const ei = (E * 12 * 1.5 ** 3) / 12;
    const gj = G * 12 * (1.5 ** 3 / 3) * 0.92;
    const forks = (16.94 * Math.sqrt(ei * gj)) / 1e4;
    const factor = armBucklingFactor(a, { ballJoint: [0, 0, 0.5], seat: [0, 0, -1] });
    expect(factor).toBeGreaterThan(forks / 3);
    expect(factor).toBeLessThan(forks * 1.5);
  });
});

describe("buckling factor", () => {
  it("is infinite for a pulled arm and for no load", () => {
    const a = buildArm3d(plainArm, 88, null);
    expect(armBucklingFactor(a, { ballJoint: [0, 50, 0], seat: null })).toBe(Number.POSITIVE_INFINITY);
    expect(armBucklingFactor(a, { ballJoint: [0, 0, 0], seat: null })).toBe(Number.POSITIVE_INFINITY);
  });

  it("loads three times as large leave a third of the factor; positive for any compression", () => {
    fc.assert(
      fc.property(arbArm, arbLength, fc.double({ min: 0.1, max: 0.9, noNaN: true }), (arm, L, seat) => {
        const a = buildArm3d(arm, L, seat);
        const one = armBucklingFactor(a, { ballJoint: [2, -60, 20], seat: [0, 5, -40] });
        const three = armBucklingFactor(a, { ballJoint: [6, -180, 60], seat: [0, 15, -120] });
        expect(one).toBeGreaterThan(0);
        expect(one).toBeLessThan(Number.POSITIVE_INFINITY);
        expectRel(three, one / 3, 1e-6, "factor");
      }),
      { numRuns: 100 },
    );
  });

  it("is the first load at which the stiffness is lost: positive definite just below it, no longer just above", () => {
    fc.assert(
      fc.property(
        arbArm,
        fc.boolean(),
        arbLength,
        fc.double({ min: 0.1, max: 0.9, noNaN: true }),
        fc.integer({ min: -80, max: 80 }),
        (arm, loose, L, seat, pull) => {
          const a = buildArm3d({ ...arm, pivotFreeAboutArm: loose }, L, seat);
          const loads = { ballJoint: [3, pull, 20] as V3, seat: [0, 5, -40] as V3 };
          const factor = armBucklingFactor(a, loads);
          const stable = (load: number) => {
            const { stiffness, geometric } = bucklingMatrices(a, loads);
            for (let i = 0; i < stiffness.a.length; i++) stiffness.a[i] = stiffness.a[i]! + load * geometric.a[i]!;
            return choleskyFactor(stiffness) < 0;
          };
          // far-fetched factors (hundreds of times the load) lose digits to the stiff members
          if (factor > 1e6) return;
          expect(stable(factor * (1 - 1e-4))).toBe(true);
          expect(stable(factor * (1 + 1e-4))).toBe(false);
        },
      ),
      { numRuns: 200 },
    );
  });

  it("changes by less than half a per cent when every element is halved, the spring's load included", () => {
    fc.assert(
      fc.property(
        arbArm,
        fc.boolean(),
        arbLength,
        fc.double({ min: 0.1, max: 0.9, noNaN: true }),
        fc.integer({ min: -80, max: 40 }),
        (arm, loose, L, seat, pull) => {
          const a = buildArm3d({ ...arm, pivotFreeAboutArm: loose }, L, seat);
          const loads = { ballJoint: [0, pull, 40 * seat] as V3, seat: [0, 5, -40] as V3 };
          const once = armBucklingFactor(a, loads);
          // a stubby arm yields long before, and what shear adds to its nominal load is nothing to go by
          fc.pre(once * armStress(a, loads).worst.vonMisesMPa < a.material.yieldMPa);
          const twice = armBucklingFactor(a, loads, undefined, 2);
          expectRel(once, twice, DOUBLING, "factor");
        },
      ),
      { numRuns: 60 },
    );
  });

  it("stiffer material in the same shape: factor grows with the modulus", () => {
    const stiff = { ...(plainArm.material as Exclude<Arm["material"], string>), youngMPa: 2 * E };
    const load = { ballJoint: [0, -60, 20] as V3, seat: [0, 0, -40] as V3 };
    const one = armBucklingFactor(buildArm3d(plainArm, 88, 0.4), load);
    expectRel(armBucklingFactor(buildArm3d({ ...plainArm, material: stiff }, 88, 0.4), load), 2 * one, 1e-6, "factor");
  });

  it("a seat without load changes nothing but the mesh", () => {
    const load: V3 = [0, -60, 0];
    const with_ = armBucklingFactor(buildArm3d(plainArm, 88, 0.4), { ballJoint: load, seat: [0, 0, 0] });
    const without = armBucklingFactor(buildArm3d(plainArm, 88, null), { ballJoint: load, seat: null });
    expectRel(with_, without, COARSE, "factor");
  });
});
