import type { Corner, Joint, Material, Scenario } from "../../../src/core/design/types.ts";
import { weightN } from "../../../src/core/units.ts";
import { shipped } from "../../support/shipped.ts";

const RIGID: Material = { name: "rigid", youngMPa: 1e6, poisson: 0.3, yieldMPa: 5000, densityKgPerM3: 1000, plastic: false, maxTempC: 100, source: "a test" };
const FIRM: Joint = { clearanceMm: 0, pinNPerMm: 1e6, holeNPerMm: 1e6, mountNPerMm: 1e6, pullOutN: 1e5 };

/** Vertical load of the reference corner on its contact point, N. */
export const REFERENCE_LOAD_N = 50;
/** Spring rate of the reference corner, N/mm. */
export const REFERENCE_RATE = 3;
/** Spring force that holds the reference load, N, and length as built, mm (corner statics and reference table, own numbers). */
export const REFERENCE_SPRING_N = 77.822177;
const REFERENCE_SPRING_MM = 92.969381;

/**
 * The reference double-wishbone corner with everything stiff but the spring and the tyre, no weight but the body's, a tread that
 * is next to a line: it stands as built (the tyre pressed in) at rest. `change` alters the corner.
 */
export function stiffCar(change: (c: Corner) => void = () => {}): Scenario {
  const s = structuredClone(shipped("heavy-straight.json"));
  const c = s.corner;
  c.lowerInner = { sMm: 48, zMm: 36 };
  c.lowerOuter = { sMm: 136, zMm: 28 };
  c.upperInner = { sMm: 56, zMm: 76 };
  c.upperOuter = { sMm: 128, zMm: 80 };
  c.wheelCentre = { sMm: 160, zMm: 48 };
  for (const arm of [c.upperArm, c.lowerArm]) {
    arm.layout = "straight";
    arm.section = { shape: "rectangle", widthMm: 40, heightMm: 40 };
    arm.material = RIGID;
    arm.pivotStiffnessNmmPerDeg = 0;
    arm.pivotFreeAboutArm = false;
  }
  for (const name of ["upperInner", "upperOuter", "lowerInner", "lowerOuter"] as const) c.joints[name] = { ...FIRM };
  Object.assign(c.spring, { top: { sMm: 88, zMm: 120 }, seat: { on: "lowerArm", fraction: 8 / 11 }, rateNPerMm: REFERENCE_RATE, count: 1, preloadMm: 0 });
  c.spring.freeLengthMm = REFERENCE_SPRING_MM + REFERENCE_SPRING_N / REFERENCE_RATE;
  c.spring.bumpStop = { lengthMm: 5, rateNPerMm: 10 };
  c.spring.droopStop = null;
  Object.assign(c.hub, { tiltStiffnessNmmPerDeg: 1e8, tiltPlayDeg: 0, staticCamberDeg: 0, bearingOffsetMm: 0 });
  Object.assign(c.wheel, { radiusMm: 48, treadWidthMm: 36, massKg: 0, unsprungMassKg: 0 });
  Object.assign(c.tyre, { verticalNPerMm: 14, effectiveWidthMm: 0.5, crownRadiusMm: null, lateralNPerMm: null, friction: 1, loadExponent: 1 });
  change(c);
  s.left = {};
  s.right = {};
  // nothing of it hangs below the springs
  s.body = { carMassKg: (4 * REFERENCE_LOAD_N) / weightN(1), axleShare: 0.5, cgHeightMm: 75, otherRollStiffnessNmmPerDeg: 0 };
  s.antiRollBar = { rateNPerMm: 0, atFraction: 0.7 };
  s.fit = { clearanceMm: 0, mustHold: false, outlines: [], keepOut: [], bumpTravelMm: 8, droopTravelMm: 8, alongRoadMm: null };
  return s;
}

/** Equal, parallel, level arms: the wheel goes straight up and down. */
export function parallelCar(change: (c: Corner) => void = () => {}): Scenario {
  return stiffCar((c) => {
    c.lowerInner = { sMm: 48, zMm: 28 };
    c.lowerOuter = { sMm: 136, zMm: 28 };
    c.upperInner = { sMm: 48, zMm: 68 };
    c.upperOuter = { sMm: 136, zMm: 68 };
    change(c);
  });
}
