import { materialWords } from "../design/field-names.ts";
import type { Material } from "../design/types.ts";
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
