import * as Comlink from "comlink";
import type { Scenario } from "../core/design/types.ts";
import type { ChangesProgress, ChangesReport } from "../core/studies/changes.ts";
import type { DrivingSpeeds } from "../core/studies/driving.ts";
import type { SpeedMap } from "../core/studies/speed-map.ts";
import type { WorkerApi } from "./api.ts";
import type { ChangesRequest } from "./changes.ts";
import type { DrivingsRequest } from "./drivings.ts";
import type { MapRequest, OnMap } from "./maps.ts";
import type { RunsAnswer } from "./runs.ts";
import { supervise, type Watched } from "./supervised.ts";

/** Long studies beside the page. A newer question of a lane ends the older one, whose answers are dropped. */
export interface StudiesClient extends Watched {
  map(lane: string, request: MapRequest, onProgress: OnMap, ended: (complete: boolean) => void): void;
  changes(lane: string, request: ChangesRequest, onProgress: (p: ChangesProgress) => void, ended: (report: ChangesReport | null) => void): void;
  drivings(lane: string, request: DrivingsRequest, ended: (speeds: DrivingSpeeds) => void): void;
  /** what the runs of a design tell; contradictions follow */
  runs(lane: string, scenario: Scenario, onAnswer: (answer: RunsAnswer) => void): void;
  stop(lane: string): void;
}

export function connectStudies(): StudiesClient {
  const work = supervise<WorkerApi>(() => new Worker(new URL("./worker.ts", import.meta.url), { type: "module" }));
  return {
    watch: work.watch,
    map(lane, request, onProgress, ended) {
      work.ask(lane, {
        ask: (remote, job, waits) =>
          remote.mapOf(
            lane,
            job,
            request,
            Comlink.proxy((map: SpeedMap, done: number) => waits() && onProgress(map, done)),
          ),
        answered: ended,
      });
    },
    changes(lane, request, onProgress, ended) {
      work.ask(lane, {
        ask: (remote, job, waits) =>
          remote.changesOf(
            lane,
            job,
            request,
            Comlink.proxy((p: ChangesProgress) => waits() && onProgress(p)),
          ),
        answered: (r) => {
          if (!r.stopped) ended(r.report);
        },
      });
    },
    drivings(lane, request, ended) {
      work.ask(lane, {
        ask: (remote, job) => remote.drivingsOf(lane, job, request),
        answered: (speeds) => {
          if (speeds) ended(speeds);
        },
      });
    },
    runs(lane, scenario, onAnswer) {
      work.ask(lane, {
        ask: (remote, job, waits) =>
          remote.runsOf(
            lane,
            job,
            scenario,
            Comlink.proxy((answer: RunsAnswer) => waits() && onAnswer(answer)),
          ),
        answered: () => {},
      });
    },
    stop: (lane) => work.drop(lane, (remote) => remote.stopJob(lane)),
  };
}
