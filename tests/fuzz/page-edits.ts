import { drag, fit, load, manyBoxes, nudge, ownSide, parts } from "./axle-edits.ts";
import { benchTests, runs } from "./bench-edits.ts";
import type { Edit } from "./desk.ts";
import { copy, keep, known, look, open, redo, rename, shelf, swap, takeFromB, undo } from "./document-edits.ts";
import { arm, armHandle, drive, tracks, tryAsB } from "./other-page-edits.ts";
import { ownCar } from "./own-car-edits.ts";

/** Edits of all pages by name, each with how often it comes. */
export const EDITS: readonly (readonly [name: string, often: number, edit: Edit])[] = [
  ["part", 9, parts],
  ["own side", 1, ownSide],
  ["drag", 6, drag],
  ["nudge", 4, nudge],
  ["fit", 3, fit],
  ["many boxes", 0.05, manyBoxes],
  ["arm", 4, arm],
  ["arm handle", 3, armHandle],
  ["own car", 6, ownCar],
  ["bench", 6, benchTests],
  ["runs", 2, runs],
  ["drive", 3, drive],
  ["load", 4, load],
  ["take", 5, takeFromB],
  ["swap", 1, swap],
  ["copy", 1, copy],
  ["known", 3, known],
  ["shelf", 2, shelf],
  ["rename", 1, rename],
  ["open", 1.5, open],
  ["keep", 0.5, keep],
  ["track", 1, tracks],
  ["try as B", 1, tryAsB],
  ["undo", 4, undo],
  ["redo", 3, redo],
  ["look", 1, look],
];
