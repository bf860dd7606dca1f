import { describe, expect, it } from "vitest";
import { buildBench, solveLoad } from "../../../src/core/analyze.ts";
import { fitBench } from "../../../src/core/bench/fit.ts";
import { distanceMm, springSeatPoint } from "../../../src/core/design/corner-geometry.ts";
import { unsprungMassKg } from "../../../src/core/design/mass.ts";
import type { Joint, Scenario } from "../../../src/core/design/types.ts";
import { trackMm } from "../../../src/core/drive/wheel-speeds.ts";
import { expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";
import { resultAt, typed } from "./typed.ts";

/** a car that stands on this axle alone, blocked: everything in it as stiff as a file allows, without play */
function blocked(): Scenario {
  const s = shipped("heavy-forked.json");
  const tight = (j: Joint): Joint => ({ ...j, clearanceMm: 0, pinNPerMm: 1e6, holeNPerMm: 1e6, mountNPerMm: 1e6 });
  const { upperInner, upperOuter, lowerInner, lowerOuter } = s.corner.joints;
  const built = distanceMm(s.corner.spring.top, springSeatPoint(s.corner));
  const section = { shape: "rectangle", widthMm: 30, heightMm: 30 } as const;
  const bar = { layout: "straight", section, stemSection: null, material: "aluminium" } as const;
  return {
    ...s,
    left: {},
    right: {},
    corner: {
      ...s.corner,
      upperArm: { ...s.corner.upperArm, ...bar },
      lowerArm: { ...s.corner.lowerArm, ...bar },
      joints: { upperInner: tight(upperInner), upperOuter: tight(upperOuter), lowerInner: tight(lowerInner), lowerOuter: tight(lowerOuter) },
      spring: {
        ...s.corner.spring,
        rateNPerMm: 200,
        count: 4,
        preloadMm: 0,
        freeLengthMm: built,
        bumpStop: { lengthMm: 10, rateNPerMm: 50 },
        droopStop: { lengthMm: built, rateNPerMm: 1e5 },
      },
      hub: { ...s.corner.hub, tiltPlayDeg: 0, tiltStiffnessNmmPerDeg: 1e7, staticCamberDeg: 0 },
      tyre: { ...s.corner.tyre, verticalNPerMm: 200, friction: 3, lateralNPerMm: null, crownRadiusMm: null, effectiveWidthMm: 1 },
    },
    body: { carMassKg: 5, axleShare: 1, cgHeightMm: 120, otherRollStiffnessNmmPerDeg: 0 },
  };
}

describe("a car tipped on a board", () => {
  it("lifts its wheels where the solved axle does in a curve: the tangent of the board's angle is the cornering in g", () => {
    const s = blocked();
    // beyond the end of its load the car tells the last cornering that it stood, to 1/512
    const tipped = solveLoad(buildBench(s), { lateralG: 1.6, bumpLeftMm: 0, bumpRightMm: 0 });
    if (tipped.ok) throw new Error("it stands at 1.6 g");
    expect(tipped.reason.kind).toBe("tips");
    const { lateralG } = tipped.reason.atLoad;
    const angle = (Math.atan(lateralG) * 180) / Math.PI;
    const setUp = { trackMm: trackMm(s), otherTrackMm: trackMm(s), unsprungKg: unsprungMassKg(s), axleHeightMm: s.corner.wheelCentre.zMm, levelDeg: 0.001 };
    const fit = fitBench(s, typed(s, "heightByTilting", [[angle.toFixed(4)]], setUp));
    expectRel(resultAt(fit, "body.cgHeightMm").value, 120, 0.01, "height of what is on the springs (mm)");
  });
});
