import { ARM_WORDS, JOINT_WORDS } from "./part-words.ts";
import type { Arm, Corner, PointSZ, Section } from "./types.ts";

/** Room that parts need as drawn, before anything is loaded. */

/** room between a pin's middle and the tyre, mm */
const PIN_ROOM_MM = 3;
const TYRE_SHARE = 0.72;

/** Why a pin has no room, in one sentence; null when all have. A pin may sit inside the rim, never in the tyre or outside of the wheel. */
export function pinWithoutRoom(c: Corner): string | null {
  const half = c.wheel.treadWidthMm / 2;
  for (const name of ["upperOuter", "lowerOuter"] as const) {
    const s = c[name].sMm - c.wheelCentre.sMm;
    const z = Math.abs(c[name].zMm - c.wheelCentre.zMm);
    const inner = c.wheel.radiusMm * TYRE_SHARE;
    if (s > half) return `The ${JOINT_WORDS[name]} would be outside of the wheel.`;
    if (s > -half - PIN_ROOM_MM && z > inner - PIN_ROOM_MM && z < c.wheel.radiusMm + PIN_ROOM_MM)
      return `The ${JOINT_WORDS[name]} would sit in the tyre. Keep ${PIN_ROOM_MM} mm to spare.`;
  }
  for (const name of ["upperInner", "lowerInner"] as const) {
    const outer = c[name === "upperInner" ? "upperOuter" : "lowerOuter"];
    if (c[name].sMm < 0 && outer.sMm > 0 && c[name].sMm < -outer.sMm) return `The ${JOINT_WORDS[name]} would be on the other wheel's side.`;
  }
  return null;
}

const sectionHeight = (s: Section): number => (s.shape === "round" ? s.diameterMm : s.shape === "tube" ? s.outerMm : s.heightMm);
/** Height of an arm in the front view, the taller of legs and stem, mm. */
export const armHeight = (a: Arm): number => Math.max(sectionHeight(a.section), a.layout === "split" && a.stemSection ? sectionHeight(a.stemSection) : 0);

/** Distance of a point from a stretch between two others, mm. */
function fromStretch(p: PointSZ, a: PointSZ, b: PointSZ): number {
  const ds = b.sMm - a.sMm;
  const dz = b.zMm - a.zMm;
  const along = ((p.sMm - a.sMm) * ds + (p.zMm - a.zMm) * dz) / (ds * ds + dz * dz || 1);
  const t = Math.min(1, Math.max(0, along));
  return Math.sqrt((p.sMm - a.sMm - t * ds) ** 2 + (p.zMm - a.zMm - t * dz) ** 2);
}

const turn = (a: PointSZ, b: PointSZ, p: PointSZ): number => (b.sMm - a.sMm) * (p.zMm - a.zMm) - (b.zMm - a.zMm) * (p.sMm - a.sMm);

/** Free height between the two arms seen from behind, as built, mm; below zero they meet. */
export function betweenArmsMm(c: Corner): number {
  const [a, b, p, q] = [c.upperInner, c.upperOuter, c.lowerInner, c.lowerOuter];
  const cross = turn(a, b, p) * turn(a, b, q) < 0 && turn(p, q, a) * turn(p, q, b) < 0;
  const apart = cross ? 0 : Math.min(fromStretch(a, p, q), fromStretch(b, p, q), fromStretch(p, a, b), fromStretch(q, a, b));
  return apart - (armHeight(c.upperArm) + armHeight(c.lowerArm)) / 2;
}

/** a finger's breadth less than this between the arms and neither moves freely, mm */
const ARM_ROOM_MM = 2;

/** Why a changed corner has no room for its arms, in one sentence; null when it has, or when they were as near before. */
export function armsWithoutRoom(now: Corner, before: Corner): string | null {
  const free = betweenArmsMm(now);
  if (free >= ARM_ROOM_MM || free >= betweenArmsMm(before)) return null;
  return `The ${ARM_WORDS.upper} would ${free < 0 ? "run into" : "rub on"} the ${ARM_WORDS.lower}.`;
}
