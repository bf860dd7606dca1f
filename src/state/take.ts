import { joinPath, splitPath } from "../core/design/field-path.ts";
import { keptOrigins, withOrigins } from "../core/design/origins.ts";
import type { Origin, Scenario } from "../core/design/types.ts";
import { at, withAt } from "./edit.ts";
import { designFault } from "./gate.ts";

/** parts that are too large to come along with one field of theirs */
const WHOLE = ["corner", "left", "right"];

const isWithin = (path: string, part: string): boolean => path === part || path.startsWith(`${part}.`) || path.startsWith(`${part}[`);

/** A part of another design in the place of one's own, its values known as they are there. */
function withPart(to: Scenario, from: Scenario, part: string): Scenario {
  const told: Record<string, Origin | null> = {};
  for (const path of Object.keys(to.origins)) if (isWithin(path, part)) told[path] = null;
  for (const [path, origin] of Object.entries(from.origins)) if (isWithin(path, part)) told[path] = origin;
  return keptOrigins(to, withOrigins(withAt(to, part, at(from, part)), told));
}

/**
 * One design with a field of another. Where the field alone would not stand (a kind without its measures, a section
 * without its holes), what it hangs together with is taken as well, as little of it as will do. How the values are known comes along.
 * `path`: what was taken; the field itself where nothing around it stands either.
 */
export function taken(to: Scenario, from: Scenario, path: string): { scenario: Scenario; path: string } {
  const keys = splitPath(path);
  for (let n = keys.length; n > 0; n--) {
    const part = joinPath(keys.slice(0, n));
    if (WHOLE.includes(part)) break;
    const scenario = withPart(to, from, part);
    if (designFault(scenario) === null) return { scenario, path: part };
  }
  return { scenario: withPart(to, from, path), path };
}
