import * as Comlink from "comlink";
import type { ChangesProgress, ChangesReport } from "../core/studies/changes.ts";
import type { WorkerApi } from "./api.ts";
import type { ChangesRequest } from "./changes.ts";
import type { MapRequest, MapTold } from "./maps.ts";

/** Long studies beside the page. A newer question of a lane ends the older one, whose answers are dropped. */
export interface StudiesClient {
  map(lane: string, request: MapRequest, told: MapTold, ended: (complete: boolean) => void): void;
  changes(lane: string, request: ChangesRequest, told: (p: ChangesProgress) => void, ended: (report: ChangesReport | null) => void): void;
  stop(lane: string): void;
}

export function connectStudies(onError: (e: unknown) => void): StudiesClient {
  const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module" });
  const remote = Comlink.wrap<WorkerApi>(worker);
  const newest = new Map<string, number>();
  let count = 0;
  const begin = (lane: string): { job: number; current: () => boolean } => {
    const job = ++count;
    newest.set(lane, job);
    return { job, current: () => newest.get(lane) === job };
  };
  return {
    map(lane, request, told, ended) {
      const { job, current } = begin(lane);
      const tell: MapTold = (map, done) => {
        if (current()) told(map, done);
      };
      remote.mapOf(lane, job, request, Comlink.proxy(tell)).then((complete) => {
        if (current()) ended(complete);
      }, onError);
    },
    changes(lane, request, told, ended) {
      const { job, current } = begin(lane);
      const tell = (p: ChangesProgress): void => {
        if (current()) told(p);
      };
      remote.changesOf(lane, job, request, Comlink.proxy(tell)).then((r) => {
        if (current() && !r.stopped) ended(r.report);
      }, onError);
    },
    stop(lane) {
      newest.set(lane, ++count);
      remote.stopJob(lane).catch(onError);
    },
  };
}
