import { resolveMaterial } from "../arm/materials.ts";
import { namedOrigins } from "../arm/own-material.ts";
import { splitPath, valueAt, withValueAt } from "../design/field-path.ts";
import { withOrigins } from "../design/origins.ts";
import type { Material, Origin, Scenario } from "../design/types.ts";
import type { Allowed } from "../studies/guess-steps.ts";
import { FROM_RUNS } from "./strengths.ts";
import type { RunsTold, StrengthTold } from "./told.ts";

/** Figures to which a value is put in: the range is never narrower than some per cent. */
const FIGURES = 4;
const rounded = (v: number): number => Number(v.toPrecision(FIGURES));

/** What the runs of a design moved or narrowed, by enough to be taken. */
export const worthTaking = (told: RunsTold): StrengthTold[] => told.strengths.filter((t) => t.worth);

/**
 * The design with what its runs tell put in: each value as measured with its ±, the counted runs marked as taken. The same scenario where
 * there is nothing to take. One path that stands for a material known by its name makes it a material of its own there.
 * @param date the day it is taken, as 2026-11-26 @param allowed what a number of the file may be
 */
export function withRuns(s: Scenario, told: RunsTold, date: string | null, allowed: Allowed): Scenario {
  const worth = worthTaking(told);
  if (worth.length === 0) return s;
  let out = s;
  const origins: Record<string, Origin> = {};
  for (const { strength, after } of worth) {
    const material = /^(.*\.material)\.yieldMPa$/.exec(strength.path);
    if (material && typeof valueAt(out, splitPath(material[1]!)) === "string") {
      const named = resolveMaterial(valueAt(out, splitPath(material[1]!)) as string);
      const { name, youngMPa, poisson, yieldMPa, densityKgPerM3, plastic, maxTempC, source } = named;
      const own: Material = { name, youngMPa, poisson, yieldMPa, densityKgPerM3, plastic, maxTempC, source };
      out = withValueAt(out, splitPath(material[1]!), own);
      Object.assign(origins, namedOrigins(s, material[1]!));
    }
    const range = allowed(strength.path, out);
    const value = rounded(range ? Math.min(range.max, Math.max(range.min, after.value)) : after.value);
    out = withValueAt(out, splitPath(strength.path), value);
    origins[strength.path] = { how: "measured", plusMinus: rounded(after.sd), ...(date === null ? {} : { date }), note: FROM_RUNS };
  }
  const runs = out.runs.map((run, i) => (told.counted.includes(i) ? { ...run, taken: true } : run));
  return { ...withOrigins(out, origins), runs };
}
