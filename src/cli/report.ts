import { accessSync, constants, statSync, writeFileSync } from "node:fs";
import { dirname, resolve } from "node:path";
import { analyze } from "../core/analyze.ts";
import type { Scenario } from "../core/design/types.ts";
import { type ChangesReport, mergeChanges } from "../core/studies/changes.ts";
import type { SpeedMap } from "../core/studies/speed-map.ts";
import { mpsToKmh } from "../core/units.ts";
import { changesTask, type GivenParts, mapTasks, type ReportData, type ReportRequest, wholeReport } from "../report/data.ts";
import { reportHtml } from "../report/html.ts";
import { reportCsv, reportObject } from "../report/plain-data.ts";
import { withFaces } from "../view/faces.ts";
import { chooseRadius } from "./analyze.ts";
import { type Answer, BUMP_LEFT, BUMP_RIGHT, type Command, JOBS, LATERAL, RADIUS, type RunHelp, SHOCK, type TextOption } from "./command.ts";
import { type LoadedScenario, loadScenario } from "./files.ts";
import { firstWords } from "./limit-table.ts";
import { chooseLoad, noSteadyPosition } from "./load.ts";
import type { Progress } from "./progress.ts";
import { EXIT, Refusal } from "./refusal.ts";
import { num } from "./table.ts";
import { changesTasks, type MapTask, runTasks, type Task } from "./tasks.ts";

const OUT: TextOption = { flag: "out", valueName: "HTML", about: "file to write the report to, one page that prints on A4 and Letter" };
const CSV: TextOption = { flag: "csv", valueName: "CSV", about: "file to write every value to, one on each line" };
const COMPARE: TextOption = { flag: "compare", valueName: "FILE", about: "a second design, set against the first as B" };
const DATE: TextOption = { flag: "date", valueName: "DAY", about: "day printed on the report, as 2026-11-25; without it today" };

export const reportCommand: Command = {
  name: "report",
  about: "everything about one design as pages to print: picture, building list, limits, curves, speed map, changes, drive, cautions",
  files: 1,
  numbers: [LATERAL, BUMP_LEFT, BUMP_RIGHT, RADIUS, SHOCK, JOBS],
  texts: [OUT, CSV, COMPARE, DATE],
  help: "At least one of --out, --csv and --json is needed; several may be given. Files that exist are overwritten.",
  run: ([loaded], values, more) => runReport(loaded!, values, more),
};

async function runReport(loaded: LoadedScenario, values: Readonly<Record<string, number>>, more: RunHelp): Promise<Answer> {
  const { file, scenario } = loaded;
  const { out, csv, compare } = more.texts;
  if (out === undefined && csv === undefined && !more.json) throw new Refusal("report needs --out HTML, --csv CSV or --json, none is given.");
  const b = compare === undefined ? null : loadScenario(compare).scenario;
  const request = requestOf(scenario, b, values, dayOf(more.texts["date"]));
  // what would be refused at the end is refused before the long work
  for (const f of [out, csv]) if (f !== undefined) writing(f, refuseUnwritable);
  const load = request.load;
  const a = analyze(scenario, load, { radiusM: request.radiusM });
  if (!a.ok) throw noSteadyPosition(file, a.reason);
  const rival = b && analyze(b, load, { radiusM: request.radiusM });
  if (rival && !rival.ok) throw new Refusal(`${compare}: no steady position at this load: ${rival.reason.message}`, EXIT.noEquilibrium);
  const given = await studies(request, values["jobs"] ?? 1, more.progress);
  const gathered = wholeReport(request, given);
  if (!gathered.ok) throw noSteadyPosition(file, gathered.reason);
  const { data } = gathered;
  const written = [...(out === undefined ? [] : [write(out, withFaces(reportHtml(data)))]), ...(csv === undefined ? [] : [write(csv, reportCsv(data))])];
  return { json: { command: "report", file, written, ...reportObject(data) }, text: () => summary(data, written) };
}

function requestOf(scenario: Scenario, b: Scenario | null, values: Readonly<Record<string, number>>, date: string): ReportRequest {
  const chosen = chooseLoad(scenario, values);
  const { radiusM } = chooseRadius(scenario, values["radius"]);
  const track = scenario.tracks.find((t) => t.radiusM === radiusM);
  return { scenario, b, load: chosen.load, caseName: chosen.caseName, radiusM, trackName: track?.name ?? null, shock: values["shock"] ?? 1, date };
}

const DAY = /^\d{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01])$/;

function dayOf(text: string | undefined): string {
  if (text === undefined) {
    const now = new Date();
    const two = (v: number): string => String(v).padStart(2, "0");
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  }
  if (!DAY.test(text)) throw new Refusal(`--date is "${text}"; a day such as 2026-11-25 is wanted.`);
  return text;
}

/** The long studies of a report, on as many cores as are asked for. */
async function studies(r: ReportRequest, jobs: number, progress: Progress): Promise<GivenParts> {
  const wanted = mapTasks(r);
  const names = (["map", "otherMap", "bMap"] as const).filter((n) => wanted[n] !== null);
  const maps = names.map((n): MapTask => ({ kind: "map", ...(wanted[n] as NonNullable<(typeof wanted)[typeof n]>) }));
  const changes = changesTasks(r.scenario, changesTask(r), jobs);
  const results = await runTasks<Task>([...changes, ...maps], jobs, (share) => progress.at(share, "of the report"));
  const parts = results.slice(0, changes.length).filter((p): p is ChangesReport => p !== null);
  const given: GivenParts = { changes: parts.length === changes.length ? mergeChanges(parts as ChangesReport[]) : null };
  names.forEach((n, i) => {
    given[n] = results[changes.length + i] as SpeedMap;
  });
  return given;
}

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: "the folder does not exist",
  EISDIR: "it is a folder",
  EACCES: "writing there is not permitted",
  EROFS: "writing there is not permitted",
  ENOTDIR: "the folder does not exist",
};

/** Paths count from where the command was typed, also when npm has changed the folder. */
function writing(file: string, act: (path: string) => void): void {
  try {
    act(resolve(process.env["INIT_CWD"] ?? process.cwd(), file));
  } catch (e) {
    const code = (e as NodeJS.ErrnoException).code ?? "";
    throw new Refusal(`${file}: cannot be written, ${REASONS[code] ?? code}.`);
  }
}

/** Throws what writing there would throw, as far as can be known beforehand. */
function refuseUnwritable(path: string): void {
  const there = statSync(path, { throwIfNoEntry: false });
  if (there?.isDirectory()) throw Object.assign(new Error(), { code: "EISDIR" });
  accessSync(there ? path : dirname(path), constants.W_OK);
}

function write(file: string, text: string): { file: string; bytes: number } {
  writing(file, (path) => writeFileSync(path, text));
  return { file, bytes: Buffer.byteLength(text) };
}

function summary(d: ReportData, written: readonly { file: string; bytes: number }[]): string {
  const safe = d.changes ? `Nothing gives below ${num(mpsToKmh(d.changes.base.safeSpeedMps), 1)} km/h on a curve of ${num(d.request.radiusM, 2)} m.` : "";
  return [
    ...written.map((w) => `${w.file}: written, ${num(w.bytes / 1000, 0)} kB`),
    `${d.request.scenario.name}: ${firstWords(d.a.report.firstToGive)}`,
    ...(safe === "" ? [] : [safe]),
    "",
  ].join("\n");
}
