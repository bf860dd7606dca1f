import { type Gathered, gatherReport, type ReportRequest, type ReportStep } from "../report/data.ts";
import { documentOf, reportBody } from "../report/html.ts";
import { reportCsv, reportObject } from "../report/plain-data.ts";
import { runJob } from "./jobs.ts";

/** A report in all its forms, as text; or why there is none. */
export type ReportAnswer = { ok: true; body: string; html: string; json: string; csv: string } | { ok: false; message: string; atG: number };

/** Works a report out and writes it; null when something newer was asked meanwhile. */
export async function reportOf(lane: string, job: number, r: ReportRequest, onProgress: (step: ReportStep) => void): Promise<ReportAnswer | null> {
  const gathered: Gathered | null = await runJob(lane, job, gatherReport(r), onProgress);
  if (!gathered) return null;
  if (!gathered.ok) return { ok: false, message: gathered.reason.message, atG: gathered.reason.atLoad.lateralG };
  const { data } = gathered;
  const body = reportBody(data);
  return { ok: true, body, html: documentOf(data.request.scenario.name, body), json: `${JSON.stringify(reportObject(data))}\n`, csv: reportCsv(data) };
}
