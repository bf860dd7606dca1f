import { analyze } from "../core/analyze.ts";
import type { Scenario } from "../core/design/types.ts";
import { type ChangesReport, mergeChanges } from "../core/studies/changes.ts";
import type { SpeedMap } from "../core/studies/speed-map.ts";
import { changesTask, type GivenParts, mapTasks, type ReportData, type ReportRequest, wholeReport } from "../report/data.ts";
import { reportHtml } from "../report/html.ts";
import { reportCsv, reportObject } from "../report/plain-data.ts";
import { summaryOf } from "../report/summary.ts";
import { measureForReport, sureTask, sureTold } from "../report/sure.ts";
import { rangeOf } from "../scenario/ranges.ts";
import { quoted, visible } from "../scenario/words.ts";
import { withFaces } from "../view/faces.ts";
import { chooseRadius, guessesAt } from "./analyze.ts";
import { type Answer, BRAKE, BUMP_LEFT, BUMP_RIGHT, type Command, JOBS, LATERAL, RADIUS, type RunHelp, SHOCK, type TextOption, THROTTLE } from "./command.ts";
import { forTerminal, type LoadedScenario, loadScenario } from "./files.ts";
import { firstWords } from "./limit-table.ts";
import { chooseLoad, noSteadyPosition } from "./load.ts";
import { planOutput, writeOutput } from "./output.ts";
import type { Progress } from "./progress.ts";
import { EXIT, Refusal } from "./refusal.ts";
import { acceptedChance, CHANCE, drawn, SAMPLES, SEED, sampleCars } from "./sure.ts";
import { num, plainSigns } from "./table.ts";
import { changesTasks, type MapTask, runTasks, type Task, usefulJobs } from "./tasks.ts";
import { today } from "./today.ts";

const OUT: TextOption = { flag: "out", valueName: "HTML", about: "file to write the report to, one page that prints on A4 and Letter" };
const CSV: TextOption = { flag: "csv", valueName: "CSV", about: "file to write every value to, one on each line" };
const COMPARE: TextOption = { flag: "compare", valueName: "FILE", about: "a second design, set against the first as B" };
const DATE: TextOption = { flag: "date", valueName: "DAY", about: "day printed on the report, as 2026-11-25; without it today" };

export const reportCommand: Command = {
  name: "report",
  about: "everything about one design as pages to print: a summary of one page, picture, building list, limits, curves, speed map, changes, drive, cautions",
  files: 1,
  numbers: [LATERAL, BUMP_LEFT, BUMP_RIGHT, THROTTLE, BRAKE, RADIUS, SHOCK, CHANCE, SAMPLES, SEED, JOBS],
  texts: [OUT, CSV, COMPARE, DATE],
  help: "At least one of --out, --csv and --json is needed; several may be given. Files that exist are replaced, but never a scenario that is read.",
  run: ([loaded], values, more) => runReport(loaded!, values, more),
};

async function runReport(loaded: LoadedScenario, values: Readonly<Record<string, number>>, more: RunHelp): Promise<Answer> {
  const { file, scenario } = loaded;
  const { out, csv, compare } = more.texts;
  if (out === undefined && csv === undefined && !more.json) throw new Refusal("report needs --out HTML, --csv CSV or --json, none is given.");
  const second = compare === undefined ? null : loadScenario(compare);
  const b = second && (more.json ? second : forTerminal(second)).scenario;
  const inputs = second ? [loaded, second] : [loaded];
  const html = out === undefined ? null : planOutput("out", out, inputs, []);
  const list = csv === undefined ? null : planOutput("csv", csv, inputs, html ? [html] : []);
  const request = requestOf(scenario, b, values, dayOf(more.texts["date"]));
  // what would be refused at the end is refused before the long work
  const a = analyze(scenario, request.load, { radiusM: request.radiusM });
  if (!a.ok) throw noSteadyPosition(file, a.reason);
  const rival = b && analyze(b, request.load, { radiusM: request.radiusM });
  if (rival && !rival.ok) throw new Refusal(`${visible(compare!)}: no steady position at this load: ${rival.reason.message}`, EXIT.noEquilibrium);
  const given = await studies(request, usefulJobs(values["jobs"]), more.progress);
  given.guesses = guessesAt(scenario, request.load, request.radiusM);
  const samples = await sampleCars(sureTask(request), values, (share) => more.progress.at(share, "of the cars that are tried"));
  given.sure = samples && sureTold(request, samples);
  given.next = measureForReport(request, rangeOf);
  const gathered = wholeReport(request, given);
  if (!gathered.ok) throw noSteadyPosition(file, gathered.reason);
  const { data } = gathered;
  const written = [...(html ? [writeOutput(html, withFaces(reportHtml(data)))] : []), ...(list ? [writeOutput(list, reportCsv(data))] : [])];
  return { json: { command: "report", file, written, ...reportObject(data) }, text: () => summary(data, written) };
}

function requestOf(scenario: Scenario, b: Scenario | null, values: Readonly<Record<string, number>>, date: string): ReportRequest {
  const chosen = chooseLoad(scenario, values);
  const { radiusM } = chooseRadius(scenario, values["radius"]);
  const track = scenario.tracks.find((t) => t.radiusM === radiusM);
  return {
    scenario,
    b,
    load: chosen.load,
    caseName: chosen.caseName,
    radiusM,
    trackName: track?.name ?? null,
    shock: values["shock"] ?? 1,
    chance: acceptedChance(values),
    draw: drawn(values),
    date,
  };
}

const DAY = /^\d{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01])$/;

function dayOf(text: string | undefined): string {
  if (text === undefined) return today();
  if (!DAY.test(text)) throw new Refusal(`--date is ${quoted(text)}; a day such as 2026-11-25 is wanted.`);
  if (new Date(`${text}T00:00:00Z`).toISOString().slice(0, 10) !== text) throw new Refusal(`--date is "${text}", and that month has no such day.`);
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

function summary(d: ReportData, written: readonly { file: string; bytes: number }[]): string {
  const { gives, safe, change, bench, known, cautions } = summaryOf(d);
  const lines = [
    ...written.map((w) => `${visible(w.file)}: written, ${num(w.bytes / 1000, 0)} kB`),
    `${d.request.scenario.name}: ${firstWords(d.a.report.firstToGive)}`,
    "",
    `What gives first: ${gives}`,
    `Safe speed: ${safe}`,
    `The one change worth the rebuild: ${change}`,
    `The bench test to do next: ${bench}`,
    ...known.map((line) => `How its values are known: ${line}`),
    "Cautions:",
    ...cautions.map((c) => `- ${c}`),
    "",
  ];
  return plainSigns(lines.join("\n"));
}
