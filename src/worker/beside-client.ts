import * as Comlink from "comlink";
import type { Load, Scenario } from "../core/design/types.ts";
import { deltaOf } from "../state/delta.ts";
import type { WorkerApi } from "./api.ts";
import type { BesideAnswer } from "./beside.ts";
import { createLatest, type Latest } from "./latest.ts";

export interface BesideQuestion {
  a: Scenario;
  b: Scenario;
  load: Load;
  radiusM: number;
  withB: boolean;
}

/** Answers beside the page while a hand drags, in a worker of their own so that nothing keeps them waiting; the newest question wins. */
export function connectBeside<Q extends BesideQuestion>(onAnswer: (question: Q, answer: BesideAnswer) => void, onError: (e: unknown) => void): Latest<Q> {
  const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module" });
  const remote = Comlink.wrap<WorkerApi>(worker);
  // only what changed goes over: a whole design in every frame costs more than the answer saves
  let sent: { a: Scenario; b: Scenario } | null = null;
  return createLatest(
    ({ a, b, load, radiusM, withB }) => {
      const request = { a: deltaOf(sent?.a, a), b: deltaOf(sent?.b, b), load, radiusM, withB };
      sent = { a, b };
      return remote.besideOf(request) as Promise<BesideAnswer>;
    },
    onAnswer,
    (e) => {
      sent = null;
      onError(e);
    },
  );
}
