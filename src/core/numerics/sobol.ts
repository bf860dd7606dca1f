import { normalQuantile } from "./distributions.ts";
import { DIRECTIONS } from "./sobol-directions.ts";

/**
 * Sobol's points: they fill the unit cube far more evenly than random ones, so that a mean over n of them misses by
 * little more than 1/n instead of 1/√n (I. M. Sobol 1967; direction numbers of Joe and Kuo 2008; Gray-code order of
 * Antonov and Saleev 1979). Take 2^k points: then every dyadic box of volume 2^-k about holds its share.
 */
const BITS = 32;
const TWO_32 = 2 ** BITS;

/** How many dimensions the points can have. */
export const MOST_DIMENSIONS = DIRECTIONS.length + 1;

/** Direction numbers of one dimension (0 is the first), the binary fraction of each as a whole number of 32 bits. */
function directions(dimension: number): Uint32Array {
  const v = new Uint32Array(BITS);
  if (dimension === 0) {
    for (let k = 0; k < BITS; k++) v[k] = 2 ** (BITS - 1 - k);
    return v;
  }
  const [polynomial, initial] = DIRECTIONS[dimension - 1]!.split(":") as [string, string];
  const coefficients = Number(polynomial);
  const m = initial.split(",").map(Number);
  const degree = m.length;
  for (let k = 0; k < BITS; k++) {
    if (k < degree) {
      v[k] = m[k]! * 2 ** (BITS - 1 - k);
      continue;
    }
    // recurrence of Bratley and Fox, ACM TOMS 14 (1988) 88-100, eq. (2)
    let next = v[k - degree]! ^ (v[k - degree]! >>> degree);
    for (let j = 1; j < degree; j++) if ((coefficients >>> (degree - j)) & 1) next ^= v[k - j]!;
    v[k] = next;
  }
  return v;
}

/** Whole number of 32 bits that looks random, from two others (finalizer of the public-domain MurmurHash3). */
function mixed(a: number, b: number): number {
  let h = (Math.imul(a ^ 0x9e3779b9, 0x85ebca6b) + b) | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}

/**
 * Owen's nested uniform scrambling (A. B. Owen 1995): each binary digit is turned over or not by chance, another chance
 * for every string of digits before it, so that the points stay as even as they were and each lies anywhere with the
 * same probability. The chances are a hash of `key` and those digits.
 */
function scrambled(x: number, key: number): number {
  let out = 0;
  for (let bit = 0; bit < BITS; bit++) {
    // a leading 1 tells digits 0 from 00
    const before = bit === 0 ? 1 : (x >>> (BITS - bit)) | (1 << bit);
    const turned = mixed(key ^ bit, before) & 1;
    out = (out << 1) | (((x >>> (BITS - 1 - bit)) & 1) ^ turned);
  }
  return out >>> 0;
}

/** Calls `take` with the coordinates (32 bits) of each of `count` points; what it is given is used again. */
function eachPoint(count: number, dimensions: number, take: (x: Uint32Array, index: number) => void): void {
  if (!(dimensions >= 1 && dimensions <= MOST_DIMENSIONS)) throw new RangeError(`Sobol points have 1 to ${MOST_DIMENSIONS} dimensions, not ${dimensions}`);
  const v = Array.from({ length: dimensions }, (_, d) => directions(d));
  const x = new Uint32Array(dimensions);
  for (let index = 0; index < count; index++) {
    if (index > 0) {
      // the Gray code of the index changes in the lowest zero bit of the one before
      const changed = 31 - Math.clz32(index & -index);
      for (let d = 0; d < dimensions; d++) x[d] = x[d]! ^ v[d]![changed]!;
    }
    take(x, index);
  }
}

/**
 * `count` points of `dimensions` coordinates each. Scrambled (Owen) by a `seed`, a whole number of 32 bits, they lie strictly inside (0, 1), are
 * the same for the same seed on every machine, and another, as even set for another one. Without (null) they are Sobol's own in [0, 1), the first
 * of them the origin. The first points of a longer set are those of a shorter. Throws a RangeError beyond `MOST_DIMENSIONS`.
 */
export function sobolPoints(count: number, dimensions: number, seed: number | null): number[][] {
  const keys = seed === null ? null : Array.from({ length: dimensions }, (_, d) => mixed(seed, d + 1));
  const points: number[][] = [];
  eachPoint(count, dimensions, (x) => points.push(Array.from(x, (c, d) => (keys ? (scrambled(c, keys[d]!) + 0.5) / TWO_32 : c / TWO_32))));
  return points;
}

/** Scrambled points as independent standard normal values, by the quantile: `count` rows of `dimensions` numbers. */
export const sobolNormals = (count: number, dimensions: number, seed: number): number[][] =>
  sobolPoints(count, dimensions, seed).map((point) => point.map(normalQuantile));
