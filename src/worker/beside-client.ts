import type { Load, Scenario } from "../core/design/types.ts";
import { deltaOf } from "../state/delta.ts";
import type { WorkerApi } from "./api.ts";
import type { BesideAnswer } from "./beside.ts";
import { supervise } from "./supervised.ts";

export interface BesideQuestion {
  a: Scenario;
  b: Scenario;
  load: Load;
  /** curve whose speed goes with the cornering, m */
  radiusM: number;
  withB: boolean;
}

/** Only the newest question that waits is asked; the ones before it are dropped. */
export interface BesideClient<Q extends BesideQuestion> {
  ask(question: Q): void;
}

const LANE = "beside";

/**
 * Answers beside the page while a hand drags, in a worker of their own so that nothing keeps them waiting. Nobody is told when it stops: the page
 * works out by itself what does not come.
 */
export function connectBeside<Q extends BesideQuestion>(onAnswer: (question: Q, answer: BesideAnswer) => void): BesideClient<Q> {
  const work = supervise<WorkerApi>(() => new Worker(new URL("./worker.ts", import.meta.url), { type: "module" }), { restMs: 0 });
  // only what changed goes over: a whole design in every frame costs more than the answer saves
  let sent: { to: unknown; a: Scenario; b: Scenario } | null = null;
  return {
    ask: (question) =>
      work.ask(LANE, {
        ask: (remote) => {
          const { a, b, load, radiusM, withB } = question;
          // a worker that was started anew holds nothing
          const last = sent?.to === remote ? sent : null;
          sent = { to: remote, a, b };
          return remote.besideOf({ a: deltaOf(last?.a, a), b: deltaOf(last?.b, b), load, radiusM, withB });
        },
        answered: (answer) => onAnswer(question, answer),
      }),
  };
}
