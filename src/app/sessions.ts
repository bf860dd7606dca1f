import type { Doc, ViewState } from "../state/document.ts";
import { INITIAL_VIEW } from "../state/document.ts";
import { claimSession, type Session, saveSession } from "../state/persist.ts";
import { readDoc } from "../state/read-doc.ts";
import type { Store } from "../state/store.ts";

const OWN = "wheelstay.tab";
const SAVE_AFTER_MS = 350;
const BEAT_MS = 4000;

const newId = (): string => Array.from(crypto.getRandomValues(new Uint8Array(8)), (b) => b.toString(16).padStart(2, "0")).join("");

export interface Keeper {
  id: string;
  restored: { doc: Doc; view: ViewState } | null;
  /** starts to keep every change */
  watch(store: Store, onKept: (ok: boolean) => void): void;
}

/** Finds this tab's earlier work, and keeps what comes after it, each tab under its own key. */
export function createKeeper(): Keeper {
  let shelf: Storage | null = null;
  let tab: Storage | null = null;
  try {
    shelf = window.localStorage;
    tab = window.sessionStorage;
  } catch {
    // a browser may shut its store; the page works all the same
  }
  const claimed = shelf ? claimSession(shelf, tab?.getItem(OWN) ?? null, newId(), Date.now()) : { id: newId(), from: null as Session | null };
  tab?.setItem(OWN, claimed.id);
  const read = claimed.from ? readDoc(claimed.from.doc, "this browser's store") : null;
  const view = claimed.from?.view;
  const restored = read?.ok ? { doc: read.doc, view: { ...INITIAL_VIEW, ...view, show: { ...INITIAL_VIEW.show, ...view?.show } } } : null;

  return {
    id: claimed.id,
    restored,
    watch(store, onKept) {
      if (!shelf) return;
      const home = shelf;
      let timer = 0;
      let savedAt = claimed.from?.savedAt ?? 0;
      let last: Doc | null = null;
      const save = (aliveAt: number): boolean => saveSession(home, { id: claimed.id, doc: store.settled(), view: store.get().view, savedAt, aliveAt });
      store.subscribe((s) => {
        if (s.dragging) return;
        window.clearTimeout(timer);
        timer = window.setTimeout(() => {
          savedAt = Date.now();
          const ok = save(savedAt);
          if (last !== store.settled()) onKept(ok);
          last = store.settled();
        }, SAVE_AFTER_MS);
      });
      last = store.settled();
      save(Date.now());
      window.setInterval(() => save(Date.now()), BEAT_MS);
      window.addEventListener("pagehide", () => {
        window.clearTimeout(timer);
        save(0);
      });
      window.addEventListener("pageshow", (e) => {
        if (e.persisted) save(Date.now());
      });
    },
  };
}
