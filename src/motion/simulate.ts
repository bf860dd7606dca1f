import { limitContext, limitsAt, solveLoad } from "../core/analyze.ts";
import { type Load, type Scenario, SIDES, type Side } from "../core/design/types.ts";
import type { AxleModel } from "../core/equilibrium/model.ts";
import type { AxleState, NoEquilibrium } from "../core/equilibrium/state.ts";
import { wheelTravelMm } from "../core/equilibrium/wheel-travel.ts";
import { allLimits } from "../core/limits/limits.ts";
import { type WheelPush, wheelPush } from "../core/limits/push.ts";
import { goOn, onGrip, placeOf } from "./along-road.ts";
import { CHANNELS, type Channel, channelIndex } from "./channels.ts";
import { liftForDrop } from "./drop.ts";
import { completeParams, loadsOf, type ManoeuvreName, type Params, plan, pressedAt } from "./manoeuvres.ts";
import { readChannels, staticChannels } from "./read-channels.ts";
import { advance, createSession, extrasNow, judgeArms, type MotionEvent, type MotionOptions, type Session } from "./session.ts";
import { AFTERMATH_S, RIM_RADIUS_SHARE, SAMPLES_PER_SECOND, STEPS_PER_SECOND_AT_A_KERB } from "./settings.ts";
import type { LooseTrack, Peak, PoseSample, Trace } from "./trace.ts";
import { pinGapMm, poseOf } from "./world.ts";

export interface SimulateOptions extends Omit<MotionOptions, "speedMps" | "grip" | "throttle" | "brakeG"> {
  samplesPerSecond?: number;
  /** picks the rough road */
  seed?: number;
  /** longest time that is simulated, s */
  longestS?: number;
}

export type SimulateResult = { ok: true; trace: Trace } | { ok: false; reason: NoEquilibrium };

export interface Progress {
  timeS: number;
  durationS: number;
}

/** Samples between two reports of progress. */
const REPORT_EVERY = 24;

/**
 * Drives the axle through a manoeuvre and records it. A generator: each `next()` makes a tenth of a second of motion and tells the time, so
 * that a page stays awake and may stop; the value at the end is the trace, or the physical reason why the axle finds no rest to start from.
 * The same scenario, numbers and options give the same trace to the last bit. Throws a RangeError on a number out of its range.
 */
export function* simulate(scenario: Scenario, name: ManoeuvreName, given: Params = {}, options: SimulateOptions = {}): Generator<Progress, SimulateResult> {
  const params = completeParams(name, given);
  const finer = name === "kerbStrike" ? { stepsPerSecond: STEPS_PER_SECOND_AT_A_KERB } : {};
  const made = createSession(scenario, (m) => loadsOf(name, params, m).start, {
    ...finer,
    ...options,
    speedMps: params.speedMps!,
    grip: params.grip!,
    throttle: params.throttle ?? 0,
    brakeG: params.brakeG ?? 0,
  });
  if (!made.ok) return made;
  const x = made.session;
  const p = plan(name, params, x.m, options.seed ?? 1);
  if (p.dropMm > 0) liftForDrop(x, p.dropMm);
  const perSecond = options.samplesPerSecond ?? SAMPLES_PER_SECOND;
  const stepsPerSecond = Math.round(1 / x.s.h);
  const perSample = Math.max(1, Math.round(stepsPerSecond / perSecond));
  const durationS = Math.min(p.durationS, options.longestS ?? Number.POSITIVE_INFINITY);
  const samples = Math.max(1, Math.ceil((durationS * stepsPerSecond) / perSample));
  const r = recorder(x, samples + 1);
  judgeArms(x);
  record(x, r);
  let last = samples;
  for (let k = 1; k <= last && !x.apart; k++) {
    for (let i = 0; i < perSample; i++) {
      const { going } = x;
      const endS = (x.s.steps + 1) * x.s.h;
      if (going) goOn(going, x.s, pressedAt(endS));
      p.at(endS, x.scene, going ? placeOf(going.startMps, going.mps, going.wayMm, endS) : undefined);
      const before = x.events.length;
      advance(x, x.scene);
      readChannels(x, r.now);
      seePeaks(x, r);
      last = lastSample(last, samples, k, perSecond, x.events.slice(before));
      if (x.apart) break;
    }
    judgeArms(x);
    record(x, r);
    if (k % REPORT_EVERY === 0) yield { timeS: x.timeS, durationS };
  }
  return { ok: true, trace: finish(x, r, name, params, durationS, stepsPerSecond, stepsPerSecond / perSample, p.steady) };
}

/** Where a run ends that was to end at sample `last`, once `news` happened on the way to sample `k`: what came off is followed for a while. */
export const lastSample = (last: number, samples: number, k: number, perSecond: number, news: readonly MotionEvent[]): number =>
  news.some((e) => e.kind === "comesOff") ? Math.min(samples, k + Math.ceil(AFTERMATH_S * perSecond)) : last;

interface Recorder {
  count: number;
  timeS: Float64Array;
  columns: Float64Array[];
  poses: PoseSample[];
  loose: LooseTrack[];
  now: Float64Array;
  peak: Float64Array;
  peakAtS: Float64Array;
  pinGapMm: number;
}

function recorder(x: Session, capacity: number): Recorder {
  const r: Recorder = {
    count: 0,
    timeS: new Float64Array(capacity),
    columns: CHANNELS.map(() => new Float64Array(capacity)),
    poses: [],
    loose: [],
    now: new Float64Array(CHANNELS.length),
    peak: new Float64Array(CHANNELS.length).fill(Number.NaN),
    peakAtS: new Float64Array(CHANNELS.length),
    pinGapMm: 0,
  };
  readChannels(x, r.now);
  return r;
}

/** Whether a channel's value is more of a peak than another: always, when the other is none yet (NaN). */
export function beats(peak: Channel["peak"], v: number, old: number): boolean {
  if (Number.isNaN(old)) return true;
  if (peak === "most") return v > old;
  if (peak === "least") return v < old;
  return Math.abs(v) > Math.abs(old);
}

function seePeaks(x: Session, r: Recorder): void {
  CHANNELS.forEach(({ peak }, c) => {
    const v = r.now[c]!;
    if (!beats(peak, v, r.peak[c]!)) return;
    r.peak[c] = v;
    r.peakAtS[c] = x.timeS;
  });
}

function record(x: Session, r: Recorder): void {
  readChannels(x, r.now);
  seePeaks(x, r);
  const k = r.count++;
  r.timeS[k] = x.timeS;
  for (let c = 0; c < CHANNELS.length; c++) r.columns[c]![k] = r.now[c]!;
  r.poses.push({ q: x.s.q.slice(0, x.m.axle.n), extras: extrasNow(x), bareRim: [x.tyreOff[0], x.tyreOff[1]] });
  x.world.loose.forEach((part, i) => {
    r.loose[i] ??= { kind: part.kind, side: part.side, fromSample: k, poses: [] };
    r.loose[i].poses.push(poseOf(part.body));
  });
  r.pinGapMm = Math.max(r.pinGapMm, pinGapMm(x.world));
}

/** Steady values below this share of a channel's peak make no factor worth telling. */
const FACTOR_FLOOR = 0.02;

/** Peak over steady value; null without one, where it is next to nothing beside the peak, and where it has the other sign. */
export const factorOf = (value: number, steady: number | null): number | null =>
  steady !== null && Math.abs(steady) > FACTOR_FLOOR * Math.abs(value) && value / steady > 0 ? value / steady : null;

/** The side with the larger factor; the left one where they are alike, or neither has one. */
export const hitHardest = (left: number | null, right: number | null): { side: Side; factor: number | null } =>
  (right ?? 0) > (left ?? 0) ? { side: "right", factor: right } : { side: "left", factor: left };

interface SteadyAnswer {
  values: Float64Array | null;
  state: AxleState | null;
  reason: string | null;
}

function steadyAnswer(x: Session, load: Load, speedMps: number): SteadyAnswer {
  const solved = solveLoad(x.bench, load);
  if (!solved.ok) return { values: null, state: null, reason: solved.reason.message };
  const { state } = solved;
  const travel = Object.fromEntries(SIDES.map((side) => [side, wheelTravelMm(x.m.axle, state, side)])) as Record<Side, number>;
  const own = x.going && limitContext(x.bench, state, speedMps);
  const context = own && { ...own, model: onGrip(own.model, x.s.grip) };
  const limits = context ? allLimits(context) : limitsAt(x.bench, state, speedMps);
  const pushes = Object.fromEntries(SIDES.map((side) => [side, context && wheelPush(context, side)])) as Record<Side, WheelPush | null>;
  return { values: staticChannels(state, limits, travel, x.s.grip, speedMps, pushes), state, reason: null };
}

function finish(
  x: Session,
  r: Recorder,
  name: ManoeuvreName,
  params: Record<string, number>,
  durationS: number,
  stepsPerSecond: number,
  samplesPerSecond: number,
  load: Load,
): Trace {
  const steady = steadyAnswer(x, load, params.speedMps!);
  const peaks = CHANNELS.map((c, i): Peak => {
    const value = r.peak[i]!;
    const at = steady.values ? steady.values[i]! : null;
    return { channel: c.key, label: c.label, unit: c.unit, side: c.side, value, timeS: r.peakAtS[i]!, steady: at, factor: factorOf(value, at) };
  });
  const [left, right] = SIDES.map((side) => peaks[channelIndex(`${side}.roadForceN`)]!.factor);
  const worst = hitHardest(left!, right!);
  return {
    manoeuvre: name,
    params,
    durationS,
    stepsPerSecond,
    samplesPerSecond,
    timeS: r.timeS.slice(0, r.count),
    columns: r.columns.map((c) => c.slice(0, r.count)),
    poses: r.poses,
    loose: r.loose,
    peaks,
    events: x.events,
    steady: steady.values,
    steadyReason: steady.reason,
    steadyState: steady.state,
    shockFactor: worst.factor,
    shockSide: worst.side,
    broken: x.events.some((e) => e.kind === "comesOff" || e.kind === "comesApart"),
    whole: !x.apart,
    health: { steps: x.s.steps, iterations: x.s.iterations, openSteps: x.s.open, openN: x.s.openN, pinGapMm: r.pinGapMm },
    axles: [0, 1, 2, 3].map((k) => withRims(x.m.axle, k)) as Trace["axles"],
  };
}

/** The axle drawn with bare rims: bit 1 left, bit 2 right. */
function withRims(axle: AxleModel, bits: number): AxleModel {
  if (bits === 0) return axle;
  return {
    ...axle,
    corners: axle.corners.map((c, i) =>
      (bits >> i) & 1 ? { ...c, tyre: { ...c.tyre, radius: RIM_RADIUS_SHARE * c.tyre.radius } } : c,
    ) as AxleModel["corners"],
  };
}
