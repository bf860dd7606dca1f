import type { Scenario } from "../core/design/types.ts";
import { at, keysOf, withAt } from "./edit.ts";
import { designFault } from "./gate.ts";

/** parts that are too large to come along with one field of theirs */
const WHOLE = ["corner", "left", "right"];

/**
 * One design with a field of another. Where the field alone would not stand (a kind without its measures, a section
 * without its holes), what it hangs together with is taken as well, as little of it as will do.
 * `path`: what was taken; the field itself where nothing around it stands either.
 */
export function taken(to: Scenario, from: Scenario, path: string): { scenario: Scenario; path: string } {
  const keys = keysOf(path);
  for (let n = keys.length; n > 0; n--) {
    const part = keys.slice(0, n).join(".");
    if (WHOLE.includes(part)) break;
    const scenario = withAt(to, part, at(from, part));
    if (designFault(scenario) === null) return { scenario, path: n === keys.length ? path : part };
  }
  return { scenario: withAt(to, path, at(from, path)), path };
}
