import { normalLogCdf } from "./distributions.ts";

/**
 * Strengths that are known by what held and what gave only: the likelihood of a population's place and scale from
 * censored data (D. R. Cox and D. Oakes, Analysis of Survival Data, 1984, ch. 3), and the place where it is greatest.
 */
export type Seen =
  /** it held: the strength is above `at` */
  | { kind: "held"; at: number }
  /** it gave: the strength is below `at` */
  | { kind: "gave"; at: number }
  /** the strength lies from `low` to `high`: held at one, gave at the other */
  | { kind: "between"; low: number; high: number }
  /** the strength itself was measured */
  | { kind: "exact"; at: number };

/** Logarithm of a density or a probability at z, with its first and second derivative. */
type Jet = [value: number, slope: number, bend: number];

/** The shape of a law in z = (x - place)/scale: logarithms of the density, of what lies above and of what lies below. */
export interface Law {
  density: (z: number) => Jet;
  above: (z: number) => Jet;
  below: (z: number) => Jet;
}

const LOG_SQRT_2PI = 0.5 * Math.log(2 * Math.PI);

function normalBelow(z: number): Jet {
  const log = normalLogCdf(z);
  // far down the tail density and probability are both too small to be divided, their logarithms are not
  const hazard = Math.exp(-0.5 * z * z - LOG_SQRT_2PI - log);
  return [log, hazard, -hazard * (z + hazard)];
}

export const NORMAL: Law = {
  density: (z) => [-0.5 * z * z - LOG_SQRT_2PI, -z, -1],
  below: normalBelow,
  above: (z) => {
    const [value, slope, bend] = normalBelow(-z);
    return [value, -slope, bend];
  },
};

/** Log likelihood with its slopes and bends by a = place/scale and b = 1/scale, in which it is concave (J. Burridge 1981). */
interface Likelihood {
  value: number;
  slope: [number, number];
  bend: [number, number, number];
}

function likelihood(law: Law, seen: readonly Seen[], a: number, b: number): Likelihood {
  let value = 0;
  const slope: [number, number] = [0, 0];
  const bend: [number, number, number] = [0, 0, 0];
  // z = b x - a
  const add = ([l, d, dd]: Jet, x: number): void => {
    value += l;
    slope[0] -= d;
    slope[1] += d * x;
    bend[0] += dd;
    bend[1] -= dd * x;
    bend[2] += dd * x * x;
  };
  for (const s of seen) {
    if (s.kind === "held") add(law.above(b * s.at - a), s.at);
    else if (s.kind === "gave") add(law.below(b * s.at - a), s.at);
    else if (s.kind === "exact") {
      add(law.density(b * s.at - a), s.at);
      value += Math.log(b);
      slope[1] += 1 / b;
      bend[2] -= 1 / (b * b);
    } else {
      const low = b * s.low - a;
      const high = b * s.high - a;
      // from the side of the shorter tail, so that two numbers near 1 are not subtracted
      const [big, less] = low + high > 0 ? [law.above(low)[0], law.above(high)[0]] : [law.below(high)[0], law.below(low)[0]];
      const log = big + Math.log1p(-Math.exp(less - big));
      const part = (z: number): [number, number] => {
        const [l, d] = law.density(z);
        const f = Math.exp(l - log);
        return [f, f * d];
      };
      const [fl, dl] = part(low);
      const [fh, dh] = part(high);
      const ga = fl - fh;
      const gb = fh * s.high - fl * s.low;
      value += log;
      slope[0] += ga;
      slope[1] += gb;
      bend[0] += dh - dl - ga * ga;
      bend[1] -= dh * s.high - dl * s.low + ga * gb;
      bend[2] += dh * s.high * s.high - dl * s.low * s.low - gb * gb;
    }
  }
  return { value, slope, bend };
}

export interface StrengthFit {
  /** of the population: the mean and the standard deviation where the law is normal */
  place: number;
  scale: number;
  placeError: number;
  /** 0 where the scale was given */
  scaleError: number;
  /** densities per unit of what was seen */
  logLikelihood: number;
}

/** Why the likelihood has no greatest place: what was seen leaves place or scale without bound. */
export type NoStrength = { why: "nothing gave" } | { why: "nothing held" } | { why: "no spread" };

const MOST_ROUNDS = 200;
/** At rest: the logarithm of the likelihood can be made greater by no more than this. */
const RESTING_GAIN = 1e-20;

/** The ends of what was seen, the most that was held and the least that gave. */
function reachOf(seen: readonly Seen[]): { low: number; high: number; heldMost: number; gaveLeast: number } {
  const lows = seen.flatMap((s) => (s.kind === "gave" ? [] : [s.kind === "between" ? s.low : s.at]));
  const highs = seen.flatMap((s) => (s.kind === "held" ? [] : [s.kind === "between" ? s.high : s.at]));
  return {
    low: Math.min(...lows, ...highs),
    high: Math.max(...lows, ...highs),
    heldMost: Math.max(...lows),
    gaveLeast: Math.min(...highs),
  };
}

/**
 * The population that makes what was seen most likely, with standard errors from the likelihood's bend there. `scale`:
 * the population's scale where it is known. For a law of the logarithms give the logarithms.
 */
export function fitStrength(law: Law, seen: readonly Seen[], scale?: number): { ok: true; fit: StrengthFit } | { ok: false; no: NoStrength } {
  const { low, high, heldMost, gaveLeast } = reachOf(seen);
  if (!(gaveLeast < Infinity)) return { ok: false, no: { why: "nothing gave" } };
  if (!(heldMost > -Infinity)) return { ok: false, no: { why: "nothing held" } };
  // what held and what gave part at one place: the narrower the population, the likelier
  if (scale === undefined && heldMost <= gaveLeast) return { ok: false, no: { why: "no spread" } };
  let b = 1 / (scale ?? Math.max((high - low) / 2, Number.MIN_VALUE));
  let a = ((low + high) / 2) * b;
  let now = likelihood(law, seen, a, b);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const [h00, h01, h11] = now.bend;
    const det = h00 * h11 - h01 * h01;
    const step =
      scale === undefined ? [(h01 * now.slope[1] - h11 * now.slope[0]) / det, (h01 * now.slope[0] - h00 * now.slope[1]) / det] : [-now.slope[0] / h00, 0];
    const gain = step[0]! * now.slope[0] + step[1]! * now.slope[1];
    if (!(gain > RESTING_GAIN)) break;
    let share = 1;
    let next = now;
    for (; share > 1e-12; share /= 2) {
      if (b + share * step[1]! <= 0) continue;
      next = likelihood(law, seen, a + share * step[0]!, b + share * step[1]!);
      if (next.value > now.value) break;
    }
    if (!(next.value > now.value)) break;
    a += share * step[0]!;
    b += share * step[1]!;
    now = next;
  }
  const [h00, h01, h11] = now.bend;
  const place = a / b;
  if (scale !== undefined) return { ok: true, fit: { place, scale, placeError: scale / Math.sqrt(-h00), scaleError: 0, logLikelihood: now.value } };
  // place = a/b, scale = 1/b: errors by their slopes
  const det = h00 * h11 - h01 * h01;
  const [caa, cab, cbb] = [-h11 / det, h01 / det, -h00 / det];
  const placeError = Math.sqrt(caa - 2 * place * cab + place * place * cbb) / b;
  return { ok: true, fit: { place, scale: 1 / b, placeError, scaleError: Math.sqrt(cbb) / (b * b), logLikelihood: now.value } };
}
