import { describe, expect, it } from "vitest";
import { buildArm3d } from "../../../src/core/arm/arm-frame.ts";
import { armStress } from "../../../src/core/arm/stress.ts";
import type { Arm, Section } from "../../../src/core/design/types.ts";
import { plainArm } from "../../support/arms.ts";
import { expectRel } from "../../support/close.ts";

describe("a leg that is bent and twisted at once", () => {
  // Round bars of 6 mm in an A of 45°, E = 2400 MPa, nu = 0.35, 10 N upwards at the tip: each leg takes 5 N, and between the legs acts a
  // moment X about the arm's axis that keeps the tip from turning (Castigliano; for a round bar EI/GJ = 1 + nu):
  //   X = F L sin(45°)/4 / (1/2 + 1.35/2) with L = 84.852814 mm: X = 127.659574 N·mm.
  // At the pivot M = 5 N · L - X sin(45°) = 333.995118 N·mm and T = X cos(45°) = 90.268951 N·mm; with sigma = 32 M/(pi d³) = 15.750215 MPa and
  // tau = 16 T/(pi d³) = 2.128407 MPa the distortion energy gives sqrt(sigma² + 3 tau²) = 16.175896 MPa
  // (Shigley, Mechanical Engineering Design, sec. 5-5, from memory).
  it("has the distortion energy's stress: three times the square of the shear stress beside that of bending", () => {
    const arm: Arm = { ...plainArm, layout: "A", stemShare: 0, spreadMm: 120, section: { shape: "round", diameterMm: 6 } };
    const worst = armStress(buildArm3d(arm, 60, null), { ballJoint: [0, 0, 10], seat: null }).worst;
    expectRel(worst.vonMisesMPa, 16.175896, 1e-6, "stress at the pivot, MPa");
    expect(worst.fraction).toBe(0);
  });
});

describe("a bar with pin holes", () => {
  const bar = (holesRun: "foreAft" | "upDown"): Arm => {
    const section: Section = { shape: "pinHoleBar", widthMm: 8, heightMm: 8, holeMm: 4.8, holePitchMm: 8, holesRun };
    return { ...plainArm, layout: "straight", section };
  };
  const worst = (arm: Arm, ballJoint: [number, number, number]): number => armStress(buildArm3d(arm, 80, null), { ballJoint, seat: null }).worst.vonMisesMPa;

  it("is as strong fore and aft with its holes upright as it is up and down with its holes level: the same square bar, turned", () => {
    expectRel(worst(bar("upDown"), [10, 0, 0]), worst(bar("foreAft"), [0, 0, 10]), 1e-9, "stress across the holes, MPa");
    expectRel(worst(bar("upDown"), [0, 0, 10]), worst(bar("foreAft"), [10, 0, 0]), 1e-9, "stress along the holes, MPa");
  });

  // 10 N at 80 mm on the net section: I = 8 (8³ - 4.8³)/12 = 267.605333 mm⁴, 800 · 4/I = 11.957908 MPa; beside the hole, taken as an opening
  // 0.45 d long and 0.9 d high (common practice), two strips of (8 - 4.32)/2 = 1.84 mm share the shear and bend as beams held at both
  // ends: 5 N · 1.08 mm / (8 · 1.84²/6 mm³) = 1.196243 MPa (Vierendeel)
  it("has the strips' own bending beside the hole on top of the bending of the whole", () => {
    expectRel(worst(bar("upDown"), [10, 0, 0]), 11.957908 + 1.196243, 1e-6, "fore and aft, MPa");
    expectRel(worst(bar("foreAft"), [0, 0, 10]), 11.957908 + 1.196243, 1e-6, "up and down, MPa");
  });
});
