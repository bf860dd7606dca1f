import { weighGuesses } from "../core/studies/guesses.ts";
import { type Gathered, gatherReport, type ReportRequest, type ReportStep } from "../report/data.ts";
import { documentOf, reportBody } from "../report/html.ts";
import { reportCsv, reportObject } from "../report/plain-data.ts";
import { rangeOf } from "../scenario/ranges.ts";
import { runJob } from "./jobs.ts";

/** A report in all its forms, as text; or why there is none. */
export type ReportAnswer = { ok: true; body: string; html: string; json: string; csv: string } | { ok: false; message: string; atG: number };

/** share of the whole that the guesses take */
const GUESSES_SHARE = 0.1;

function* wholeRun(r: ReportRequest): Generator<ReportStep, Gathered> {
  const run = weighGuesses(r.scenario, r.load, { radiusM: r.radiusM, allowed: rangeOf });
  for (;;) {
    const step = run.next();
    if (step.done) {
      const rest = gatherReport(r, { guesses: step.value });
      for (;;) {
        const next = rest.next();
        if (next.done) return next.value;
        yield step.value.count > 0 ? { ...next.value, done: GUESSES_SHARE + (1 - GUESSES_SHARE) * next.value.done } : next.value;
      }
    }
    yield { done: GUESSES_SHARE * step.value, words: "of the guesses" };
  }
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
