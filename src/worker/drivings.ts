import { buildBench } from "../core/analyze.ts";
import type { Scenario } from "../core/design/types.ts";
import { DRIVINGS, type Driving, type DrivingSpeeds, speedsOfDriving, worstDriving } from "../core/studies/driving.ts";
import type { CurveOptions } from "../core/studies/safe-speed.ts";
import { runJob } from "./jobs.ts";

export interface DrivingsRequest {
  scenario: Scenario;
  radiusM: number;
  options: Partial<CurveOptions>;
}

/** Safe speeds of a curve for each way of driving it; null when something newer was asked meanwhile. */
export async function drivingsOf(lane: string, job: number, r: DrivingsRequest): Promise<DrivingSpeeds | null> {
  const run = (function* (): Generator<Driving, DrivingSpeeds> {
    const bench = buildBench(r.scenario);
    const each = {} as DrivingSpeeds["each"];
    for (const driving of DRIVINGS) {
      Object.assign(each, speedsOfDriving(bench, r.radiusM, r.options, [driving]));
      yield driving;
    }
    return { each, worst: worstDriving(each) };
  })();
  return runJob(lane, job, run, () => {});
}
