import * as Comlink from "comlink";
import type { Scenario } from "../core/design/types.ts";
import type { Targets } from "../motion/free-play.ts";
import type { Progress } from "../motion/simulate.ts";
import type { FreeLook, MotionAnswer, MotionApi, MotionRequest } from "./motion.ts";

/** The motion's own worker: the physics engine lives there alone. A newer run of a lane ends the older one, whose answer is dropped. */
export interface MotionClient {
  run(lane: string, request: MotionRequest, told: (p: Progress) => void, ended: (answer: MotionAnswer) => void): void;
  freeStart(scenario: Scenario): Promise<string | null>;
  freePass(targets: Targets, seconds: number): Promise<FreeLook | null>;
}

export function connectMotion(onError: (e: unknown) => void): MotionClient {
  const worker = new Worker(new URL("./motion-worker.ts", import.meta.url), { type: "module" });
  const remote = Comlink.wrap<MotionApi>(worker);
  const newest = new Map<string, number>();
  let count = 0;
  return {
    run(lane, request, told, ended) {
      const job = ++count;
      newest.set(lane, job);
      const current = (): boolean => newest.get(lane) === job;
      // progress comes by a channel of its own and may be late
      let done = false;
      const tell = (p: Progress): void => {
        if (current() && !done) told(p);
      };
      remote.run(lane, job, request, Comlink.proxy(tell)).then((answer) => {
        done = true;
        if (answer && current()) ended(answer as MotionAnswer);
      }, onError);
    },
    freeStart: (scenario) => remote.freeStart(scenario),
    freePass: (targets, seconds) => remote.freePass(targets, seconds) as Promise<FreeLook | null>,
  };
}
