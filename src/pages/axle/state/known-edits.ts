import type { Sides } from "../../../core/design/edit-corners.ts";
import { fieldValue, homeOf, withOrigins } from "../../../core/design/origins.ts";
import { type Origin, type Scenario, SIDES } from "../../../core/design/types.ts";
import { howOf, type Known } from "../../../view/origin-words.ts";
import type { PartName } from "../../../view/pick.ts";
import type { Control } from "./control.ts";

/** How the value of a row is known, and how it is told. */

/** keys that tell the kind of a group that is chosen as a whole */
const TAGS = ["kind", "shape", "on"];

/** Where the value of a row stands in the file, for the sides that it is set for; none for what is no value, and for a choice between a number and none. */
export function pathsOf(s: Scenario, c: Control, sides: Sides): string[] {
  if (c.kind === "act" || c.kind === "text" || (c.kind === "number" && c.reading)) return [];
  const own = (path: string): string[] => {
    if (c.root) return [path];
    const shared = `corner.${path}`;
    if (sides !== "both") return [homeOf(s, sides, path)];
    return [shared, ...SIDES.map((side) => homeOf(s, side, path)).filter((p) => p !== shared)];
  };
  const found = [c.path, ...TAGS.map((tag) => `${c.path}.${tag}`)].map((path) => own(path).filter((p) => fieldValue(s, p) !== undefined));
  const paths = found.find((list) => list.length > 0) ?? [];
  // the number has a row of its own
  return c.kind === "choice" && paths.some((p) => typeof fieldValue(s, p) === "number") ? [] : paths;
}

/** How a row's value is known: a guess on either side makes it one. Null for a row without a value of its own. */
export function knownOf(s: Scenario, c: Control, sides: Sides): Known | null {
  const paths = pathsOf(s, c, sides);
  if (paths.length === 0) return null;
  const path = paths.find((p) => s.origins[p]?.how === "guess") ?? paths.find((p) => s.origins[p]) ?? (paths[0] as string);
  const origin = s.origins[path];
  return {
    path,
    how: howOf(origin),
    origin,
    differ: paths.some((p) => howOf(s.origins[p]) !== howOf(origin)),
    isNumber: typeof fieldValue(s, path) === "number",
  };
}

/** The design with the values of a row known so; null: entered. */
export function withKnownAs(s: Scenario, c: Control, sides: Sides, origin: Origin | null): Scenario {
  return withOrigins(s, Object.fromEntries(pathsOf(s, c, sides).map((path) => [path, origin])));
}

/** Where the value at a path is changed in the parts panel; null: it is changed elsewhere. */
export function partOfPath(path: string): PartName | null {
  const at = path.replace(/^(corner|left|right)\./, "");
  const [first = ""] = at.split(/[.[]/);
  if (/^(upper|lower)(Inner|Outer)$/.test(first) || first === "joints") return "pins";
  if (["upperArm", "lowerArm", "spring", "hub", "wheel", "tyre", "body"].includes(first)) return first as PartName;
  if (at === "limits.camberDeg") return "body";
  const others: Readonly<Record<string, PartName>> = { wheelCentre: "wheel", antiRollBar: "spring" };
  if (others[first]) return others[first] ?? null;
  const push = /^(brake\.|limits\.|drive\.(onThisAxle|carriedBy)$|fit\.alongRoadMm$)/;
  return ["holePitchMm", "halfPitchAllowed", "tracks", "loadCases"].includes(first) || push.test(at) ? "car" : null;
}
