import { type PairedQuestion, type PairedTold, samplePaired, tellPaired } from "../core/doubt/paired.ts";
import { rangeOf } from "../scenario/ranges.ts";
import { runJob } from "./jobs.ts";

/** Two designs in the same worlds; null when something newer was asked meanwhile, or one of them does not stand. `onProgress`: share of the worlds, now and then. */
export async function pairedOf(lane: string, job: number, q: PairedQuestion, onProgress: (share: number) => void): Promise<PairedTold | null> {
  let worlds = 0;
  let next = 0;
  const whole = await runJob(lane, job, samplePaired(q, rangeOf), () => {
    worlds++;
    if (performance.now() < next) return;
    next = performance.now() + OFTEN_MS;
    onProgress(worlds / q.samples);
  });
  return whole && tellPaired(whole);
}

const OFTEN_MS = 250;
