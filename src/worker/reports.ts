import { toldAs } from "../core/steps.ts";
import { weighGuesses } from "../core/studies/guesses.ts";
import { type Gathered, gatherReport, type ReportRequest, type ReportStep } from "../report/data.ts";
import { documentOf, reportBody } from "../report/html.ts";
import { reportCsv, reportObject } from "../report/plain-data.ts";
import { measureForReport, sampleForReport } from "../report/sure.ts";
import { rangeOf } from "../scenario/ranges.ts";
import { runJob } from "./jobs.ts";

/** A report in all its forms, as text; or why there is none. */
export type ReportAnswer = { ok: true; body: string; html: string; json: string; csv: string } | { ok: false; message: string; atG: number };

/** shares of the whole that the guesses and the cars tried take */
const GUESSES_SHARE = 0.1;
const CARS_SHARE = 0.4;

function* wholeRun(r: ReportRequest): Generator<ReportStep, Gathered> {
  const guesses = yield* toldAs(weighGuesses(r.scenario, r.load, { radiusM: r.radiusM, allowed: rangeOf }), (share) => ({
    done: GUESSES_SHARE * share,
    words: "of the guesses",
  }));
  const before = guesses.count > 0 ? GUESSES_SHARE : 0;
  const sure = yield* toldAs(sampleForReport(r, rangeOf), (share) => ({ done: before + CARS_SHARE * share, words: "of the cars that are tried" }));
  const from = before + CARS_SHARE;
  return yield* toldAs(gatherReport(r, { guesses, sure, next: measureForReport(r, rangeOf) }), (step) => ({ ...step, done: from + (1 - from) * step.done }));
}

/** Works a report out and writes it; null when something newer was asked meanwhile. */
export async function reportOf(lane: string, job: number, r: ReportRequest, onProgress: (step: ReportStep) => void): Promise<ReportAnswer | null> {
  const gathered: Gathered | null = await runJob(lane, job, wholeRun(r), onProgress);
  if (!gathered) return null;
  if (!gathered.ok) return { ok: false, message: gathered.reason.message, atG: gathered.reason.atLoad.lateralG };
  const { data } = gathered;
  const body = reportBody(data);
  return { ok: true, body, html: documentOf(data.request.scenario.name, body), json: `${JSON.stringify(reportObject(data))}\n`, csv: reportCsv(data) };
}
