import { LIMIT_NAMES, type LimitName } from "../analysis.ts";
import type { Band } from "./bands.ts";
import { type Chance, chanceOf, type SampledBand } from "./chance.ts";
import { NO_LIMIT, type Samples, WORLD } from "./sample.ts";

/** Where first order and sampling tell different bands, and why: the car is not straight over what is not known. */
export interface NotStraight {
  /** how far the ends of the 90 % range are apart, as shares of its width of first order: sampled minus first order */
  low: number;
  high: number;
  reasons: Reason[];
}

/**
 * takesOver: another limit gives first. ends: no steady position is left. standsNot: the car does not stand at all. lifts: a wheel that stands in the
 * design is off the road, or the other way round. stops: a spring reaches a stop or hangs loose where it does not in the design. curved: none of
 * these; what is not known is so wide that the answer is no straight line over it.
 */
export type Reason =
  | { kind: "takesOver"; limit: LimitName; chance: Chance }
  | { kind: "ends" | "standsNot" | "lifts" | "stops"; chance: Chance }
  | { kind: "curved" };

/** Ends of the range nearer to each other than this share of its width, or than the sample can tell, are the same. */
const SAME = 0.15;
/** Happening in fewer worlds than this does not explain a difference. */
const SELDOM = 0.01;
/** Standard error of a 5 % quantile of a normal sample, in deviations times √n: √(0.05·0.95)/0.1031. */
const QUANTILE_ERROR = 2.11;

/** Compares both bands of an answer; null where they agree. */
export function notStraight(first: Band, sampled: SampledBand, reasons: readonly Reason[]): NotStraight | null {
  const width = first.high - first.low;
  if (!(width > 0)) return null;
  const low = (sampled.low - first.low) / width;
  const high = (sampled.high - first.high) / width;
  const same = Math.max(SAME, (2 * QUANTILE_ERROR * (first.sd / width)) / Math.sqrt(sampled.worlds));
  if (Math.max(Math.abs(low), Math.abs(high)) <= same) return null;
  return { low, high, reasons: reasons.length > 0 ? [...reasons] : [{ kind: "curved" }] };
}

/** What may make the safe speed differ. */
export function reasonsOfSafe(s: Samples): Reason[] {
  const columns = s.radiiM.length;
  if (columns === 0) return [];
  const worlds = s.done.reduce((sum, d) => sum + d, 0);
  const base = s.design.limit[0]!;
  const counts = new Map<number, number>();
  let standsNot = 0;
  for (let w = 0; w < s.count; w++) {
    if (!s.done[w]) continue;
    const stands = (s.worlds.state[w]! & WORLD.standsNot) === 0;
    if (!stands) standsNot++;
    const limit = s.worlds.limit[w * columns]!;
    if (stands && limit !== base) counts.set(limit, (counts.get(limit) ?? 0) + 1);
  }
  const others = [...counts]
    .sort((a, b) => b[1] - a[1])
    .map(([limit, n]): Reason => {
      const chance = chanceOf(n, worlds);
      return limit === NO_LIMIT ? { kind: "ends", chance } : { kind: "takesOver", limit: LIMIT_NAMES[limit]!, chance };
    });
  return told([...others, { kind: "standsNot", chance: chanceOf(standsNot, worlds) }]);
}

/** What may make answers at one load differ. */
export function reasonsAtLoad(s: Samples): Reason[] {
  const worlds = s.done.reduce((sum, d) => sum + d, 0);
  if (worlds === 0) return [];
  const base = s.design.state[0]!;
  const other = (bits: number): Chance => {
    let n = 0;
    for (let w = 0; w < s.count; w++) if (s.done[w] && (s.worlds.state[w]! & WORLD.noPosition) === 0 && ((s.worlds.state[w]! ^ base) & bits) !== 0) n++;
    return chanceOf(n, worlds);
  };
  const flagged = (bit: number): Chance => {
    let n = 0;
    for (let w = 0; w < s.count; w++) if (s.done[w] && (s.worlds.state[w]! & bit) !== 0) n++;
    return chanceOf(n, worlds);
  };
  return told([
    { kind: "ends", chance: flagged(WORLD.noPosition) },
    { kind: "lifts", chance: other(WORLD.leftLifted | WORLD.rightLifted) },
    { kind: "stops", chance: other(WORLD.slack | WORLD.onStop) },
  ]);
}

const told = (reasons: readonly Reason[]): Reason[] => reasons.filter((r) => r.kind === "curved" || r.chance.chance >= SELDOM);
