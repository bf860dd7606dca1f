import type { LimitName } from "../analysis.ts";
import { speedInCurve } from "../cornering.ts";
import type { Scenario } from "../design/types.ts";
import { type Chance, chanceOf, type SampledBand, sampledBand } from "./chance.ts";
import { correlationOfPairs } from "./correlation.ts";
import { type Ranges, type Uncertain, type UncertainInputs, uncertainInputs } from "./inputs.ts";
import { limitOf } from "./outputs.ts";
import {
  inputOptions,
  mergeSamples,
  prepareSample,
  type SampleQuestion,
  type SampleShare,
  type Samples,
  safeSpeeds,
  tellWorld,
  WHOLE,
  WORLD,
} from "./sample.ts";
import { drawWorlds } from "./worlds.ts";

/**
 * Two designs in the same worlds. What both have alike (the same field with the same value, known in the same way) is the same part, and off by the
 * same amount in both; all else is drawn for each by itself. So the doubts that both share do not blur which one is better.
 */
export interface PairedQuestion extends Omit<SampleQuestion, "scenario"> {
  a: Scenario;
  b: Scenario;
}

export interface PairedSamples {
  a: Samples;
  b: Samples;
  /** inputs that both share, and those of each alone */
  shared: number;
  ownA: number;
  ownB: number;
}

/** Inputs of both designs together, with the places of each design's own in it. */
export interface PairedInputs {
  both: UncertainInputs;
  a: UncertainInputs;
  b: UncertainInputs;
  /** by place in b's list: the place in the list of both; a's come first, in their own order */
  placeOfB: readonly number[];
  shared: number;
}

const samePart = (x: Uncertain, y: Uncertain): boolean => x.key === y.key && x.value === y.value && x.sd === y.sd && x.how === y.how && x.law === y.law;

/** Puts the inputs of two designs together. */
export function pairedInputs(a: UncertainInputs, b: UncertainInputs): PairedInputs {
  const list = [...a.list];
  const placeOfB = b.list.map((u) => {
    const i = a.list.findIndex((x) => samePart(x, u) && a.scenario.origins[u.key]?.note === b.scenario.origins[u.key]?.note);
    return i >= 0 ? i : list.push(u) - 1;
  });
  const pairs = [...a.correlation.pairs];
  for (const p of b.correlation.pairs) {
    const [i, j] = [placeOfB[p.a]!, placeOfB[p.b]!].sort((x, y) => x - y) as [number, number];
    if (!pairs.some((q) => q.a === i && q.b === j)) pairs.push({ a: i, b: j, r: p.r });
  }
  const both = { scenario: a.scenario, list, correlation: correlationOfPairs(pairs) };
  return { both, a, b, placeOfB, shared: a.list.length + b.list.length - list.length };
}

/** Works out its share of the worlds, both designs in each. Null where one of them does not stand. */
export function* samplePaired(q: PairedQuestion, ranges: Ranges, share: SampleShare = WHOLE): Generator<PairedSamples, PairedSamples | null> {
  const { a, b, ...rest } = q;
  const options = inputOptions(q);
  const inputs = pairedInputs(uncertainInputs(a, ranges, options), uncertainInputs(b, ranges, options));
  const [readyA, readyB] = [prepareSample({ ...rest, scenario: a }, inputs.a), prepareSample({ ...rest, scenario: b }, inputs.b)];
  if (!readyA || !readyB) return null;
  const { shared } = inputs;
  const paired = { a: readyA.samples, b: readyB.samples, shared, ownA: inputs.a.list.length - shared, ownB: inputs.b.list.length - shared };
  const worlds = drawWorlds(inputs.both, q.samples, q.seed);
  for (let w = share.index; w < q.samples; w += share.of) {
    const scores = worlds.scores(w);
    tellWorld(readyA, scores.subarray(0, inputs.a.list.length), w);
    tellWorld(
      readyB,
      Float64Array.from(inputs.placeOfB, (i) => scores[i]!),
      w,
    );
    yield paired;
  }
  return paired;
}

/** One of parts that were worked out side by side. @throws RangeError without any part */
export function mergePaired(parts: readonly PairedSamples[]): PairedSamples {
  const [first] = parts;
  if (!first) throw new RangeError("a sample has at least one part");
  return { ...first, a: mergeSamples(parts.map((p) => p.a)), b: mergeSamples(parts.map((p) => p.b)) };
}

/** Which of two is better in how many of the worlds. */
export interface Better {
  /** B is better */
  better: Chance;
  /** both are alike to within what is told of them */
  alike: Chance;
}

export interface PairedTold {
  worlds: number;
  of: number;
  shared: number;
  ownA: number;
  ownB: number;
  /** safe speed on the curve: B faster; difference B less A, m/s */
  safe: (Better & { differenceMps: SampledBand }) | null;
  /** at the load: B is used less in what is worst in each, and by limit. A design that has no steady position there is the worse one */
  at: (Better & { limits: ({ limit: LimitName } & Better)[] }) | null;
}

/** Alike: speeds within this share, and uses of a limit within this much. */
const ALIKE = 1e-3;

/** Tells two designs against each other; null before the first world. */
export function tellPaired(p: PairedSamples): PairedTold | null {
  const worlds = p.a.done.reduce((sum, d) => sum + d, 0);
  if (worlds === 0) return null;
  return { worlds, of: p.a.count, shared: p.shared, ownA: p.ownA, ownB: p.ownB, safe: safeOf(p), at: p.a.keys.length > 0 ? atOf(p) : null };
}

function safeOf({ a, b }: PairedSamples): PairedTold["safe"] {
  if (a.radiiM.length === 0 || b.radiiM.length === 0) return null;
  const [va, vb] = [safeSpeeds(a), safeSpeeds(b)];
  const design = speedInCurve(b.design.lateralG[0]!, b.radiiM[0]!) - speedInCurve(a.design.lateralG[0]!, a.radiiM[0]!);
  const difference = vb.map((v, i) => v - va[i]!);
  const scale = Math.max(...va, 1e-9);
  return { ...betterOf(Array.from(difference), ALIKE * scale), differenceMps: sampledBand(design, difference)! };
}

/** @param gains by world: above 0 where B is better */
function betterOf(gains: readonly number[], alike: number): Better {
  const n = gains.length;
  return { better: chanceOf(gains.filter((g) => g > alike).length, n), alike: chanceOf(gains.filter((g) => Math.abs(g) <= alike).length, n) };
}

function atOf({ a, b }: PairedSamples): PairedTold["at"] {
  const [ua, ub] = [usesOf(a), usesOf(b)];
  const limits = [...ua.limits.keys()].filter((name) => ub.limits.has(name));
  const gains = (x: readonly number[], y: readonly number[]): number[] => x.map((u, i) => (u === y[i]! ? 0 : u - y[i]!));
  return {
    ...betterOf(gains(ua.worst, ub.worst), ALIKE),
    limits: limits.map((limit) => ({ limit, ...betterOf(gains(ua.limits.get(limit)!, ub.limits.get(limit)!), ALIKE) })),
  };
}

/** By world: use of each limit, the worse wheel, and the largest of those that count; without end where there is no steady position. */
function usesOf(s: Samples): { worst: number[]; limits: Map<LimitName, number[]> } {
  const columns = s.keys.flatMap((key, k) => {
    const of = limitOf(key);
    return of?.what === "utilization" ? [{ k, limit: of.limit }] : [];
  });
  const worst: number[] = [];
  const limits = new Map<LimitName, number[]>(columns.map(({ limit }) => [limit, []]));
  for (let w = 0; w < s.count; w++) {
    if (!s.done[w]) continue;
    const none = (s.worlds.state[w]! & WORLD.noPosition) !== 0;
    const used = new Map<LimitName, number>();
    for (const { k, limit } of columns) {
      const u = none ? Number.MAX_VALUE : s.worlds.values[w * s.keys.length + k]!;
      used.set(limit, Math.max(used.get(limit) ?? 0, Number.isNaN(u) ? 0 : u));
    }
    for (const [limit, u] of used) limits.get(limit)!.push(u);
    worst.push(Math.max(0, ...[...used].filter(([limit]) => s.failures.includes(limit)).map(([, u]) => u)));
  }
  return { worst, limits };
}
