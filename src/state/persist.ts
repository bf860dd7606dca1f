import type { Scenario } from "../core/design/types.ts";
import { parseLoad, parseScenario } from "../scenario/parse.ts";
import { type Doc, readView, type ViewState } from "./document.ts";
import { freeName } from "./edit.ts";
import { designFault, type Gate } from "./gate.ts";
import type { History } from "./history.ts";
import { keptHistory, readHistory } from "./history-text.ts";
import { fieldsOf, numberOr } from "./read.ts";

/** What is needed of a browser's store of strings; localStorage has it. Any call may throw: a browser may shut its store. */
export interface Shelf {
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
  removeItem(key: string): void;
  key(index: number): string | null;
  readonly length: number;
}

/** The work of one tab: two designs under a load, how they are looked at, and what can be undone. */
export interface Work {
  doc: Doc;
  view: ViewState;
  history: History<Doc>;
}

/** Work that lies in the store, as far as it can be told without taking it up. */
export interface Stored {
  id: string;
  /** name of design A; null where that cannot be read */
  name: string | null;
  /** ms since 1970; 0 where that cannot be read */
  savedAt: number;
  /** letters that it takes in the store */
  letters: number;
  text: string;
}

const SESSION = "wheelstay.session.";
const DESIGNS = "wheelstay.designs";
const UNREADABLE = "wheelstay.unreadable.";

const plainJson = (text: string | null): unknown => {
  if (text === null) return null;
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
};

/** All work in the store, the newest first. */
export function stored(shelf: Shelf): Stored[] {
  const out: Stored[] = [];
  for (let i = 0; i < shelf.length; i++) {
    const key = shelf.key(i);
    const text = key?.startsWith(SESSION) ? shelf.getItem(key) : null;
    if (!key || text === null) continue;
    const s = fieldsOf(plainJson(text));
    const name = fieldsOf(fieldsOf(s.doc).a).name;
    out.push({ id: key.slice(SESSION.length), name: typeof name === "string" ? name : null, savedAt: numberOr(s.savedAt, 0), letters: text.length, text });
  }
  return out.sort((x, y) => y.savedAt - x.savedAt);
}

/** Work that was read. `amiss`: what could not be, sentence by sentence; its place is taken by the first design that comes with the program. */
export type ReadWork = { ok: true; work: Work; amiss: string[] } | { ok: false; message: string };

/** Work from its text: A, B, the load, the view and each step of the history by itself. Nothing is thrown. */
export function readWork(text: string, instead: Doc, gate: Gate): ReadWork {
  const raw = plainJson(text);
  if (raw === undefined) return { ok: false, message: "it is cut short or changed" };
  const s = fieldsOf(raw);
  const doc = fieldsOf(s.doc);
  const amiss: string[] = [];
  const design = (which: "a" | "b"): Scenario | null => {
    const read = parseScenario(doc[which], `design ${which.toUpperCase()}`);
    const fault = read.ok ? designFault(read.scenario) : (read.problems[0]?.message ?? "it cannot be read");
    if (read.ok && fault === null) return read.scenario;
    amiss.push(fault as string);
    return null;
  };
  const a = design("a");
  const b = design("b");
  if (!a && !b) return { ok: false, message: amiss.join(" ") };
  const load = parseLoad(doc.load, "the load");
  if (!load.ok) amiss.push(load.problems[0]?.message ?? "the load cannot be read");
  const whole: Doc = { a: a ?? instead.a, b: b ?? instead.b, load: load.ok ? load.value : instead.load };
  return { ok: true, work: { doc: whole, view: readView(s.view), history: readHistory(s.history, whole, gate) }, amiss };
}

/** So begins the text of work; it tells who wrote it without reading the rest. */
const beginning = (writer: string): string => `{"writer":${JSON.stringify(writer)},`;

/** That the work lying under an id was last written by another tab than `writer`. */
export function writtenByOther(shelf: Shelf, id: string, writer: string): boolean {
  const text = shelf.getItem(SESSION + id);
  return text !== null && !text.startsWith(beginning(writer));
}

/** Keeps work under its id; false when the browser's store is full or shut. */
export function saveWork(shelf: Shelf, id: string, writer: string, work: Work, savedAt: number): boolean {
  try {
    const { doc, view, history } = work;
    shelf.setItem(SESSION + id, `${beginning(writer)}${JSON.stringify({ savedAt, doc, view, history: keptHistory(history) }).slice(1)}`);
    return true;
  } catch {
    return false;
  }
}

/** Takes work out of the store, and gives back what puts it there again. */
export function removeWork(shelf: Shelf, id: string): () => boolean {
  const text = shelf.getItem(SESSION + id);
  shelf.removeItem(SESSION + id);
  return () => putText(shelf, SESSION + id, text);
}

function putText(shelf: Shelf, key: string, text: string | null): boolean {
  try {
    if (text === null) shelf.removeItem(key);
    else shelf.setItem(key, text);
    return true;
  } catch {
    return false;
  }
}

export interface KeptDesign {
  scenario: unknown;
  savedAt: number;
  /** the tab that wrote it */
  by: string;
}

/** Designs kept by name. What lies there unreadable counts as none, and is put aside before anything is written over it. */
export function designs(shelf: Shelf): Record<string, KeptDesign> {
  const out: Record<string, KeptDesign> = {};
  for (const [name, raw] of Object.entries(fieldsOf(plainJson(shelf.getItem(DESIGNS))))) {
    const d = fieldsOf(raw);
    out[name] = { scenario: d.scenario, savedAt: numberOr(d.savedAt, 0), by: typeof d.by === "string" ? d.by : "" };
  }
  return out;
}

/** Keeps what cannot be read before something is written in its place. */
export const putAside = (shelf: Shelf, text: string, now: number): void => shelf.setItem(`${UNREADABLE}${now}`, text);

function writeDesigns(shelf: Shelf, all: Record<string, KeptDesign>, now: number): void {
  const text = shelf.getItem(DESIGNS);
  const raw = plainJson(text);
  if (text !== null && (typeof raw !== "object" || raw === null || Array.isArray(raw))) putAside(shelf, text, now);
  shelf.setItem(DESIGNS, JSON.stringify(all));
}

/** Keeps a design under its name; a design of that name written by another tab stays, ours gets a name beside it. */
export function keepDesign(shelf: Shelf, scenario: Scenario, by: string, now: number): string | null {
  try {
    const all = designs(shelf);
    const there = all[scenario.name];
    const name = there && there.by !== by ? freeName(scenario.name, Object.keys(all)) : scenario.name;
    writeDesigns(shelf, { ...all, [name]: { scenario: { ...scenario, name }, savedAt: now, by } }, now);
    return name;
  } catch {
    return null;
  }
}

/** Takes a kept design out of the store, and gives back what puts it there again; null when the store is shut. */
export function removeDesign(shelf: Shelf, name: string, now: number): (() => boolean) | null {
  try {
    const { [name]: gone, ...rest } = designs(shelf);
    if (!gone) return null;
    writeDesigns(shelf, rest, now);
    return () => {
      try {
        writeDesigns(shelf, { ...designs(shelf), [name]: gone }, now);
        return true;
      } catch {
        return false;
      }
    };
  } catch {
    return null;
  }
}
