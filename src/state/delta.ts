import { isPlain, type Plain } from "../core/design/plain.ts";

/**
 * What turns one plain value into another: fields that changed, and fields that went. Lists are told whole.
 * A value that changed as a whole stands under `is`.
 */
export type Delta = { is: unknown } | { set: Readonly<Record<string, Delta>>; gone?: readonly string[] };

/** The difference between two plain values; null when they are alike. */
export function deltaOf(from: unknown, to: unknown): Delta | null {
  if (Object.is(from, to)) return null;
  if (!isPlain(from) || !isPlain(to)) return sameList(from, to) ? null : { is: to };
  const set: Record<string, Delta> = {};
  for (const key of Object.keys(to)) {
    if (to[key] === undefined) continue;
    const inner = from[key] === undefined ? { is: to[key] } : deltaOf(from[key], to[key]);
    if (inner) set[key] = inner;
  }
  const gone = Object.keys(from).filter((key) => from[key] !== undefined && to[key] === undefined);
  if (Object.keys(set).length === 0 && gone.length === 0) return null;
  return gone.length > 0 ? { set, gone } : { set };
}

const sameList = (x: unknown, y: unknown): boolean =>
  Array.isArray(x) && Array.isArray(y) && x.length === y.length && x.every((v, i) => deltaOf(v, y[i]) === null);

/** A value with a difference put on; what did not change is shared. */
export function withDelta<T>(value: T, delta: Delta | null): T {
  if (delta === null) return value;
  if ("is" in delta) return delta.is as T;
  const next: Plain = { ...(isPlain(value) ? value : {}) };
  for (const key of delta.gone ?? []) delete next[key];
  for (const [key, inner] of Object.entries(delta.set)) next[key] = withDelta(next[key], inner);
  return next as T;
}

/** A difference from plain values of unknown origin; undefined when it is none. */
export function readDelta(raw: unknown): Delta | undefined {
  if (!isPlain(raw)) return undefined;
  if ("is" in raw) return { is: raw.is };
  if (!isPlain(raw.set)) return undefined;
  const gone = Array.isArray(raw.gone) ? raw.gone.filter((k): k is string => typeof k === "string") : [];
  const set: Record<string, Delta> = {};
  for (const [key, inner] of Object.entries(raw.set)) {
    const read = readDelta(inner);
    if (!read) return undefined;
    set[key] = read;
  }
  return gone.length > 0 ? { set, gone } : { set };
}
