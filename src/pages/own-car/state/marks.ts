import type { FourPoints, Homography } from "../../../core/trace/homography.ts";
import type { V2 } from "../../../core/vec.ts";
import type { Camera } from "../../../view/camera.ts";
import type { PhotoView } from "./slice.ts";

/** The marks on a photo that tell its scale, its level and, if wanted, its perspective. */
export type MarkId = "mark.a" | "mark.b" | "mark.left" | "mark.right" | "mark.middle" | `mark.corner${0 | 1 | 2 | 3}`;

const CORNERS = ["upper left", "upper right", "lower right", "lower left"] as const;
const WORDS: Readonly<Record<string, string>> = {
  "mark.a": "known distance, one end",
  "mark.b": "known distance, other end",
  "mark.left": "level line, left end",
  "mark.right": "level line, right end",
  "mark.middle": "middle of the car",
};

export const isMark = (id: string): id is MarkId => id.startsWith("mark.");
export const markWords = (id: MarkId): string => WORDS[id] ?? `rectangle, ${CORNERS[Number(id.slice(-1)) as 0 | 1 | 2 | 3]} corner`;

/** The marks that count on this photo, px from its upper left corner. */
export function marksOf(p: PhotoView): { id: MarkId; at: V2 }[] {
  const { distance, level, middle } = p.marks;
  return [
    ...(distance
      ? [
          { id: "mark.a" as const, at: distance.a },
          { id: "mark.b" as const, at: distance.b },
        ]
      : []),
    { id: "mark.left", at: level.left },
    { id: "mark.right", at: level.right },
    ...(middle ? [{ id: "mark.middle" as const, at: middle }] : []),
    ...(p.straighten ? p.corners.corners.map((at, i) => ({ id: `mark.corner${i as 0 | 1 | 2 | 3}` as const, at })) : []),
  ];
}

/** The photo with a mark moved, within its edges. */
export function withMark(p: PhotoView, id: MarkId, to: V2): PhotoView {
  const at: V2 = [Math.min(p.widthPx, Math.max(0, to[0])), Math.min(p.heightPx, Math.max(0, to[1]))];
  const { marks } = p;
  const end = id.slice(5);
  if (end === "a" || end === "b") return marks.distance ? { ...p, marks: { ...marks, distance: { ...marks.distance, [end]: at } } } : p;
  if (end === "left" || end === "right") return { ...p, marks: { ...marks, level: { ...marks.level, [end]: at } } };
  if (end === "middle") return { ...p, marks: { ...marks, middle: at } };
  const corners = p.corners.corners.map((c, i) => (i === Number(id.slice(-1)) ? at : c)) as unknown as FourPoints;
  return { ...p, corners: { ...p.corners, corners } };
}

/** The camera of a picture as the map from its mm (z up) to px of the stage. */
export function cameraMap(c: Camera): Homography {
  const k = c.scale;
  return [k, 0, c.widthPx / 2 - k * c.centre[0], 0, -k, c.heightPx / 2 + k * c.centre[1], 0, 0, 1];
}

/** Photo px as a picture of its own: y turned up. */
export const PHOTO_UP: Homography = [1, 0, 0, 0, -1, 0, 0, 0, 1];
