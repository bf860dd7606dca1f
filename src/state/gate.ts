import { cannotStand } from "../core/cannot-stand.ts";
import { pathName } from "../core/design/field-words.ts";
import type { Load, Scenario } from "../core/design/types.ts";
import { parseLoad, parseScenario } from "../scenario/parse.ts";
import { rangeOf } from "../scenario/ranges.ts";
import { cannotBuild } from "./cannot-build.ts";
import { type Delta, deltaOf } from "./delta.ts";
import type { Doc } from "./document.ts";

/** Why a change is refused, in one sentence; null when it may pass. */
export type Gate = (doc: Doc) => string | null;

const known = new WeakMap<object, string | null>();

function remembered<T extends object>(value: T, find: (value: T) => string | null): string | null {
  let fault = known.get(value);
  if (fault === undefined) {
    fault = find(value);
    known.set(value, fault);
  }
  return fault;
}

const first = (problems: readonly { message: string }[]): string => problems[0]?.message ?? "It cannot be read.";

/** the newest design that passed */
let passed: Scenario | null = null;

/**
 * Whether a design reads like one that passed: only numbers differ, each within the range of its field, and a file's fields know no other rule.
 * That is all that a drag changes, and many times cheaper than to read it anew in every frame.
 */
function readsLike(other: Scenario, s: Scenario): boolean {
  const fits = (delta: Delta, from: unknown, path: string[]): boolean => {
    // how values are known has rules across fields
    if (path[0] === "origins") return false;
    if ("is" in delta) {
      const range = typeof from === "number" && typeof delta.is === "number" ? rangeOf(path, s) : undefined;
      const v = delta.is as number;
      return range !== undefined && v >= range.min && v <= range.max && (!range.whole || Number.isInteger(v));
    }
    if (delta.gone !== undefined) return false;
    return Object.entries(delta.set).every(([key, inner]) => fits(inner, (from as Record<string, unknown>)[key], [...path, key]));
  };
  const delta = deltaOf(other, s);
  return delta === null || fits(delta, other, []);
}

/** Why a design may not stand: it cannot be built as drawn, or could not be read back from a file. */
export const designFault = (s: Scenario): string | null =>
  remembered(s, () => {
    const fault = passed !== null && readsLike(passed, s) ? standFault(s) : readFault(s);
    if (fault === null) passed = s;
    return fault;
  });

const wordsOf = (e: unknown): string => `It cannot be worked out: ${e instanceof Error ? e.message : String(e)}.`;

function standFault(s: Scenario): string | null {
  try {
    return cannotBuild(s) ?? cannotStand(s);
  } catch (e) {
    return wordsOf(e);
  }
}

function readFault(s: Scenario): string | null {
  try {
    const read = parseScenario(s, "the design");
    if (!read.ok) return buildFault(s) ?? first(read.problems);
    return missing(s, read.scenario) ?? cannotBuild(s) ?? cannotStand(s);
  } catch (e) {
    return wordsOf(e);
  }
}

/** What a file may leave out, since its reader fills it in, a design that stands must hold itself: else it would be another one after the next start. */
function missing(s: Scenario, read: Scenario): string | null {
  let delta = deltaOf(s, read);
  if (delta === null) return null;
  const path: string[] = [];
  while (delta !== null && "set" in delta) {
    const [key, inner]: [string, Delta] | [undefined, null] = Object.entries(delta.set)[0] ?? [undefined, null];
    if (key === undefined) break;
    path.push(key);
    delta = inner;
  }
  const name = path.length > 0 ? pathName(path.join(".")) : "a field that it does not know";
  return `The design is not whole: ${name} would read otherwise.`;
}

/** the builder's own words for what the schema refuses as well, where there are such */
function buildFault(s: Scenario): string | null {
  try {
    return cannotBuild(s);
  } catch {
    return null;
  }
}

const loadFault = (load: Load): string | null =>
  remembered(load, () => {
    const read = parseLoad(load, "the load");
    return read.ok ? null : first(read.problems);
  });

/** The one gate that every change of the document passes: what it lets through can be drawn, saved and read back. */
export const gate: Gate = ({ a, b, load }) => designFault(a) ?? designFault(b) ?? loadFault(load);
