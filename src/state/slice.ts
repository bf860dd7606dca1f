import type { ViewState } from "./document.ts";
import { type Fields, fieldsOf } from "./read.ts";

/**
 * One page's own part of the view. It lies in the view as plain values under the page's key, is read field by field
 * like a file, and stays untouched while its page is not loaded.
 */
export interface Slice<T extends object> {
  readonly key: string;
  readonly initial: T;
  of(view: ViewState): T;
  /** the view's pages with some fields of this one set */
  patched(view: ViewState, patch: Partial<T>): Pick<ViewState, "pages">;
}

/** @param read every field from unknown values, with a default for what does not fit */
export function defineSlice<T extends object>(key: string, initial: T, read: (raw: Fields) => T): Slice<T> {
  const known = new WeakMap<object, T>();
  const of = (view: ViewState): T => {
    const raw = view.pages[key];
    if (typeof raw !== "object" || raw === null) return initial;
    let value = known.get(raw);
    if (!value) {
      value = read(fieldsOf(raw));
      known.set(raw, value);
    }
    return value;
  };
  return {
    key,
    initial,
    of,
    patched(view, patch) {
      const next = { ...of(view), ...patch };
      known.set(next, next);
      return { pages: { ...view.pages, [key]: next } };
    },
  };
}
