import { joinPath, splitPath } from "./field-path.ts";
import { type Origin, type Scenario, SIDES, type Side } from "./types.ts";

/**
 * How each value of a scenario is known, kept beside the values under the path of its field. A field without an entry is entered.
 * An entry belongs to the value that stands at its path: an override of a side has its own, a side without one has that of the shared
 * value. What changes a value without telling how the new one is known makes it entered (`keptOrigins`).
 */

/** fields of the file itself and texts: nobody measures them */
const NO_VALUES = new Set(["$schema", "format", "version", "name", "teaches", "origins", "bench", "runs"]);
const TEXTS = new Set(["name", "source"]);

/** What stands at the path of a field: a number, a word of a choice, yes or no, or none (null). Undefined for groups, lists, texts and what is no field. */
export function fieldValue(s: Scenario, path: string): number | string | boolean | null | undefined {
  const steps = splitPath(path);
  const last = steps.at(-1);
  if (last === undefined || joinPath(steps) !== path || NO_VALUES.has(String(steps[0])) || TEXTS.has(String(last))) return undefined;
  let v: unknown = s;
  for (const step of steps) {
    if (typeof v !== "object" || v === null || !Object.hasOwn(v, step)) return undefined;
    v = (v as Record<string | number, unknown>)[step];
  }
  return v === null || typeof v === "number" || typeof v === "string" || typeof v === "boolean" ? v : undefined;
}

/** Where a corner's field stands for one side: with the side's own values where it has this one, else with the shared ones. */
export function homeOf(s: Scenario, side: Side, path: string): string {
  const own = `${side}.${path}`;
  return fieldValue(s, own) === undefined ? `corner.${path}` : own;
}

/** The paths of all guesses, in the order of the entries. */
export const guesses = (s: Scenario): string[] => Object.keys(s.origins).filter((path) => s.origins[path]?.how === "guess");

/**
 * The scenario with these values known so; null: entered. Each path is that of a field as it stands in the scenario.
 * The entries are new objects, by which `keptOrigins` sees that the edit tells them.
 */
export function withOrigins(s: Scenario, told: Readonly<Record<string, Origin | null>>): Scenario {
  const origins: Record<string, Origin> = { ...s.origins };
  for (const [path, origin] of Object.entries(told)) {
    if (origin === null) delete origins[path];
    else origins[path] = { ...origin };
  }
  return { ...s, origins };
}

/** Where the value of a path went: elements of lists are followed, which share their object with those before. Null: it is gone. */
function movedTo(before: Scenario, after: Scenario, path: string): string | null {
  let b: unknown = before;
  let a: unknown = after;
  const steps = splitPath(path).map((step) => {
    const inner = (v: unknown, key: string | number): unknown =>
      typeof v === "object" && v !== null ? (v as Record<string | number, unknown>)[key] : undefined;
    const item = inner(b, step);
    let to = step;
    if (typeof step === "number" && Array.isArray(b) && Array.isArray(a) && a !== b && typeof item === "object") {
      const found = a.indexOf(item);
      if (found >= 0) to = found;
      // an element of before that moved here leaves no room for this one
      else if (b.includes(a[step])) to = -1;
    }
    b = item;
    a = inner(a, to);
    return to;
  });
  return steps.includes(-1) ? null : joinPath(steps);
}

/**
 * The origins of a design after an edit of it, in one place for all edits: entries that the edit made stand, entries of values that are as
 * before stand and go along with elements of lists that moved, and all others are gone: their values count as entered. A value that a
 * side begins to have of its own, unchanged, is known as the shared one was. The same scenario where nothing is to be done.
 * @param before the design that `after` was made of, sharing with it what the edit did not touch
 */
export function keptOrigins(before: Scenario, after: Scenario): Scenario {
  if (before === after) return after;
  const out: Record<string, Origin> = {};
  for (const [path, origin] of Object.entries(after.origins)) {
    if (before.origins[path] !== origin) {
      if (fieldValue(after, path) !== undefined) out[path] = origin;
    } else {
      const to = movedTo(before, after, path);
      if (to !== null && !(to in out) && fieldValue(before, path) === fieldValue(after, to)) out[to] = origin;
    }
  }
  for (const side of SIDES) {
    if (before[side] === after[side]) continue;
    for (const [path, origin] of Object.entries(before.origins)) {
      if (!path.startsWith("corner.")) continue;
      const own = path.replace("corner", side);
      const value = fieldValue(after, own);
      if (value !== undefined && !(own in out) && fieldValue(before, own) === undefined && fieldValue(before, path) === value) out[own] = origin;
    }
  }
  const is = Object.keys(out);
  if (is.length === Object.keys(after.origins).length && is.every((path) => out[path] === after.origins[path])) return after;
  return { ...after, origins: out };
}
