import type { PointSZ } from "../../core/design/types.ts";
import { mapped } from "../../core/trace/homography.ts";
import { mmPerPx, type PictureMap, pictureMap, tracedPlace } from "../../core/trace/tracing.ts";
import type { V2 } from "../../core/vec.ts";
import { download, fileName } from "../../ui/files.ts";
import { fixed } from "../../view/format.ts";
import { readPhoto } from "./photo/read.ts";
import { clearPhotos, keepPhoto, keptPhoto } from "./photo/shelf.ts";
import type { PlaceKnown } from "./state/places.ts";
import { newPhoto, type PhotoView, tracingOf } from "./state/slice.ts";

/** The photo of the work in hand: brought from the browser's store, taken in, kept, and asked what a place on it is. */
export interface PhotoHand {
  canvas: HTMLCanvasElement;
  /** what is wrong, in one sentence; empty: nothing */
  fault(): string;
  take(file: Blob, name: string): Promise<void>;
  /** brings the photo that the view names onto the canvas, once */
  bring(photo: PhotoView | null): void;
  /** the photo is on the canvas */
  isThere(photo: PhotoView): boolean;
  save(photo: PhotoView, name: string): Promise<void>;
  map(photo: PhotoView): PictureMap;
  /** mm per px in the middle of the car, and how sure a place there is */
  told(photo: PhotoView, pxOfStagePerMm: number): string;
  /** how a place put at these mm is known */
  known(photo: PhotoView, at: PointSZ, pxOfStagePerMm: number, date: string): PlaceKnown | null;
}

const NOTHING_CHANGED = "Nothing has changed.";
const GONE = "The photo of this design is not in this browser any more; its marks are.";
const NOT_KEPT = "This browser keeps no photos: it lasts until the page is closed.";

const newId = (): string => Array.from(crypto.getRandomValues(new Uint8Array(8)), (b) => b.toString(16).padStart(2, "0")).join("");

/** That some work in this browser names a photo. */
function isNamed(id: string): boolean {
  try {
    for (let i = 0; i < localStorage.length; i++) if (localStorage.getItem(localStorage.key(i) ?? "")?.includes(id)) return true;
    return false;
  } catch {
    return true;
  }
}

export function createPhotoHand(canvas: HTMLCanvasElement, hooks: { put(photo: PhotoView): void; changed(): void }): PhotoHand {
  let fault = "";
  let there = "";
  let asked = "";
  let kept: { photo: PhotoView; map: PictureMap } | null = null;
  const say = (text: string): void => {
    fault = text;
    hooks.changed();
  };
  const draw = (id: string, from: CanvasImageSource, w: number, h: number): void => {
    canvas.width = w;
    canvas.height = h;
    canvas.getContext("2d")?.drawImage(from, 0, 0, w, h);
    there = id;
  };
  void clearPhotos(isNamed);

  const map = (photo: PhotoView): PictureMap => {
    if (kept?.photo.marks !== photo.marks || kept.photo.corners !== photo.corners || kept.photo.straighten !== photo.straighten)
      kept = { photo, map: pictureMap(tracingOf(photo)) };
    return kept.map;
  };
  /** standard deviation of what a hand puts on a photo seen at this scale, px of the photo: a px of either, whichever is larger */
  const handPx = (photo: PhotoView, at: V2, stagePerMm: number): number | null => {
    const m = map(photo);
    const per = m.ok ? mmPerPx(m.toMm, at) : null;
    return per === null ? null : Math.max(1, 1 / (per * stagePerMm));
  };

  return {
    canvas,
    fault: () => fault,
    async take(file, name) {
      const read = await readPhoto(file, name);
      if (!read.ok) {
        say(`${read.message} ${NOTHING_CHANGED}`);
        return;
      }
      const id = newId();
      const { canvas: from, blob } = read.photo;
      fault = (await keepPhoto(id, blob)) ? "" : NOT_KEPT;
      draw(id, from, from.width, from.height);
      asked = id;
      hooks.put(newPhoto(id, from.width, from.height));
    },
    bring(photo) {
      if (!photo || photo.id === asked) return;
      asked = photo.id;
      fault = "";
      void keptPhoto(photo.id).then(async (blob) => {
        if (asked !== photo.id) return;
        const bitmap = blob && (await createImageBitmap(blob).catch(() => null));
        if (!bitmap) return say(GONE);
        draw(photo.id, bitmap, photo.widthPx, photo.heightPx);
        bitmap.close();
        hooks.changed();
      });
    },
    isThere: (photo) => there === photo.id,
    async save(photo, name) {
      const blob = await keptPhoto(photo.id);
      if (blob) download(`${fileName(name)}-photo.jpg`, "image/jpeg", blob);
      else say(GONE);
    },
    map,
    told(photo, stagePerMm) {
      const m = map(photo);
      if (!m.ok) return m.message;
      const { left, right } = photo.marks.level;
      const at: V2 = [(left[0] + 3 * right[0]) / 4, (left[1] + 3 * right[1]) / 4];
      const per = mmPerPx(m.toMm, at);
      const hand = handPx(photo, at, stagePerMm);
      const place = hand === null ? null : tracedPlace(tracingOf(photo), at, hand);
      if (per === null || !place) return "These marks tell no scale at the car: put them nearer to it.";
      const sure = Math.max(place.xPlusMinus, place.zPlusMinus);
      return `1 pixel of the photo is ${fixed(per, 2)} mm; a place traced at this size is sure to \u00b1${fixed(sure, 1)} mm.${hand !== null && hand > 1.2 ? " Come nearer (+), and it is surer." : ""}`;
    },
    known(photo, at, stagePerMm, date) {
      const m = map(photo);
      const px = m.ok ? mapped(m.toPx, [at.sMm, at.zMm]) : null;
      const hand = px && handPx(photo, px, stagePerMm);
      const place = px && hand ? tracedPlace(tracingOf(photo), px, hand) : null;
      if (!place) return null;
      const of = (v: number) => ({ how: "measured", plusMinus: Math.max(0.01, Math.round(v * 100) / 100), date, note: "traced" }) as const;
      return { out: of(place.xPlusMinus), up: of(place.zPlusMinus) };
    },
  };
}
