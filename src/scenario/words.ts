import { CAPS } from "./caps.ts";

/** Small helpers for messages that a builder reads. */

/** Edits (insert, drop, change, swap of neighbours) that turn one word into the other; upper and lower case count alike. */
function edits(a: string, b: string): number {
  const x = a.toLowerCase();
  const y = b.toLowerCase();
  const d = Array.from({ length: x.length + 1 }, (_, i) => Array.from({ length: y.length + 1 }, (_, j) => (i === 0 ? j : j === 0 ? i : 0)));
  for (let i = 1; i <= x.length; i++)
    for (let j = 1; j <= y.length; j++) {
      const same = x[i - 1] === y[j - 1] ? 0 : 1;
      let best = Math.min(d[i - 1]![j]! + 1, d[i]![j - 1]! + 1, d[i - 1]![j - 1]! + same);
      if (i > 1 && j > 1 && x[i - 1] === y[j - 2] && x[i - 2] === y[j - 1]) best = Math.min(best, d[i - 2]![j - 2]! + 1);
      d[i]![j] = best;
    }
  return d[x.length]![y.length]!;
}

/** One letter in so many may be wrong in a word that is still taken for another. */
const LETTERS_PER_SLIP = 3;
/** A beginning of so many letters stands for the whole word. */
const BEGINNING_LETTERS = 3;

function isNear(word: string, known: string, slips: number): boolean {
  if (word.length >= BEGINNING_LETTERS && known.toLowerCase().startsWith(word.toLowerCase())) return true;
  return slips <= Math.max(1, Math.floor(Math.max(word.length, known.length) / LETTERS_PER_SLIP));
}

/** The word of the list that `word` was probably meant to be; undefined when none is near. */
export function nearest(word: string, list: readonly string[]): string | undefined {
  if (word.length > CAPS.wordLetters) return undefined;
  const near = list.map((known) => ({ known, slips: edits(word, known) })).filter(({ known, slips }) => isNear(word, known, slips));
  return near.reduce<(typeof near)[number] | undefined>((best, one) => (best && best.slips <= one.slips ? best : one), undefined)?.known;
}

/** Controls, ends of line, halves of letters, and what turns the direction of reading. */
const UNSEEN = /[\p{Cc}\p{Zl}\p{Zp}\p{Cs}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu;

/** A text of others as it may stand in a message or on a terminal: what would be acted on instead of shown is written out, as \u001b. */
export const visible = (text: string): string => text.replace(UNSEEN, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, "0")}`);

/** A text of others, short and visible. */
export const shownText = (text: string): string => visible(text.length > CAPS.shownLetters ? `${text.slice(0, CAPS.shownLetters - 3)}...` : text);

/** The same in quotes. */
export const quoted = (text: string): string => `"${shownText(text).replaceAll('"', '\\"')}"`;

/** The name of a file, visible; of a very long one the end, which tells most. */
export const shownName = (name: string): string =>
  visible(name.length > CAPS.shownNameLetters ? `...${name.slice(name.length - CAPS.shownNameLetters + 3)}` : name);

/** A value as it stands in the file, shortened; lists and objects are only named. */
export function shownValue(value: unknown, unit: string): string {
  if (value === undefined) return "missing";
  if (typeof value === "number") return unit === "" ? String(value) : `${value} ${unit}`;
  if (Array.isArray(value)) return "a list";
  if (typeof value === "object" && value !== null) return "an object";
  if (typeof value === "string") return quoted(value);
  return String(value);
}
