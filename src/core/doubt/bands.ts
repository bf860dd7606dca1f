import type { Derivatives } from "./first-order.ts";
import type { UncertainInputs } from "./inputs.ts";
import type { OutputKey, Outputs } from "./outputs.ts";

/**
 * Bands of first order: the law of propagation of uncertainty with its correlations (GUM, JCGM 100:2008, 5.2.2). Their 90 % range is that of a
 * normal distribution about the value itself.
 */
export interface Band {
  value: number;
  /** one standard deviation */
  sd: number;
  /** from 5 % to 95 % */
  low: number;
  high: number;
}

/** 95 % of a normal distribution lie below so many standard deviations. */
const Z95 = 1.6448536269514722;

/** The band of a number with that standard deviation. */
export const bandAbout = (value: number, sd: number): Band => ({ value, sd, low: value - Z95 * sd, high: value + Z95 * sd });

/** What an answer's band is made of: by input, its part of the variance. They sum to 1; correlated ones may have a negative part. */
export interface Spread {
  sd: number;
  shares: Float64Array;
}

/**
 * Spread of a number by its derivatives.
 * @param by per unit of each input; null: not told, taken for none
 */
export function spreadOf(inputs: UncertainInputs, by: (index: number) => number | null): Spread {
  const { list, correlation } = inputs;
  const each = Float64Array.from(list, (u, i) => (by(i) ?? 0) * u.sd);
  const shares = each.map((v) => v * v);
  for (const { a, b, r } of correlation.pairs) {
    const both = r * each[a]! * each[b]!;
    shares[a] = shares[a]! + both;
    shares[b] = shares[b]! + both;
  }
  const variance = shares.reduce((sum, v) => sum + v, 0);
  return { sd: Math.sqrt(Math.max(0, variance)), shares: variance > 0 ? shares.map((v) => v / variance) : shares.fill(0) };
}

/**
 * Bands of all outputs, about the values at hand: while something is dragged the derivatives may be those of some frames ago.
 * @param now the outputs as they are; default: those where the derivatives were taken
 */
export function bandsOf(inputs: UncertainInputs, d: Derivatives, now?: Outputs): Map<OutputKey, Band> {
  const out = new Map<OutputKey, Band>();
  for (const [k, key] of d.keys.entries()) {
    const value = now ? now.get(key) : d.values[k]!;
    if (value !== undefined) out.set(key, bandAbout(value, spreadOf(inputs, (i) => d.by[i]?.[k] ?? null).sd));
  }
  return out;
}

/** Inputs that carry at least this part of the variance of any output: the others' derivatives may stay as they were while something is dragged. */
export function inputsThatMatter(inputs: UncertainInputs, d: Derivatives, part = 1e-2): number[] {
  const most = new Float64Array(inputs.list.length);
  for (const k of d.keys.keys())
    spreadOf(inputs, (i) => d.by[i]?.[k] ?? null).shares.forEach((share, i) => {
      most[i] = Math.max(most[i]!, share);
    });
  return [...most.keys()].filter((i) => most[i]! >= part);
}
