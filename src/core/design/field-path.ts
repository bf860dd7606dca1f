import { isPlain, type Plain } from "./plain.ts";

/** Steps from the root of a scenario: keys, and indices of lists. */
export type Path = readonly (string | number)[];

/** `corner.wheel.radiusMm`, `loadCases[0].lateralG`, and the same with dots only. */
export function splitPath(path: string): (string | number)[] {
  return path
    .split(/[.[\]]+/)
    .filter((s) => s !== "")
    .map((s) => (/^\d+$/.test(s) ? Number(s) : s));
}

/** A path as it is written: `corner.arms[0].name`. */
export function joinPath(path: Path): string {
  return path.reduce<string>((out, step) => (typeof step === "number" ? `${out}[${step}]` : out === "" ? step : `${out}.${step}`), "");
}

/** What stands at a path in parsed JSON, or undefined. */
export function valueAt(root: unknown, path: Path): unknown {
  let v = root;
  for (const step of path) {
    if (typeof v !== "object" || v === null) return undefined;
    v = (v as Record<string | number, unknown>)[step];
  }
  return v;
}

/** A copy with another value at a path, or without the field where the value is undefined; everything off the path is shared. */
export function withValueAt<T>(root: T, path: Path, next: unknown): T {
  return changed(root, path, next) as T;
}

function changed(value: unknown, path: Path, next: unknown): unknown {
  const [key, ...deeper] = path;
  if (key === undefined) return next;
  const base = (isPlain(value) || Array.isArray(value) ? value : {}) as Plain;
  const inner = changed(base[key], deeper, next);
  if (Object.is(inner, base[key])) return value;
  if (inner === undefined && !Array.isArray(value)) {
    const { [key]: _gone, ...rest } = base;
    return rest;
  }
  return Array.isArray(value) ? value.map((v, i) => (i === Number(key) ? inner : v)) : { ...base, [key]: inner };
}
