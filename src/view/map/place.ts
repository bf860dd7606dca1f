import type { V2 } from "../../core/vec.ts";
import type { Box } from "../labels.ts";

/** A text along a line, px: its middle, and its turn in degrees. */
export interface OnLine {
  at: V2;
  deg: number;
}

export const overlaps = (a: Box, b: Box): boolean => a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h;
export const isFree = (box: Box, taken: readonly Box[], sheet: Box): boolean =>
  box.x >= sheet.x && box.y >= sheet.y && box.x + box.w <= sheet.x + sheet.w && box.y + box.h <= sheet.y + sheet.h && !taken.some((t) => overlaps(box, t));

/** Boxes that cover a turned text, one for each letter height of its length, so that a slant takes no more than its strip. */
export function turnedBoxes(on: OnLine, width: number, height: number): Box[] {
  const n = Math.max(1, Math.ceil(width / height));
  const rad = (on.deg * Math.PI) / 180;
  return Array.from({ length: n }, (_, i) => {
    const d = ((i + 0.5) / n - 0.5) * width;
    return { x: on.at[0] + d * Math.cos(rad) - height / 2, y: on.at[1] + d * Math.sin(rad) - height / 2, w: height, h: height };
  });
}

/** Point at a length along a polyline. */
function along(line: readonly V2[], lengths: readonly number[], s: number): V2 {
  let i = 1;
  while (i < line.length - 1 && (lengths[i] as number) < s) i++;
  const a = line[i - 1] as V2;
  const b = line[i] as V2;
  const l0 = lengths[i - 1] as number;
  const l1 = lengths[i] as number;
  const t = l1 > l0 ? Math.max(0, Math.min(1, (s - l0) / (l1 - l0))) : 0;
  return [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
}

/** Where a text fits along one of some lines: shifted to a side of it (px, up is negative), not over what is taken; null when nowhere. */
export function alongLine(
  lines: readonly (readonly V2[])[],
  width: number,
  height: number,
  shift: number,
  taken: readonly Box[],
  sheet: Box,
  wanted: readonly number[],
): OnLine | null {
  for (const line of [...lines].sort((a, b) => b.length - a.length)) {
    const lengths = [0];
    for (let i = 1; i < line.length; i++) {
      const a = line[i - 1] as V2;
      const b = line[i] as V2;
      lengths.push((lengths[i - 1] as number) + Math.sqrt((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2));
    }
    const total = lengths.at(-1) as number;
    if (total < width * 1.1) continue;
    for (const share of wanted) {
      const middle = share * total;
      const from = middle - width / 2;
      if (from < 0 || from + width > total) continue;
      const a = along(line, lengths, from);
      const b = along(line, lengths, from + width);
      const deg = (Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI;
      const rad = (deg * Math.PI) / 180;
      const c: V2 = [(a[0] + b[0]) / 2 - Math.sin(rad) * shift, (a[1] + b[1]) / 2 + Math.cos(rad) * shift];
      const on = { at: c, deg };
      if (turnedBoxes(on, width, height).every((box) => isFree(box, taken, sheet))) return on;
    }
  }
  return null;
}

/** Highest free place for a box whose middle may be at one of some places across; tried from `top` down to `bottom`. */
export function freeBox(width: number, height: number, across: readonly number[], top: number, bottom: number, taken: readonly Box[], sheet: Box): Box | null {
  const step = Math.max(4, height / 4);
  for (let y = top; y + height <= bottom; y += step)
    for (const x of across) {
      const box = { x: x - width / 2, y, w: width, h: height };
      if (isFree(box, taken, sheet)) return box;
    }
  return null;
}
