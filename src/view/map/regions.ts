import type { LimitName } from "../../core/analysis.ts";
import type { SpeedMap } from "../../core/studies/speed-map.ts";

/** A run of neighbouring radii on which the same limit gives first. Places as shares of the map, 0 to 1. */
export interface Region {
  limit: LimitName | null;
  from: number;
  to: number;
  /** in the middle of the run: where the first one gives, share of the way up */
  givesAt: number;
  /** what would give next as speed rises, in order */
  next: LimitName[];
}

const THEN_MOST = 2;

/** Speeds at which each limit is reached in one column of a map, slowest first, m/s. */
export function reachedIn(map: SpeedMap, column: number): { limit: LimitName; speedMps: number }[] {
  const out: { limit: LimitName; speedMps: number }[] = [];
  const columns = map.radiiM.length;
  for (const limit of map.limits) {
    if (!map.levels.failures.includes(limit)) continue;
    for (let row = 0; row < map.speedsMps.length; row++) {
      const i = row * columns + column;
      if ((map.utilization[limit][i] as number) < 1 && !(map.end?.limit === limit && map.beyond[i])) continue;
      out.push({ limit, speedMps: map.speedsMps[row] as number });
      break;
    }
  }
  return out.sort((a, b) => a.speedMps - b.speedMps);
}

/** The map's regions by what gives first, from small radii to large ones. */
export function regionsOf(map: SpeedMap): Region[] {
  const columns = map.radiiM.length;
  const top = map.speedsMps[map.speedsMps.length - 1] as number;
  const out: Region[] = [];
  let start = 0;
  const givesHere = (c: number): boolean => (map.safe[c]?.speedMps ?? top) < top;
  for (let c = 1; c <= columns; c++) {
    const same = c < columns && map.safe[c]?.limit === map.safe[start]?.limit && givesHere(c) === givesHere(start);
    if (same) continue;
    if (givesHere(start)) {
      const middle = (start + c - 1) >> 1;
      const limit = map.safe[start]?.limit ?? null;
      out.push({
        limit,
        from: start / (columns - 1),
        to: (c - 1) / (columns - 1),
        givesAt: (map.safe[middle]?.speedMps ?? top) / top,
        next: reachedIn(map, middle)
          .map((r) => r.limit)
          .filter((n) => n !== limit)
          .slice(0, THEN_MOST),
      });
    }
    start = c;
  }
  return out;
}
