import { atMost } from "../core/doubt/chance.ts";
import { type Samples, safeSpeeds } from "../core/doubt/sample.ts";
import { type Reason, reasonsAtLoad, reasonsOfSafe } from "../core/doubt/straight.ts";
import { type DriveAtMost, type SampleTold, tellSamples } from "../core/doubt/told.ts";

export interface ToldRequest {
  samples: Samples;
  /** chances that a speed to drive at most is told for, and those of the lines over the radius */
  chances: readonly number[];
  lines: readonly number[];
}

/** What a sample says, in plain data. */
export interface SamplesTold {
  told: SampleTold;
  /** by the chances asked for, where a curve was */
  atMost: readonly DriveAtMost[];
  reasons: { safe: readonly Reason[]; at: readonly Reason[] };
}

/** Tells a sample, beside the page: to sort its columns takes longer than a frame may. Null before its first world. */
export function toldOf({ samples, chances, lines }: ToldRequest): SamplesTold | null {
  const told = tellSamples(samples, { lines });
  if (!told) return null;
  const speeds = samples.radiiM.length > 0 ? safeSpeeds(samples).sort() : null;
  const mostOf = (sorted: Float64Array, chance: number): DriveAtMost => {
    const { value, low, high } = atMost(sorted, chance);
    return { chance, speedMps: value, lowMps: low, highMps: high };
  };
  return {
    told,
    atMost: speeds ? chances.map((chance) => mostOf(speeds, chance)) : [],
    reasons: { safe: reasonsOfSafe(samples), at: reasonsAtLoad(samples) },
  };
}
