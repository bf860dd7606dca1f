import { LIMIT_NAMES, type LimitName } from "../analysis.ts";
import { speedInCurve } from "../cornering.ts";
import type { Side } from "../design/types.ts";
import { atMost, type Chance, chanceOf, type SampledBand, sampledBand } from "./chance.ts";
import { limitOf, type OutputKey } from "./outputs.ts";
import { NO_LIMIT, type Samples, safeSpeeds, WORLD } from "./sample.ts";

/** What a sample says of the car, in plain data; of as many worlds as are worked out. */
export interface SampleTold {
  worlds: number;
  of: number;
  seed: number;
  drawnNearer: number;
  safe: SafeTold | null;
  at: AtTold | null;
}

/** The safe speed on the curve asked for. */
export interface SafeTold {
  radiusM: number;
  /** of the car as it is designed, m/s */
  speedMps: number;
  /** m/s */
  band: SampledBand;
  atMost: DriveAtMost;
  /** lines over the radius that so many worlds lie below */
  lines: SafeLine[];
  /** what gives first, by its share of the worlds, most likely first; null: the steady positions end without a limit */
  first: { limit: LimitName | null; chance: Chance }[];
}

/** Up to this speed nothing gives but with the chance that is accepted. */
export interface DriveAtMost {
  chance: number;
  speedMps: number;
  /** 95 % range of that speed, from so many worlds, m/s */
  lowMps: number;
  highMps: number;
}

export interface SafeLine {
  chance: number;
  /** ascending radii with the speed, m/s; the level in between is straight over the radius's logarithm */
  points: { radiusM: number; speedMps: number }[];
}

/** One load. */
export interface AtTold {
  /** by name of output; null where no world has it */
  bands: Partial<Record<OutputKey, SampledBand>>;
  /** that a limit is passed, the worse wheel; cautions among them */
  passed: { limit: LimitName; caution: boolean; chance: Chance }[];
  /** that any limit that counts is passed, or no steady position is left */
  any: Chance;
  /** that there is no steady position */
  noPosition: Chance;
}

/** Chances that lines are told for. */
export const LINE_CHANCES = [0.01, 0.1, 0.5] as const;
/** The chance that is accepted where the builder does not say. */
export const ACCEPTED_CHANCE = 0.05;

export interface TellOptions {
  /** chance accepted for the speed to drive at most */
  chance?: number;
  /** chances of the lines */
  lines?: readonly number[];
}

/** Tells a sample; null before its first world. */
export function tellSamples(s: Samples, o: TellOptions = {}): SampleTold | null {
  const worlds = s.done.reduce((sum, d) => sum + d, 0);
  if (worlds === 0) return null;
  return {
    worlds,
    of: s.count,
    seed: s.seed,
    drawnNearer: s.drawnNearer,
    safe: s.radiiM.length > 0 ? safeTold(s, worlds, o) : null,
    at: s.keys.length > 0 ? atTold(s, worlds) : null,
  };
}

function safeTold(s: Samples, worlds: number, o: TellOptions): SafeTold {
  const radiusM = s.radiiM[0]!;
  const speedMps = speedInCurve(s.design.lateralG[0]!, radiusM);
  const speeds = safeSpeeds(s).sort();
  const chance = o.chance ?? ACCEPTED_CHANCE;
  const most = atMost(speeds, chance);
  const counts = new Map<number, number>();
  for (let w = 0; w < s.count; w++)
    if (s.done[w]) counts.set(s.worlds.limit[w * s.radiiM.length]!, (counts.get(s.worlds.limit[w * s.radiiM.length]!) ?? 0) + 1);
  return {
    radiusM,
    speedMps,
    band: sampledBand(speedMps, speeds)!,
    atMost: { chance, speedMps: most.value, lowMps: most.low, highMps: most.high },
    lines: (o.lines ?? LINE_CHANCES).map((c) => lineOf(s, c)),
    first: [...counts]
      .sort((a, b) => b[1] - a[1] || a[0] - b[0])
      .map(([limit, n]) => ({ limit: limit === NO_LIMIT ? null : LIMIT_NAMES[limit]!, chance: chanceOf(n, worlds) })),
  };
}

function lineOf(s: Samples, chance: number): SafeLine {
  const points = s.radiiM.map((radiusM, r) => ({ radiusM, speedMps: atMost(safeSpeeds(s, r).sort(), chance).value }));
  return { chance, points: points.sort((a, b) => a.radiusM - b.radiusM) };
}

/** Speed of a line at a radius, m/s: where only one was asked, nothing hangs on the speed but the level. */
export function lineAt(line: SafeLine, radiusM: number): number {
  const { points } = line;
  const level = (p: { radiusM: number; speedMps: number }): number => p.speedMps ** 2 / p.radiusM;
  let i = 0;
  while (i + 2 < points.length && points[i + 1]!.radiusM < radiusM) i++;
  const [a, b] = [points[i]!, points[Math.min(i + 1, points.length - 1)]!];
  const f = a === b ? 0 : Math.min(1, Math.max(0, Math.log(radiusM / a.radiusM) / Math.log(b.radiusM / a.radiusM)));
  return Math.sqrt(((1 - f) * level(a) + f * level(b)) * radiusM);
}

function atTold(s: Samples, worlds: number): AtTold {
  const columns = s.keys.length;
  const bands: AtTold["bands"] = {};
  const passedBy = new Map<LimitName, number>();
  const limits = s.keys.flatMap((key, k) => {
    const of = limitOf(key);
    return of?.what === "utilization" ? [{ k, ...of }] : [];
  });
  let any = 0;
  let none = 0;
  for (const { limit } of limits) passedBy.set(limit, 0);
  for (let w = 0; w < s.count; w++) {
    if (!s.done[w]) continue;
    const ends = (s.worlds.state[w]! & WORLD.noPosition) !== 0;
    if (ends) none++;
    const gone = new Set<LimitName>();
    for (const { k, limit } of limits) if (s.worlds.values[w * columns + k]! >= 1) gone.add(limit);
    for (const limit of gone) passedBy.set(limit, passedBy.get(limit)! + 1);
    if (ends || [...gone].some((limit) => s.failures.includes(limit))) any++;
  }
  for (const [k, key] of s.keys.entries()) {
    const column: number[] = [];
    for (let w = 0; w < s.count; w++) if (s.done[w] && !Number.isNaN(s.worlds.values[w * columns + k]!)) column.push(s.worlds.values[w * columns + k]!);
    const band = sampledBand(s.design.values[k]!, column);
    if (band) bands[key] = band;
  }
  return {
    bands,
    passed: [...passedBy].map(([limit, n]) => ({ limit, caution: !s.failures.includes(limit), chance: chanceOf(n, worlds) })),
    any: chanceOf(any, worlds),
    noPosition: chanceOf(none, worlds),
  };
}

/** The wheel of a limit's output that is nearer to giving in the car as it is designed. */
export function worseWheel(at: AtTold, limit: LimitName): Side | "both" | null {
  let worst: { wheel: Side | "both"; used: number } | null = null;
  for (const [key, band] of Object.entries(at.bands)) {
    const of = limitOf(key);
    if (of?.limit === limit && of.what === "utilization" && (!worst || band.value > worst.used)) worst = { wheel: of.wheel, used: band.value };
  }
  return worst?.wheel ?? null;
}
