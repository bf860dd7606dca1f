import { alike } from "../core/design/alike.ts";
import type { Scenario } from "../core/design/types.ts";

/** cars of a moment ago that are still told apart */
const KEPT = 12;

const ids = new WeakMap<Scenario, number>();
let recent: { bare: Scenario; id: number }[] = [];
let count = 0;

/** One number for all scenarios that are the same car: its name, its line of description and how its values are known, what was tried and driven are not asked of mechanics. */
export function carId(s: Scenario): number {
  const known = ids.get(s);
  if (known !== undefined) return known;
  const bare: Scenario = { ...s, name: "", teaches: "", origins: {}, bench: [], runs: [] };
  const same = recent.find((r) => alike(r.bare, bare));
  const id = same?.id ?? ++count;
  if (!same) recent = [{ bare, id }, ...recent].slice(0, KEPT);
  ids.set(s, id);
  return id;
}
