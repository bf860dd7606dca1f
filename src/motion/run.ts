import type { LimitName } from "../core/analysis.ts";
import type { Scenario, Side } from "../core/design/types.ts";
import type { NoEquilibrium } from "../core/equilibrium/state.ts";
import { MANOEUVRE_INFO, type ManoeuvreName, type Params } from "./manoeuvres.ts";
import { type SimulateOptions, simulateAll } from "./simulate.ts";
import { type Peak, type Trace, traceTable } from "./trace.ts";

/** One number of a run beside its static counterpart, ready for a table. */
export interface PeakRow {
  side: Side | "axle";
  what: string;
  unit: string;
  peak: number;
  atS: number;
  steady: number | null;
  factor: number | null;
}

export interface EventRow {
  atS: number;
  side: Side;
  what: string;
  limit: LimitName;
  demand: number;
  capacity: number;
  unit: string;
}

/** A run in numbers and words: plain data for a table, JSON or a test. */
export interface MotionReport {
  manoeuvre: ManoeuvreName;
  title: string;
  params: Record<string, number>;
  durationS: number;
  peaks: PeakRow[];
  events: EventRow[];
  /** largest force of road and kerb on a wheel over its steady value; null when there is no steady answer */
  shockFactor: number | null;
  shockWheel: Side;
  /** why there is no steady answer */
  steadyReason: string | null;
  broken: boolean;
  stepsPerSecond: number;
}

const row = (p: Peak): PeakRow => ({ side: p.side ?? "axle", what: p.label, unit: p.unit, peak: p.value, atS: p.timeS, steady: p.steady, factor: p.factor });

/** The report of a trace. */
export function motionReport(trace: Trace): MotionReport {
  return {
    manoeuvre: trace.manoeuvre,
    title: MANOEUVRE_INFO[trace.manoeuvre].title,
    params: trace.params,
    durationS: trace.timeS[trace.timeS.length - 1]!,
    peaks: trace.peaks.map(row),
    events: trace.events.map((e) => ({ atS: e.timeS, side: e.side, what: e.message, limit: e.limit, demand: e.demand, capacity: e.capacity, unit: e.unit })),
    shockFactor: trace.shockFactor,
    shockWheel: trace.shockSide,
    steadyReason: trace.steadyReason,
    broken: trace.broken,
    stepsPerSecond: trace.stepsPerSecond,
  };
}

export type MotionRun = { ok: true; trace: Trace; report: MotionReport; table: { head: string[]; rows: number[][] } } | { ok: false; reason: NoEquilibrium };

/**
 * Drives a scenario through a manoeuvre and tells it: the trace, its report, and the table of all channels over time.
 * Throws a RangeError that names a number out of its range.
 */
export function runMotion(scenario: Scenario, name: ManoeuvreName, params: Params = {}, options: SimulateOptions = {}): MotionRun {
  const r = simulateAll(scenario, name, params, options);
  if (!r.ok) return r;
  return { ok: true, trace: r.trace, report: motionReport(r.trace), table: traceTable(r.trace) };
}
