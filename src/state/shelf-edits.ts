import type { Sides } from "../core/design/edit-corners.ts";
import { fieldValue, homeOf, withOrigins } from "../core/design/origins.ts";
import { cornerOf } from "../core/design/sides.ts";
import { type Origin, type Scenario, SIDES, type Side } from "../core/design/types.ts";
import { KINDS_OF_PARTS, leavesOf, type ShelfKind, type ShelfPart } from "../scenario/shelf-kinds.ts";
import { at, withAt, withSides } from "./edit.ts";

/** Parts between a shelf and a design: all values of a part at once, and how each is known along with them. */

/** Where a part of a kind goes: the place that is asked for, or all of them where they belong together. */
const placesFor = (kind: ShelfKind, place?: string): readonly string[] => {
  const { places, together } = KINDS_OF_PARTS[kind];
  return together ? places : [place ?? (places[0] as string)];
};

/** A design with a part of a shelf in its place, on one side alone or on both. Its values are known as the shelf tells. */
export function takenFromShelf(s: Scenario, part: ShelfPart, sides: Sides, place?: string): Scenario {
  const { root } = KINDS_OF_PARTS[part.kind];
  const fields = placesFor(part.kind, place).flatMap((base) => Object.entries(part.values).map(([field, value]) => ({ base, field, value })));
  let out = s;
  for (const { base, field, value } of fields) {
    const path = `${base}.${field}`;
    out = root ? withAt(out, path, value) : withSides(out, sides, path, value);
  }
  const told: Record<string, Origin | null> = {};
  for (const { base, field, value } of fields)
    for (const leaf of leavesOf(field, value)) {
      const path = `${base}.${leaf}`;
      const homes = root ? [path] : (sides === "both" ? SIDES : [sides]).map((side) => homeOf(out, side, path));
      for (const home of homes) if (fieldValue(out, home) !== undefined) told[home] = part.known[leaf] ?? null;
    }
  return withOrigins(out, told);
}

/** A part of a design as it would lie on the shelf, with what is known of its values. */
export function partOfDesign(s: Scenario, kind: ShelfKind, name: string, side: Side, place?: string): ShelfPart {
  const { root, fields } = KINDS_OF_PARTS[kind];
  const base = placesFor(kind, place)[0] as string;
  const from: unknown = root ? s : cornerOf(s, side);
  const values = Object.fromEntries(fields.map((field) => [field, at(from, `${base}.${field}`)]));
  const known: Record<string, Origin> = {};
  for (const [field, value] of Object.entries(values))
    for (const leaf of leavesOf(field, value)) {
      const path = `${base}.${leaf}`;
      const origin = s.origins[root ? path : homeOf(s, side, path)];
      if (origin) known[leaf] = { ...origin };
    }
  return { kind, name, values, known };
}
