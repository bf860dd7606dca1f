import { describe, expect, it } from "vitest";
import { instantCentreOf } from "../../../src/core/linkage/outputs.ts";
import { DEG } from "../../../src/core/units.ts";
import { cornerStatics } from "../../oracles/rigid-statics.ts";
import { built, expectClose, expectRel, kinematics, poseOf } from "./corners.ts";
import { outboardCorner, parallelCorner, referenceCorner } from "./reference-corner.ts";

/*
 * A full double-arm corner: own numbers of the reference solution (circle intersection and a Newton loop closure
 * agree to 1e-14; slopes by instant centres and by finite differences). Geometry rules: W. F. & D. L. Milliken, Race
 * Car Vehicle Dynamics, SAE 1995, ch. 17; J. C. Dixon, Suspension Geometry and Computation, Wiley 2009, ch. 7-8;
 * roll centre after SAE J670's definition; scrub radius and wheel rate after Barton & Fieldhouse, Automotive Chassis
 * Engineering, Springer 2018, p. 117 and p. 179 (eq. 3.29-3.33).
 */
const DEGREES = 1e-5;
const MM = 1e-5;
const RATIO = 1e-6;

// wheel z, camber °, contact s, contact z, spring length, instant centre s, z, roll centre above ground, motion ratio
const TABLE = [
  [-12, 1.683122, 157.39967, -11.979291, 100.623778, -278.0905, 108.9323, 43.70119, 0.633992],
  [-8, 1.146868, 158.424794, -7.990384, 98.083335, -258.7148, 90.7059, 37.48373, 0.636319],
  [-4, 0.586345, 159.289936, -3.997487, 95.532535, -240.0843, 74.6623, 31.37336, 0.639164],
  [0, 0, 160, 0, 92.969381, -222.069, 60.5517, 25.3574, 0.64249],
  [4, -0.614016, 160.559012, 4.002756, 90.392013, -204.5805, 48.1798, 19.42552, 0.646266],
  [8, -1.257863, 160.970221, 8.011567, 87.798691, -187.5604, 37.3917, 13.56931, 0.650463],
  [12, -1.934035, 161.236171, 12.027343, 85.187779, -170.9715, 28.0614, 7.78207, 0.655056],
] as const;
/** the table prints the instant centre with four decimals */
const PRINTED_4_MM = 6e-5;

describe("the reference corner over its travel", () => {
  const linkage = built(referenceCorner());

  for (const [z, camber, contactS, contactZ, spring, icS, icZ, rollCentre, motionRatio] of TABLE) {
    it(`wheel centre at ${z} mm`, () => {
      const k = kinematics(linkage, z);
      expectClose(k.camberDeg, camber, DEGREES, "°");
      expectClose(k.pose.contact[0], contactS, MM, "mm");
      expectClose(k.contactShiftMm, contactS - 160, MM, "mm");
      expectClose(k.pose.contact[1], contactZ, MM, "mm");
      expectClose(k.springLengthMm, spring, MM, "mm");
      expectClose(k.motionRatio, motionRatio, RATIO, "");
      expectClose(k.rollCentreHeightMm, rollCentre, MM, "mm");
      if (k.instantCentre.kind !== "point") throw new Error("instant centre at infinity");
      expectClose(k.instantCentre.at[0], icS, PRINTED_4_MM, "mm");
      expectClose(k.instantCentre.at[1], icZ, PRINTED_4_MM, "mm");
    });
  }

  it("stands as built at zero travel, with the published slopes", () => {
    const k = kinematics(linkage, 0);
    if (k.instantCentre.kind !== "point") throw new Error("instant centre at infinity");
    expectClose(k.instantCentre.at[0], -222.068966, 1e-6, "mm");
    expectClose(k.instantCentre.at[1], 60.551724, 1e-6, "mm");
    expectClose(k.swingArmMm, 382.068966, 1e-6, "mm");
    expectClose(k.camberGainDegPerMm, -0.14996188, 1e-8, "°/mm");
    expectClose(k.rollCentreHeightMm, 25.357401, 1e-6, "mm");
    expectClose(k.contactShiftPerMm, 0.15848375, 1e-8, "mm/mm");
    expectClose(k.motionRatio, 0.64249038, 1e-8, "");
    expectClose(k.kingpinInclinationDeg, 8.746162, 1e-6, "°");
    expectClose(k.scrubRadiusMm, 19.692308, 1e-6, "mm");
  });

  it("has the roll centre of a symmetric axle on the line from contact point to instant centre", () => {
    for (const [z] of TABLE) {
      const { pose, rollCentreHeightMm } = kinematics(linkage, z);
      const ic = instantCentreOf(pose);
      if (ic.kind !== "point") throw new Error("instant centre at infinity");
      const [s, zc] = pose.contact;
      expectClose(rollCentreHeightMm, ((ic.at[1] - zc) * s) / (s - ic.at[0]), 1e-6, "mm");
    }
  });

  it("has the wheel rate k·MR² + F·dMR/dz of the example (3 N/mm, 77.822 N)", () => {
    const k = kinematics(linkage, 0);
    const EXAMPLE = 1e-3;
    // the example takes the slope over 8 mm, from motion ratios of six digits
    const slopeOver = (h: number): number => (kinematics(linkage, h).motionRatio - kinematics(linkage, -h).motionRatio) / (2 * h);
    expectClose(slopeOver(4), 0.00088775, 1.3e-7, "1/mm");
    expectRel(k.motionRatioPerMm, slopeOver(1e-3), 1e-6, "1/mm");
    expectClose(k.springForceN, 77.822, 1e-9, "N");
    expectRel(k.wheelRateNPerMm, 1.307469, EXAMPLE, "N/mm");
  });
});

describe("swing arm and camber gain (Milliken 17.2)", () => {
  it("is -57.29578°/L per mm of travel, which is not atan(1/L)", () => {
    // L = 150: upper arm and lower arm lines meet 150 mm inboard of the wheel centre, at wheel-centre height
    const centred = built(referenceCorner({ lowerInner: onLine([10, 48], [136, 28], 50), upperInner: onLine([10, 48], [128, 80], 60) }));
    const k = kinematics(centred, 0);
    expectRel(k.swingArmMm, 150, 1e-9, "mm");
    expectRel(k.camberGainDegPerMm, -0.38197186, 1e-7, "°/mm");
    expect(Math.abs(k.camberGainDegPerMm + Math.atan(1 / 150) / DEG)).toBeGreaterThan(5e-6);
    const step = 1e-4;
    const measured = (poseOf(centred, step).camberDeg - poseOf(centred, -step).camberDeg) / (2 * step);
    expectRel(k.camberGainDegPerMm, measured, 1e-6, "°/mm");
  });
});

function onLine(from: [number, number], to: [number, number], s: number): { sMm: number; zMm: number } {
  return { sMm: s, zMm: from[1] + ((to[1] - from[1]) * (s - from[0])) / (to[0] - from[0]) };
}

describe("degenerate corners (own derivation)", () => {
  it("equal parallel arms keep camber zero and shift the contact by sqrt(88² - z²) - 88", () => {
    const linkage = built(parallelCorner());
    for (const z of [-20, -8, 0, 8, 20, 60]) {
      const k = kinematics(linkage, z);
      expectClose(k.camberDeg, 0, 1e-12, "°");
      expectClose(k.camberGainDegPerMm, 0, 1e-12, "°/mm");
      expectClose(k.contactShiftMm, Math.sqrt(88 * 88 - z * z) - 88, 1e-11, "mm");
      expect(k.instantCentre.kind).toBe("atInfinity");
      expect(k.swingArmMm).toBe(Number.POSITIVE_INFINITY);
    }
    expectClose(kinematics(linkage, 8).contactShiftMm, -0.3643908, 1e-7, "mm");
    const level = kinematics(linkage, 0);
    expectClose(level.rollCentreHeightMm, 0, 1e-12, "mm");
    expect(level.instantCentre).toEqual({ kind: "atInfinity", direction: [1, 0] });
  });

  it("an instant centre outboard makes camber grow in bump, and it runs through infinity without a jump", () => {
    const linkage = built(outboardCorner());
    const icS = (z: number): number => {
      const { instantCentre } = kinematics(linkage, z);
      return instantCentre.kind === "point" ? instantCentre.at[0] : Number.POSITIVE_INFINITY;
    };
    const k = kinematics(linkage, 0);
    expectClose(icS(0), 2468, 1e-6, "mm");
    expectClose(k.camberGainDegPerMm, 0.02482486, 1e-8, "°/mm");
    expectClose(k.rollCentreHeightMm, 12.755633, 1e-6, "mm");
    expectClose(k.motionRatio, 0.692683, RATIO, "");
    expectRel(icS(4), 5006.73, 1e-6, "mm");
    expectRel(icS(8), -169372.7, 1e-6, "mm");
    expectRel(icS(12), -4615.29, 1e-6, "mm");
    expectClose(kinematics(linkage, 8).camberDeg, 0.095697, 1e-6, "°");
    expectClose(kinematics(linkage, 12).camberDeg, 0.07091, 1e-6, "°");
  });

  it("moves camber, roll centre and motion ratio by no more than their slopes allow through that infinity", () => {
    const linkage = built(outboardCorner());
    const step = 0.01;
    let before = kinematics(linkage, 6);
    for (let z = 6 + step; z < 9; z += step) {
      const now = kinematics(linkage, z);
      expectClose(now.camberDeg, before.camberDeg, 1e-3, "°");
      expectClose(now.rollCentreHeightMm, before.rollCentreHeightMm, 0.02, "mm");
      expectClose(now.motionRatio, before.motionRatio, 2e-5, "");
      before = now;
    }
  });
});

describe("joint forces of the reference corner (own numbers; virtual work as second method)", () => {
  const REL = 1e-6;
  const cases = [
    [0, 50, 22.916639, [-22.881356, -51.271186], 77.822177, [-42.971113, 23.913206]],
    [20, 50, 33.611071, [-53.559322, -51.864407], 82.755597, [-74.922639, 28.086187]],
    [-30, 80, 20.624976, [9.40678, -81.144068], 117.115352, [-20.826491, 32.001657]],
  ] as const;
  const linkage = built(referenceCorner());
  for (const [fs, fz, push, outer, spring, inner] of cases) {
    it(`with (${fs}, ${fz}) N at the contact`, () => {
      const s = cornerStatics(linkage, poseOf(linkage, 0), [fs, fz]);
      expectRel(s.upperArmPushN, push, REL, "N");
      expectRel(s.springN, spring, REL, "N");
      for (const i of [0, 1] as const) {
        expectRel(s.lowerOuterOnHub[i], outer[i], REL, "N");
        expectRel(s.lowerInnerOnArm[i], inner[i], REL, "N");
      }
      const k = kinematics(linkage, 0);
      expectRel(s.springN * k.motionRatio, fz + fs * k.contactShiftPerMm, 1e-12, "N");
    });
  }
});
