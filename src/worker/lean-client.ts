import type { WorkerApi } from "./api.ts";
import type { LeansRequest } from "./leans.ts";
import { supervise, type Watched } from "./supervised.ts";

export interface LeansClient extends Watched {
  /** only the newest question that waits is asked; the ones before it are dropped */
  ask(key: string, request: LeansRequest): void;
}

const LANE = "leans";

/** Solves designs beside the page, in a worker of its own so that the curves do not keep it waiting. */
export function connectLeans(onAnswer: (key: string, leans: (number | null)[]) => void): LeansClient {
  const work = supervise<WorkerApi>(() => new Worker(new URL("./worker.ts", import.meta.url), { type: "module" }), { restMs: 0 });
  return {
    watch: work.watch,
    ask: (key, request) =>
      work.ask(LANE, {
        ask: (remote) => remote.leansOf(request),
        answered: (leans) => onAnswer(key, leans),
      }),
  };
}
