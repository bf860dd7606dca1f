import type { LimitName } from "../../core/analysis.ts";
import type { Corner, Scenario } from "../../core/design/types.ts";
import { fitDistance } from "../../core/limits/fit.ts";
import { mapPoint, type ReadMap, safeSpeedAt } from "../../core/studies/map-levels.ts";
import { kmhToMps, mpsToKmh } from "../../core/units.ts";
import { fixed, roomWords, withUnit } from "../format.ts";
import { mapWords } from "./names.ts";

/** A map that can be asked at any point, with what the drive reaches. */
export interface ReachedMap extends ReadMap {
  reachableMps: number;
  /** it was really driven */
  driven: boolean;
}

export const radiusWords = (m: number): string => fixed(m, Number.isInteger(Math.round(m * 10) / 10) ? 0 : 1);

/** The worst limit at a point of the map. */
export function worstAt(map: ReadMap, radiusM: number, kmh: number): { limit: LimitName | null; utilization: number; lateralG: number; beyond: boolean } {
  const p = mapPoint(map, radiusM, kmhToMps(kmh));
  let limit: LimitName | null = null;
  let most = 0;
  for (const [name, u] of Object.entries(p)) {
    if (typeof u !== "number" || name === "lateralG" || !map.levels.failures.includes(name as LimitName)) continue;
    if (u > most) [limit, most] = [name as LimitName, u];
  }
  if (p.beyond) return { limit: map.end?.limit ?? limit, utilization: Math.max(1, most), lateralG: p.lateralG, beyond: true };
  return { limit, utilization: most, lateralG: p.lateralG, beyond: false };
}

/** Two lines for a point: where it is, and how far what is used. */
export function pointWords(map: ReadMap, corner: Corner, radiusM: number, kmh: number): [string, string] {
  const w = worstAt(map, radiusM, kmh);
  const place = `${fixed(radiusM, radiusM < 10 ? 1 : 0)} m, ${fixed(kmh, 1)} km/h`;
  if (w.beyond) return [place, `${fixed(w.lateralG, 2)} g · ${map.end?.message ?? "no hold"}`];
  if (!w.limit || w.utilization < 1e-3) return [place, `${fixed(w.lateralG, 2)} g · nothing is loaded`];
  if (w.limit === "fit")
    return [place, `${fixed(w.lateralG, 2)} g · tyre or arm to the body: ${roomWords(fitDistance(map.levels.clearanceMm, w.utilization))}`];
  return [place, `${fixed(w.lateralG, 2)} g · ${mapWords(w.limit, corner).part} ${fixed(w.utilization, 2)} of what it can take`];
}

export const shockWords = (shock: number): string => `×${fixed(shock, 2).replace(/0$/, "")}`;

/** Said where a road shock lies past the end of its ruler; empty where none does. */
export function beyondRuler(shock: number, motionShock: number | null, most: number): string {
  if (shock > most) return `${shockWords(shock)} lies beyond the end of this ruler. The map counts with all of it.`;
  if (motionShock !== null && motionShock > most) return `The last motion run gave ${shockWords(motionShock)}, beyond the end of this ruler.`;
  return "";
}

export interface SafeWords {
  radiusM: number;
  kmh: number;
  number: string;
  /** "6.4 m/s, 0.70 g" */
  also: string;
  limit: LimitName | null;
}

export function safeWords(map: ReadMap, radiusM: number): SafeWords {
  const p = safeSpeedAt(map, radiusM);
  const kmh = mpsToKmh(p.speedMps);
  return { radiusM, kmh, number: fixed(kmh, 1), also: `${withUnit(p.speedMps, 1, "m/s")}, ${withUnit(p.lateralG, 2, "g")}`, limit: p.limit };
}

/** radii looked at for where the car holds all that its drive gives, m */
const WIDEST_M = 100;

/** Smallest curve on which nothing gives below the drive's speed; null when there is none that is worth telling. */
export function holdsFrom(map: ReachedMap): number | null {
  const holds = (r: number): boolean => safeSpeedAt(map, r).speedMps >= map.reachableMps;
  let low = 0.5;
  let high = WIDEST_M;
  if (!holds(high)) return null;
  for (let i = 0; i < 40 && high - low > 0.01; i++) {
    const middle = (low + high) / 2;
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** One sentence or two under the big number. */
export function sentence(map: ReachedMap, corner: Corner, radiusM: number): string {
  const reach = mpsToKmh(map.reachableMps);
  const from = holdsFrom(map);
  if (!(reach > 0)) return "Your drive does not start this car, so nothing gives on the road.";
  const safe = safeWords(map, radiusM);
  const reachWords = withUnit(reach, reach < 10 || map.driven ? 1 : 0, "km/h");
  if (safe.kmh >= reach)
    return map.driven
      ? `The fastest you drove is ${reachWords}; on this curve nothing gives below that.`
      : `Your drive reaches ${reachWords}, so nothing gives on this curve before the drive runs out.`;
  if (safe.kmh <= 0 && safe.limit) return `Under this load ${mapWords(safe.limit, corner).the} ${mapWords(safe.limit, corner).does} even driving straight on.`;
  const what = safe.limit ? `${mapWords(safe.limit, corner).the} ${mapWords(safe.limit, corner).does}` : "the car loses its hold";
  const where = from === null ? "No curve is wide enough to change that." : `On a curve wider than ${withUnit(from, from < 20 ? 1 : 0, "m")} it would hold.`;
  return map.driven
    ? `The fastest you drove is ${reachWords}; on this curve ${what} before that. ${where}`
    : `Your drive reaches ${reachWords}, so ${what} before the drive runs out. ${where}`;
}

export interface TableRow {
  radiusM: number;
  name: string;
  a: string;
  gives: string;
  b: string;
  /** the drive reaches what gives */
  reached: boolean;
}

/** The map in rows, for those who do not see it. */
export function tableRows(scenario: Scenario, map: ReachedMap, b: ReadMap | null, radiiM: readonly number[]): TableRow[] {
  const all = [...new Set([...radiiM, ...scenario.tracks.map((t) => t.radiusM)])].sort((x, y) => x - y);
  return all.map((radiusM) => {
    const safe = safeWords(map, radiusM);
    const w = safe.limit ? mapWords(safe.limit, scenario.corner) : null;
    return {
      radiusM,
      name: scenario.tracks.find((t) => t.radiusM === radiusM)?.name ?? "",
      a: safe.number,
      gives: w ? `${w.part} ${w.does}` : "no hold beyond",
      b: b ? safeWords(b, radiusM).number : "–",
      reached: mpsToKmh(map.reachableMps) > safe.kmh,
    };
  });
}
