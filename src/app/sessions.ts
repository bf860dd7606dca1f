import type { Doc } from "../state/document.ts";
import { gate } from "../state/gate.ts";
import { readWork, removeWork, type Shelf, type Stored, saveWork, stored, type Work, writtenByOther } from "../state/persist.ts";
import type { Store } from "../state/store.ts";
import { createHolding } from "./holding.ts";

const OWN = "wheelstay.tab";
const SAVE_AFTER_MS = 350;
/** A change is kept no later than this, however many follow it. */
const SAVE_WITHIN_MS = 500;
/** a tab that is just being reloaded lets its work go within this time, ms */
const RELOAD_MS = 600;
const TRY_AGAIN_MS = 4000;

/** Whether what is on the sheet is kept: "full" and "shut" say what is wrong with the browser's store. */
export type Kept = "kept" | "full" | "shut";

/** Work that could not be taken up, and stays as it lies. */
interface Unreadable {
  message: string;
  text: string;
}

export interface Keeper {
  /** who this tab is, for what it writes */
  tab: string;
  /** the work that it has in hand */
  id(): string;
  restored: Work | null;
  /** what could not be read at the start, each to be told and offered as a file */
  unreadable: Unreadable[];
  /** keeps every change from now on */
  watch(store: Store, onKept: (kept: Kept) => void, onBranched: () => void): void;
  /** other work in the store, the newest first */
  others(): Stored[];
  /** goes on with other work, which no other tab has; the present one is kept first. Null, or why not. */
  takeUp(id: string): Promise<string | null>;
  /** begins a piece of work of its own beside the present one, which is kept first */
  begin(work: Work): Promise<void>;
  remove(id: string): (() => boolean) | null;
}

const newId = (): string => Array.from(crypto.getRandomValues(new Uint8Array(8)), (b) => b.toString(16).padStart(2, "0")).join("");

/** A browser's store, or null where it is shut. */
export function openShelf(of: () => Storage): Storage | null {
  try {
    const shelf = of();
    shelf.getItem(OWN);
    return shelf;
  } catch {
    return null;
  }
}

/** `instead`: what stands in for a design that cannot be read. `fresh`: begin new work instead of going on with earlier one. */
export async function createKeeper(instead: Doc, fresh: boolean): Promise<Keeper> {
  const shelf = openShelf(() => window.localStorage);
  const tabShelf = openShelf(() => window.sessionStorage);
  const holding = createHolding();
  const tab = newId();
  const unreadable: Unreadable[] = [];
  let id = newId();
  let restored: Work | null = null;
  const all = (): Stored[] => {
    try {
      return shelf ? stored(shelf) : [];
    } catch {
      return [];
    }
  };
  const own = ((): string | null => {
    try {
      return tabShelf?.getItem(OWN) ?? null;
    } catch {
      return null;
    }
  })();
  const remember = (): void => {
    try {
      tabShelf?.setItem(OWN, id);
    } catch {
      // without it a reload finds the work by its age
    }
  };

  /** Takes work up if it can be read; what is amiss is told, and then what lies in the store stays as it is. */
  const tryWork = (s: Stored, mayWrite: boolean): boolean => {
    const read = readWork(s.text, instead, gate);
    if (!read.ok) {
      unreadable.push({
        message: `Earlier work${s.name ? ` (${s.name})` : ""} could not be read: ${read.message}. It stays in this browser as it is.`,
        text: s.text,
      });
      return false;
    }
    restored = read.work;
    if (read.amiss.length > 0)
      unreadable.push({
        message: `A part of your earlier work could not be read: ${read.amiss.join(" ")} What was kept stays in this browser as it is.`,
        text: s.text,
      });
    else if (mayWrite) id = s.id;
    return true;
  };
  if (!fresh) {
    const found = all();
    const mine = found.find((s) => s.id === own);
    // a tab that was duplicated finds its work in the hands of the other one, and goes on with a copy
    if (mine) tryWork(mine, await holding.take(mine.id, RELOAD_MS));
    for (const s of restored ? [] : found) {
      if (s === mine || !(await holding.take(s.id))) continue;
      if (tryWork(s, true)) {
        if (id !== s.id) holding.leave(s.id);
        break;
      }
      holding.leave(s.id);
    }
  }
  await holding.take(id);
  remember();

  let save: (() => Kept) | null = null;
  let begun: ((work: Work) => void) | null = null;
  const moveTo = async (next: string): Promise<void> => {
    save?.();
    holding.leave(id);
    id = next;
    await holding.take(id);
    remember();
  };
  return {
    tab,
    id: () => id,
    restored,
    unreadable,
    watch(store, onKept, onBranched) {
      let timer = 0;
      /** the first change that is not kept yet; null: all is */
      let since: number | null = null;
      let last: unknown = null;
      save = () => {
        if (!shelf) return "shut";
        try {
          if (writtenByOther(shelf, id, tab) && last !== null) {
            // another tab went on with this work while this one slept: both are kept
            id = newId();
            void holding.take(id);
            remember();
            onBranched();
          }
        } catch {
          return "shut";
        }
        const state = store.get();
        const work = { doc: store.settled(), view: state.view, history: store.history() };
        if (!saveWork(shelf, id, tab, work, Date.now())) return "full";
        last = work.doc;
        return "kept";
      };
      const keep = (): void => {
        window.clearTimeout(timer);
        since = null;
        const kept = save?.() ?? "shut";
        onKept(kept);
        if (kept !== "kept") timer = window.setTimeout(keep, TRY_AGAIN_MS);
      };
      begun = (work) => {
        last = null;
        store.load(work.doc, work.view, work.history);
        keep();
      };
      store.subscribe((s) => {
        if (s.dragging) return;
        window.clearTimeout(timer);
        since ??= performance.now();
        timer = window.setTimeout(keep, Math.min(SAVE_AFTER_MS, since + SAVE_WITHIN_MS - performance.now()));
      });
      // what was taken up is this tab's from now on
      keep();
      window.addEventListener("pagehide", () => {
        window.clearTimeout(timer);
        save?.();
      });
    },
    others: () => all().filter((s) => s.id !== id),
    async takeUp(other) {
      const found = all().find((s) => s.id === other);
      if (!found) return "That work is no longer in this browser.";
      if (!(await holding.take(other))) return "That work is open in another tab.";
      const read = readWork(found.text, instead, gate);
      if (!read.ok || read.amiss.length > 0) {
        holding.leave(other);
        return `That work could not be read: ${read.ok ? read.amiss.join(" ") : read.message}. It stays in this browser as it is.`;
      }
      await moveTo(other);
      begun?.(read.work);
      return null;
    },
    async begin(work) {
      await moveTo(newId());
      begun?.(work);
    },
    remove(other) {
      if (!shelf || other === id) return null;
      try {
        return removeWork(shelf as Shelf, other);
      } catch {
        return null;
      }
    },
  };
}
