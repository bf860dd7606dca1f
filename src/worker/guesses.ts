import type { Load, Scenario } from "../core/design/types.ts";
import { type GuessesReport, weighGuesses } from "../core/studies/guesses.ts";
import { rangeOf } from "../scenario/ranges.ts";
import { runJob } from "./jobs.ts";

export interface GuessesRequest {
  scenario: Scenario;
  load: Load;
  radiusM: number;
}

/** Weighs the guesses of a design; null when something newer was asked meanwhile. */
export const guessesOf = (lane: string, job: number, r: GuessesRequest): Promise<GuessesReport | null> =>
  runJob(lane, job, weighGuesses(r.scenario, r.load, { radiusM: r.radiusM, allowed: rangeOf }), () => {});
