import type { Scenario } from "../core/design/types.ts";
import { type ChangesOptions, type ChangesProgress, type ChangesReport, studyChanges } from "../core/studies/changes.ts";
import { runJob } from "./jobs.ts";

export interface ChangesRequest {
  scenario: Scenario;
  options: Partial<ChangesOptions>;
}

/** Every single change solved again, told one by one; `stopped` when something newer was asked meanwhile. */
export async function changesOf(
  lane: string,
  job: number,
  r: ChangesRequest,
  onProgress: (p: ChangesProgress) => void,
): Promise<{ stopped: boolean; report: ChangesReport | null }> {
  let ended: ChangesReport | null = null;
  const run = (function* (): Generator<ChangesProgress, true> {
    ended = yield* studyChanges(r.scenario, r.options);
    return true;
  })();
  const done = await runJob(lane, job, run, onProgress);
  return { stopped: done === null, report: ended };
}
