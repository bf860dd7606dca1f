import { type Doc, deepFreeze, type ViewState } from "./document.ts";
import { emptyHistory, type History, recorded, redone, undone } from "./history.ts";

export interface State {
  /** what is on the sheet: the document, or the drag in progress */
  doc: Doc;
  dragging: boolean;
  view: ViewState;
  undoName: string | null;
  redoName: string | null;
}

/** The one place of truth. Every change of the document has a name in plain words; a drag is one change. */
export interface Store {
  get(): State;
  subscribe(listener: (state: State) => void): () => void;
  /** a named change, undoable */
  act(name: string, change: (doc: Doc) => Doc): void;
  /** as `act`, but follows of the same kind within a moment make one entry (sliders, key nudges) */
  actMerged(kind: string, name: string, change: (doc: Doc) => Doc): void;
  /** a drag in progress: shown, not yet in the history */
  preview(doc: Doc): void;
  /** ends a drag as one named change */
  commit(name: string): void;
  /** ends a drag with the document as it was */
  cancel(): void;
  /** the document before the drag */
  settled(): Doc;
  undo(): string | null;
  redo(): string | null;
  setView(patch: Partial<ViewState>): void;
  /** puts another document in place with an empty history (restored session) */
  load(doc: Doc, view: ViewState): void;
}

const MERGE_WITHIN_MS = 900;

export function createStore(doc: Doc, view: ViewState, now: () => number): Store {
  let settled = deepFreeze(doc);
  let preview: Doc | null = null;
  let look = view;
  let history: History<Doc> = emptyHistory();
  let merge: { kind: string; at: number } | null = null;
  const listeners = new Set<(s: State) => void>();
  let state: State = build();

  function build(): State {
    return {
      doc: preview ?? settled,
      dragging: preview !== null,
      view: look,
      undoName: history.past.at(-1)?.name ?? null,
      redoName: history.future[0]?.name ?? null,
    };
  }
  const tell = (): void => {
    state = build();
    for (const l of listeners) l(state);
  };
  const put = (name: string, next: Doc): void => {
    history = recorded(history, { name, before: settled, after: next });
    settled = deepFreeze(next);
  };

  return {
    get: () => state,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    act(name, change) {
      preview = null;
      merge = null;
      put(name, change(settled));
      tell();
    },
    actMerged(kind, name, change) {
      preview = null;
      const at = now();
      const last = history.past.at(-1);
      const next = change(settled);
      if (last && merge && merge.kind === kind && at - merge.at < MERGE_WITHIN_MS && !history.future.length) {
        history = { past: [...history.past.slice(0, -1), { name, before: last.before, after: next }], future: [] };
        settled = deepFreeze(next);
      } else put(name, next);
      merge = { kind, at };
      tell();
    },
    preview(next) {
      preview = next;
      tell();
    },
    commit(name) {
      const next = preview;
      preview = null;
      merge = null;
      if (next) put(name, next);
      tell();
    },
    cancel() {
      preview = null;
      tell();
    },
    settled: () => settled,
    undo() {
      const step = undone(history);
      preview = null;
      merge = null;
      if (!step) return null;
      history = step.history;
      settled = step.doc;
      tell();
      return step.name;
    },
    redo() {
      const step = redone(history);
      preview = null;
      merge = null;
      if (!step) return null;
      history = step.history;
      settled = step.doc;
      tell();
      return step.name;
    },
    setView(patch) {
      look = { ...look, ...patch };
      tell();
    },
    load(next, nextView) {
      preview = null;
      merge = null;
      history = emptyHistory();
      settled = deepFreeze(next);
      look = nextView;
      tell();
    },
  };
}
