import { checkScenario } from "../design/check.ts";
import type { Scenario } from "../design/types.ts";
import { createRandom } from "../numerics/random.ts";
import { MOST_DIMENSIONS, sobolNormals } from "../numerics/sobol.ts";
import { correlated } from "./correlation.ts";
import { type UncertainInputs, valueAtScore, withInputs } from "./inputs.ts";

/**
 * Worlds: designs with every uncertain input drawn from its spread, as evenly over all of them as scrambled Sobol points are. The same seed
 * gives the same worlds everywhere. Inputs that are known worst come first, since the first coordinates of the points are the most even ones;
 * what is beyond their number of coordinates is drawn at random.
 */
export interface Worlds {
  inputs: UncertainInputs;
  count: number;
  seed: number;
  /** standard normal scores of a world's inputs, correlated as they are */
  scores(world: number): Float64Array;
}

export interface WorldDesign {
  scenario: Scenario;
  /** values of the inputs */
  values: Float64Array;
  /** the values drawn do not go together (a tyre wider than its tread): the world was drawn nearer to the design until they do */
  drawnNearer: boolean;
}

/** Draws `count` worlds. @param seed a whole number of 32 bits */
export function drawWorlds(inputs: UncertainInputs, count: number, seed: number): Worlds {
  const { list, correlation } = inputs;
  const order = [...list.keys()].sort((a, b) => doubtOf(list[b]!) - doubtOf(list[a]!) || a - b);
  const even = Math.min(list.length, MOST_DIMENSIONS);
  const points = even > 0 ? sobolNormals(count, even, seed) : [];
  const random = createRandom(seed);
  const rest = Array.from({ length: count }, () => Float64Array.from({ length: list.length - even }, () => random.normal()));
  return {
    inputs,
    count,
    seed,
    scores(world) {
      const plain = new Float64Array(list.length);
      for (const [n, i] of order.entries()) plain[i] = n < even ? points[world]![n]! : rest[world]![n - even]!;
      const out = new Float64Array(list.length);
      correlated(correlation, plain, out);
      return out;
    },
  };
}

const doubtOf = (u: { sd: number; value: number }): number => (u.value === 0 ? Number.MAX_VALUE : u.sd / Math.abs(u.value));

/** Times that a world is drawn nearer by half before it is left as the design is. */
const NEARER = 6;

/** The design of a world by its scores. */
export function designOf(inputs: UncertainInputs, scores: Float64Array): WorldDesign {
  for (let n = 0, share = 1; ; n++, share = n < NEARER ? share / 2 : 0) {
    const values = Float64Array.from(inputs.list, (u, i) => valueAtScore(u, share * scores[i]!));
    const scenario = withInputs(inputs, new Map(values.entries()));
    if (share === 0 || checkScenario(scenario).length === 0) return { scenario, values, drawnNearer: n > 0 };
  }
}
