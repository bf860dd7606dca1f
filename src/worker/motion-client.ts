import * as Comlink from "comlink";
import type { Scenario } from "../core/design/types.ts";
import type { Targets } from "../motion/free-play.ts";
import type { Progress } from "../motion/simulate.ts";
import type { FreeLook, MotionAnswer, MotionApi, MotionRequest } from "./motion.ts";
import { supervise, type Watched } from "./supervised.ts";

/** The motion's own worker: the physics engine lives there alone. A newer run of a lane ends the older one, whose answer is dropped. */
export interface MotionClient extends Watched {
  run(lane: string, request: MotionRequest, onProgress: (p: Progress) => void, ended: (answer: MotionAnswer) => void): void;
  /** sets a new axle in the user's hands; a sentence when it finds no rest */
  freeStart(scenario: Scenario, started: (fault: string | null) => void): void;
  /** null: the worker holds no axle, as after a fault */
  freePass(targets: Targets, seconds: number, passed: (look: FreeLook | null) => void): void;
  freeStop(): void;
}

const HANDS = "hands";

export function connectMotion(): MotionClient {
  const work = supervise<MotionApi>(() => new Worker(new URL("./motion-worker.ts", import.meta.url), { type: "module" }));
  return {
    watch: work.watch,
    run(lane, request, onProgress, ended) {
      work.ask(lane, {
        ask: (remote, job, waits) =>
          remote.run(
            lane,
            job,
            request,
            Comlink.proxy((p: Progress) => waits() && onProgress(p)),
          ) as Promise<MotionAnswer | null>,
        answered: (answer) => {
          if (answer) ended(answer);
        },
      });
    },
    freeStart: (scenario, started) => work.ask(HANDS, { ask: (remote) => remote.freeStart(scenario), answered: started }),
    freePass: (targets, seconds, passed) =>
      work.ask(HANDS, { ask: (remote) => remote.freePass(targets, seconds) as Promise<FreeLook | null>, answered: passed }),
    freeStop: () => work.drop(HANDS),
  };
}
