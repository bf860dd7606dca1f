import { describe, expect, it } from "vitest";
import { thrustOnArms } from "../../../src/core/drive/thrust-on-arms.ts";
import { expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";

describe("the steering axis under thrust", () => {
  const s = structuredClone(shipped("heavy-forked.json"));
  for (const arm of [s.corner.upperArm, s.corner.lowerArm])
    Object.assign(arm, { layout: "straight", stemShare: 0, spreadMm: 0, section: { shape: "rectangle", widthMm: 4, heightMm: 6 }, material: "abs" });
  // arms of equal length, joints at 72 and 28 mm: 10 N at the road put 16.363636 N forwards on the lower joint and 6.363636 N backwards on the upper
  s.corner.upperInner = { sMm: 56, zMm: 72 };
  s.corner.lowerInner = { sMm: 56, zMm: 28 };

  it("leans back at the top when the road pushes the wheel forwards, and forwards when it brakes", () => {
    const pushed = thrustOnArms(s, "right", 10, 0);
    expectRel(pushed.forceN.lower, 16.363636, 1e-7, "N");
    expectRel(pushed.forceN.upper, -6.363636, 1e-6, "N");
    // cantilever of 64 mm, E 2200 MPa, I = 6 · 4³/12 = 32 mm⁴ (Mott, App. 14): L³/3EI = 1.241212 mm/N; shear PL/(kappa G A) with kappa 5/6 and
    // G = 2200/2.74 MPa adds 0.003985: the joints part by 22.727273 N · 1.245197 mm/N = 28.299950 mm over 44 mm, 36.851° as a small angle
    expectRel(pushed.casterChangeDeg, 36.851, 2e-3, "°, top backwards");
    expectRel(thrustOnArms(s, "right", -10, 0).casterChangeDeg, -36.851, 2e-3, "° when braking");
    expect(thrustOnArms(s, "left", 10, 0).casterChangeDeg).toBeGreaterThan(0);
  });

  it("does not lean when equal arms share a force midway between them", () => {
    expect(Math.abs(thrustOnArms(s, "right", 10, 50).casterChangeDeg)).toBeLessThan(1e-9);
  });
});
