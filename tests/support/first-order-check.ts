import type { LimitName } from "../../src/core/analysis.ts";
import { buildBench } from "../../src/core/analyze.ts";
import type { Load, Scenario } from "../../src/core/design/types.ts";
import { derivativeBy, stepOf, tangentAt } from "../../src/core/doubt/first-order.ts";
import { type Uncertain, uncertainInputs, withInputs } from "../../src/core/doubt/inputs.ts";
import { limitOf, type OutputKey } from "../../src/core/doubt/outputs.ts";
import { rangeOf } from "../../src/scenario/ranges.ts";
import { fullDifferences, fullSolution } from "./full-differences.ts";

/** Agreement that is asked for, relative. */
const AGREE = 1e-5;
/**
 * Below it a derivative counts by its size: an input that moves an output by less than a ten thousandth of its value for a whole standard deviation,
 * what a limit is asked for being taken as a hundredth of what it holds at least.
 * What is told of buckling stands on an eigenvalue that is settled to 1e-8 (1e-6 under a push): differences over a thousandth of a deviation are no better
 * than a thousand times that share of its value.
 */
const FLOOR = 1e-4;
const BUCKLING_FLOOR = { still: 1, pushed: 100 };
/**
 * Step of the full solutions in that of the derivatives: their five points are of fourth order. Weights take a wider step in the first place
 * (they are rounded to a microgram), which is only doubled.
 */
const FULL_STEPS = 10;
const fullStep = (u: Uncertain): number =>
  Math.min(FULL_STEPS * stepOf(u), Math.max(0.1 * u.sd, 2e-3 * Math.abs(u.value)), /(Kg|axleShare)$/.test(u.key) ? 2 * stepOf(u) : Number.POSITIVE_INFINITY);

export interface FirstOrderCheck {
  compared: number;
  /** largest difference, relative */
  most: number;
  /** what does not agree, in words */
  wrong: string[];
  /** inputs left out, since among their five full solutions a contact changes (a pin in its clearance, a stop, an edge of a tyre): no one derivative is right there */
  atACorner: string[];
  /** outputs left out, since another part becomes the worst one among the five */
  ties: number;
}

/** Derivatives of first order against differences of full solutions, input by input and output by output. */
export function againstFull(s: Scenario, load: Load, o: { speedMps: number; leaveOut: readonly LimitName[]; every?: number; from?: number }): FirstOrderCheck {
  const inputs = uncertainInputs(s, rangeOf);
  const base = fullSolution(s, load, o.speedMps, null, o.leaveOut);
  if (!base) throw new Error(`${s.name} does not stand`);
  const bench = buildBench(s);
  if (!bench.rest.ok) throw new Error(bench.rest.reason.message);
  bench.rest.q = base.restQ;
  const t = tangentAt({ bench, load, q: base.q, speedMps: o.speedMps, shock: 1, leaveOut: o.leaveOut });
  if (!t) throw new Error("no tangent");
  const check: FirstOrderCheck = { compared: 0, most: 0, wrong: [], atACorner: [], ties: 0 };
  for (const [i, u] of inputs.list.entries()) {
    if (i % (o.every ?? 1) !== (o.from ?? 0)) continue;
    const d = derivativeBy(t, inputs, i);
    const at = (step: number): Scenario => withInputs(inputs, new Map([[i, u.value + step]]));
    const full = fullDifferences(at, load, o.speedMps, base, fullStep(u), o.leaveOut);
    if (!full) {
      check.atACorner.push(u.key);
      continue;
    }
    for (const [k, key] of t.keys.entries()) {
      const is = d ? d[k]! : Number.NaN;
      const wanted = full.get(key);
      if (wanted === undefined) {
        check.ties++;
        continue;
      }
      const floor = limitOf(key)?.limit === "armBuckling" ? BUCKLING_FLOOR[load.throttle ? "pushed" : "still"] : FLOOR;
      const size = Math.max(Math.abs(wanted), (floor * sizeOf(t.keys, t.values, k)) / u.sd);
      const off = is === wanted ? 0 : Math.abs(is - wanted) / size;
      check.compared++;
      check.most = Math.max(check.most, off);
      if (!(off <= AGREE)) check.wrong.push(`${key} by ${u.key}: ${is}, full solutions ${wanted}`);
    }
  }
  return check;
}

/** What an output is measured by: itself, or a hundredth of what its limit holds. */
function sizeOf(keys: readonly OutputKey[], values: Float64Array, k: number): number {
  const of = limitOf(keys[k]!);
  const holds = of?.what === "demand" ? values[keys.indexOf(`limit.${of.limit}.${of.wheel}.capacity`)]! : of?.what === "utilization" ? 1 : 0;
  return Math.max(Math.abs(values[k]!), 0.01 * holds);
}
