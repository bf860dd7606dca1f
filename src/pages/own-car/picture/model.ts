import type { Scenario } from "../../../core/design/types.ts";
import { after, type Homography } from "../../../core/trace/homography.ts";
import type { V2 } from "../../../core/vec.ts";
import { isTold } from "../../../scenario/own-car/own-car.ts";
import { type Camera, projector } from "../../../view/camera.ts";
import { fixed } from "../../../view/format.ts";
import { cameraMap, marksOf, markWords, PHOTO_UP } from "../state/marks.ts";
import { placeKey, placeOf, placesOf, placeWords } from "../state/places.ts";
import type { PhotoView } from "../state/slice.ts";
import { builtShapes, type Shape } from "./as-built.ts";

/** A point on the picture that can be taken in hand, of the car or of the photo. */
export interface Grip {
  id: string;
  /** px of the stage */
  at: V2;
  name: string;
  value: string;
  look: "told" | "guess" | "mark";
}

export interface PictureModel {
  shapes: readonly Shape[];
  /** line between marks of the photo, px */
  rules: readonly { key: string; d: string }[];
  grips: readonly Grip[];
  /** the grip in hand or in focus */
  active: string | null;
  /** how the photo lies on the stage, as the nine of its homography; null: none is seen */
  photo: { h: readonly number[]; strength: number } | null;
  /** taps put points */
  pointing: boolean;
  zoomed: boolean;
  note: string;
}

type Drawn = Pick<PictureModel, "shapes" | "rules" | "grips" | "photo" | "note">;

/** The photo as it is, with its marks. @param there it has come from the browser's store */
export function markPicture(photo: PhotoView, camera: Camera, there: boolean, active: string | null): Drawn {
  const px = projector(camera);
  const at = (p: V2): V2 => px([p[0], -p[1]]);
  const line = (points: readonly V2[], closed = false): string =>
    `${points
      .map(at)
      .map(([x, y], i) => `${i === 0 ? "M" : "L"}${x.toFixed(1)} ${y.toFixed(1)}`)
      .join("")}${closed ? "Z" : ""}`;
  const { distance, level } = photo.marks;
  const grips = marksOf(photo).map(
    (m): Grip => ({ id: m.id, at: at(m.at), name: markWords(m.id), value: `${fixed(m.at[0], 0)} across, ${fixed(m.at[1], 0)} down`, look: "mark" }),
  );
  return {
    shapes: [],
    rules: [
      ...(distance ? [{ key: "distance", d: line([distance.a, distance.b]) }] : []),
      { key: "level", d: line([level.left, level.right]) },
      ...(photo.straighten ? [{ key: "corners", d: line(photo.corners.corners, true) }] : []),
    ],
    grips,
    photo: there ? { h: after(cameraMap(camera), PHOTO_UP), strength: 1 } : null,
    note: grips.find((g) => g.id === active)?.name ?? "Pull the marks onto the photo, or move them with the arrow keys.",
  };
}

function gripsOf(s: Scenario, px: (p: V2) => V2): Grip[] {
  return placesOf(s).map((id): Grip => {
    const p = placeOf(s, id);
    const key = placeKey(id);
    const told = key === null || isTold(s, key);
    return {
      id,
      at: px([p.sMm, p.zMm]),
      name: placeWords(id),
      value: `${fixed(p.sMm, 1)} mm out, ${fixed(p.zMm, 1)} mm up${told ? "" : ", a guess"}`,
      look: told ? "told" : "guess",
    };
  });
}

/** The car as told so far, on the photo if one lies under it. */
export function carPicture(s: Scenario, camera: Camera, photo: { toMm: Homography; strength: number } | null, active: string | null): Drawn {
  const grips = gripsOf(s, projector(camera));
  const inHand = grips.find((g) => g.id === active);
  return {
    shapes: builtShapes(s, camera),
    rules: [],
    grips,
    photo: photo && { h: after(cameraMap(camera), photo.toMm), strength: photo.strength },
    note: inHand ? `${inHand.name}: ${inHand.value}` : "Dashed is guessed. Pull a ring, or move it with the arrow keys.",
  };
}
