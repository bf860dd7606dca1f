import { LIMIT_NAMES } from "../analysis.ts";
import type { Bench } from "../analyze.ts";
import type { Load } from "../design/types.ts";
import { sideStep, tangentAt } from "./first-order.ts";
import type { UncertainInputs } from "./inputs.ts";

/** Where a neighbour's unknowns are looked for: those of the car as it is designed, gone along to first order. Only a start; the answer does not hang on it. */
export interface UnknownsAhead {
  q: Float64Array;
  restQ: Float64Array;
  /** per unit of each input; null where that cannot be told */
  byQ: readonly (Float64Array | null)[];
  byRestQ: readonly (Float64Array | null)[];
}

/** Of a solved load. */
export function unknownsAhead(bench: Bench, inputs: UncertainInputs, load: Load, q: Float64Array): UnknownsAhead | null {
  if (!bench.rest.ok) return null;
  const t = tangentAt({ bench, load, q, speedMps: 0, shock: 1, leaveOut: LIMIT_NAMES });
  const steps = inputs.list.map((_, i) => (t ? sideStep(t, inputs, i, true) : null));
  return { q, restQ: bench.rest.q, byQ: steps.map((s) => s?.q ?? null), byRestQ: steps.map((s) => s?.restQ ?? null) };
}

/** Unknowns gone along. @param off inputs less those of the design */
export function gone(from: Float64Array, by: readonly (Float64Array | null)[], off: Float64Array): Float64Array {
  const q = from.slice();
  for (const [i, d] of by.entries()) {
    const x = off[i]!;
    if (!d || x === 0) continue;
    for (let k = 0; k < q.length; k++) q[k] = q[k]! + x * d[k]!;
  }
  return q;
}
