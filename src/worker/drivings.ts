import { buildBench } from "../core/analyze.ts";
import type { Scenario } from "../core/design/types.ts";
import type { CurveOptions } from "../core/studies/curve-options.ts";
import { type DrivingSpeeds, drivingSpeeds } from "../core/studies/driving.ts";
import { runJob } from "./jobs.ts";

export interface DrivingsRequest {
  scenario: Scenario;
  radiusM: number;
  options: Partial<CurveOptions>;
}

/** Safe speeds of a curve for each way of driving it; null when something newer was asked meanwhile. */
export const drivingsOf = (lane: string, job: number, r: DrivingsRequest): Promise<DrivingSpeeds | null> =>
  runJob(lane, job, drivingSpeeds(buildBench(r.scenario), r.radiusM, r.options), () => {});
