import type { LimitName } from "../core/analysis.ts";
import type { Side } from "../core/design/types.ts";
import { MANOEUVRE_INFO, type ManoeuvreName } from "./manoeuvres.ts";
import { type Peak, type Trace, told } from "./trace.ts";

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

interface EventRow {
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
    peaks: trace.peaks.slice(0, told(trace)).map(row),
    events: trace.events.map((e) => ({ atS: e.timeS, side: e.side, what: e.message, limit: e.limit, demand: e.demand, capacity: e.capacity, unit: e.unit })),
    shockFactor: trace.shockFactor,
    shockWheel: trace.shockSide,
    steadyReason: trace.steadyReason,
    broken: trace.broken,
    stepsPerSecond: trace.stepsPerSecond,
  };
}
