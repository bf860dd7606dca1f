import "./styles/report.css";
import type { Scenario } from "../../core/design/types.ts";
import { PAGE_CSS, REPORT_CSS } from "../../report/css.ts";
import type { ReportRequest } from "../../report/data.ts";
import { chosenTrack } from "../../state/road.ts";
import type { State, Store } from "../../state/store.ts";
import { sureSlice } from "../../state/sure.ts";
import { download, fileName } from "../../ui/files.ts";
import type { PageHelp } from "../../ui/page.ts";
import { createStopped } from "../../ui/stopped.ts";
import { differences } from "../../view/differences.ts";
import { connectReports, type ReportClient } from "../../worker/report-client.ts";
import type { ReportAnswer } from "../../worker/reports.ts";
import { createReportSheet, type ReportState, type SaveKind } from "./panels/sheet.ts";

const SETTLE_MS = 400;

/** the newest report and what it was asked for outlive the view, so that coming back shows it at once */
let client: ReportClient | null = null;
let report: Extract<ReportAnswer, { ok: true }> | null = null;
let reportKey = "";
let withB = true;

const ids = new WeakMap<Scenario, number>();
let count = 0;
function idOf(s: Scenario): number {
  let id = ids.get(s);
  if (id === undefined) {
    id = ++count;
    ids.set(s, id);
  }
  return id;
}

function today(): string {
  const now = new Date();
  const two = (v: number): string => String(v).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

function requestOf(s: State, b: Scenario | null): ReportRequest {
  const { a, load } = s.doc;
  const { radiusM } = chosenTrack(a, s.view.road);
  const same = (c: (typeof a.loadCases)[number]): boolean =>
    c.lateralG === load.lateralG && c.bumpLeftMm === load.bumpLeftMm && c.bumpRightMm === load.bumpRightMm;
  return {
    scenario: a,
    b,
    load,
    caseName: a.loadCases.find(same)?.name ?? null,
    radiusM,
    trackName: a.tracks.find((t) => t.radiusM === radiusM)?.name ?? null,
    shock: s.view.road.shock,
    chance: sureSlice.of(s.view).chancePercent / 100,
    date: today(),
  };
}

export function mountReport(region: HTMLElement, store: Store, help: PageHelp): { update(): void } {
  let state: ReportState = { kind: "working", done: 0, words: "of the axle", leftS: null };
  let asked = reportKey;
  let timer = 0;
  if (report) state = { kind: "ready" };

  client ??= connectReports();
  const reports = client;
  const stopped = createStopped();
  const canB = (): boolean => differences(store.get().doc.a, store.get().doc.b).length > 0;
  const sheet = createReportSheet(REPORT_CSS, PAGE_CSS, stopped.el, {
    print: () => window.print(),
    save: (kind) => void save(kind),
    toggleB: () => {
      withB = !withB;
      update();
    },
    stop: () => {
      reports.stop();
      state = { kind: "stopped" };
      show();
    },
  });
  region.append(sheet.el);
  reports.watch(stopped.update);

  const show = (): void => sheet.update({ state, body: report?.body ?? null, withB, canB: canB() });
  const save = async (kind: SaveKind): Promise<void> => {
    if (!report) return;
    // fetched only by those who take the report away
    const content = kind === "html" ? (await import("../../view/faces.ts")).withFaces(report.html) : report[kind];
    const types: Record<SaveKind, string> = { html: "text/html", json: "application/json", csv: "text/csv" };
    download(`${fileName(store.get().doc.a.name)}-report.${kind}`, types[kind], content);
    help.say(`report saved as ${kind}`);
  };

  const ask = (): void => {
    const key = asked;
    const start = performance.now();
    const s = store.get();
    reports.ask(
      requestOf(s, withB && canB() ? s.doc.b : null),
      (step) => {
        const passed = (performance.now() - start) / 1000;
        state = { kind: "working", done: step.done, words: step.words, leftS: step.done > 0.1 ? (passed * (1 - step.done)) / step.done : null };
        show();
      },
      (told) => {
        if (told.ok) {
          report = told;
          reportKey = key;
          state = { kind: "ready" };
          help.say("the report is ready");
        } else state = { kind: "none", message: told.message };
        show();
      },
    );
  };

  const update = (): void => {
    const s = store.get();
    const { doc, view } = s;
    const { load } = doc;
    const key = [
      idOf(doc.a),
      withB ? idOf(doc.b) : 0,
      load.lateralG,
      load.bumpLeftMm,
      load.bumpRightMm,
      view.road.track,
      view.road.radiusM,
      view.road.shock,
      sureSlice.of(view).chancePercent,
    ].join();
    if (key !== asked && !s.dragging) {
      asked = key;
      state = { kind: "working", done: 0, words: "of the axle", leftS: null };
      window.clearTimeout(timer);
      timer = window.setTimeout(ask, report ? SETTLE_MS : 0);
    }
    show();
  };
  return { update };
}
