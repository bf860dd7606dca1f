import type { Arm, Corner, Joint, PointSZ } from "../../../src/core/design/types.ts";

export const p = (sMm: number, zMm: number): PointSZ => ({ sMm, zMm });

const arm: Arm = {
  layout: "straight",
  stemShare: 0,
  spreadMm: 0,
  section: { shape: "rectangle", widthMm: 8, heightMm: 8 },
  stemSection: null,
  material: "abs",
  pivotStiffnessNmmPerDeg: 0,
  pivotFreeAboutArm: false,
};
const joint: Joint = { clearanceMm: 0, pinNPerMm: 500, holeNPerMm: 500, mountNPerMm: 500, pullOutN: 100 };

/** An invented corner; its geometry and spring are those of the reference solution (check 8), no static camber. */
export function referenceCorner(change: Partial<Corner> = {}): Corner {
  return {
    lowerInner: p(48, 36),
    lowerOuter: p(136, 28),
    upperInner: p(56, 76),
    upperOuter: p(128, 80),
    wheelCentre: p(160, 48),
    upperArm: arm,
    lowerArm: arm,
    joints: { upperInner: joint, upperOuter: joint, lowerInner: joint, lowerOuter: joint },
    spring: {
      top: p(88, 120),
      seat: { on: "lowerArm", fraction: 8 / 11 },
      rateNPerMm: 3,
      // 77.822 N at the as-built length, as the check has it
      freeLengthMm: 92.96938090104702 + 77.822 / 3,
      preloadMm: 0,
      count: 1,
      bumpStop: { lengthMm: 40, rateNPerMm: 40 },
      droopStop: null,
      damping: { bumpNsPerM: 20, reboundNsPerM: 40 },
    },
    hub: {
      tiltStiffnessNmmPerDeg: 4000,
      tiltPlayDeg: 0,
      staticCamberDeg: 0,
      bearingOffsetMm: 8,
      retention: { kind: "lip", radiusMm: 20, capacityN: 200, model: "ring", shoulderRadiusMm: 22, journalShare: 0 },
      heat: { friction: 0.2, journalRadiusMm: 8, journalLengthMm: 16, coolingAreaMm2: 1200, coolingWPerM2K: 12, material: "abs" },
    },
    wheel: { radiusMm: 48, treadWidthMm: 30, massKg: 0.2, unsprungMassKg: 0.4 },
    tyre: {
      verticalNPerMm: 20,
      effectiveWidthMm: null,
      crownRadiusMm: null,
      lateralNPerMm: null,
      friction: 1,
      loadExponent: 1,
      seat: { kind: "glue", bandTensionN: 0, bandMassGPerMm: 0, friction: 0.5, extraHoldN: 100 },
    },
    ...change,
  };
}

/** Check 9 (b): the instant centre lies outboard and runs through infinity in bump. */
export const outboardCorner = (): Corner => referenceCorner({ upperInner: p(56, 84), upperOuter: p(128, 76) });

/** Check 9 (a): equal parallel arms of 88 mm, level. */
export const parallelCorner = (change: Partial<Corner> = {}): Corner =>
  referenceCorner({ lowerInner: p(48, 28), lowerOuter: p(136, 28), upperInner: p(48, 80), upperOuter: p(136, 80), ...change });
