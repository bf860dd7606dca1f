import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { buildArm3d } from "../../../src/core/arm/arm-frame.ts";
import { partForces, sectionForces } from "../../../src/core/arm/section-forces.ts";
import { armStress } from "../../../src/core/arm/stress.ts";
import type { Arm } from "../../../src/core/design/types.ts";
import type { V3 } from "../../../src/core/vec.ts";
import { arbArm, arbLength, plainArm } from "../../support/arms.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { frameEndForces } from "../../support/frame-forces.ts";

/** rounding of the solved frame, its stiffest members against its softest */
const SOLVED = 1e-6;
const straight: Arm = { ...plainArm, layout: "straight" };

describe("stress recovery", () => {
  it("simply supported bar with an off-centre load: 50 MPa under it (Mott, App. 14)", () => {
    // 120 mm, 8 x 4 mm, 40 N at 80 mm from the pivot: the ball joint reacts 26.667 N
    const a = buildArm3d(straight, 120, 80 / 120);
    const s = armStress(a, { ballJoint: [0, 0, 80 / 3], seat: [0, 0, -40] });
    expectRel(s.worst.vonMisesMPa, 50, 1e-9, "stress (MPa)");
    expect(s.worst.at).toBe("beam, at the spring seat");
    expectRel(s.worst.fraction, 80 / 120, 1e-12, "place");
  });

  it("axial pull adds F/A", () => {
    const a = buildArm3d(straight, 120, 80 / 120);
    const loads = { ballJoint: [0, 64, 80 / 3] as V3, seat: [0, 0, -40] as V3 };
    expectRel(armStress(a, loads).worst.vonMisesMPa, 52, 1e-9, "stress (MPa)");
  });

  it("takes the moments of the bent arm where they are told, in between its ends too", () => {
    // 8 x 4 mm: A = 32 mm², W = 64/3 mm³. Pushed by 64 N, 640 N·mm in the middle: 2 + 30 MPa
    const a = buildArm3d(straight, 120, null);
    const s = armStress(a, { ballJoint: [0, -64, 0], seat: null }, { fractions: [0, 0.5, 1], momentNmm: [0, -640, 0] });
    expectRel(s.worst.vonMisesMPa, 32, 1e-12, "stress (MPa)");
    expect(s.worst.at).toBe("beam, 50 % of the way to the ball joint");
  });

  it("adds a force along the car to the front view's moments: both bendings at the corner of the section", () => {
    // clamped in plan: 3 N at 120 mm make 360 N·mm about the upright axis, W = 4 x 8²/6 mm³; 128 N·mm at the pivot
    const a = buildArm3d(straight, 120, null);
    const s = armStress(a, { ballJoint: [3, 64, 0], seat: null }, { fractions: [0, 1], momentNmm: [128, 0] });
    expectRel(s.worst.vonMisesMPa, 64 / 32 + 360 / (128 / 3) + 128 / (64 / 3), 1e-9, "stress (MPa)");
    expect(s.worst.at).toBe("beam, at the inner pivot");
  });

  it("a pin-hole bar is judged on the net section", () => {
    const bar: Arm = { ...straight, section: { shape: "pinHoleBar", widthMm: 8, heightMm: 8, holeMm: 4.8, holePitchMm: 8, holesRun: "foreAft" } };
    const a = buildArm3d(bar, 80, null);
    expectRel(armStress(a, { ballJoint: [0, 100, 0], seat: null }).worst.vonMisesMPa, 100 / (8 * 3.2), 1e-9, "pull (MPa)");
  });

  it("round arm: both bending moments act together, torsion by von Mises", () => {
    // fore-aft and vertical force at the end of a clamped-about-x arm
    const rod: Arm = { ...straight, section: { shape: "round", diameterMm: 6 } };
    const a = buildArm3d(rod, 50, null);
    const z = (Math.PI * 6 ** 3) / 32;
    expectRel(armStress(a, { ballJoint: [3, 0, 4], seat: null }).worst.vonMisesMPa, (5 * 50) / z, 1e-9, "stress (MPa)");
  });

  it("what every cross-section carries is what the solved frame tells, for every layout, seat, bar and load", () => {
    const newton = fc.integer({ min: -800, max: 800 }).map((v) => v / 10);
    const v3 = fc.tuple(newton, newton, newton);
    const share = fc.integer({ min: 0, max: 200 }).map((v) => v / 200);
    fc.assert(
      fc.property(arbArm, fc.boolean(), arbLength, share, share, v3, v3, v3, (arm, loose, L, seat, bar, p, q, r) => {
        const a = buildArm3d({ ...arm, pivotFreeAboutArm: loose && arm.layout !== "straight" }, L, seat, bar);
        // places next to another are taken there
        const marks = [0, a.plan.legEnd / L, 1, seat, bar].sort((x, y) => x - y);
        fc.pre(marks.every((m, i) => i === 0 || m - marks[i - 1]! < 1e-12 || m - marks[i - 1]! > 2e-3));
        const loads = { ballJoint: p, seat: q, bar: r };
        const frame = frameEndForces(a, loads);
        const s = sectionForces(a, loads);
        const f = new Float64Array(12);
        const size = Math.max(...[p, q, r].flat().map(Math.abs));
        for (const piece of a.pieces) {
          partForces(s, piece, piece.from, piece.to, f);
          const length = a.solved.lengths[piece.member]!;
          for (let i = 0; i < 12; i++) {
            // a short piece's shear is a difference of moments
            const tolerance = SOLVED * size * (i % 6 > 2 ? L : 1 + L / length);
            expectAbs(f[i]!, frame[piece.member * 12 + i]!, tolerance, `${piece.leg} ${i}`);
          }
        }
      }),
      { numRuns: 200 },
    );
  });

  it("bent legs under a vertical tip load carry torsion: statics of the Y (moment and torque at each end)", () => {
    const a = buildArm3d({ ...plainArm, layout: "A", spreadMm: 80 }, 60, null);
    const f = frameEndForces(a, { ballJoint: [0, 0, 10], seat: null });
    // both legs alike: 5 N each; the moments about x at the two pivots carry the whole 10 N at 60 mm
    let mx = 0;
    a.pieces.forEach((p, i) => {
      const at = p.member * 12;
      const axes = a.solved.axes;
      expectRel(Math.abs(f[at + 2]!), 5, 1e-9, "shear (N)");
      for (let c = 0; c < 3; c++) mx += axes[i * 9 + c * 3]! * f[at + 3 + c]!;
    });
    expectRel(Math.abs(mx), 600, 1e-9, "moment about the pivots (N·mm)");
    expect(Math.abs(f[3]!)).toBeGreaterThan(1);
  });

  it("is proportional to the loads, mirrored loads mirror the legs, and stays finite", () => {
    // tenths of a newton
    const newton = (most: number) => fc.integer({ min: -10 * most, max: 10 * most }).map((v) => v / 10);
    const v3 = fc.tuple(newton(80), newton(200), newton(80));
    fc.assert(
      fc.property(arbArm, arbLength, fc.double({ min: 0.05, max: 0.95, noNaN: true }), v3, v3, (arm, L, seat, p, q) => {
        const a = buildArm3d(arm, L, seat);
        const one = armStress(a, { ballJoint: p, seat: q });
        const scale = (v: V3): V3 => [3 * v[0], 3 * v[1], 3 * v[2]];
        const three = armStress(a, { ballJoint: scale(p), seat: scale(q) });
        expectRel(three.worst.vonMisesMPa, 3 * one.worst.vonMisesMPa, 1e-9, "three times (MPa)");
        const mirrored = armStress(a, { ballJoint: [-p[0], p[1], p[2]], seat: [-q[0], q[1], q[2]] });
        const of = (s: typeof one, leg: number) => s.perMember.find((m) => m.legIndex === leg)?.vonMisesMPa ?? 0;
        const tolerance = 1e-6 * one.worst.vonMisesMPa + 1e-9;
        if (arm.layout !== "straight") {
          expectAbs(of(mirrored, 0), of(one, 1), tolerance, "front and rear leg (MPa)");
          expectAbs(of(mirrored, 1), of(one, 0), tolerance, "rear and front leg (MPa)");
        }
        expect(one.worst.vonMisesMPa).toBe(Math.max(...one.perMember.map((m) => m.vonMisesMPa)));
      }),
      { numRuns: 150 },
    );
  });

  it("the force of every piece balances the loads beyond it (cut at the fork)", () => {
    const a = buildArm3d(plainArm, 88, 0.3);
    const f = frameEndForces(a, { ballJoint: [4, -60, 25], seat: [0, 8, -70] });
    const stem = a.pieces.find((p) => p.leg === "stem");
    if (!stem) throw new Error("the split arm has a stem");
    const at = stem.member * 12;
    expectRel(f[at + 6]!, -60, 1e-9, "axial force in the stem (N)");
    expectRel(Math.abs(f[at + 4]!), 25 * 0.4 * 88, 1e-9, "bending at the fork (N·mm)");
    expectRel(Math.abs(f[at + 5]!), 4 * 0.4 * 88, 1e-9, "fore-aft bending at the fork (N·mm)");
  });
});
