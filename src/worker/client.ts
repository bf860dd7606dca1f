import * as Comlink from "comlink";
import type { CurvesAnswer, CurvesRequest } from "../core/studies/axle-curves.ts";
import type { WorkerApi } from "./api.ts";

/** rest between two answers, so that the curves leave the processor to the hand that drags, ms */
const BREATH_MS = 40;

/** Asks for curves; only the newest question is answered, older ones that wait are dropped. */
export interface CurvesClient {
  ask(key: string, request: CurvesRequest): void;
  stop(): void;
}

interface Lane {
  busy: boolean;
  waiting: CurvesRequest | null;
}

export function connectCurves(onAnswer: (key: string, request: CurvesRequest, answer: CurvesAnswer) => void, onError: (e: unknown) => void): CurvesClient {
  const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module" });
  const remote = Comlink.wrap<WorkerApi>(worker);
  const lanes = new Map<string, Lane>();
  const run = async (key: string, lane: Lane, request: CurvesRequest): Promise<void> => {
    lane.busy = true;
    try {
      const answer = await remote.curvesOf(request);
      onAnswer(key, request, answer);
    } catch (e) {
      onError(e);
    } finally {
      await new Promise((rested) => setTimeout(rested, BREATH_MS));
      lane.busy = false;
      const next = lane.waiting;
      lane.waiting = null;
      if (next) void run(key, lane, next);
    }
  };
  return {
    ask(key, request) {
      const lane = lanes.get(key) ?? { busy: false, waiting: null };
      lanes.set(key, lane);
      if (lane.busy) lane.waiting = request;
      else void run(key, lane, request);
    },
    stop: () => worker.terminate(),
  };
}
