import { LIMIT_NAMES, type LimitName } from "../analysis.ts";
import { type Bench, buildBench, limitContext, solveLoad } from "../analyze.ts";
import { speedInCurve } from "../cornering.ts";
import { type Load, type Scenario, SIDES } from "../design/types.ts";
import type { AxleState } from "../equilibrium/state.ts";
import { failuresOf } from "../limits/records.ts";
import { type CurveOptions, curveOptions } from "../studies/curve-options.ts";
import { gone, type UnknownsAhead, unknownsAhead } from "./ahead.ts";
import { type InputOptions, type Ranges, type UncertainInputs, uncertainInputs } from "./inputs.ts";
import { type OutputKey, outputsOf } from "./outputs.ts";
import { radiiToAsk, safeOver } from "./radii.ts";
import { type SafeBase, safeBase } from "./safe-in.ts";
import { designOf, drawWorlds } from "./worlds.ts";

/**
 * Sampling: worlds drawn from what is not known, each solved as the car that it is. All numbers are plain and go through a worker's messages; parts of one
 * sample that were worked out side by side are put together by `mergeSamples`. A world's answer hangs on its own design and on the car as it is designed
 * alone, not on what was solved before, so that the same seed gives the same numbers however the work was parted.
 */
export interface SampleQuestion {
  scenario: Scenario;
  /** worlds, best a power of two */
  samples: number;
  seed: number;
  /** the safe speed on this curve, and on others between two radii where the speed itself counts; null: not asked */
  curve: { radiusM: number; overM: readonly [number, number] | null; options: Partial<CurveOptions> } | null;
  /** all outputs at one load, driven at this speed; null: not asked */
  at: { load: Load; speedMps: number; shock: number } | null;
}

/** Which worlds a part of the work takes: every `of`-th from `index` on. */
export interface SampleShare {
  index: number;
  of: number;
}
export const WHOLE: SampleShare = { index: 0, of: 1 };

/** What is other in a world than in the car as it is designed: bits of `Samples.state`. */
export const WORLD = { standsNot: 1, noPosition: 2, leftLifted: 4, rightLifted: 8, slack: 16, onStop: 32 } as const;

/** No limit: index of `limit` where the steady positions end in none. */
export const NO_LIMIT = 255;

export interface Samples {
  count: number;
  seed: number;
  /** the car as it is designed, and then each world */
  design: Sampled;
  /** 1 where a world is worked out */
  done: Uint8Array;
  worlds: Sampled;
  /** worlds drawn nearer to the design, since what was drawn did not go together */
  drawnNearer: number;
  radiiM: readonly number[];
  keys: readonly OutputKey[];
  /** the design's limits that count; the others are cautions */
  failures: readonly LimitName[];
}

/** Answers of one world after the other. */
interface Sampled {
  /** safe level by world and radius, g */
  lateralG: Float64Array;
  /** what gives there: places in `LIMIT_NAMES` */
  limit: Uint8Array;
  /** outputs by world and key; not a number where there is no steady position */
  values: Float64Array;
  state: Uint8Array;
}

const sampled = (worlds: number, radii: number, keys: number): Sampled => ({
  lateralG: new Float64Array(worlds * radii),
  limit: new Uint8Array(worlds * radii).fill(NO_LIMIT),
  values: new Float64Array(worlds * keys).fill(Number.NaN),
  state: new Uint8Array(worlds),
});

/** The numbers of the drive are uncertain only where it pushes. */
export const inputOptions = (q: Pick<SampleQuestion, "curve" | "at">): InputOptions => ({
  drive: (q.curve?.options.throttle ?? 0) > 0 || (q.at?.load.throttle ?? 0) > 0,
});

/** Buckling and fit that are used less than this at the load of the design are told in no world: they cost more than all the rest. */
const FAR = 0.3;

/** A sample that is made ready. */
export interface ReadySample {
  question: SampleQuestion;
  inputs: UncertainInputs;
  bench: Bench;
  base: SafeBase | null;
  restQ: Float64Array;
  byRestQ: readonly (Float64Array | null)[];
  ahead: UnknownsAhead | null;
  leaveOut: readonly LimitName[];
  samples: Samples;
}

/** Works out its share of the worlds; yields after each, with the sample as far as it is known. Null where the car as it is designed does not stand. */
export function* sampleWorlds(q: SampleQuestion, ranges: Ranges, share: SampleShare = WHOLE): Generator<Samples, Samples | null> {
  const inputs = uncertainInputs(q.scenario, ranges, inputOptions(q));
  const ready = prepareSample(q, inputs);
  if (!ready) return null;
  const worlds = drawWorlds(inputs, q.samples, q.seed);
  for (let w = share.index; w < q.samples; w += share.of) {
    tellWorld(ready, worlds.scores(w), w);
    yield ready.samples;
  }
  return ready.samples;
}

/** Solves the world of these scores and puts its answers in their place. */
export function tellWorld(ready: ReadySample, scores: Float64Array, w: number): void {
  const { question, inputs, samples } = ready;
  const design = designOf(inputs, scores);
  if (design.drawnNearer) samples.drawnNearer++;
  const off = design.values.map((v, i) => v - inputs.list[i]!.value);
  const b = buildBench(design.scenario, {}, gone(ready.restQ, ready.byRestQ, off));
  tell(question, ready, b, samples.worlds, w, off);
  samples.done[w] = 1;
}

/** The car as it is designed, solved, and room for its worlds. Null where it does not stand. */
export function prepareSample(q: SampleQuestion, inputs: UncertainInputs): ReadySample | null {
  const bench = buildBench(q.scenario);
  if (!bench.rest.ok) return null;
  const base = q.curve && safeBase(bench, inputs, q.curve.radiusM, curveOptions(q.curve.options));
  const radiiM = base ? [base.radiusM, ...(q.curve?.overM ? radiiToAsk(bench, base, q.curve.overM) : [])] : [];
  let ahead: UnknownsAhead | null = null;
  let keys: OutputKey[] = [];
  let leaveOut: LimitName[] = [];
  if (q.at) {
    bench.last = bench.rest.q;
    const r = solveLoad(bench, q.at.load);
    if (r.ok) {
      ahead = unknownsAhead(bench, inputs, q.at.load, r.q);
      const all = outputsOf(limitContext(bench, r.state, q.at.speedMps)!, r.q, q.at.shock, []);
      const used = (name: LimitName): number => Math.max(...SIDES.map((side) => all.get(`limit.${name}.${side}.utilization`) ?? 0));
      leaveOut = (["armBuckling", "fit"] as const).filter((name) => used(name) < FAR);
      keys = [...all.keys()].filter((key) => !leaveOut.some((name) => key.startsWith(`limit.${name}.`)));
    }
  }
  const samples: Samples = {
    count: q.samples,
    seed: q.seed,
    design: sampled(1, radiiM.length, keys.length),
    done: new Uint8Array(q.samples),
    worlds: sampled(q.samples, radiiM.length, keys.length),
    drawnNearer: 0,
    radiiM,
    keys,
    failures: failuresOf(q.scenario),
  };
  const byRestQ = base?.ahead?.restQ ?? ahead?.byRestQ ?? [];
  const ready = { question: q, inputs, bench, base, restQ: bench.rest.q, byRestQ, ahead, leaveOut, samples };
  tell(q, ready, bench, samples.design, 0, null);
  return ready;
}

/** Puts a world's answers in their places. */
function tell(q: SampleQuestion, { base, ahead, leaveOut, samples }: ReadySample, b: Bench, out: Sampled, w: number, off: Float64Array | null): void {
  if (!b.rest.ok) {
    out.state[w] = WORLD.standsNot | WORLD.noPosition;
    return;
  }
  if (base) {
    const found = safeOver(base, samples.radiiM, b, off);
    // the car as it is designed has its speed to the last digit
    if (!off) found[0] = base.safe;
    for (const [r, safe] of found.entries()) {
      const at = w * samples.radiiM.length + r;
      out.lateralG[at] = safe.lateralG;
      out.limit[at] = safe.limit === null ? NO_LIMIT : LIMIT_NAMES.indexOf(safe.limit);
    }
  }
  if (!q.at) return;
  b.last = ahead && ahead.q.length === b.model.n ? (off ? gone(ahead.q, ahead.byQ, off) : ahead.q) : b.rest.q;
  const r = solveLoad(b, q.at.load);
  if (!r.ok) {
    out.state[w] = WORLD.noPosition;
    return;
  }
  out.state[w] = stateBits(r.state);
  const told = outputsOf(limitContext(b, r.state, q.at.speedMps)!, r.q, q.at.shock, leaveOut);
  for (const [k, key] of samples.keys.entries()) out.values[w * samples.keys.length + k] = told.get(key) ?? Number.NaN;
}

function stateBits({ left, right }: AxleState): number {
  const both = [left, right];
  return (
    (left.tyre.lifted ? WORLD.leftLifted : 0) |
    (right.tyre.lifted ? WORLD.rightLifted : 0) |
    (both.some((c) => c.spring.springN <= 0 || c.spring.droopStopN > 0) ? WORLD.slack : 0) |
    (both.some((c) => c.spring.bumpStopN > 0) ? WORLD.onStop : 0)
  );
}

/** One sample of parts that were worked out side by side. @throws RangeError without any part */
export function mergeSamples(parts: readonly Samples[]): Samples {
  const [first] = parts;
  if (!first) throw new RangeError("a sample has at least one part");
  const { count, radiiM, keys } = first;
  const worlds = sampled(count, radiiM.length, keys.length);
  const done = new Uint8Array(count);
  for (const p of parts)
    for (let w = 0; w < count; w++) {
      if (p.done[w] === 0) continue;
      done[w] = 1;
      copyWorld(p.worlds, worlds, w, radiiM.length, keys.length);
    }
  return { ...first, done, worlds, drawnNearer: parts.reduce((sum, p) => sum + p.drawnNearer, 0) };
}

function copyWorld(from: Sampled, to: Sampled, w: number, radii: number, keys: number): void {
  for (let i = w * radii; i < (w + 1) * radii; i++) {
    to.lateralG[i] = from.lateralG[i]!;
    to.limit[i] = from.limit[i]!;
  }
  for (let i = w * keys; i < (w + 1) * keys; i++) to.values[i] = from.values[i]!;
  to.state[w] = from.state[w]!;
}

/** Safe speeds of the worlds that are worked out at one of the radii, m/s, in their order. */
export function safeSpeeds(s: Samples, radius = 0): Float64Array {
  const out: number[] = [];
  for (let w = 0; w < s.count; w++) if (s.done[w]) out.push(speedInCurve(s.worlds.lateralG[w * s.radiiM.length + radius]!, s.radiiM[radius]!));
  return Float64Array.from(out);
}
