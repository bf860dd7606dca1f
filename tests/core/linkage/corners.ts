import fc from "fast-check";
import { expect } from "vitest";
import type { Corner, SpringSeat } from "../../../src/core/design/types.ts";
import { buildCorner, type CornerLinkage } from "../../../src/core/linkage/corner.ts";
import { type CornerKinematics, kinematicsAt, kinematicsOf } from "../../../src/core/linkage/outputs.ts";
import { type CornerPose, positionAtTravel } from "../../../src/core/linkage/position.ts";
import { p, referenceCorner } from "./reference-corner.ts";

/** Asserts |actual - expected| <= tolerance, all in `unit`; NaN never passes. */
export function expectClose(actual: number, expected: number, tolerance: number, unit: string): void {
  const miss = Math.abs(actual - expected);
  expect(miss <= tolerance, `${actual} ${unit} should be ${expected} within ${tolerance} ${unit}, misses by ${miss}`).toBe(true);
}
/** The same with a share of the expected value as tolerance. */
export const expectRel = (actual: number, expected: number, share: number, unit: string): void =>
  expectClose(actual, expected, share * Math.abs(expected), unit);

export function built(corner: Corner): CornerLinkage {
  const linkage = buildCorner(corner);
  if (!linkage.ok) throw new Error(linkage.message);
  return linkage;
}

export function poseOf(linkage: CornerLinkage, travelMm: number): CornerPose {
  const pose = positionAtTravel(linkage, travelMm);
  if (!pose.ok) throw new Error(pose.message);
  return pose;
}

export function kinematics(linkage: CornerLinkage, travelMm: number): CornerKinematics {
  const k = kinematicsAt(linkage, travelMm);
  if (!k.ok) throw new Error(k.message);
  return k;
}

/** evenly spread, in a million steps: doubles from the generator crowd around zero */
export const between = (min: number, max: number): fc.Arbitrary<number> => fc.nat(1e6).map((i) => min + ((max - min) * i) / 1e6);
/** a vector of this length in any direction */
const link = (min: number, max: number): fc.Arbitrary<[number, number]> =>
  fc.tuple(between(min, max), between(0, 2 * Math.PI)).map(([l, turn]) => [l * Math.cos(turn), l * Math.sin(turn)]);

const anySeat: fc.Arbitrary<SpringSeat> = fc.oneof(
  fc.record({ on: fc.constantFrom("lowerArm" as const, "upperArm" as const), fraction: between(0.1, 1) }),
  fc.record({ on: fc.constant("hub" as const), sMm: between(100, 150), zMm: between(20, 90) }),
);

/** Corners as a builder might drag them together: crossing arms, inboard pointing ones, upper longer or shorter, leaning hubs. */
const anyCorner: fc.Arbitrary<Corner> = fc
  .record({
    lowerInner: fc.tuple(between(0, 90), between(10, 70)),
    lowerArm: link(10, 130),
    hub: link(10, 80),
    upperArm: link(10, 130),
    wheel: fc.tuple(between(-20, 50), between(-30, 50)),
    top: fc.tuple(between(40, 130), between(90, 160)),
    seat: anySeat,
    camber: between(-4, 4),
  })
  .map((c) => {
    const lowerOuter = p(c.lowerInner[0] + c.lowerArm[0], c.lowerInner[1] + c.lowerArm[1]);
    const upperOuter = p(lowerOuter.sMm + c.hub[0], lowerOuter.zMm + c.hub[1]);
    const base = referenceCorner();
    return referenceCorner({
      lowerInner: p(...c.lowerInner),
      lowerOuter,
      upperOuter,
      upperInner: p(upperOuter.sMm - c.upperArm[0], upperOuter.zMm - c.upperArm[1]),
      wheelCentre: p(lowerOuter.sMm + c.wheel[0], lowerOuter.zMm + c.wheel[1]),
      spring: { ...base.spring, top: p(...c.top), seat: c.seat },
      hub: { ...base.hub, staticCamberDeg: c.camber },
    });
  });

export const assembledCorner = anyCorner.filter((corner) => buildCorner(corner).ok);

/** One with a travel somewhere between its limits (share 0 = full droop, 1 = full bump); less than half a millimetre of travel is left out. */
export const anyLinkage: fc.Arbitrary<{ linkage: CornerLinkage; share: number; travel: number }> = fc
  .record({ corner: assembledCorner, share: between(0, 1) })
  .map(({ corner, share }) => ({ linkage: built(corner), share }))
  .filter(({ linkage }) => linkage.limits.bumpMm - linkage.limits.droopMm > 0.5)
  .map(({ linkage, share }) => {
    const { bumpMm, droopMm } = linkage.limits;
    return { linkage, share, travel: Math.min(bumpMm, droopMm + share * (bumpMm - droopMm)) };
  });

/**
 * Tolerance of camber, °: a few roundings of the lower arm's angle, of which the hub turns by their ratio more, and
 * what the accepted error of the wheel centre's height turns it by.
 */
export function turnToleranceDeg(linkage: CornerLinkage, pose: CornerPose): number {
  const gain = Math.abs(kinematicsOf(linkage, pose).camberGainDegPerMm);
  return 1e-9 * (10 + Math.abs(pose.hubRate / pose.lowerRate)) + gain * linkage.heightToleranceMm;
}
