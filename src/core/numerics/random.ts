/**
 * Seeded random numbers: the same seed gives the same sequence on every machine. A Weyl sequence (steps of 2^32 over
 * the golden ratio) is scrambled by two rounds of multiply and xor-shift, the finalizer of the public-domain
 * MurmurHash3; good enough for sampling and tests, not for secrets.
 */
export interface Random {
  /** uniform in [0, 1), 53 random bits */
  next(): number;
  /** uniform between `low` and `high` */
  between(low: number, high: number): number;
  /** whole number from `low` to `high`, both included */
  whole(low: number, high: number): number;
  /** mean 0, standard deviation 1 (Box and Muller 1958) */
  normal(): number;
}

const GOLDEN = 0x9e3779b9;
const TWO_26 = 2 ** 26;
const TWO_53 = 2 ** 53;

function scramble(x: number): number {
  let h = x;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}

/** `seed`: a whole number; only its lowest 32 bits count, and neighbouring seeds give unrelated sequences. */
export function createRandom(seed: number): Random {
  let state = scramble(seed ^ GOLDEN);
  const bits = (): number => {
    state = (state + GOLDEN) | 0;
    return scramble(state);
  };
  const next = (): number => ((bits() >>> 5) * TWO_26 + (bits() >>> 6)) / TWO_53;
  return {
    next,
    between: (low, high) => low + (high - low) * next(),
    whole: (low, high) => low + Math.floor((high - low + 1) * next()),
    // 1 - u lies in (0, 1], where the logarithm is finite
    normal: () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next()),
  };
}
