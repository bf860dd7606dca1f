import { shownName } from "../../../scenario/words.ts";
import { pictureSize } from "./size.ts";

/** A photo ready to be looked at and kept: upright, no larger than needed, without what its file told besides. */
interface ReadPhoto {
  canvas: HTMLCanvasElement;
  blob: Blob;
}

export type PhotoRead = { ok: true; photo: ReadPhoto } | { ok: false; message: string };

/** bytes of a file that is looked at; a phone's photo has up to some 15 million */
const MOST_BYTES = 40_000_000;
/** px that are unpacked: a 64 megapixel camera's, at 4 bytes each a quarter of a gigabyte */
const MOST_PX = 65_000_000;
/** longest side of what is kept, px: a car of half a metre to a fifth of a mm */
const KEPT_PX = 3000;
const LEAST_PX = 32;
const HEAD_BYTES = 512 * 1024;
const QUALITY = 0.92;

const million = (n: number): string => `${Math.round(n / 1e6)} million`;

/** A photo from a file, turned as its metadata says and capped; what is wrong with it in one sentence. Nothing is thrown. */
export async function readPhoto(file: Blob, name: string): Promise<PhotoRead> {
  const told = shownName(name);
  const no = (words: string): PhotoRead => ({ ok: false, message: `${told}: ${words}` });
  if (file.size === 0) return no("this file is empty.");
  if (file.size > MOST_BYTES) return no(`this file has ${million(file.size)} bytes; a photo of up to ${million(MOST_BYTES)} can be opened.`);
  try {
    const size = pictureSize(new Uint8Array(await file.slice(0, HEAD_BYTES).arrayBuffer()));
    if (size && size.widthPx * size.heightPx > MOST_PX)
      return no(`this picture has ${size.widthPx} by ${size.heightPx} pixels; up to ${million(MOST_PX)} can be opened. Save it smaller.`);
    const bitmap = await createImageBitmap(file, { imageOrientation: "from-image" });
    const { width, height } = bitmap;
    if (width * height > MOST_PX) return no(`this picture has ${width} by ${height} pixels; up to ${million(MOST_PX)} can be opened. Save it smaller.`);
    if (Math.min(width, height) < LEAST_PX) return no(`this picture has ${width} by ${height} pixels; at least ${LEAST_PX} each way are needed.`);
    const k = Math.min(1, KEPT_PX / Math.max(width, height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(width * k);
    canvas.height = Math.round(height * k);
    const pen = canvas.getContext("2d");
    if (!pen) return no("this browser draws no pictures.");
    pen.imageSmoothingQuality = "high";
    pen.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
    bitmap.close();
    const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, "image/jpeg", QUALITY));
    return blob ? { ok: true, photo: { canvas, blob } } : no("this browser cannot keep it.");
  } catch {
    return no("this is no picture that this browser can read, or it is damaged.");
  }
}
