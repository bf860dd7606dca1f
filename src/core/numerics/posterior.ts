import type { Seen } from "./censored.ts";
import type { SpreadLaw } from "./characteristic.ts";
import { normalCdf, normalLogCdf, normalQuantile } from "./distributions.ts";

/**
 * What one part takes, in a builder's own hands: a belief beforehand (such parts as sold scatter like this) and what was
 * seen of the part (it held here, it gave there), put together by Bayes' rule on a grid.
 */
export interface Prior {
  law: SpreadLaw;
  /** mean and standard deviation of the strength itself, for the log-normal law too; both above 0 */
  mean: number;
  sd: number;
}

/** Something seen; `sd`: how well the load was known at which it held or gave, 0 or more, unit of the strength. */
export type SeenWithin = Seen & { sd: number };

export interface Posterior {
  mean: number;
  sd: number;
  /** strengths, ascending, and the probability of lying below each */
  at: number[];
  below: number[];
  /** logarithm of the probability (exact: its density) that the prior alone gives to all that was seen */
  logEvidence: number;
}

/** Steps of the grid, and of those on the way to where the answer lies. */
const STEPS = 600;
const COARSE_STEPS = 150;
/** The grid reaches this many standard deviations beyond what could matter: 2e-15 of a normal law lies beyond 8. */
const REACH = 8;
/** Where the posterior is less than e^-45 of its peak nothing is lost by looking no further. */
const LOG_NOTHING = -45;
const MOST_ROUNDS = 8;
/** The share of a normal law beyond so many standard deviations, 1e-8 each way, is left out. */
const SMEAR_REACH = 5.6;

/** Beyond this a normal value lies once in 1e19. */
const CERTAIN = 9;
const logBelow = (z: number): number => (z > CERTAIN ? 0 : normalLogCdf(z));

/** log(e^a - e^b) for a >= b. */
const logDifference = (a: number, b: number): number => (b === -Infinity ? a : a + Math.log1p(-Math.exp(b - a)));

/** Logarithm of the probability of seeing `s` of a part that takes `c`: the load acted was normal about the one told. */
export function logSeen(s: SeenWithin, c: number): number {
  const z = (x: number): number => (s.sd > 0 ? (c - x) / s.sd : c === x ? 0 : c > x ? Infinity : -Infinity);
  switch (s.kind) {
    case "held":
      return logBelow(z(s.at));
    case "gave":
      return logBelow(-z(s.at));
    case "exact":
      return -0.5 * z(s.at) ** 2 - Math.log(s.sd * Math.sqrt(2 * Math.PI));
    case "between": {
      const low = z(s.low);
      const high = z(s.high);
      return low + high < 0 ? logDifference(normalLogCdf(low), normalLogCdf(high)) : logDifference(normalLogCdf(-high), normalLogCdf(-low));
    }
  }
}

const placesOf = (s: Seen): number[] => (s.kind === "between" ? [s.low, s.high] : [s.at]);

/**
 * The likelihood with all loads off by one same unknown amount, normal with standard deviation `common`: its mean over that amount.
 * @param logs at even steps of size `step`
 */
function smeared(logs: readonly number[], step: number, common: number): number[] {
  const reach = Math.ceil((SMEAR_REACH * common) / step);
  if (reach === 0) return [...logs];
  const weights = Float64Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-0.5 * (((i - reach) * step) / common) ** 2));
  const sum = weights.reduce((a, b) => a + b, 0);
  const peak = Math.max(...logs);
  const plain = logs.map((l) => Math.exp(l - peak));
  // beyond its ends the likelihood goes on as it ends
  const padded = Float64Array.from({ length: logs.length + 2 * reach }, (_, i) => plain[Math.min(plain.length - 1, Math.max(0, i - reach))]!);
  return logs.map((_, i) => {
    let s = 0;
    for (let k = 0; k < weights.length; k++) s += weights[k]! * padded[i + k]!;
    return peak + Math.log(s / sum);
  });
}

/**
 * The belief about one part's strength after what was seen. An exact strength must bring an `sd` above 0. The grid is
 * narrowed to where the answer lies, so that an answer far narrower than the prior keeps its digits: mean and sd to
 * some 1e-6 of the sd, quantiles to 1e-4 of it. Cost: some 1,000 normal probabilities for each thing seen.
 * @param common all that was seen is off by one same amount that nobody knows, normal with this standard deviation: the
 * fault of the instrument, for a normal law alone; it should not be narrower than a hundredth of the prior
 */
export function posterior(prior: Prior, seen: readonly SeenWithin[], common = 0): Posterior {
  const inLogs = prior.law === "log-normal";
  const spread = inLogs ? Math.sqrt(Math.log1p((prior.sd / prior.mean) ** 2)) : prior.sd;
  const centre = inLogs ? Math.log(prior.mean) - 0.5 * spread * spread : prior.mean;
  const strength = inLogs ? Math.exp : (u: number): number => u;
  const ends = seen
    .flatMap((s) => placesOf(s).flatMap((x) => [x - REACH * s.sd, x + REACH * s.sd]))
    .flatMap((x) => (inLogs ? (x > 0 ? [Math.log(x)] : []) : [x]));
  let low = Math.min(centre - REACH * spread, ...ends);
  let high = Math.max(centre + REACH * spread, ...ends);

  const grid = (steps: number): { u: number[]; logs: number[] } => {
    const step = (high - low) / steps;
    const u = Array.from({ length: steps + 1 }, (_, i) => low + i * step);
    const told = u.map((v) => {
      const c = strength(v);
      return seen.reduce((sum, s) => sum + logSeen(s, c), 0);
    });
    const logs = (common > 0 ? smeared(told, step, common) : told).map(
      (l, i) => l - 0.5 * ((u[i]! - centre) / spread) ** 2 - Math.log(spread * Math.sqrt(2 * Math.PI)),
    );
    return { u, logs };
  };
  // the logarithm has one peak: beyond the neighbours of what counts nothing does
  for (let round = 0; round < MOST_ROUNDS && common === 0; round++) {
    const { u, logs } = grid(COARSE_STEPS);
    const peak = Math.max(...logs);
    const first = Math.max(0, logs.findIndex((l) => l > peak + LOG_NOTHING) - 1);
    const last = Math.min(COARSE_STEPS, logs.findLastIndex((l) => l > peak + LOG_NOTHING) + 1);
    [low, high] = [u[first]!, u[last]!];
    if (last - first > COARSE_STEPS / 2) break;
  }
  const steps = common > 0 ? Math.min(STEPS, Math.max(2 * COARSE_STEPS, Math.ceil((3 * (high - low)) / common))) : STEPS;
  const { u, logs } = grid(steps);

  const peak = Math.max(...logs);
  const density = logs.map((l) => Math.exp(l - peak));
  const step = (u[steps]! - u[0]!) / steps;
  const below = new Array<number>(steps + 1).fill(0);
  let [sum, mass, first] = [0, 0, 0];
  const c = u.map(strength);
  for (let i = 1; i <= steps; i++) {
    const [d0, d1] = [density[i - 1]!, density[i]!];
    mass += 0.5 * (d0 + d1);
    first += 0.5 * (d0 * c[i - 1]! + d1 * c[i]!);
    // cubic through four neighbours; where the density breaks off it may dip below 0
    const outer = (density[i - 2] ?? d0) + (density[i + 1] ?? d1);
    sum += Math.max(0, (13 * (d0 + d1) - outer) / 24);
    below[i] = sum;
  }
  const mean = first / mass;
  let second = 0;
  for (let i = 1; i <= steps; i++) second += 0.5 * (density[i - 1]! * (c[i - 1]! - mean) ** 2 + density[i]! * (c[i]! - mean) ** 2);
  return { mean, sd: Math.sqrt(second / mass), at: c, below: below.map((b) => b / sum), logEvidence: peak + Math.log(mass * step) };
}

/** The strength below which the part's lies with probability `p` after what was seen. */
export function quantileOf(p: Posterior, probability: number): number {
  const above = p.below.findIndex((b) => b >= probability);
  if (above <= 0) return above === 0 ? p.at[0]! : p.at[p.at.length - 1]!;
  const [b0, b1] = [p.below[above - 1]!, p.below[above]!];
  // nearly straight on the scale of the normal law
  const [z0, z, z1] = [b0, probability, b1].map(normalQuantile) as [number, number, number];
  const share = z1 - z0 > 0 && z1 - z0 < Infinity ? (z - z0) / (z1 - z0) : (probability - b0) / (b1 - b0);
  return p.at[above - 1]! + share * (p.at[above]! - p.at[above - 1]!);
}

const BLUR_STEPS = 200;

/** The same belief with a fault upon it that nobody knows, normal with this standard deviation, above 0; the evidence stays. */
export function blurred(p: Posterior, sd: number): Posterior {
  const [low, high] = [p.at[0]! - SMEAR_REACH * sd, p.at.at(-1)! + SMEAR_REACH * sd];
  const at = Array.from({ length: BLUR_STEPS + 1 }, (_, i) => low + ((high - low) * i) / BLUR_STEPS);
  const masses = p.at.slice(1).map((x, i) => ({ middle: 0.5 * (x + p.at[i]!), mass: p.below[i + 1]! - p.below[i]! }));
  const below = at.map((x) => masses.reduce((sum, { middle, mass }) => sum + (mass > 0 ? mass * normalCdf((x - middle) / sd) : 0), 0));
  return { mean: p.mean, sd: Math.hypot(p.sd, sd), at, below, logEvidence: p.logEvidence };
}
