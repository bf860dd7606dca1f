import { keptOrigins } from "../core/design/origins.ts";
import type { Scenario } from "../core/design/types.ts";
import type { Doc } from "./document.ts";

/** The design that another was made of: the one whose origins it still holds, so that a copy or a swap of designs brings its own along. */
const madeOf = (s: Scenario, own: Scenario, other: Scenario): Scenario => (s.origins !== own.origins && s.origins === other.origins ? other : own);

/** A document after an edit, each value known as the edit tells, as before where the edit left it alone, and else entered. */
export function withKnown(before: Doc, after: Doc): Doc {
  const a = keptOrigins(madeOf(after.a, before.a, before.b), after.a);
  const b = keptOrigins(madeOf(after.b, before.b, before.a), after.b);
  return a === after.a && b === after.b ? after : { ...after, a, b };
}
