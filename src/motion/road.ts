import { createRandom } from "../core/numerics/random.ts";

/** Roads as heights along the way, and as a round wheel feels them. */

/** Height in mm at a distance along the road in mm. */
export type Profile = (alongMm: number) => number;

/** No height anywhere. */
export const flat: Profile = () => 0;

/** One bump (a hole when `heightMm` is negative) with the shape of a raised cosine, from `startMm` over `lengthMm`. */
export function bump(heightMm: number, lengthMm: number, startMm: number): Profile {
  return (x) => {
    const t = (x - startMm) / lengthMm;
    return t <= 0 || t >= 1 ? 0 : (heightMm / 2) * (1 - Math.cos(2 * Math.PI * t));
  };
}

/** A washboard of a wavelength and a height from trough to crest, beginning at `startMm` and growing to its height over one wave; `shift` in waves. */
export function washboard(heightMm: number, waveMm: number, startMm: number, shift: number): Profile {
  return (x) => {
    const t = (x - startMm) / waveMm;
    if (t <= 0) return 0;
    return (Math.min(1, t) * heightMm * (1 - Math.cos(2 * Math.PI * (t - shift)))) / 2;
  };
}

/** Waves of a rough road, from a hand's breadth to two metres, spaced evenly in octaves. */
const ROUGH_WAVES = 24;
const LONGEST_MM = 2000;
const SHORTEST_MM = 60;

/**
 * A rough road with the given rms height, mm: sine waves whose power falls with the square of their frequency (the shape of ISO 8608),
 * with phases from a seed. Fades in over the first half metre, so that a run starts at rest.
 */
export function rough(rmsMm: number, seed: number, startMm: number): Profile {
  if (rmsMm === 0) return flat;
  const random = createRandom(seed);
  const waves: { k: number; phase: number; a: number }[] = [];
  let power = 0;
  for (let i = 0; i < ROUGH_WAVES; i++) {
    const wave = LONGEST_MM * (SHORTEST_MM / LONGEST_MM) ** (i / (ROUGH_WAVES - 1));
    // power density ~ n^-2 over a band as wide as n itself: amplitude ~ wave^(1/2)
    const a = Math.sqrt(wave);
    power += (a * a) / 2;
    waves.push({ k: (2 * Math.PI) / wave, phase: random.between(0, 2 * Math.PI), a });
  }
  const scale = rmsMm / Math.sqrt(power);
  return (x) => {
    if (x <= startMm) return 0;
    let z = 0;
    for (const w of waves) z += w.a * Math.sin(w.k * x + w.phase);
    return Math.min(1, (x - startMm) / 500) * scale * z;
  };
}

/** Heights of several profiles on top of each other. */
export const sumOf = (...parts: Profile[]): Profile => {
  const real = parts.filter((p) => p !== flat);
  return real.length === 0 ? flat : real.length === 1 ? real[0]! : (x) => real.reduce((z, p) => z + p(x), 0);
};

/** Spacing of the table a road is kept in, mm. */
const TABLE_MM = 1;

/** A road as the centre of a round wheel of radius `radiusMm` follows it: the height of its lowest possible place, less the radius. */
export interface RolledRoad {
  heightAt(alongMm: number): number;
}

/**
 * Rolls a wheel over a profile from 0 to `lengthMm`: envelope z(x) = max over s of profile(x + s) - (R - √(R² - s²)). A bump shorter than
 * the wheel is felt longer and rounder than it is; a hole shorter than the wheel is hardly felt.
 */
export function rollOver(profile: Profile, radiusMm: number, lengthMm: number): RolledRoad {
  if (profile === flat) return { heightAt: () => 0 };
  const reach = Math.floor(radiusMm / TABLE_MM);
  const count = Math.ceil(lengthMm / TABLE_MM) + 2;
  const raw = new Float64Array(count + 2 * reach);
  for (let i = 0; i < raw.length; i++) raw[i] = profile((i - reach) * TABLE_MM);
  const fall = new Float64Array(2 * reach + 1);
  for (let i = 0; i < fall.length; i++) {
    const s = (i - reach) * TABLE_MM;
    fall[i] = radiusMm - Math.sqrt(Math.max(0, radiusMm * radiusMm - s * s));
  }
  const table = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    let top = Number.NEGATIVE_INFINITY;
    for (let k = 0; k < fall.length; k++) {
      const z = raw[i + k]! - fall[k]!;
      if (z > top) top = z;
    }
    table[i] = top;
  }
  return {
    heightAt: (x) => {
      const t = Math.min(Math.max(x / TABLE_MM, 0), count - 1.001);
      const i = Math.floor(t);
      return table[i]! + (t - i) * (table[i + 1]! - table[i]!);
    },
  };
}
