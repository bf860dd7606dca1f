import { springSeatPoint } from "../../../core/design/corner-geometry.ts";
import { withOrigins } from "../../../core/design/origins.ts";
import { JOINT_NAMES, type JointName, type Origin, type Outline, type PointSZ, type Scenario } from "../../../core/design/types.ts";
import type { Answers, NumberKey } from "../../../scenario/own-car/answers.ts";
import { answered } from "../../../scenario/own-car/own-car.ts";
import { withAt } from "../../../state/edit.ts";
import { JOINT_WORDS } from "../../../view/words.ts";

/** Places that can be taken in hand on the picture: of the right-hand side, for both sides alike. */
export type PlaceId = JointName | "wheel" | "wheelTop" | "springTop" | "seat" | `outline.${number}`;

const TRACED = "traced body";
const SEAT_END = 1;

const isJoint = (id: string): id is JointName => (JOINT_NAMES as readonly string[]).includes(id);
const tracedAt = (s: Scenario): number => s.fit.outlines.findIndex((o) => o.name === TRACED);
export const tracedOutline = (s: Scenario): Outline | undefined => s.fit.outlines[tracedAt(s)];

/** What can be moved on this car. */
export function placesOf(s: Scenario): PlaceId[] {
  const seat: PlaceId[] = s.corner.spring.seat.on === "hub" ? [] : ["seat"];
  return [...JOINT_NAMES, "wheel", "wheelTop", "springTop", ...seat, ...(tracedOutline(s)?.points ?? []).map((_, i): PlaceId => `outline.${i}`)];
}

export function placeOf(s: Scenario, id: PlaceId): PointSZ {
  if (isJoint(id)) return s.corner[id];
  if (id === "wheel") return s.corner.wheelCentre;
  if (id === "wheelTop") return { sMm: s.corner.wheelCentre.sMm, zMm: s.corner.wheelCentre.zMm + s.corner.wheel.radiusMm };
  if (id === "springTop") return s.corner.spring.top;
  if (id === "seat") return springSeatPoint(s.corner);
  return tracedOutline(s)?.points[Number(id.slice(8))] ?? { sMm: 0, zMm: 0 };
}

const WORDS = { wheel: "wheel's middle", wheelTop: "top of the wheel", springTop: "spring top", seat: "spring foot" } as const;
export const placeWords = (id: PlaceId): string =>
  isJoint(id) ? JOINT_WORDS[id] : id in WORDS ? WORDS[id as keyof typeof WORDS] : `outline, point ${Number(id.slice(8)) + 1}`;

/** The answer that a place gives first; null: it is no answer. */
export function placeKey(id: PlaceId): NumberKey | null {
  if (isJoint(id)) return `${id}.out`;
  const keys = { wheel: "trackMm", wheelTop: "wheelDiameterMm", springTop: "springTop.out", seat: "springSeatPercent" } as const;
  return id in keys ? keys[id as keyof typeof keys] : null;
}

/** How the two coordinates of a place are known; null: put by hand. */
export interface PlaceKnown {
  out: Origin;
  up: Origin;
}

/** The car with a place moved, mm. Without a photo the wheel only goes out and in: it stands on the road. */
export function withPlace(s: Scenario, id: PlaceId, to: PointSZ, known: PlaceKnown | null): Scenario {
  const tell = (out: Answers, up: Answers): Scenario => answered(answered(s, out, known?.out ?? null), up, known?.up ?? null);
  if (isJoint(id)) return tell({ [`${id}.out`]: to.sMm }, { [`${id}.up`]: to.zMm });
  if (id === "springTop") return tell({ "springTop.out": to.sMm }, { "springTop.up": to.zMm });
  if (id === "wheel") {
    // the ± of the track is twice that of the wheel's place
    const out = known ? { ...known.out, ...(known.out.plusMinus === undefined ? {} : { plusMinus: 2 * known.out.plusMinus }) } : null;
    return answered(s, { trackMm: 2 * to.sMm }, out);
  }
  // the unloaded tyre stands on the road, so that its top tells the diameter
  if (id === "wheelTop") return answered(s, { wheelDiameterMm: to.zMm }, known?.up ?? null);
  if (id === "seat") {
    const { seat } = s.corner.spring;
    if (seat.on === "hub") return s;
    const [inner, outer] = seat.on === "upperArm" ? [s.corner.upperInner, s.corner.upperOuter] : [s.corner.lowerInner, s.corner.lowerOuter];
    const [ds, dz] = [outer.sMm - inner.sMm, outer.zMm - inner.zMm];
    const long = Math.sqrt(ds * ds + dz * dz);
    const share = ((to.sMm - inner.sMm) * ds + (to.zMm - inner.zMm) * dz) / (long * long);
    const percent = Math.round(1000 * Math.min(SEAT_END, Math.max(0, share))) / 10;
    return answered(s, { springSeatPercent: percent }, known ? { ...known.out, plusMinus: (100 * (known.out.plusMinus ?? 0)) / long } : null);
  }
  const at = tracedAt(s);
  return at < 0 ? s : pointKnown(withAt(s, `fit.outlines[${at}].points[${Number(id.slice(8))}]`, { ...to }), at, Number(id.slice(8)), known);
}

const MOST_POINTS = 60;

/** An outline's point, known as it was put. */
const pointKnown = (s: Scenario, outline: number, point: number, known: PlaceKnown | null): Scenario => {
  const path = `fit.outlines[${outline}].points[${point}]`;
  return withOrigins(s, { [`${path}.sMm`]: known?.out ?? null, [`${path}.zMm`]: known?.up ?? null });
};

/** The body's outline with a point more; the first two come together, since a line has two ends. */
export function withOutlinePoint(s: Scenario, to: PointSZ, known: PlaceKnown | null): Scenario {
  const at = tracedAt(s);
  if (at < 0) {
    const outline: Outline = { name: TRACED, points: [to, { sMm: to.sMm + 10, zMm: to.zMm }], closed: false, bothSides: true };
    return pointKnown({ ...s, fit: { ...s.fit, outlines: [...s.fit.outlines, outline] } }, s.fit.outlines.length, 0, known);
  }
  const { points } = s.fit.outlines[at] as Outline;
  return points.length >= MOST_POINTS ? s : pointKnown(withAt(s, `fit.outlines[${at}].points`, [...points, to]), at, points.length, known);
}

/** Without the outline's last point; without the outline where it had but two. */
export function withoutOutlinePoint(s: Scenario): Scenario {
  const at = tracedAt(s);
  const points = s.fit.outlines[at]?.points ?? [];
  if (points.length <= 2) return { ...s, fit: { ...s.fit, outlines: s.fit.outlines.filter((_, i) => i !== at) } };
  return withAt(s, `fit.outlines[${at}].points`, points.slice(0, -1));
}

/** A coordinate on a grid, mm. */
export const onGrid = (mm: number, grid: number): number => Math.round(Math.round(mm / grid) * grid * 1e3) / 1e3;
