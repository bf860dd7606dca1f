import * as Comlink from "comlink";
import type { PairedQuestion, PairedTold } from "../core/doubt/paired.ts";
import type { WorkerApi } from "./api.ts";
import { supervise, type Watched } from "./supervised.ts";

/** Sets two designs against each other beside the page; a newer question ends the older one. */
export interface PairedClient extends Watched {
  ask(question: PairedQuestion, onProgress: (share: number) => void, ended: (told: PairedTold | null) => void): void;
  stop(): void;
}

const LANE = "paired";

export function connectPaired(): PairedClient {
  const work = supervise<WorkerApi>(() => new Worker(new URL("./worker.ts", import.meta.url), { type: "module" }));
  return {
    watch: work.watch,
    ask: (question, onProgress, ended) =>
      work.ask(LANE, {
        ask: (remote, job, waits) =>
          remote.pairedOf(
            LANE,
            job,
            question,
            Comlink.proxy((share: number) => waits() && onProgress(share)),
          ) as Promise<PairedTold | null>,
        answered: ended,
      }),
    stop: () => work.drop(LANE, (remote) => remote.stopJob(LANE)),
  };
}
