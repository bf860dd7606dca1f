import type { LongQuestion } from "../state/answers.ts";
import type { WorkerApi } from "./api.ts";
import type { SearchAnswer } from "./searches.ts";
import { supervise, type Watched } from "./supervised.ts";

export interface SearchClient extends Watched {
  /** the newest question alone is answered */
  ask(question: LongQuestion): void;
  /** ends the search at once */
  end(): void;
}

const LANE = "search";

/** Searches that take longer than a hand may wait, in a worker of their own: nothing else ends one but the end of its worker. */
export function connectSearch(onAnswer: (question: LongQuestion, answer: SearchAnswer) => void): SearchClient {
  const work = supervise<WorkerApi>(() => new Worker(new URL("./worker.ts", import.meta.url), { type: "module" }), { restMs: 0 });
  return {
    watch: work.watch,
    ask: (question) =>
      work.ask(LANE, {
        ask: (remote) => remote.searchOf(question),
        answered: (answer) => onAnswer(question, answer),
      }),
    end: work.halt,
  };
}
