import type { Side } from "../core/design/types.ts";
import type { AxleModel } from "../core/equilibrium/model.ts";
import type { AxleState } from "../core/equilibrium/state.ts";
import { type Place, placeOf } from "./along-road.ts";
import { CHANNELS, channelIndex, FIRST_ALONG_ROAD } from "./channels.ts";
import type { ManoeuvreName } from "./manoeuvres.ts";
import { type PoseExtras, poseState } from "./pose.ts";
import type { MotionEvent } from "./session.ts";
import type { Pose } from "./world.ts";

/** The largest (or lowest) value of a channel over all steps, not only over those recorded. */
export interface Peak {
  channel: string;
  label: string;
  unit: string;
  side: Side | null;
  value: number;
  timeS: number;
  /** the static answer's value, when there is one */
  steady: number | null;
  /** peak over steady; null where the steady value is next to nothing or has the other sign */
  factor: number | null;
}

export interface LooseTrack {
  kind: "wheel" | "tyre";
  side: Side;
  /** first sample it is in */
  fromSample: number;
  poses: Pose[];
}

/** Several samples of pose data behind a trace; plain data that a worker can send. */
export interface PoseSample {
  q: Float64Array;
  extras: PoseExtras;
  /** tyres as they were: left, right bare rim */
  bareRim: [boolean, boolean];
}

export interface Trace {
  manoeuvre: ManoeuvreName;
  params: Record<string, number>;
  durationS: number;
  stepsPerSecond: number;
  samplesPerSecond: number;
  /** s, one per sample */
  timeS: Float64Array;
  /** by channel in the order of CHANNELS, one value per sample */
  columns: Float64Array[];
  poses: PoseSample[];
  loose: LooseTrack[];
  peaks: Peak[];
  events: MotionEvent[];
  /** the static answer to the manoeuvre's steady load: channel values in the order of CHANNELS; null when there is none, with the reason */
  steady: Float64Array | null;
  steadyReason: string | null;
  steadyState: AxleState | null;
  /** largest force of road (and kerb) on a wheel over its steady value: the speed map's road shock */
  shockFactor: number | null;
  /** the wheel it was read at */
  shockSide: Side;
  /** something came off, so that the peaks are those up to then and of a lame car afterwards */
  broken: boolean;
  /** all arms and joints still hold at the end */
  whole: boolean;
  health: { steps: number; iterations: number; openSteps: number; openN: number; pinGapMm: number };
  /** models the poses are read with: tyres whole, left rim bare, right rim bare, both */
  axles: [AxleModel, AxleModel, AxleModel, AxleModel];
}

/** A channel's values, one per sample, in the channel's unit; throws a RangeError on a name that is none. */
export const column = (trace: Trace, key: string): Float64Array => trace.columns[channelIndex(key)]!;

/** Sample at or before a time and how far the time is towards the next, 0..1; times outside are held at the ends. */
export function samplePlace(trace: Trace, timeS: number): { index: number; share: number } {
  const { timeS: t } = trace;
  const last = t.length - 1;
  if (!(timeS > t[0]!) || last === 0) return { index: 0, share: 0 };
  if (timeS >= t[last]!) return { index: last, share: 0 };
  const index = Math.min(last - 1, Math.max(0, Math.floor((timeS - t[0]!) * trace.samplesPerSecond + 1e-9)));
  return { index, share: Math.min(1, Math.max(0, (timeS - t[index]!) * trace.samplesPerSecond)) };
}

/** Value of a channel at a time, between the samples by straight lines. */
export function channelAt(trace: Trace, key: string, timeS: number): number {
  const { index, share } = samplePlace(trace, timeS);
  const c = column(trace, key);
  return share === 0 ? c[index]! : c[index]! + share * (c[index + 1]! - c[index]!);
}

const mix = (a: number, b: number, t: number): number => a + t * (b - a);
const mixPair = (a: readonly [number, number], b: readonly [number, number], t: number): [number, number] => [mix(a[0], b[0], t), mix(a[1], b[1], t)];
const mixPose = (a: Pose | null, b: Pose | null, t: number): Pose | null =>
  a && b ? { x: mix(a.x, b.x, t), z: mix(a.z, b.z, t), angle: mix(a.angle, b.angle, t) } : a;

/**
 * The axle at a time of the trace in the static solution's form: same picture, same labels. Between two samples the unknowns go straight
 * (for slow motion); at a sample it is the pose itself.
 */
export function sampleState(trace: Trace, timeS: number): AxleState {
  const { index, share } = samplePlace(trace, timeS);
  const a = trace.poses[index]!;
  const axle = trace.axles[(a.bareRim[0] ? 1 : 0) + (a.bareRim[1] ? 2 : 0)]!;
  const b = trace.poses[index + 1];
  // never across the moment at which something comes off
  const parted = (p: typeof a): string => `${p.bareRim}${p.extras.wheelOff.map((o) => o !== null)}`;
  if (share === 0 || !b || parted(a) !== parted(b)) return poseState(axle, a.q, a.extras);
  const q = new Float64Array(a.q.length);
  for (let i = 0; i < q.length; i++) q[i] = mix(a.q[i]!, b.q[i]!, share);
  const e = a.extras;
  const f = b.extras;
  return poseState(axle, q, {
    load: {
      lateralG: mix(e.load.lateralG, f.load.lateralG, share),
      bumpLeftMm: mix(e.load.bumpLeftMm, f.load.bumpLeftMm, share),
      bumpRightMm: mix(e.load.bumpRightMm, f.load.bumpRightMm, share),
    },
    verticalN: mixPair(e.verticalN, f.verticalN, share),
    lateralN: mixPair(e.lateralN, f.lateralN, share),
    damperN: mixPair(e.damperN, f.damperN, share),
    bearingNmm: mixPair(e.bearingNmm, f.bearingNmm, share),
    jointForce: e.jointForce.map((v, i) => mix(v, f.jointForce[i]!, share)),
    lateralMm: mix(e.lateralMm, f.lateralMm, share),
    wheelOff: [mixPose(e.wheelOff[0], f.wheelOff[0], share), mixPose(e.wheelOff[1], f.wheelOff[1], share)],
  });
}

/** Loose parts at a time: where each flies, in the axle picture's frame (x from the body's centre line). */
export function looseAt(trace: Trace, timeS: number): { kind: "wheel" | "tyre"; side: Side; pose: Pose }[] {
  const { index, share } = samplePlace(trace, timeS);
  const shift = channelAt(trace, "lateralMm", timeS);
  return trace.loose
    .filter((l) => index >= l.fromSample)
    .map((l) => {
      const a = l.poses[index - l.fromSample]!;
      const p = mixPose(a, l.poses[index - l.fromSample + 1] ?? a, share)!;
      return { kind: l.kind, side: l.side, pose: { ...p, x: p.x - shift } };
    });
}

/** Whether the run used throttle or brake, so that its speed changes. */
export const isPushed = (trace: Pick<Trace, "params">): boolean => (trace.params["throttle"] ?? 0) > 0 || (trace.params["brakeG"] ?? 0) > 0;

/** Speed of the car at a time of the run, m/s. */
export const speedAt = (trace: Trace, timeS: number): number => (isPushed(trace) ? channelAt(trace, "speedMps", timeS) : (trace.params["speedMps"] ?? 0));

/** Time at which a car that does not keep its speed has gone a way, m, s; the run's first or last one outside of it. */
export function timeAtWay(trace: Trace, wayM: number): number {
  const way = column(trace, "wayM");
  let low = 0;
  let high = way.length - 1;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (way[mid]! <= wayM) low = mid;
    else high = mid;
  }
  const span = way[high]! - way[low]!;
  const share = span > 0 ? Math.max(0, Math.min(1, (wayM - way[low]!) / span)) : 0;
  return trace.timeS[low]! + share * (trace.timeS[high]! - trace.timeS[low]!);
}

/** Where the car is at a time of the run; undefined where it keeps its speed. */
export const placeAt = (trace: Trace, timeS: number): Place | undefined =>
  isPushed(trace) ? placeOf(trace.params["speedMps"] ?? 0, channelAt(trace, "speedMps", timeS), 1000 * channelAt(trace, "wayM", timeS), timeS) : undefined;

/** How many of the channels, from the first on, a run has something to tell in: those along the road only where it pushes or brakes. */
export const told = (trace: Trace): number => (isPushed(trace) ? CHANNELS.length : FIRST_ALONG_ROAD);

/** Head line and rows of a table of the whole trace: time first, then every channel; units stand in the head. */
export function traceTable(trace: Trace): { head: string[]; rows: number[][] } {
  const head = ["timeS", ...CHANNELS.slice(0, told(trace)).map((c) => c.key)];
  const rows: number[][] = [];
  for (let i = 0; i < trace.timeS.length; i++) rows.push([trace.timeS[i]!, ...trace.columns.slice(0, told(trace)).map((c) => c[i]!)]);
  return { head, rows };
}
