import type { LimitName } from "../analysis.ts";

/** What stands between what is asked for and what there is; without an entry the part holds it. */
const VERBS: Readonly<Partial<Record<LimitName, string>>> = {
  camber: "limit",
  wheelShift: "limit",
  axisTilt: "limit",
  springOnStop: "has",
  wheelLift: "has",
  fit: "wanted",
};

/** A unit up to this many signs is said behind both numbers. */
const LONGEST_TWICE = 5;

/**
 * "152 N, holds 85 N": what the load asks for and what the part can take, both as written numbers with the same unit.
 * @param space between number and unit; an angle's sign closes up
 */
export function heldWords(name: LimitName | null, demand: string, capacity: string, unit: string, space = "\u2009"): string {
  const gap = unit === "" || unit === "°" ? "" : space;
  // "K above the air" and "MPa·m/s" are long: the first number has the short of it, or none
  const [first = ""] = unit.split(" ");
  const brief = first.length > LONGEST_TWICE ? "" : `${gap}${first}`;
  return `${demand}${brief}, ${(name && VERBS[name]) ?? "holds"} ${capacity}${gap}${unit}`;
}
