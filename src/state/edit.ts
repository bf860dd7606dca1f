import { editSides, type Sides } from "../core/design/edit-corners.ts";
import { plainLoad } from "../core/design/load.ts";
import { isPlain, type Plain } from "../core/design/plain.ts";
import type { Load, Scenario, Side } from "../core/design/types.ts";
import { CAPS } from "../scenario/caps.ts";

/** "fit.outlines[0].name" in keys. */
export const keysOf = (path: string): string[] => path.split(/[.[\]]+/).filter((k) => k !== "");

/** The value at a path; undefined where the path ends early. */
export function at(value: unknown, path: string): unknown {
  return keysOf(path).reduce<unknown>((v, key) => (isPlain(v) || Array.isArray(v) ? (v as Plain)[key] : undefined), value);
}

/** A copy with another value at a path, or without the field where the value is undefined; everything off the path is shared. */
export function withAt<T>(value: T, path: string, next: unknown): T {
  return changed(value, keysOf(path), next) as T;
}

function changed(value: unknown, [key, ...deeper]: string[], next: unknown): unknown {
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

/**
 * Sets a field of a corner. Both sides share one description: only a side that already has a value of its
 * own at this path gets its own; `side` null changes the shared one.
 */
export function withCorner(scenario: Scenario, side: Side | null, path: string, next: unknown): Scenario {
  if (side && at(scenario[side], path) !== undefined) return withAt(scenario, `${side}.${path}`, next);
  return withAt(scenario, `corner.${path}`, next);
}

/** Sets a field of the corner on one side alone, or on both; `path` may end early in a side of another kind, which then keeps what it has. */
export function withSides(scenario: Scenario, sides: Sides, path: string, next: unknown): Scenario {
  return editSides(
    scenario,
    sides,
    (c) => withAt(c, path, next),
    (shared) => at(shared, path) !== undefined,
  );
}

/** Road height under one wheel, mm. */
export const withBump = (load: Load, side: Side, mm: number): Load => (side === "left" ? { ...load, bumpLeftMm: mm } : { ...load, bumpRightMm: mm });

/** Throttle (0..1) or brake (g) of a load. */
export const withPedal = (load: Load, pedal: "throttle" | "brakeG", value: number): Load => plainLoad({ ...load, [pedal]: value });

/** A name that no other design has: "Forked arms", "Forked arms (2)", ... */
export function freeName(wanted: string, taken: readonly string[]): string {
  if (!taken.includes(wanted)) return wanted;
  for (let n = 2; ; n++) {
    const end = ` (${n})`;
    const name = `${wanted.slice(0, CAPS.nameLetters - end.length)}${end}`;
    if (!taken.includes(name)) return name;
  }
}
