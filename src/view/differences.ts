import { pathWords, valueWords } from "../core/design/field-words.ts";
import { isPlain } from "../core/design/plain.ts";
import type { Scenario } from "../core/design/types.ts";

/** One value that two designs do not share. */
export interface Difference {
  path: string;
  /** what the path is called, with its unit */
  name: string;
  /** as the file has it */
  a: string;
  b: string;
  /** the same in plain words */
  aWords: string;
  bWords: string;
}

const ABSENT = "–";
const NONE = "none";
const shown = (v: unknown): string => (v === undefined ? ABSENT : v === null ? NONE : typeof v === "object" ? JSON.stringify(v) : String(v));

/** names of a file, and how its values are known, do not make a difference to the car */
const NO_PARTS = new Set(["name", "teaches", "loadCases", "tracks", "origins", "bench", "runs", "$schema"]);

const differenceOf = (path: string, a: unknown, b: unknown): Difference => ({
  path,
  name: pathWords(path),
  a: shown(a),
  b: shown(b),
  aWords: valueWords(path, a),
  bWords: valueWords(path, b),
});

/** Every parameter in which two designs differ, by its path in the file. What only one has as a whole group is one difference. */
export function differences(a: Scenario, b: Scenario): Difference[] {
  const out: Difference[] = [];
  const walk = (x: unknown, y: unknown, path: string): void => {
    if (Object.is(x, y)) return;
    if (isPlain(x) && isPlain(y)) {
      for (const key of new Set([...Object.keys(x), ...Object.keys(y)])) if (path || !NO_PARTS.has(key)) walk(x[key], y[key], path ? `${path}.${key}` : key);
      return;
    }
    if (Array.isArray(x) && Array.isArray(y) && x.length === y.length) {
      x.forEach((v, i) => {
        walk(v, y[i], `${path}[${i}]`);
      });
      return;
    }
    if (shown(x) !== shown(y)) out.push(differenceOf(path, x, y));
  };
  walk(a, b, "");
  return out;
}

/** A difference that only one design has as a whole group, value by value. */
export function leaves(d: Difference): Difference[] {
  const parts = (text: string): Map<string, unknown> | null => {
    if (!text.startsWith("{")) return null;
    const out = new Map<string, unknown>();
    const walk = (v: unknown, path: string): void => {
      if (isPlain(v)) for (const [key, inner] of Object.entries(v)) walk(inner, `${path}.${key}`);
      else out.set(path, v);
    };
    walk(JSON.parse(text), d.path);
    return out;
  };
  const a = parts(d.a);
  const b = parts(d.b);
  const single = (group: Map<string, unknown> | null, text: string): boolean => !group && text !== ABSENT && text !== NONE;
  // a name against values of one's own stays one line
  if ((!a && !b) || single(a, d.a) || single(b, d.b)) return [d];
  return [...new Set([...(a?.keys() ?? []), ...(b?.keys() ?? [])])].map((path) => {
    const leaf = differenceOf(path, a?.get(path), b?.get(path));
    return { ...leaf, ...(a ? {} : { a: d.a, aWords: d.aWords }), ...(b ? {} : { b: d.b, bWords: d.bWords }) };
  });
}
