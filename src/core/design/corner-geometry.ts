import type { Arm, ArmName, Corner, Joint, PointSZ, SpringSeat } from "./types.ts";

/** A corner as built: its arms, where its spring stands, how stiff its joints are. */

/** The arm of that name. */
export const armOf = (c: Corner, name: ArmName): Arm => (name === "upper" ? c.upperArm : c.lowerArm);

/** Inner pivot and outer joint of an arm. */
export const armEnds = (c: Corner, name: ArmName): [inner: PointSZ, outer: PointSZ] =>
  name === "upper" ? [c.upperInner, c.upperOuter] : [c.lowerInner, c.lowerOuter];

/** Distance of two points in the front view, mm. */
export const distanceMm = (a: PointSZ, b: PointSZ): number => Math.sqrt((b.sMm - a.sMm) ** 2 + (b.zMm - a.zMm) ** 2);

/** Inner pivots to outer joint in the front view, mm. */
export const armLengthMm = (c: Corner, name: ArmName): number => distanceMm(...armEnds(c, name));

/** The arm that the spring stands on; null: the hub. */
export const armOfSeat = (seat: SpringSeat): ArmName | null => (seat.on === "hub" ? null : seat.on === "upperArm" ? "upper" : "lower");

/** Where along this arm the spring stands, 0 inner pivot to 1 outer joint; null: not on this arm. */
export const seatFractionOn = (seat: SpringSeat, name: ArmName): number | null => (seat.on === `${name}Arm` && seat.on !== "hub" ? seat.fraction : null);

/** Lower end of the spring as built. */
export function springSeatPoint(c: Corner): PointSZ {
  const { seat } = c.spring;
  if (seat.on === "hub") return { sMm: seat.sMm, zMm: seat.zMm };
  const [inner, outer] = armEnds(c, seat.on === "upperArm" ? "upper" : "lower");
  return { sMm: inner.sMm + seat.fraction * (outer.sMm - inner.sMm), zMm: inner.zMm + seat.fraction * (outer.zMm - inner.zMm) };
}

/** Stiffness of a joint once its clearance is used up, N/mm: pin, hole and mount in series, so that their gives add. */
export const jointNPerMm = (j: Joint): number => 1 / (1 / j.pinNPerMm + 1 / j.holeNPerMm + 1 / j.mountNPerMm);
