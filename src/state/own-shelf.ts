import { CAPS } from "../scenario/caps.ts";
import { formatShelf, readShelf } from "../scenario/shelf-file.ts";
import type { ShelfKind, ShelfPart } from "../scenario/shelf-kinds.ts";
import { putAside, type Shelf } from "./persist.ts";

/** A builder's own parts in the browser's store: checked when they are read; what cannot be read stays and is told. */

const OWN = "wheelstay.shelf";

export interface OwnShelf {
  parts: readonly ShelfPart[];
  /** what could not be read, sentence by sentence */
  amiss: readonly string[];
}

interface Lying extends OwnShelf {
  /** parts that could not be read, as they lie there */
  unread: readonly unknown[];
  /** the whole text, where nothing of it could be read */
  lost: string | null;
}

function lying(store: Shelf): Lying {
  const text = store.getItem(OWN);
  if (text === null) return { parts: [], amiss: [], unread: [], lost: null };
  const read = readShelf(text, "your shelf");
  if (!read.ok) return { parts: [], amiss: [read.message], unread: [], lost: text };
  return { parts: read.parts, amiss: read.unread.map((u) => u.message), unread: read.unread.map((u) => u.raw), lost: null };
}

/** The shelf as far as it can be read; empty where the store is shut. */
export function ownShelf(store: Shelf): OwnShelf {
  try {
    const { parts, amiss } = lying(store);
    return { parts, amiss };
  } catch {
    return { parts: [], amiss: ["your shelf: this browser's store is shut."] };
  }
}

/** Writes the shelf with other parts on it; false where the store is full or shut. */
function write(store: Shelf, change: (parts: readonly ShelfPart[]) => readonly ShelfPart[], now: number): boolean {
  try {
    const { parts, unread, lost } = lying(store);
    const next = formatShelf(change(parts), unread);
    if (lost !== null) putAside(store, lost, now);
    store.setItem(OWN, next);
    return true;
  } catch {
    return false;
  }
}

/** A name that no part of its kind has yet, within its letters. */
function freePartName(wanted: string, taken: readonly string[]): string {
  const name = wanted.trim().slice(0, CAPS.partNameLetters);
  if (!taken.includes(name)) return name;
  for (let n = 2; ; n++) {
    const end = ` (${n})`;
    const next = `${name.slice(0, CAPS.partNameLetters - end.length)}${end}`;
    if (!taken.includes(next)) return next;
  }
}

const namesOf = (parts: readonly ShelfPart[], kind: ShelfKind): string[] => parts.filter((p) => p.kind === kind).map((p) => p.name);

/** Puts parts on the shelf, each under a free name; why not, in a sentence, or null. */
export function putParts(store: Shelf, more: readonly ShelfPart[], now: number): string | null {
  if (ownShelf(store).parts.length + more.length > CAPS.shelfParts)
    return `The shelf holds ${CAPS.shelfParts} parts at most: remove some, or save them as a file.`;
  const done = write(
    store,
    (parts) => more.reduce<ShelfPart[]>((all, p) => [...all, { ...p, name: freePartName(p.name, namesOf(all, p.kind)) }], [...parts]),
    now,
  );
  return done ? null : "It could not be put on the shelf: this browser's store is full or shut.";
}

/** Takes a part off the shelf, and gives back what puts it there again; null where it is not there, or the store is shut. */
export function removePart(store: Shelf, kind: ShelfKind, name: string, now: number): (() => boolean) | null {
  const { parts } = ownShelf(store);
  const index = parts.findIndex((p) => p.kind === kind && p.name === name);
  const gone = parts[index];
  if (!gone) return null;
  const done = write(store, (all) => all.filter((p) => p.kind !== kind || p.name !== name), now);
  if (!done) return null;
  return () => write(store, (all) => [...all.slice(0, index), gone, ...all.slice(index)], now);
}
