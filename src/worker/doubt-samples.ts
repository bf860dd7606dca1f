import { atMost } from "../core/doubt/chance.ts";
import { type SampleQuestion, type Samples, safeSpeeds, sampleWorlds } from "../core/doubt/sample.ts";
import { type Reason, reasonsAtLoad, reasonsOfSafe } from "../core/doubt/straight.ts";
import { type DriveAtMost, type SampleTold, tellSamples } from "../core/doubt/told.ts";
import { rangeOf } from "../scenario/ranges.ts";
import { runJob } from "./jobs.ts";

export interface SamplesRequest {
  question: SampleQuestion;
  /** chances that a speed to drive at most is told for, and those of the lines over the radius */
  chances: readonly number[];
  lines: readonly number[];
}

/** What the worlds say that are worked out so far; plain data. */
export interface SamplesTold {
  told: SampleTold;
  /** by the chances asked for, where a curve was */
  atMost: readonly DriveAtMost[];
  reasons: { safe: readonly Reason[]; at: readonly Reason[] };
}

/** The first picture after so many worlds; then at most so often, ms. */
const FIRST_WORLDS = 32;
const TELL_EVERY_MS = 300;

/** Samples a design, told while it goes on and at the end; whether it came to its end. False also where the car does not stand. */
export async function samplesOf(lane: string, job: number, r: SamplesRequest, onProgress: (told: SamplesTold) => void): Promise<boolean> {
  let worlds = 0;
  let next = 0;
  const all = await runJob(lane, job, sampleWorlds(r.question, rangeOf), (samples) => {
    worlds++;
    if (worlds < FIRST_WORLDS || performance.now() < next) return;
    next = performance.now() + TELL_EVERY_MS;
    tell(samples, r, onProgress);
  });
  if (all) tell(all, r, onProgress);
  return all !== null;
}

function tell(samples: Samples, r: SamplesRequest, onProgress: (told: SamplesTold) => void): void {
  const told = tellSamples(samples, { lines: r.lines });
  if (!told) return;
  const speeds = samples.radiiM.length > 0 ? safeSpeeds(samples).sort() : null;
  onProgress({
    told,
    atMost: speeds
      ? r.chances.map((chance) => {
          const { value, low, high } = atMost(speeds, chance);
          return { chance, speedMps: value, lowMps: low, highMps: high };
        })
      : [],
    reasons: { safe: reasonsOfSafe(samples), at: reasonsAtLoad(samples) },
  });
}
