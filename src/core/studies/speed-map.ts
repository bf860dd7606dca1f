import { LIMIT_NAMES, type LimitName } from "../analysis.ts";
import { buildBench } from "../analyze.ts";
import { lateralGAt } from "../cornering.ts";
import type { Scenario } from "../design/types.ts";
import { reachableSpeedMps } from "../drive/drive-report.ts";
import { isSpeedLimit } from "../limits/records.ts";
import { buildTable, type CorneringTable } from "./cornering-table.ts";
import { type CurveOptions, curveOptions } from "./curve-options.ts";
import { endOf, LEVELS, levelsOf, levelValue, type MapEnd, type MapLevels, type SafePoint, safeSpeedAt, usedAt } from "./map-levels.ts";

/**
 * Speed against curve radius: which limit is how far used, and what gives first.
 *
 * Rows are speeds, columns radii: value at [row · radii + column], as contour libraries take it with size (radii, speeds).
 * All but the tyre's seat and the hub's heat depend on speed and radius through v²/R alone and come from one table.
 */
export interface SpeedMapOptions extends CurveOptions {
  /** ascending, m */
  radiiM: readonly number[];
  /** ascending, m/s */
  speedsMps: readonly number[];
  /** stated error of a utilization, as a share of max(1, utilization) */
  tolerance: number;
  /** jumps are placed to this cornering level, g */
  leastStepG: number;
}

/** What the map says where nothing has given: index of `first`. */
export const NONE = 255;

export interface SpeedMap {
  options: SpeedMapOptions;
  /** what the indexes in `highest` and `first` mean */
  limits: readonly LimitName[];
  radiiM: Float64Array;
  speedsMps: Float64Array;
  /** per limit, the worse wheel; held at its last value beyond the end of equilibrium */
  utilization: Record<LimitName, Float64Array>;
  /** largest of all but cautions; grows on beyond the end, always above 1 there */
  worst: Float64Array;
  /** which limit that is */
  highest: Uint8Array;
  /** which limit gave first when the speed rose at this radius; NONE where nothing has given */
  first: Uint8Array;
  /** largest lean of a wheel, either way, ° */
  leanDeg: Float64Array;
  /** 1 where there is no equilibrium */
  beyond: Uint8Array;
  end: MapEnd | null;
  /** highest speed at which nothing has given, per radius */
  safe: SafePoint[];
  /** speed that the car reaches, m/s */
  reachableMps: number;
  /** it was really driven; otherwise it is worked out from the drive */
  driven: boolean;
  /** stated errors: of a utilization (as a share of max(1, utilization)) and of the place of a jump, g */
  error: { utilization: number; lateralG: number };
  /** equilibria solved */
  solves: number;
  /** evenly spaced over the cornering level, for `safeSpeedAt` and the picture under the cursor */
  levels: MapLevels;
}

export interface MapProgress {
  /** share of the work done, an estimate */
  done: number;
  /** a picture that can be shown already */
  map: SpeedMap;
}

/** Even steps between two values; `evenly` for speeds, `byRatio` for radii on a logarithmic axis. */
export const evenly = (from: number, to: number, count: number): number[] => Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));
/** Steps of one ratio between two values above 0. */
export const byRatio = (from: number, to: number, count: number): number[] => Array.from({ length: count }, (_, i) => from * (to / from) ** (i / (count - 1)));

/** 2 to 20 m, standing still to 36 km/h, left-hand, smooth road. */
function mapOptions(o: Partial<SpeedMapOptions> = {}): SpeedMapOptions {
  return {
    ...curveOptions(),
    radiiM: byRatio(2, 20, 100),
    speedsMps: evenly(0, 10, 100),
    tolerance: 2e-3,
    leastStepG: 2e-3,
    ...o,
  };
}

function fill(s: Scenario, o: SpeedMapOptions, t: CorneringTable): SpeedMap {
  const levels = levelsOf(s, t, o.shock);
  const end = endOf(t.end, t.endG);
  const columns = o.radiiM.length;
  const size = columns * o.speedsMps.length;
  const utilization = Object.fromEntries(LIMIT_NAMES.map((n) => [n, new Float64Array(size)])) as Record<LimitName, Float64Array>;
  const worst = new Float64Array(size);
  const highest = new Uint8Array(size);
  const first = new Uint8Array(size).fill(NONE);
  const leanDeg = new Float64Array(size);
  const beyond = new Uint8Array(size);
  const safe = o.radiiM.map((r) => safeSpeedAt({ levels, end }, r));
  const firstOf = safe.map((p) => (p.limit === null ? NONE : LIMIT_NAMES.indexOf(p.limit)));
  const grids = LIMIT_NAMES.map((n) => utilization[n]);
  const columnsOf = LIMIT_NAMES.map((n) => (isSpeedLimit(n) || levels.pushed?.limits[n] ? null : levels.utilization[n]));
  const counts = LIMIT_NAMES.map((n) => levels.failures.includes(n));
  for (let row = 0; row < o.speedsMps.length; row++) {
    const v = o.speedsMps[row]!;
    for (let col = 0; col < columns; col++) {
      const i = row * columns + col;
      const a = lateralGAt(v, o.radiiM[col]!);
      const at = Math.min(LEVELS - 1, a / levels.stepG);
      let most = 0;
      let which = 0;
      for (let n = 0; n < grids.length; n++) {
        const values = columnsOf[n];
        const u = values ? levelValue(values, at) : usedAt(levels, LIMIT_NAMES[n]!, at, v);
        grids[n]![i] = u;
        if (counts[n] && u > most) {
          most = u;
          which = n;
        }
      }
      leanDeg[i] = levelValue(levels.leanDeg, at);
      if (end && a > end.atG) {
        beyond[i] = 1;
        // going on with the cornering level keeps contours closed where there is nothing to compute
        most = Math.max(most, 1) * (a / Math.max(end.atG, 1e-6));
        if (end.limit) which = LIMIT_NAMES.indexOf(end.limit);
      }
      worst[i] = most;
      highest[i] = which;
      if (v > safe[col]!.speedMps) first[i] = firstOf[col]!;
    }
  }
  return {
    options: o,
    limits: LIMIT_NAMES,
    radiiM: Float64Array.from(o.radiiM),
    speedsMps: Float64Array.from(o.speedsMps),
    utilization,
    worst,
    highest,
    first,
    leanDeg,
    beyond,
    end,
    safe,
    reachableMps: reachableSpeedMps(s),
    driven: s.drive.topSpeedDrivenKmh !== null,
    error: { utilization: o.tolerance, lateralG: Math.max(o.leastStepG, levels.stepG) },
    solves: t.solves,
    levels,
  };
}

/**
 * The map, coarse first: each yield holds a whole map from what is known so far. Pure; stop it by not asking for more.
 * Where not even rest has an equilibrium the map ends at 0 g and says why.
 */
export function* speedMap(scenario: Scenario, options: Partial<SpeedMapOptions> = {}): Generator<MapProgress, SpeedMap> {
  const o = mapOptions(options);
  const bench = buildBench(scenario);
  const toG = lateralGAt(o.speedsMps[o.speedsMps.length - 1]!, o.radiiM[0]!);
  const tables = buildTable(bench, { ...o, toG });
  let round = 0;
  for (;;) {
    const step = tables.next();
    if (step.done) return fill(scenario, o, step.value);
    // the coarse picture at once; refinements in between are worth a look only now and then
    if (round++ % 3 === 0) yield { done: 1 - 0.6 ** round, map: fill(scenario, o, step.value) };
  }
}
