import type { FourPoints } from "../../../core/trace/homography.ts";
import type { Tracing } from "../../../core/trace/tracing.ts";
import type { V2 } from "../../../core/vec.ts";
import { type Fields, fieldsOf, flagOr, numberOr, oneOf, wordOr } from "../../../state/read.ts";
import { defineSlice } from "../../../state/slice.ts";
import { STEPS } from "./questions.ts";

/** A photo under the drawing: where it is kept, its size in px, and the marks on it. */
export interface PhotoView {
  id: string;
  widthPx: number;
  heightPx: number;
  marks: Tracing;
  /** the perspective is taken out by the four corners, which are kept while it is not */
  corners: NonNullable<Tracing["rectangle"]>;
  straighten: boolean;
  /** 0..1 */
  strength: number;
  hidden: boolean;
  /** the marks stand: the photo lies under the drawing; else it is looked at as it is, with its marks to be put */
  locked: boolean;
}

/** How the page of one's own car is looked at. */
export interface OwnCarView {
  /** the questions are open */
  begun: boolean;
  step: string;
  /** places are typed in */
  places: "mm" | "holes";
  photo: PhotoView | null;
}

const MOST_PX = 20_000;

function pointOf(raw: unknown): V2 | null {
  if (!Array.isArray(raw) || raw.length !== 2) return null;
  const at = raw.map((v) => numberOr(v, null, -MOST_PX, MOST_PX));
  return at[0] === null || at[1] === null ? null : (at as V2);
}

const lengthOf = (raw: unknown): number | null => numberOr(raw, null, 0.1, 5000);

function photoOf(raw: unknown): PhotoView | null {
  if (typeof raw !== "object" || raw === null) return null;
  const r = fieldsOf(raw);
  const marks = fieldsOf(r.marks);
  const distance = fieldsOf(marks.distance);
  const level = fieldsOf(marks.level);
  const corners = fieldsOf(r.corners);
  const id = wordOr(r.id, null);
  const widthPx = numberOr(r.widthPx, null, 1, MOST_PX);
  const heightPx = numberOr(r.heightPx, null, 1, MOST_PX);
  const [a, b, left, right] = [pointOf(distance.a), pointOf(distance.b), pointOf(level.left), pointOf(level.right)];
  const four = Array.isArray(corners.corners) ? corners.corners.map(pointOf) : [];
  const [mm, heightMm] = [lengthOf(distance.mm), numberOr(level.heightMm, null, -500, 500)];
  const [w, h] = [lengthOf(corners.widthMm), lengthOf(corners.heightMm)];
  if (id === null || widthPx === null || heightPx === null || !a || !b || !left || !right || mm === null || heightMm === null) return null;
  if (four.length !== 4 || four.some((p) => p === null) || w === null || h === null) return null;
  const rectangle = { corners: four as unknown as FourPoints, widthMm: w, heightMm: h };
  const straighten = flagOr(r.straighten, false);
  return {
    id,
    widthPx,
    heightPx,
    marks: { distance: { a, b, mm }, level: { left, right, heightMm }, middle: pointOf(marks.middle), rectangle: straighten ? rectangle : null },
    corners: rectangle,
    straighten,
    strength: numberOr(r.strength, 0.6, 0, 1),
    hidden: flagOr(r.hidden, false),
    locked: flagOr(r.locked, false),
  };
}

const INITIAL: OwnCarView = { begun: false, step: "size", places: "mm", photo: null };

export const ownCarSlice = defineSlice<OwnCarView>("ownCar", INITIAL, (raw: Fields) => ({
  begun: flagOr(raw.begun, false),
  step: oneOf(
    raw.step,
    STEPS.map((s) => s.key),
    "size",
  ),
  places: oneOf(raw.places, ["mm", "holes"] as const, "mm"),
  photo: photoOf(raw.photo),
}));

/** Marks as they first lie on a photo: to be pulled where they belong. */
export function newPhoto(id: string, widthPx: number, heightPx: number): PhotoView {
  const at = (x: number, y: number): V2 => [Math.round(widthPx * x), Math.round(heightPx * y)];
  return {
    id,
    widthPx,
    heightPx,
    marks: {
      distance: { a: at(0.35, 0.3), b: at(0.65, 0.3), mm: 80 },
      level: { left: at(0.15, 0.8), right: at(0.85, 0.8), heightMm: 0 },
      middle: null,
      rectangle: null,
    },
    corners: { corners: [at(0.3, 0.4), at(0.7, 0.4), at(0.7, 0.7), at(0.3, 0.7)], widthMm: 80, heightMm: 40 },
    straighten: false,
    strength: 0.6,
    hidden: false,
    locked: false,
  };
}

/** The marks as they count: the four corners only while they take the perspective out. */
export const tracingOf = (p: PhotoView): Tracing => ({ ...p.marks, rectangle: p.straighten ? p.corners : null });
