import { editSides, type Sides } from "../core/design/edit-corners.ts";
import { splitPath, valueAt, withValueAt } from "../core/design/field-path.ts";
import { plainLoad } from "../core/design/load.ts";
import type { Load, Scenario, Side } from "../core/design/types.ts";
import { CAPS } from "../scenario/caps.ts";

/** The value at a path; undefined where the path ends early. */
export const at = (value: unknown, path: string): unknown => valueAt(value, splitPath(path));

/** A copy with another value at a path, or without the field where the value is undefined; everything off the path is shared. */
export const withAt = <T>(value: T, path: string, next: unknown): T => withValueAt(value, splitPath(path), next);

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
