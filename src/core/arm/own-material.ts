import { materialWords } from "../design/field-names.ts";
import { splitPath, valueAt } from "../design/field-path.ts";
import type { Material, Origin, Scenario } from "../design/types.ts";
import { resolveMaterial } from "./materials.ts";

/** The values of a built-in material, to be changed. */
export function ownMaterial(now: string | Material): Material {
  if (typeof now !== "string") return now;
  const { youngMPa, poisson, yieldMPa, densityKgPerM3, plastic, maxTempC } = resolveMaterial(now);
  return {
    name: `own ${materialWords(now)}`,
    youngMPa: Math.round(youngMPa),
    poisson,
    yieldMPa: Math.round(yieldMPa * 10) / 10,
    densityKgPerM3,
    plastic,
    maxTempC,
    source: `started from ${materialWords(now)}`,
  };
}

/** Values of a material besides its stiffness and strength. */
const OTHER_LEAVES = ["poisson", "densityKgPerM3", "plastic", "maxTempC"] as const;
const SIDE = /^(left|right)\./;

/**
 * How the values of a material are known that had only a name so far and becomes one of the design's own: a guessed name leaves guesses.
 * Stiffness and strength are no more than the table's for that name in any case: a part that nobody tested may be off as far as before.
 * @param at path of the material, where it will stand @returns by path; none where it was the design's own already
 */
export function namedOrigins(before: Scenario, at: string): Record<string, Origin> {
  const shared = at.replace(SIDE, "corner.");
  const name = valueAt(before, splitPath(at)) ?? valueAt(before, splitPath(shared));
  if (typeof name !== "string") return {};
  const was = before.origins[at] ?? before.origins[shared];
  const known = was && { how: was.how, ...(was.note === undefined ? {} : { note: was.note }) };
  const table: Origin = was?.how === "guess" ? known! : { how: "guess", note: `the table's value of ${materialWords(name)}` };
  return {
    ...(known ? Object.fromEntries(OTHER_LEAVES.map((leaf) => [`${at}.${leaf}`, known])) : {}),
    [`${at}.youngMPa`]: table,
    [`${at}.yieldMPa`]: table,
  };
}
