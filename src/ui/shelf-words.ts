import { fieldName, valueWords } from "../core/design/field-words.ts";
import { isPlain } from "../core/design/plain.ts";
import { KINDS_OF_PARTS, type ShelfPart } from "../scenario/shelf-kinds.ts";
import { plusMinusWords } from "../view/origin-words.ts";

/** so many of its values tell a part from the next */
const TOLD = 3;

/** What a part of the shelf is, by its first values: "rate 1.75 N/mm (± 0.12 N/mm), free length 67.5 mm (± 0.7 mm)". */
export function partValues(p: ShelfPart): string {
  const { root, places } = KINDS_OF_PARTS[p.kind];
  const base = `${root ? "" : "corner."}${places[0]}`;
  return Object.entries(p.values)
    .slice(0, TOLD)
    .map(([field, value]) => {
      const path = `${base}.${field}`;
      if (isPlain(value)) return valueWords(path, value);
      const f = fieldName(path);
      const sure = p.known[field]?.plusMinus;
      const told = `${valueWords(path, value)}${f && f.unit !== "" ? ` ${f.unit}` : ""}`;
      return `${f?.short ?? field} ${told}${sure === undefined ? "" : ` (${plusMinusWords(path, sure)})`}`;
    })
    .join(", ");
}

/** How its values are known: how many are measured, guessed and entered. */
export function partKnown(p: ShelfPart): string {
  const all = Object.values(p.known);
  const measured = all.filter((o) => o.how === "measured").length;
  const guesses = all.length - measured;
  return (
    [measured > 0 ? `${measured} measured` : "", guesses > 0 ? `${guesses} ${guesses === 1 ? "guess" : "guesses"}` : ""].filter(Boolean).join(", ") || "entered"
  );
}
