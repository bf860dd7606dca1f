import { expect, it } from "vitest";
import { buildArm3d } from "../../../src/core/arm/arm-frame.ts";
import { resolveMaterial } from "../../../src/core/arm/materials.ts";
import { type Arm, type Scenario, SIDES } from "../../../src/core/design/types.ts";
import { armOn, withRigidArm } from "../../../src/pages/arm/state/edits.ts";
import { expectRel } from "../../support/close.ts";
import { scenarioFile } from "../../view/fixture.ts";

/** Give of the ball joint along x, y, z under a unit force, mm/N. */
const give = (arm: Arm): number[] => {
  const f = buildArm3d(arm, 72, 0.6).flexibility;
  return [f[0]!, f[7]!, f[14]!];
};

// give goes with 1/E and 1/G: both a hundred times larger leave exactly a hundredth, twist of the legs included
it.each(["abs", "carbonRod"])("an arm of %s made as good as rigid gives a hundredth in every direction, twist and shear included", (material) => {
  const s: Scenario = structuredClone(scenarioFile("heavy-forked"));
  s.corner.lowerArm.material = material;
  const stiff = withRigidArm(s, "lower", resolveMaterial);
  for (const side of SIDES) {
    give(armOn(stiff, side, "lower")).forEach((g, i) => expectRel(100 * g, give(s.corner.lowerArm)[i]!, 1e-9, `give along ${"xyz"[i]}, mm/N`));
    expect(armOn(stiff, side, "upper")).toBe(s.corner.upperArm);
  }
});
