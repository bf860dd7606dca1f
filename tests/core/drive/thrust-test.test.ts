import { describe, expect, it } from "vitest";
import { cornerArms3d } from "../../../src/core/arm/corner-arms.ts";
import { cornerOf } from "../../../src/core/design/sides.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import { type ThrustTest, thrustTest } from "../../../src/core/drive/thrust-on-arms.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";
import { parallelCar } from "../studies/stiff-car.ts";

function thrust(s: Scenario): ThrustTest {
  const c = cornerOf(s, "left");
  return thrustTest(c, cornerArms3d(c));
}

describe("the thrust test", () => {
  // cantilever with shear, PL³/3EI + PL/(κGA): Mott, Machine Elements in Mechanical Design, 4th ed., Table A14; Gere, Table G-1
  it("bends a straight arm as a cantilever, the joint in series", () => {
    const [b, h, e, nu] = [8, 8, 2400, 0.35];
    const car = parallelCar((c) => {
      for (const arm of [c.upperArm, c.lowerArm]) {
        arm.section = { shape: "rectangle", widthMm: b, heightMm: h };
        arm.material = { name: "test", youngMPa: e, poisson: nu, yieldMPa: 40, densityKgPerM3: 1000, plastic: true, maxTempC: 80, source: "a test" };
      }
      c.joints.lowerOuter.pinNPerMm = 50;
    });
    const length = 88;
    const inertia = (h * b ** 3) / 12;
    const cowper = (10 * (1 + nu)) / (12 + 11 * nu);
    const arm = length ** 3 / (3 * e * inertia) + (length * 2 * (1 + nu)) / (cowper * e * b * h);
    const t = thrust(car);
    // the share that shear takes depends on the factor chosen for the section: it is under 1 % here
    expectRel(1 / t.stiffnessNPerMm.upper, arm + 3e-6, 1e-3, "give of the upper arm, mm/N");
    expectRel(1 / t.stiffnessNPerMm.lower, arm + 1 / 50 + 2e-6, 1e-3, "give of the lower arm, mm/N");
  });

  it("shares a force midway between equal arms and does not lean the axis", () => {
    const t = thrust(parallelCar());
    expectAbs(t.atCentre.share.upper, 0.5, 1e-12, "share of the upper joint");
    expectRel(t.atCentre.mmPerN, 0.5 / t.stiffnessNPerMm.upper, 1e-9, "give, mm/N");
    expectAbs(t.atCentre.casterDegPerN, 0, 1e-15, "caster, °/N");
  });

  it("pulls the upper joint back by a force at the road, which leans the axis back", () => {
    const t = thrust(parallelCar());
    expectAbs(t.atRoad.share.upper, -28 / 40, 1e-12, "share of the upper joint");
    expect(t.atRoad.casterDegPerN).toBeGreaterThan(0);
  });

  it.each(SHIPPED)("puts up all of the force: %s", (file) => {
    const t = thrust(shipped(file));
    for (const give of [t.atCentre, t.atRoad]) {
      expectAbs(give.share.upper + give.share.lower, 1, 1e-12, "sum of the shares");
      expect(give.mmPerN).toBeGreaterThan(0);
    }
  });

  it("adds the outer joints' clearance end to end", () => {
    const car = parallelCar((c) => {
      c.joints.upperOuter.clearanceMm = 0.1;
      c.joints.lowerOuter.clearanceMm = 0.3;
    });
    expectAbs(thrust(car).playMm, 0.4, 1e-12, "free movement, mm");
  });
});
