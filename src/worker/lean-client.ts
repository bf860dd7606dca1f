import * as Comlink from "comlink";
import type { WorkerApi } from "./api.ts";
import type { LeansRequest } from "./leans.ts";

export interface LeansClient {
  /** only the newest question that waits is asked; the ones before it are dropped */
  ask(key: string, request: LeansRequest): void;
}

/** Solves designs beside the page, in a worker of its own so that the curves do not keep it waiting. */
export function connectLeans(onAnswer: (key: string, leans: (number | null)[]) => void, onError: (e: unknown) => void): LeansClient {
  const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module" });
  const remote = Comlink.wrap<WorkerApi>(worker);
  let busy = false;
  let waiting: { key: string; request: LeansRequest } | null = null;
  const run = async (key: string, request: LeansRequest): Promise<void> => {
    busy = true;
    try {
      onAnswer(key, await remote.leansOf(request));
    } catch (e) {
      onError(e);
    }
    busy = false;
    const next = waiting;
    waiting = null;
    if (next) void run(next.key, next.request);
  };
  return {
    ask(key, request) {
      if (busy) waiting = { key, request };
      else void run(key, request);
    },
  };
}
