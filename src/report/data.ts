import { analyze, type Bench, buildBench } from "../core/analyze.ts";
import { speedInCurve } from "../core/cornering.ts";
import { alike } from "../core/design/alike.ts";
import { pedals } from "../core/design/load.ts";
import { cornerOf } from "../core/design/sides.ts";
import type { Corner, Load, Scenario, Side } from "../core/design/types.ts";
import type { MeasureNext } from "../core/doubt/measure-next.ts";
import type { SampleTold } from "../core/doubt/told.ts";
import { type DriveReport, driveReport } from "../core/drive/drive-report.ts";
import { type WheelSpeeds, wheelSpeedsHeld } from "../core/drive/wheel-speeds.ts";
import type { NoEquilibrium } from "../core/equilibrium/state.ts";
import { toldAs, toTheEnd } from "../core/steps.ts";
import type { CurvesAnswer } from "../core/studies/axle-curves.ts";
import { curvesOf } from "../core/studies/axle-curves.ts";
import { type ChangesOptions, type ChangesReport, studyChanges } from "../core/studies/changes.ts";
import type { Hand } from "../core/studies/curve-options.ts";
import { type DrivingSpeeds, drivingSpeeds } from "../core/studies/driving.ts";
import type { GuessesReport } from "../core/studies/guesses.ts";
import { type LeanAndLip, leanAndLip } from "../core/studies/lean-and-lip.ts";
import { byRatio, evenly, type SpeedMap, type SpeedMapOptions, speedMap } from "../core/studies/speed-map.ts";
import { kmhToMps, mpsToKmh } from "../core/units.ts";
import { type MapRange, mapRange } from "../view/map/frame.ts";
import type { Drawn } from "../view/scene.ts";

/** What a report is made of. */
export interface ReportRequest {
  scenario: Scenario;
  /** a second design to set against it; null: none */
  b: Scenario | null;
  load: Load;
  /** name of the load case; null: a load of your own */
  caseName: string | null;
  /** curve whose speed goes with the cornering */
  radiusM: number;
  trackName: string | null;
  /** road shock for the speed map and the changes */
  shock: number;
  /** chance that something gives which is accepted, for the speed to drive at most; without it the usual one */
  chance?: number;
  /** cars that are tried for how sure it is, and by which seed; without it the usual ones */
  draw?: { samples: number; seed: number };
  /** day of the report, as it is to be printed: the same call gives the same report */
  date: string;
}

export interface ReportData {
  request: ReportRequest;
  a: Drawn;
  b: Drawn | null;
  /** why B has no answer at this load */
  bReason: string | null;
  /** both sides of the car are built alike */
  alike: boolean;
  hand: Hand;
  speedKmh: number;
  curves: { a: CurvesAnswer; b: CurvesAnswer | null };
  range: MapRange;
  /** for the hand of the load; for the other hand where the two differ */
  map: SpeedMap;
  otherMap: SpeedMap | null;
  bMap: SpeedMap | null;
  /** safe speeds on the curve by how it is driven; null: the car finds no rest */
  driving: DrivingSpeeds | null;
  /** null: the car finds no rest */
  changes: ChangesReport | null;
  /** which guesses matter under the load; null: nobody weighed them */
  guesses: GuessesReport | null;
  /** how sure its answers are; null: nobody sampled */
  sure: SampleTold | null;
  /** what is worth measuring next; null: nobody looked, or nothing can be told */
  next: MeasureNext | null;
  drive: DriveReport;
  wheels: WheelSpeeds[];
  lip: Record<Side, LeanAndLip> | null;
}

export type Gathered = { ok: true; data: ReportData } | { ok: false; reason: NoEquilibrium };

/** Parts that someone has worked out already, on other cores or before. */
export interface GivenParts {
  map?: SpeedMap;
  otherMap?: SpeedMap;
  bMap?: SpeedMap;
  changes?: ChangesReport | null;
  guesses?: GuessesReport;
  sure?: SampleTold | null;
  next?: MeasureNext | null;
}

export interface ReportStep {
  done: number;
  words: string;
}

const handOf = (load: Load): Hand => (load.lateralG < 0 ? "right" : "left");
export const cornersOf = (s: Scenario): Record<Side, Corner> => ({ left: cornerOf(s, "left"), right: cornerOf(s, "right") });
export const isAlike = (s: Scenario): boolean => alike(cornerOf(s, "left"), cornerOf(s, "right"));

const MAP_POINTS = 100;
const CURVE_POINTS = 37;
export const CURVES_TO_G = 1.2;

/** Options of the report's maps; the second hand is only looked at where it can differ. */
export function mapTasks(r: ReportRequest): Record<"map" | "otherMap" | "bMap", { scenario: Scenario; options: Partial<SpeedMapOptions> } | null> {
  const range = mapRange(r.scenario);
  const hand = handOf(r.load);
  const options: Partial<SpeedMapOptions> = {
    hand,
    shock: r.shock,
    ...pedals(r.load),
    radiiM: byRatio(range.radiusM[0], range.radiusM[1], MAP_POINTS),
    speedsMps: evenly(0, kmhToMps(range.kmh), MAP_POINTS),
  };
  return {
    map: { scenario: r.scenario, options },
    otherMap: isAlike(r.scenario) ? null : { scenario: r.scenario, options: { ...options, hand: hand === "left" ? "right" : "left" } },
    bMap: r.b ? { scenario: r.b, options } : null,
  };
}

export const changesTask = (r: ReportRequest): Partial<ChangesOptions> => ({
  radiusM: r.radiusM,
  hand: handOf(r.load),
  shock: r.shock,
  load: r.load,
  aim: "speed",
});

const wholeMap = (task: { scenario: Scenario; options: Partial<SpeedMapOptions> }, from: number, to: number): Generator<ReportStep, SpeedMap> =>
  toldAs(speedMap(task.scenario, task.options), (step) => ({ done: from + (to - from) * step.done, words: "of the speed map" }));

const waysOfDriving = (b: Bench, r: ReportRequest): Generator<ReportStep, DrivingSpeeds> =>
  toldAs(drivingSpeeds(b, r.radiusM, { hand: handOf(r.load), shock: r.shock }), () => ({ done: 0.95, words: "of the ways of driving" }));

/** Works out everything in a report, telling now and then how far it is; pure. A load without an equilibrium gives the reason. */
export function* gatherReport(r: ReportRequest, given: GivenParts = {}): Generator<ReportStep, Gathered> {
  yield { done: 0, words: "of the axle" };
  const answer = analyze(r.scenario, r.load, { radiusM: r.radiusM });
  if (!answer.ok) return answer;
  const a: Drawn = { scenario: r.scenario, corners: cornersOf(r.scenario), state: answer.state, report: answer.report };
  const rival = r.b ? analyze(r.b, r.load, { radiusM: r.radiusM }) : null;
  const b: Drawn | null = r.b && rival?.ok ? { scenario: r.b, corners: cornersOf(r.b), state: rival.state, report: rival.report } : null;
  yield { done: 0.05, words: "of the curves" };
  const curves = (s: Scenario): CurvesAnswer =>
    curvesOf({
      scenario: s,
      ...r.load,
      direction: handOf(r.load) === "left" ? 1 : -1,
      toG: CURVES_TO_G,
      count: CURVE_POINTS,
      radiusM: r.radiusM,
    });
  const curveSets = { a: curves(r.scenario), b: r.b ? curves(r.b) : null };
  const tasks = mapTasks(r);
  const map = given.map ?? (yield* wholeMap(tasks.map!, 0.1, 0.2));
  const otherMap = tasks.otherMap ? (given.otherMap ?? (yield* wholeMap(tasks.otherMap, 0.2, 0.3))) : null;
  const bMap = tasks.bMap ? (given.bMap ?? (yield* wholeMap(tasks.bMap, 0.3, 0.4))) : null;
  let changes = given.changes;
  if (changes === undefined) {
    const share = (step: { done: number; total: number }): ReportStep => ({ done: 0.4 + (0.55 * step.done) / step.total, words: "of the changes" });
    changes = yield* toldAs(studyChanges(r.scenario, changesTask(r)), share);
  }
  yield { done: 0.95, words: "of the drive" };
  const bench = buildBench(r.scenario);
  const driving = bench.rest.ok ? yield* waysOfDriving(bench, r) : null;
  const drive = driveReport(r.scenario);
  const data: ReportData = {
    request: r,
    a,
    b,
    bReason: rival && !rival.ok ? rival.reason.message : null,
    alike: isAlike(r.scenario),
    hand: handOf(r.load),
    speedKmh: mpsToKmh(speedInCurve(r.load.lateralG, r.radiusM)),
    curves: curveSets,
    range: mapRange(r.scenario),
    map,
    otherMap,
    bMap,
    driving,
    changes,
    guesses: given.guesses ?? null,
    sure: given.sure ?? null,
    next: given.next ?? null,
    drive,
    wheels: wheelSpeedsHeld(r.scenario, drive.drivenMps ?? drive.topSpeedMps, r.radiusM),
    lip: leanAndLip(r.scenario, r.load),
  };
  return { ok: true, data };
}

/** Everything at once. */
export const wholeReport = (r: ReportRequest, given: GivenParts = {}): Gathered => toTheEnd(gatherReport(r, given));
