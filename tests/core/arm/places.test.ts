import { describe, expect, it } from "vitest";
import { buildArm3d } from "../../../src/core/arm/arm-frame.ts";
import type { UprightMoments } from "../../../src/core/arm/section-forces.ts";
import { armStress } from "../../../src/core/arm/stress.ts";
import type { Arm, Section } from "../../../src/core/design/types.ts";
import { plainArm } from "../../support/arms.ts";
import { expectAbs, expectRel } from "../../support/close.ts";

const DIGITS = 1e-6;
const idle = { ballJoint: [0, 0, 0] as const, seat: null };
const told = (fractions: number[], momentNmm: number[]): UprightMoments => ({ fractions, momentNmm });
const stressOf = (arm: Arm, lengthMm: number, moments: UprightMoments, seat: number | null = null) =>
  armStress(buildArm3d(arm, lengthMm, seat), { ballJoint: [...idle.ballJoint], seat: null }, moments);

// Legs that let go of any torque at their pins share a moment M along the arm by statics alone: each bends with M/2 cos β and twists with M/2 sin β where M
// is the same all along, and bends with M/(2 cos β) where it starts from nothing.
describe("where an arm is asked for most, and how much each of its parts is", () => {
  // legs 60 mm along and 45 mm aside (75 mm long, cos 0.8), 8 x 4 mm: W = 21.333333 mm³; stem 40 mm, 8 x 8 mm: W = 85.333333 mm³
  const split: Arm = { ...plainArm, stemShare: 0.4, spreadMm: 90, pivotFreeAboutArm: true, stemSection: { shape: "rectangle", widthMm: 8, heightMm: 8 } };

  it("tells each leg and the stem once, each with the moments within it", () => {
    const s = stressOf(split, 100, told([0, 0.6, 0.8, 1], [0, 160, 600, 0]));
    expect(s.perMember.map((m) => [m.legIndex, m.at])).toEqual([
      [0, "front leg, where the legs meet"],
      [1, "rear leg, where the legs meet"],
      [2, "stem, 80 % of the way to the ball joint"],
    ]);
    expectRel(s.perMember[0]!.vonMisesMPa, 100 / 21.333333, DIGITS, "front leg (MPa)");
    expectRel(s.perMember[1]!.vonMisesMPa, 100 / 21.333333, DIGITS, "rear leg (MPa)");
    expectRel(s.perMember[2]!.vonMisesMPa, 600 / 85.333333, DIGITS, "stem (MPa)");
    expect(s.worst).toBe(s.perMember[2]);
  });

  it("tells a place within a leg, and the stem's root", () => {
    const s = stressOf(split, 100, told([0, 0.3, 0.6, 1], [0, 320, 80, 0]));
    expect(s.worst).toMatchObject({ at: "front leg, 30 % of the way to the ball joint", leg: "leg front", fraction: 0.3 });
    expectRel(s.worst.vonMisesMPa, 200 / 21.333333, DIGITS, "front leg (MPa)");
    expect(s.perMember[2]!.at).toBe("stem, where the legs meet");
  });

  it("of places alike it names the first one", () => {
    const beam: Arm = { ...plainArm, layout: "straight" };
    expect(stressOf(beam, 100, told([0, 0.5, 1], [90, 90, 90])).worst.at).toBe("beam, at the inner pivot");
    expect(stressOf(beam, 100, told([0, 0.5, 1], [0, 90, 90])).worst.at).toBe("beam, 50 % of the way to the ball joint");
    expect(stressOf(beam, 100, told([0, 1], [0, 90])).worst.at).toBe("beam, at the ball joint");
  });

  it("twin beams share it alike and end at their cross piece", () => {
    const s = stressOf({ ...plainArm, layout: "twin" }, 100, told([0, 1], [0, 90]));
    expect(s.perMember.map((m) => m.at)).toEqual(["front leg, at the cross piece", "rear leg, at the cross piece"]);
    expectRel(s.worst.vonMisesMPa, 45 / 21.333333, DIGITS, "each beam (MPa)");
  });

  it("knows the spring's seat and the anti-roll bar's end by name", () => {
    const a = buildArm3d({ ...plainArm, layout: "straight" }, 100, 0.3, 0.7);
    const at = (moments: UprightMoments) => armStress(a, { ballJoint: [0, 0, 0], seat: null, bar: null }, moments).worst.at;
    expect(at(told([0, 0.3, 0.7, 1], [0, 90, 50, 0]))).toBe("beam, at the spring seat");
    expect(at(told([0, 0.3, 0.7, 1], [0, 50, 90, 0]))).toBe("beam, at the anti-roll bar");
  });

  // 10 N at 100 mm, and nothing at a seat or a bar that is there: 1000/21.333333
  it("takes a seat and a bar without a force for none", () => {
    const s = armStress(buildArm3d({ ...plainArm, layout: "straight" }, 100, 0.3, 0.7), { ballJoint: [0, 0, 10], seat: null, bar: null });
    expectRel(s.worst.vonMisesMPa, 46.875, DIGITS, "stress at the pivot (MPa)");
  });
});

// an A of 80 mm along and 60 mm aside (100 mm legs), 1000 N·mm all along: 400 N·mm of bending and 300 N·mm of torque in each leg
describe("a leg that bends and twists all along", () => {
  const a = (section: Section): Arm => ({ ...plainArm, layout: "A", spreadMm: 120, pivotFreeAboutArm: true, section });
  const worst = (section: Section): number => stressOf(a(section), 80, told([0, 1], [1000, 1000])).worst.vonMisesMPa;

  // 400/21.333333 and 300/(0.245878·8·4²) (Timoshenko & Goodier, table in sec. 109) in the middle of the long face
  it("flat: in the middle of its face", () => {
    expectRel(worst({ shape: "rectangle", widthMm: 8, heightMm: 4 }), Math.hypot(18.75, Math.sqrt(3) * 9.532163), DIGITS, "stress (MPa)");
  });

  // strips of 2 x 10 mm, 6 mm apart, beside holes of 4 mm: 400·4/373.333333 + 300·0.0045 = 5.635714 and 300·1.5/(6·20) = 3.75 (see sections-by-hand.test.ts)
  it("with pin holes: the strips' own bending adds to that of the whole", () => {
    const bar: Section = { shape: "pinHoleBar", widthMm: 10, heightMm: 8, holeMm: 4, holePitchMm: 12, holesRun: "foreAft" };
    expectRel(worst(bar), 8.59935, DIGITS, "stress (MPa)");
  });
});

// 8 x 8 mm with holes of 4.8 mm: 600·4/267.605333 = 8.968431 MPa; the strips add 0.1196243 MPa per N of shear (see stress-of-torsion.test.ts)
describe("a bar with pin holes between two told moments", () => {
  const bar: Arm = {
    ...plainArm,
    layout: "straight",
    section: { shape: "pinHoleBar", widthMm: 8, heightMm: 8, holeMm: 4.8, holePitchMm: 8, holesRun: "foreAft" },
  };
  it("is judged on the side with more shear", () => {
    // 600 N·mm three quarters out: 10 N inside, 30 N outside; then a quarter out, the other way round
    for (const place of [0.25, 0.75]) {
      const s = stressOf(bar, 80, told([0, place, 1], [0, 600, 0]));
      expectRel(s.worst.vonMisesMPa, 8.968431 + 30 * 0.1196243, DIGITS, "stress (MPa)");
      expectAbs(s.worst.fraction, place, 0, "place");
    }
  });
});
