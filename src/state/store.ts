import { type Doc, deepFreeze, type ViewState } from "./document.ts";
import type { Gate } from "./gate.ts";
import { emptyHistory, type History, recorded, redone, undone } from "./history.ts";
import { withKnown } from "./known.ts";

export interface State {
  /** what is on the sheet: the document, or the drag in progress */
  doc: Doc;
  dragging: boolean;
  view: ViewState;
  undoName: string | null;
  redoName: string | null;
  /** why the last change was refused, in one sentence; null when it passed */
  refusal: string | null;
}

/**
 * The one place of truth. Every change of the document has a name in plain words; a drag is one change.
 * A value that a change sets is entered, unless the change itself tells how it is known (`known.ts`).
 * A change passes the gate or is refused with its sentence and changes nothing; the sentence is given back and stands in the state.
 */
export interface Store {
  get(): State;
  subscribe(listener: (state: State) => void): () => void;
  /** a named change, undoable */
  act(name: string, change: (doc: Doc) => Doc): string | null;
  /** as `act`, but follows of the same kind within a moment make one entry (sliders, key nudges) */
  actMerged(kind: string, name: string, change: (doc: Doc) => Doc): string | null;
  /** a drag in progress: shown, not yet in the history */
  preview(doc: Doc): string | null;
  /** ends a drag as one named change */
  commit(name: string): void;
  /** ends a drag with the document as it was */
  cancel(): void;
  /** the document before the drag */
  settled(): Doc;
  undo(): string | null;
  redo(): string | null;
  setView(patch: Partial<ViewState>): void;
  /** takes the sentence of the last refusal away */
  dismiss(): void;
  history(): History<Doc>;
  /** puts another piece of work in place, with what can be undone in it */
  load(doc: Doc, view: ViewState, history?: History<Doc>): void;
}

const MERGE_WITHIN_MS = 900;

export function createStore(doc: Doc, view: ViewState, now: () => number, gate: Gate, kept: History<Doc> = emptyHistory()): Store {
  let settled = deepFreeze(doc);
  let preview: Doc | null = null;
  let look = view;
  let history: History<Doc> = kept;
  let refusal: string | null = null;
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
      refusal,
    };
  }
  const tell = (): void => {
    state = build();
    for (const l of listeners) l(state);
  };
  /** The changed document, or null with the reason told: a change that throws is refused like any other. */
  const passed = (change: (doc: Doc) => Doc): Doc | null => {
    try {
      const next = withKnown(settled, change(settled));
      refusal = gate(next);
      if (refusal === null) return next;
    } catch (e) {
      refusal = `That cannot be done here: ${e instanceof Error ? e.message : String(e)}.`;
    }
    return null;
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
      const next = passed(change);
      if (next) put(name, next);
      tell();
      return refusal;
    },
    actMerged(kind, name, change) {
      preview = null;
      const at = now();
      const last = history.past.at(-1);
      const next = passed(change);
      if (!next) {
        tell();
        return refusal;
      }
      if (last && merge && merge.kind === kind && at - merge.at < MERGE_WITHIN_MS && !history.future.length) {
        history = { past: [...history.past.slice(0, -1), { name, before: last.before, after: next }], future: [] };
        settled = deepFreeze(next);
      } else put(name, next);
      merge = { kind, at };
      tell();
      return null;
    },
    preview(next) {
      const fit = passed(() => next);
      // past what may stand, the last that could stays in the hand
      if (fit) preview = fit;
      tell();
      return refusal;
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
      refusal = null;
      tell();
    },
    settled: () => settled,
    undo() {
      const step = undone(history);
      preview = null;
      refusal = null;
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
      refusal = null;
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
    dismiss() {
      if (refusal === null) return;
      refusal = null;
      tell();
    },
    history: () => history,
    load(next, nextView, nextHistory = emptyHistory()) {
      preview = null;
      merge = null;
      refusal = null;
      history = nextHistory;
      settled = deepFreeze(next);
      look = nextView;
      tell();
    },
  };
}
