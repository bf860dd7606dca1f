import * as Comlink from "comlink";
import type { ReportRequest, ReportStep } from "../report/data.ts";
import type { WorkerApi } from "./api.ts";
import type { ReportAnswer } from "./reports.ts";
import { supervise, type Watched } from "./supervised.ts";

/** Makes reports beside the page; a newer question ends the older one. */
export interface ReportClient extends Watched {
  ask(request: ReportRequest, step: (s: ReportStep) => void, done: (report: ReportAnswer) => void): void;
  stop(): void;
}

const LANE = "report";

export function connectReports(): ReportClient {
  const work = supervise<WorkerApi>(() => new Worker(new URL("./worker.ts", import.meta.url), { type: "module" }));
  return {
    watch: work.watch,
    ask(request, step, done) {
      work.ask(LANE, {
        ask: (remote, job, waits) =>
          remote.reportOf(
            LANE,
            job,
            request,
            Comlink.proxy((s: ReportStep) => waits() && step(s)),
          ) as Promise<ReportAnswer | null>,
        answered: (report) => report && done(report),
      });
    },
    stop: () => work.drop(LANE, (remote) => remote.stopJob(LANE)),
  };
}
