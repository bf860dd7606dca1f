/** A change with the words that name it, and the documents before and after. */
export interface Entry<T> {
  name: string;
  before: T;
  after: T;
}

export interface History<T> {
  past: readonly Entry<T>[];
  future: readonly Entry<T>[];
}

/** steps that can be undone */
export const KEPT = 200;

export const emptyHistory = <T>(): History<T> => ({ past: [], future: [] });

/** Adds a change; what had been undone before it is gone. A change that changed nothing leaves no entry. */
export function recorded<T>(h: History<T>, entry: Entry<T>): History<T> {
  if (Object.is(entry.before, entry.after)) return h;
  return { past: [...h.past, entry].slice(-KEPT), future: [] };
}

export function undone<T>(h: History<T>): { history: History<T>; doc: T; name: string } | null {
  const last = h.past.at(-1);
  if (!last) return null;
  return { history: { past: h.past.slice(0, -1), future: [last, ...h.future] }, doc: last.before, name: last.name };
}

export function redone<T>(h: History<T>): { history: History<T>; doc: T; name: string } | null {
  const next = h.future[0];
  if (!next) return null;
  return { history: { past: [...h.past, next], future: h.future.slice(1) }, doc: next.after, name: next.name };
}
