import type { Load, Scenario, Side } from "../core/design/types.ts";

type Plain = Record<string, unknown>;

const isPlain = (v: unknown): v is Plain => typeof v === "object" && v !== null && !Array.isArray(v);

/** The value at a dotted path; undefined where the path ends early. */
export function at(value: unknown, path: string): unknown {
  return path.split(".").reduce<unknown>((v, key) => (isPlain(v) ? v[key] : undefined), value);
}

/** A copy with another value at a dotted path; everything off the path is shared. */
export function withAt<T>(value: T, path: string, next: unknown): T {
  const [key, ...rest] = path.split(".") as [string, ...string[]];
  const base = (isPlain(value) ? value : {}) as Plain;
  if (rest.length === 0) return (Object.is(base[key], next) ? value : { ...base, [key]: next }) as T;
  const inner = withAt(base[key], rest.join("."), next);
  return (Object.is(inner, base[key]) ? value : { ...base, [key]: inner }) as T;
}

/**
 * Sets a field of a corner. Both sides share one description: only a side that already has a value of its
 * own at this path gets its own; `side` null changes the shared one.
 */
export function withCorner(scenario: Scenario, side: Side | null, path: string, next: unknown): Scenario {
  if (side && at(scenario[side], path) !== undefined) return withAt(scenario, `${side}.${path}`, next);
  return withAt(scenario, `corner.${path}`, next);
}

/** Road height under one wheel, mm. */
export const withBump = (load: Load, side: Side, mm: number): Load => (side === "left" ? { ...load, bumpLeftMm: mm } : { ...load, bumpRightMm: mm });

/** A name that no other design has: "Forked arms", "Forked arms (2)", ... */
export function freeName(wanted: string, taken: readonly string[]): string {
  if (!taken.includes(wanted)) return wanted;
  for (let n = 2; ; n++) {
    const name = `${wanted} (${n})`;
    if (!taken.includes(name)) return name;
  }
}
