import type { Analysis, AxleReport, LimitName } from "../core/analysis.ts";
import { analyzeBench, type Bench, buildBench } from "../core/analyze.ts";
import { cornerOf } from "../core/design/sides.ts";
import { type Corner, type Load, type Scenario, SIDES, type Side } from "../core/design/types.ts";
import type { NoEquilibrium } from "../core/equilibrium/state.ts";
import { LIMIT_FAR } from "../core/tolerances.ts";
import { fixed } from "../view/format.ts";
import type { Drawn } from "../view/scene.ts";
import type { Store } from "./store.ts";

/**
 * How much of the answer is worked out. `hand`: what a hand that drags sees at once, pose, forces, lean and the limits but for dear ones far from
 * giving. `live`: also the lean by part on a short path. `full`: all of it.
 */
export type Depth = "hand" | "live" | "full";
const DEEP: Record<Depth, number> = { hand: 0, live: 1, full: 2 };

/** steps of the loading path behind the lean by part while something is dragged */
const LIVE_STEPS = 2;
/** for the hand, and for a design whose lean by part is not shown */
const SHORTEST = 1;
/** limits that cost more than all others together, which each depth leaves out while they are far from giving */
const DEAR: Record<Depth, readonly LimitName[]> = { hand: ["armBuckling", "fit"], live: ["armBuckling"], full: [] };
/** below this cornering a growing load is not taken as a share of it, g */
const LEAST_G = 0.1;

export interface Answer {
  scenario: Scenario;
  load: Load;
  depth: Depth;
  analysis: Analysis;
  drawn: Drawn | null;
  radiusM: number;
  /** the design made ready: its model and the frames of its arms */
  bench: Bench;
}

/** One search that takes longer than a hand may wait. */
export interface LongQuestion {
  scenario: Scenario;
  load: Load;
  /** curve whose speed goes with the cornering, m */
  radiusM: number;
  depth: Depth;
  rival: boolean;
}

/** Where searches go on that take longer than a hand may wait. */
export interface LongSearch {
  /** how long the page itself searches, ms: what a hand waits for is short, the whole answer comes at rest */
  patienceMs: Record<Depth, number>;
  /** only the newest question counts; its answer comes to `Answers.found` */
  ask(question: LongQuestion): void;
  /** nobody waits for it any more */
  end(): void;
}

/** Answers for one design, each reached from the last one; nothing is solved twice. */
export interface Answers {
  at(scenario: Scenario, load: Load, depth: Depth): Answer;
  /** the answer at hand, when it is one to this very question */
  known(scenario: Scenario, load: Load): Answer | null;
  /**
   * The end of a long search, and how long it took, ms; whether it is still asked for. Until then its answer is what there is, with the reason
   * `stopped` where there is none yet; so it stays when the search is ended by hand.
   */
  found(question: LongQuestion, analysis: Analysis, ms: number): boolean;
  /** a search goes on elsewhere for what was asked last */
  searching(): boolean;
  /** ends it by hand; what was asked stays without an answer until it is asked `again` */
  stop(): void;
  again(): void;
  /** nobody searches elsewhere any more: the page waits for its own searches */
  alone(): void;
  /** whether the last search for the whole answer was a long one */
  isSlow(): boolean;
  /** counts what has come from elsewhere: an answer to the same question may be another now */
  version(): number;
  /** what a report from elsewhere says of the limits that are dear to look at */
  heard(report: AxleReport): void;
  /** same car at rest, unloaded */
  unloaded(scenario: Scenario): Drawn | null;
}

const REST: Load = { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 };

/**
 * @param radiusM the curve whose speed goes with the cornering, m
 * @param long without it every search is waited for
 */
export function createAnswers(rival: boolean, radiusM: () => number, long: LongSearch | null = null): Answers {
  let bench: Bench | null = null;
  let last: Answer | null = null;
  let searching = false;
  let version = 0;
  /** depths whose last search was a long one: the next is not tried here before it is asked for elsewhere */
  const slow = new Set<Depth>();
  let searchEnd = Number.POSITIVE_INFINITY;
  let isAlone = long === null;
  const shouldStop = long ? () => performance.now() > searchEnd : undefined;
  const patient = (ms: number): void => {
    searchEnd = performance.now() + ms;
  };
  const askLong = ({ scenario, load, depth }: Answer): void => {
    searching = true;
    long?.ask({ scenario, load, radiusM: radiusM(), depth, rival });
  };
  /** the search for the last answer did not come to its end: what there is of it stands meanwhile */
  let unfinished = false;
  let rest: { scenario: Scenario; drawn: Drawn | null } | null = null;

  /** how near each dear limit was when it was last looked at, and at which cornering */
  const looked = new Map<LimitName, { lateralG: number; utilization: number }>();
  let lookedOf: Scenario | null = null;
  const look = (report: AxleReport): void => {
    for (const name of DEAR.hand) {
      const found = report.limits.filter((l) => l.name === name);
      if (found.length > 0) looked.set(name, { lateralG: report.lateralG, utilization: Math.max(...found.map((l) => l.utilization)) });
    }
  };
  /** Far enough for a frame of a drag to leave it out; the design that is not dragged is looked at anew when it changes. */
  const far = (name: LimitName, scenario: Scenario, load: Load): boolean => {
    const seen = looked.get(name);
    if (!seen || (rival && lookedOf !== scenario)) return false;
    const grown = Math.max(1, Math.abs(load.lateralG) / Math.max(Math.abs(seen.lateralG), LEAST_G));
    return seen.utilization * grown * grown < LIMIT_FAR;
  };

  const benchOf = (scenario: Scenario): Bench => {
    if (bench?.scenario === scenario) return bench;
    const trail = bench?.trail ?? [];
    // from the rest of the car of a moment ago where it has the same unknowns, else from nothing
    const near = bench?.rest.ok && sameUnknowns(bench.scenario, scenario) ? buildBench(scenario, { shouldStop }, bench.rest.q) : null;
    bench = near?.rest.ok ? near : buildBench(scenario, { shouldStop });
    if (bench === near) bench.trail = trail;
    return bench;
  };
  const known = (scenario: Scenario, load: Load): Answer | null =>
    last?.scenario === scenario && last.radiusM === radiusM() && sameLoad(last.load, load) ? last : null;

  const at = (scenario: Scenario, load: Load, depth: Depth): Answer => {
    const old = known(scenario, load);
    if (old && (DEEP[old.depth] >= DEEP[depth] || unfinished)) return old;
    if (searching) long?.end();
    searching = false;
    patient(isAlone || !long ? Number.POSITIVE_INFINITY : slow.has(depth) ? 0 : long.patienceMs[depth]);
    const curve = { radiusM: radiusM() };
    const whole = depth === "full" && !rival;
    // the whole answer is reached from nothing, so that it does not depend on what was dragged before
    if (whole) bench = null;
    const ready = benchOf(scenario);
    const byPart = depth !== "hand" && !rival;
    const pathSteps = byPart ? LIVE_STEPS : SHORTEST;
    // a longer path ends where a shorter one does
    if (ready.trail.length > pathSteps + 1 && !byPart) ready.trail = [ready.trail[0]!, ready.trail.at(-1)!];
    const leaveOut = DEAR[depth].filter((name) => far(name, scenario, load));
    const quick = { bands: false, pathSteps, byPart, alongTrail: true, stiffer: false, leaveOut, ...curve };
    const analysis = analyzeBench(ready, load, whole ? curve : quick);
    if (analysis.ok) {
      look(analysis.report);
      lookedOf = scenario;
    }
    unfinished = shouldStop?.() ?? false;
    // a shorter answer that was whole is more than a part of the long one
    last = unfinished && old?.analysis.ok ? { ...old, depth } : { scenario, load, depth, ...curve, analysis, drawn: drawnOf(scenario, analysis), bench: ready };
    if (unfinished) {
      // nothing half-done is gone on from
      bench = null;
      askLong(last);
      // nobody could be asked: it is waited for here after all
      if (isAlone) return at(scenario, load, depth);
    }
    return last;
  };

  return {
    at,
    known,
    found(question, analysis, ms) {
      const asked = known(question.scenario, question.load);
      if (!searching || !asked || question.radiusM !== asked.radiusM || question.depth !== asked.depth) return false;
      searching = false;
      unfinished = false;
      if (ms > (long?.patienceMs[question.depth] ?? 0)) slow.add(question.depth);
      else slow.delete(question.depth);
      version++;
      last = { ...asked, analysis, drawn: drawnOf(question.scenario, analysis) };
      return true;
    },
    searching: () => searching,
    stop() {
      searching = false;
      version++;
      long?.end();
    },
    again() {
      if (!last || !unfinished || searching) return;
      version++;
      askLong(last);
    },
    alone() {
      isAlone = true;
      if (!unfinished) return;
      version++;
      searching = false;
      unfinished = false;
      last = null;
    },
    isSlow: () => slow.has("full"),
    version: () => version,
    heard: look,
    unloaded(scenario) {
      searchEnd = Number.POSITIVE_INFINITY;
      if (rest?.scenario !== scenario)
        rest = { scenario, drawn: drawnOf(scenario, analyzeBench(benchOf(scenario), REST, { bands: false, pathSteps: SHORTEST })) };
      return rest.drawn;
    },
  };
}

/** hundredths of a g tried below the load at which the hold ends */
const EDGE_TRIES = 4;

/** The axle just before the load at which it finds no hold; null also where that is a long search. */
export function lastThatHolds(answers: Answers, radiusM: number, scenario: Scenario, reason: NoEquilibrium): Drawn | null {
  if (answers.isSlow()) return null;
  // beside those of the page, whose last answer stays
  const beside = createAnswers(false, () => radiusM);
  const at = reason.atLoad;
  const sign = at.lateralG < 0 ? -1 : 1;
  for (let i = 0; i < EDGE_TRIES; i++) {
    const g = Math.floor(Math.abs(at.lateralG) * 100 - 1e-6 - i) / 100;
    if (g < 0) return null;
    const { drawn } = beside.at(scenario, { ...at, lateralG: sign * g }, "full");
    if (drawn) return drawn;
  }
  return null;
}

/** The way back to a load that holds, in words for a press. */
export function goTo(store: Store, load: Load): { words: string; run(): void } {
  const words = `${fixed(load.lateralG, 2)} g`;
  return { words: `go to ${words}`, run: () => store.act(`back to ${words}`, (d) => ({ ...d, load })) };
}

/** An arm has one node more where a spring sits on it; all else of the model has the same size in every car. */
const sameUnknowns = (a: Scenario, b: Scenario): boolean =>
  SIDES.every((side) => {
    const [x, y] = [cornerOf(a, side).spring.seat, cornerOf(b, side).spring.seat];
    return x.on === y.on && (x.on === "hub" || y.on === "hub" || x.fraction === y.fraction);
  });

const sameLoad = (a: Load, b: Load): boolean =>
  a.lateralG === b.lateralG &&
  a.bumpLeftMm === b.bumpLeftMm &&
  a.bumpRightMm === b.bumpRightMm &&
  (a.throttle ?? 0) === (b.throttle ?? 0) &&
  (a.brakeG ?? 0) === (b.brakeG ?? 0);

export const cornersOf = (scenario: Scenario): Record<Side, Corner> => ({ left: cornerOf(scenario, "left"), right: cornerOf(scenario, "right") });

export const drawnOf = (scenario: Scenario, analysis: Analysis): Drawn | null =>
  analysis.ok ? { scenario, corners: cornersOf(scenario), state: analysis.state, report: analysis.report } : null;
