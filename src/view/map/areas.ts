import { contours } from "d3-contour";
import type { LimitName } from "../../core/analysis.ts";
import { speedInCurve } from "../../core/cornering.ts";
import { isSpeedLimit, type LevelLimit } from "../../core/limits/records.ts";
import type { SpeedMap } from "../../core/studies/speed-map.ts";
import type { V2 } from "../../core/vec.ts";

/** Points of a map's shapes: share of the way across (radius, logarithmic) and up (speed), 0 to 1. */
export type Rings = V2[][];

/** From where on each colour step holds. */
const STEP_FROM = [0, 0.6, 0.85, 1] as const;

/** Closed rings round all places of a grid with at least `from`. Rows run upwards. */
export function ringsOf(values: Float64Array, columns: number, rows: number, from: number): Rings {
  const make = contours().size([columns, rows]);
  const shape = make.contour(values as unknown as number[], from);
  const place = (v: number, count: number): number => Math.max(0, Math.min(1, (v - 0.5) / (count - 1)));
  return shape.coordinates.flatMap((polygon) =>
    polygon.map((ring) => {
      const out: V2[] = [];
      for (const [x, y] of ring as [number, number][]) {
        const p: V2 = [place(x, columns), place(y, rows)];
        const last = out.at(-1);
        if (!last || last[0] !== p[0] || last[1] !== p[1]) out.push(p);
      }
      return out;
    }),
  );
}

const onSameEdge = (a: V2, b: V2): boolean =>
  (a[0] === 0 && b[0] === 0) || (a[0] === 1 && b[0] === 1) || (a[1] === 0 && b[1] === 0) || (a[1] === 1 && b[1] === 1);

/** The rings without what runs along the edge of the map: lines at which a value is reached. */
export function linesOf(rings: Rings): Rings {
  const out: Rings = [];
  for (const ring of rings) {
    const runs: Rings = [];
    let run: V2[] = [];
    for (let i = 0; i + 1 < ring.length; i++) {
      const a = ring[i] as V2;
      const b = ring[i + 1] as V2;
      if (onSameEdge(a, b)) {
        if (run.length > 1) runs.push(run);
        run = [];
        continue;
      }
      if (run.length === 0) run.push(a);
      run.push(b);
    }
    if (run.length > 1) runs.push(run);
    const first = runs[0];
    const last = runs.at(-1);
    // a ring may begin in the middle of a line
    if (runs.length > 1 && first && last && first[0]?.[0] === last.at(-1)?.[0] && first[0]?.[1] === last.at(-1)?.[1]) {
      runs[0] = [...last, ...first.slice(1)];
      runs.pop();
    }
    out.push(...runs);
  }
  return out.map((l) => ((l[0] as V2)[0] <= (l.at(-1) as V2)[0] ? l : [...l].reverse()));
}

export interface MapLine {
  key: string;
  /** the limit that is reached on it; null: a lean */
  limit: LimitName | null;
  leanDeg: number | null;
  runs: Rings;
}

export interface MapAreas {
  /** rings of the steps working, close and gives, each holding the next */
  steps: Rings[];
  limits: MapLine[];
  leans: MapLine[];
}

/** Cornering at which a limit that knows no speed reaches 1, g; Infinity when it does not. */
function reachedG(map: SpeedMap, name: LevelLimit): number {
  const values = map.levels.utilization[name];
  const ends = map.end?.limit === name ? map.end.atG : Number.POSITIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    const u = values[i] as number;
    if (u < 1) continue;
    const before = i > 0 ? (values[i - 1] as number) : u;
    return Math.min(ends, (i - (u > before ? (u - 1) / (u - before) : 0)) * map.levels.stepG);
  }
  return ends;
}

/**
 * What the line of a limit is drawn from. A part that falls over in its play makes its utilization jump, and a line between two cells
 * of a jump would be stairs: speed over the speed at which the limit is reached crosses 1 at the same places and is smooth.
 */
function valuesOf(map: SpeedMap, name: LimitName): Float64Array {
  if (isSpeedLimit(name)) return map.utilization[name];
  const g = reachedG(map, name);
  const columns = map.radiiM.length;
  return map.worst.map((_, i) => (map.speedsMps[Math.floor(i / columns)] as number) / speedInCurve(g, map.radiiM[i % columns] as number));
}

/** Lean lines that are worth showing: two round values below the largest lean in front of the first failure. */
function leanSteps(map: SpeedMap): number[] {
  let most = 0;
  for (let i = 0; i < map.worst.length; i++) if ((map.worst[i] as number) < 1) most = Math.max(most, map.leanDeg[i] as number);
  const step = [0.25, 0.5, 1, 2, 3, 5, 10].find((s) => most / s < 3.5) ?? 15;
  return [step, 2 * step].filter((v) => v < most);
}

/** Areas and lines of a map. */
export function mapAreas(map: SpeedMap): MapAreas {
  const columns = map.radiiM.length;
  const rows = map.speedsMps.length;
  const steps = [STEP_FROM[1], STEP_FROM[2], STEP_FROM[3]].map((from) => ringsOf(map.worst, columns, rows, from));
  const limits: MapLine[] = [];
  for (const name of map.limits) {
    if (!map.levels.failures.includes(name)) continue;
    const values = valuesOf(map, name);
    if (!values.some((v) => v >= 1)) continue;
    limits.push({ key: name, limit: name, leanDeg: null, runs: linesOf(ringsOf(values, columns, rows, 1)) });
  }
  const leans = leanSteps(map).map(
    (deg): MapLine => ({ key: `lean${deg}`, limit: null, leanDeg: deg, runs: linesOf(ringsOf(map.leanDeg, columns, rows, deg)) }),
  );
  return { steps, limits, leans };
}
