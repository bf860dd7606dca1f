import { fieldName } from "../core/design/field-words.ts";
import { fieldValue } from "../core/design/origins.ts";
import type { Origin, Scenario } from "../core/design/types.ts";
import { rangeOf } from "../scenario/ranges.ts";
import { assumedWords } from "../view/doubt-words.ts";
import { howOf } from "../view/origin-words.ts";
import { createOriginEditor, createOriginMark, type OriginMark } from "./origin-editor.ts";

export interface OriginFieldsHooks {
  /** how the value at a path is known; null: entered. `typed`: one of several quick changes */
  set(path: string, origin: Origin | null, typed: boolean): void;
  /** the day that it is, as 2026-11-26 */
  today(): string;
}

/** Marks of how values are known for rows of single fields of the file; one at a time opens below its row. */
export interface OriginFields {
  /** @param at where the mark stands, and the row that it opens under */
  add(path: string, name: string, at: Element, row: Element): void;
  update(s: Scenario): void;
}

export function createOriginFields(hooks: OriginFieldsHooks): OriginFields {
  const rows = new Map<string, { mark: OriginMark; row: Element; name: string }>();
  let open: string | null = null;
  let last: Scenario | null = null;
  const editor = createOriginEditor({
    set: (origin, typed) => {
      if (open !== null) hooks.set(open, origin, typed);
    },
    today: hooks.today,
  });
  const write = (s: Scenario): void => {
    last = s;
    let shown = false;
    for (const [path, { mark, row, name }] of rows) {
      const value = fieldValue(s, path);
      const origin = s.origins[path];
      const known = value === undefined ? null : { path, how: howOf(origin), origin, differ: false, isNumber: typeof value === "number" };
      mark.update(known, known !== null && path === open);
      if (!known || path !== open) continue;
      shown = true;
      if (row.nextSibling !== editor.el) row.after(editor.el);
      const range = rangeOf(path, s);
      const field = fieldName(path);
      editor.update({
        known,
        unit: field?.unit ?? "",
        most: range ? range.max - range.min : 0,
        times: field?.percent ? 100 : 1,
        assumed: assumedWords(s, path),
        name,
      });
    }
    if (!shown) editor.el.remove();
  };
  return {
    add(path, name, at, row) {
      const mark = createOriginMark(name, () => {
        open = open === path ? null : path;
        if (last) write(last);
      });
      rows.set(path, { mark, row, name });
      at.append(mark.el);
    },
    update: write,
  };
}
