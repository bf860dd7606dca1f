import { fieldName, pathName, valueWords } from "../core/design/field-words.ts";
import { fieldValue } from "../core/design/origins.ts";
import type { Scenario } from "../core/design/types.ts";
import { originWords } from "../view/origin-words.ts";
import { table } from "./markup.ts";

/** Every value of which it is told how it is known; nothing where none is. */
export function knownTable(s: Scenario): string {
  const paths = Object.keys(s.origins);
  if (paths.length === 0) return "";
  const order = { guess: 0, measured: 1, entered: 2 };
  const rows = paths.map((path) => {
    const unit = fieldName(path)?.unit ?? "";
    return { path, how: s.origins[path]!, value: `${valueWords(path, fieldValue(s, path))}${unit === "" ? "" : ` ${unit}`}` };
  });
  rows.sort((x, y) => order[x.how.how] - order[y.how.how]);
  return table({
    caption: "Values that are guesses or measured; all others are entered",
    head: ["value", "taken to be", "known as"],
    rows: rows.map(({ path, how, value }) => [pathName(path), value, originWords(path, how)]),
    words: [0, 1, 2],
  });
}
