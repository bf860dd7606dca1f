import * as Comlink from "comlink";
import type { ReportRequest, ReportStep } from "../report/data.ts";
import type { WorkerApi } from "./api.ts";
import type { ReportTold } from "./reports.ts";

/** Makes reports beside the page; a newer question ends the older one. */
export interface ReportClient {
  ask(request: ReportRequest, step: (s: ReportStep) => void, done: (report: ReportTold) => void): void;
  stop(): void;
}

const LANE = "report";

export function connectReports(onError: (e: unknown) => void): ReportClient {
  const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module" });
  const remote = Comlink.wrap<WorkerApi>(worker);
  let job = 0;
  return {
    ask(request, step, done) {
      const own = ++job;
      const tell = (s: ReportStep): void => {
        if (own === job) step(s);
      };
      remote.reportOf(LANE, own, request, Comlink.proxy(tell)).then((report) => {
        if (own === job && report) done(report);
      }, onError);
    },
    stop() {
      job++;
      remote.stopJob(LANE).catch(onError);
    },
  };
}
