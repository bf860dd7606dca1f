import { type Delta, deltaOf, readDelta, withDelta } from "./delta.ts";
import type { Doc } from "./document.ts";
import type { Gate } from "./gate.ts";
import { type Entry, type History, KEPT } from "./history.ts";
import { fieldsOf } from "./read.ts";

/** One step as it is kept: its words, and what turns the document after it into the one before, and back. */
interface KeptStep {
  name: string;
  back: Delta | null;
  forth: Delta | null;
}

export interface KeptHistory {
  past: KeptStep[];
  future: KeptStep[];
}

/** letters of steps that are kept with a session; older steps beyond are let go, the store of a browser has some 5 million for all */
const LETTERS_MOST = 300_000;

const steps = new WeakMap<object, { step: KeptStep; letters: number }>();

function keptStep(entry: Entry<Doc>): { step: KeptStep; letters: number } {
  let found = steps.get(entry);
  if (!found) {
    const step = { name: entry.name, back: deltaOf(entry.after, entry.before), forth: deltaOf(entry.before, entry.after) };
    found = { step, letters: JSON.stringify(step).length };
    steps.set(entry, found);
  }
  return found;
}

/** The steps nearest to now, as differences, within what may be kept. */
export function keptHistory(history: History<Doc>): KeptHistory {
  let left = LETTERS_MOST;
  const nearest = (entries: readonly Entry<Doc>[]): KeptStep[] => {
    const out: KeptStep[] = [];
    for (const entry of entries) {
      const { step, letters } = keptStep(entry);
      left -= letters;
      if (left < 0) break;
      out.push(step);
    }
    return out;
  };
  return { past: nearest([...history.past].reverse()).reverse(), future: nearest(history.future) };
}

/**
 * The history from plain values of unknown origin, worked out from the document as it stands. A step that cannot be
 * read, or that would lead to a document that may not stand, ends it there.
 */
export function readHistory(raw: unknown, doc: Doc, gate: Gate): History<Doc> {
  const lists = fieldsOf(raw);
  const walk = (list: unknown, way: "back" | "forth"): { name: string; from: Doc; to: Doc }[] => {
    const out: { name: string; from: Doc; to: Doc }[] = [];
    let at = doc;
    for (const item of Array.isArray(list) ? list.slice(0, KEPT) : []) {
      const step = fieldsOf(item);
      const delta = step[way] === null ? null : readDelta(step[way]);
      if (typeof step.name !== "string" || delta === undefined) break;
      let to: Doc;
      try {
        to = withDelta(at, delta);
        if (gate(to) !== null) break;
      } catch {
        break;
      }
      out.push({ name: step.name, from: at, to });
      at = to;
    }
    return out;
  };
  const past = Array.isArray(lists.past) ? [...lists.past].reverse() : [];
  return {
    past: walk(past, "back")
      .reverse()
      .map(({ name, from, to }) => ({ name, before: to, after: from })),
    future: walk(lists.future, "forth").map(({ name, from, to }) => ({ name, before: from, after: to })),
  };
}
