import type { Measure } from "../view/labels.ts";

/** Advance widths of a plain sans face in thousandths of its size, by group; where no page can measure, these keep labels apart. */
const GROUPS: readonly [string, number][] = [
  ["ijlI.,:;|'!·\u2009", 278],
  ["ft()[]/\\ ", 300],
  ["rJ-", 345],
  ["ckvxyzs°", 500],
  ["abdeghnopqu0123456789?$#_LT", 556],
  ["+−=<>×~", 584],
  ["FEPSVXYZABK&", 667],
  ["CDHNRUw", 722],
  ["GOQm", 800],
  ["MW%", 880],
];
const OTHER = 600;
const WIDTHS: ReadonlyMap<string, number> = new Map(GROUPS.flatMap(([letters, width]) => [...letters].map((l): [string, number] => [l, width])));
const STRONG = 1.06;
/** faces on the reader's machine differ: a little more than the plain face */
const SPARE = 1.05;

export const measureText: Measure = (text, size, strong) => {
  let sum = 0;
  for (const letter of text) sum += WIDTHS.get(letter) ?? OTHER;
  return (sum / 1000) * size * (strong ? STRONG : 1) * SPARE;
};
