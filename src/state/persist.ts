import type { Scenario } from "../core/design/types.ts";
import type { Doc, ViewState } from "./document.ts";
import { freeName } from "./edit.ts";

/** What is needed of a browser's store of strings; localStorage has it. */
export interface Shelf {
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
  removeItem(key: string): void;
  key(index: number): string | null;
  readonly length: number;
}

/** The work of one tab. `aliveAt` 0: its tab was closed in good order. */
export interface Session {
  id: string;
  doc: Doc;
  view: ViewState;
  savedAt: number;
  aliveAt: number;
}

const SESSION = "wheelstay.session.";
const DESIGNS = "wheelstay.designs";
/** a tab that gave no sign for so long is gone, ms */
const GONE_AFTER_MS = 12_000;
const SESSIONS_KEPT = 6;

function readJson(shelf: Shelf, key: string): unknown {
  const text = shelf.getItem(key);
  if (text === null) return null;
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

export function sessions(shelf: Shelf): Session[] {
  const out: Session[] = [];
  for (let i = 0; i < shelf.length; i++) {
    const key = shelf.key(i);
    if (!key?.startsWith(SESSION)) continue;
    const s = readJson(shelf, key) as Session | null;
    if (s && typeof s.id === "string" && s.doc) out.push(s);
  }
  return out.sort((x, y) => y.savedAt - x.savedAt);
}

/**
 * The session that a tab goes on with. Its own after a reload; a copy under a new id when another live tab
 * has the same id (a duplicated tab); the newest one whose tab is gone when it has none.
 */
export function claimSession(shelf: Shelf, ownId: string | null, newId: string, now: number): { id: string; from: Session | null } {
  const all = sessions(shelf);
  const gone = (s: Session): boolean => now - s.aliveAt > GONE_AFTER_MS;
  const own = ownId ? all.find((s) => s.id === ownId) : undefined;
  if (own) return gone(own) ? { id: own.id, from: own } : { id: newId, from: own };
  const left = all.find(gone);
  return left ? { id: left.id, from: left } : { id: newId, from: null };
}

/** Keeps a session; false when the browser's store is full or shut. Old sessions beyond the last few are dropped. */
export function saveSession(shelf: Shelf, session: Session): boolean {
  try {
    shelf.setItem(SESSION + session.id, JSON.stringify(session));
    for (const old of sessions(shelf).slice(SESSIONS_KEPT))
      if (old.id !== session.id && session.savedAt - old.aliveAt > GONE_AFTER_MS) shelf.removeItem(SESSION + old.id);
    return true;
  } catch {
    return false;
  }
}

export interface KeptDesign {
  scenario: Scenario;
  savedAt: number;
  /** the tab that wrote it */
  by: string;
}

export function designs(shelf: Shelf): Record<string, KeptDesign> {
  const found = readJson(shelf, DESIGNS);
  return typeof found === "object" && found !== null ? (found as Record<string, KeptDesign>) : {};
}

/** Keeps a design under its name; a design of that name written by another tab stays, ours gets a name beside it. */
export function keepDesign(shelf: Shelf, scenario: Scenario, by: string, now: number): string | null {
  const all = designs(shelf);
  const there = all[scenario.name];
  const name = there && there.by !== by ? freeName(scenario.name, Object.keys(all)) : scenario.name;
  try {
    shelf.setItem(DESIGNS, JSON.stringify({ ...all, [name]: { scenario: { ...scenario, name }, savedAt: now, by } }));
    return name;
  } catch {
    return null;
  }
}

export function dropDesign(shelf: Shelf, name: string): void {
  const { [name]: _gone, ...rest } = designs(shelf);
  shelf.setItem(DESIGNS, JSON.stringify(rest));
}
