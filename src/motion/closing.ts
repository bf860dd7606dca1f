import { MAX_ITERATIONS, RENEW_SHARE } from "./settings.ts";

/** Forces that do not balance yet, and what Newton's method needs to close them. */
export interface Open {
  /** the unknowns, and the change that was last asked for */
  at: Float64Array;
  change: Float64Array;
  /** Size of what is out at `at`; with `tangent` the tangent there is written down too. */
  out(tangent: boolean): number;
  /** Takes the tangent that was written down last into use. */
  renew(): void;
  /** Fills `change` with what the tangent in use asks for against what is out. */
  ask(): void;
}

/** Iterations after which Newton's method is taken to cycle between contacts, and the shortest step it then makes. */
const CYCLING_AFTER = 6;
const SHORTEST_STEP = 0.01;

/**
 * Newton's method on the tangent in use, until no more than `wanted` is out or its iterations are used up; `size` is out at the start. The tangent is made
 * anew where an iteration leaves more than a share of what was out, with `careful` after each. Returns what is left, in the unit of `size`, and the iterations.
 */
export function closeByNewton(o: Open, size: number, wanted: number, careful: boolean): { size: number; iterations: number } {
  const { at, change } = o;
  const go = (share: number): void => {
    for (let i = 0; i < at.length; i++) at[i] = at[i]! + share * change[i]!;
  };
  let left = size;
  let it = 0;
  while (!(left <= wanted) && it < MAX_ITERATIONS) {
    o.ask();
    go(1);
    it++;
    const before = left;
    left = o.out(false);
    // contacts that switch back and forth: go half the way, then half of that
    for (let back = 0.5; it > CYCLING_AFTER && !(left < before) && back > SHORTEST_STEP; back /= 2) {
      go(-back);
      left = o.out(false);
    }
    if (left > wanted && (careful || !(left <= RENEW_SHARE * before))) {
      o.out(true);
      o.renew();
    }
  }
  return { size: left, iterations: it };
}
