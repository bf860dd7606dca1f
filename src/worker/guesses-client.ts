import type { GuessesReport } from "../core/studies/guesses.ts";
import type { WorkerApi } from "./api.ts";
import type { GuessesRequest } from "./guesses.ts";
import { supervise, type Watched } from "./supervised.ts";

/** Weighs guesses beside the page; a newer question ends the older one. */
export interface GuessesClient extends Watched {
  ask(key: string, request: GuessesRequest): void;
  stop(): void;
}

const LANE = "guesses";

export function connectGuesses(onAnswer: (key: string, report: GuessesReport) => void): GuessesClient {
  const work = supervise<WorkerApi>(() => new Worker(new URL("./worker.ts", import.meta.url), { type: "module" }));
  return {
    watch: work.watch,
    ask: (key, request) =>
      work.ask(LANE, {
        ask: (remote, job) => remote.guessesOf(LANE, job, request) as Promise<GuessesReport | null>,
        answered: (report) => report && onAnswer(key, report),
      }),
    stop: () => work.drop(LANE, (remote) => remote.stopJob(LANE)),
  };
}
