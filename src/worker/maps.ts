import type { Scenario } from "../core/design/types.ts";
import { type CurveOptions, curveOptions } from "../core/studies/curve-options.ts";
import { byRatio, evenly, type SpeedMap, speedMap } from "../core/studies/speed-map.ts";
import { kmhToMps } from "../core/units.ts";
import { runJob } from "./jobs.ts";

export interface MapRequest {
  scenario: Scenario;
  options: Partial<CurveOptions>;
  radiusM: readonly [number, number];
  kmh: number;
  /** points along each axis */
  count: number;
}

/** A map that can be shown, and the share of the work that is done. */
export type OnMap = (map: SpeedMap, done: number) => void;

/** The map of a design, told coarse first and then finer; false when something newer was asked meanwhile. */
export async function mapOf(lane: string, job: number, r: MapRequest, onProgress: OnMap): Promise<boolean> {
  const run = speedMap(r.scenario, {
    ...curveOptions(r.options),
    radiiM: byRatio(r.radiusM[0], r.radiusM[1], r.count),
    speedsMps: evenly(0, kmhToMps(r.kmh), r.count),
  });
  const map = await runJob(lane, job, run, (p) => onProgress(p.map, p.done));
  if (map) onProgress(map, 1);
  return map !== null;
}
