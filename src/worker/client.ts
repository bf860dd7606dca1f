import type { CurvesAnswer, CurvesRequest } from "../core/studies/axle-curves.ts";
import type { WorkerApi } from "./api.ts";
import { supervise, type Watched } from "./supervised.ts";

/** rest between two answers, so that the curves leave the processor to the hand that drags, ms */
const BREATH_MS = 40;

/** Asks for curves; only the newest question is answered, older ones that wait are dropped. */
export interface CurvesClient extends Watched {
  ask(key: string, request: CurvesRequest): void;
}

export function connectCurves(onAnswer: (key: string, request: CurvesRequest, answer: CurvesAnswer) => void): CurvesClient {
  const work = supervise<WorkerApi>(() => new Worker(new URL("./worker.ts", import.meta.url), { type: "module" }), { restMs: BREATH_MS });
  return {
    watch: work.watch,
    ask: (key, request) =>
      work.ask(key, {
        ask: (remote) => remote.curvesOf(request),
        answered: (answer) => onAnswer(key, request, answer),
      }),
  };
}
