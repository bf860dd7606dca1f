import { type SampleQuestion, type SampleShare, type Samples, sampleWorlds } from "../core/doubt/sample.ts";
import { rangeOf } from "../scenario/ranges.ts";
import { runJob } from "./jobs.ts";

export interface SamplesRequest {
  question: SampleQuestion;
  share: SampleShare;
}

/** A part of a sample that can be shown. */
export type OnSamples = (part: Samples) => void;

/** null: something newer was asked meanwhile; samples null: the car as it is designed does not stand. */
export type SamplesAnswer = { samples: Samples | null } | null;

/** The first picture after so many ms, and the next ones no oftener than that: each is copied whole. */
const FIRST_MS = 120;
const OFTEN_MS = 250;

/** A share of a sample, told now and then while it grows. */
export async function samplesOf(lane: string, job: number, r: SamplesRequest, onProgress: OnSamples): Promise<SamplesAnswer> {
  let next = performance.now() + FIRST_MS;
  let ended: Samples | null = null;
  const run = (function* (): Generator<Samples, true> {
    ended = yield* sampleWorlds(r.question, rangeOf, r.share);
    return true;
  })();
  const done = await runJob(lane, job, run, (samples) => {
    if (performance.now() < next) return;
    next = performance.now() + OFTEN_MS;
    onProgress(samples);
  });
  return done === null ? null : { samples: ended };
}
