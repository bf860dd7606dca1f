import type { LimitResult } from "../core/analysis.ts";
import { heldWords } from "../core/limits/held-words.ts";
import { LIMITS } from "../core/limits/records.ts";
import { distanceWords, SIDE_WORDS } from "../view/words.ts";
import { figures, num, plainSigns, table } from "./table.ts";

const WHOLE = 1e6;
/** How much of a limit is used, in percent; a distance in mm; what has nothing to hold it is told in words. */
export const used = (l: LimitResult): string =>
  l.place ? plainSigns(distanceWords(l) ?? "") : l.utilization > WHOLE ? "no hold" : `${num(100 * l.utilization, 0)} %`;

export const limitWords = (l: LimitResult): string => `${LIMITS[l.name].words.row} (${LIMITS[l.name].words.term})`;

export function limitTable(limits: readonly LimitResult[]): string {
  return table(
    ["limit", "where", "used", "asked", "holds", "unit"],
    limits.map((l) => [
      l.caution ? `${limitWords(l)}, a caution only` : limitWords(l),
      `${SIDE_WORDS[l.wheel]}: ${l.part}`,
      used(l),
      l.place ? "" : figures(l.demand),
      l.place ? "" : figures(l.capacity),
      l.place ? "" : l.unit,
    ]),
    2,
  );
}

/** What gives first, in one sentence. */
export function firstWords(l: LimitResult): string {
  const wheel = l.wheel === "both" ? "" : `, ${SIDE_WORDS[l.wheel]}`;
  const numbers = l.place ? used(l) : `${heldWords(l.name, figures(l.demand), figures(l.capacity), l.unit, " ")}, ${used(l)}`;
  return `${LIMITS[l.name].words.row}${wheel}: ${l.part}, ${numbers}. ${l.utilization >= 1 ? "That is past its limit." : "Nothing is past its limit; this is the nearest."}`;
}
