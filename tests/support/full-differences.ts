import type { LimitName } from "../../src/core/analysis.ts";
import { buildBench, limitContext } from "../../src/core/analyze.ts";
import type { Load, Scenario } from "../../src/core/design/types.ts";
import { limitOf, type OutputKey, type Outputs, outputsOf } from "../../src/core/doubt/outputs.ts";
import { assemble } from "../../src/core/equilibrium/assemble.ts";
import { factor, solveSystem } from "../../src/core/equilibrium/condense.ts";
import { FINAL_BLEND, type Solver } from "../../src/core/equilibrium/newton.ts";
import { readState } from "../../src/core/equilibrium/readout.ts";
import { REST, solveWarm } from "../../src/core/equilibrium/solve.ts";
import type { AxleState } from "../../src/core/equilibrium/state.ts";
import { allLimits } from "../../src/core/limits/limits.ts";

/** Newton steps beyond where the solver stops, so that differences of solutions are not drowned by what it leaves over. */
const POLISH = 3;

function polish(s: Solver, q: Float64Array, load: Load): void {
  const r = new Float64Array(s.model.n);
  for (let i = 0; i < POLISH; i++) {
    assemble(s.model, q, load, FINAL_BLEND, r, s.sys, s.ws);
    factor(s.sys);
    solveSystem(s.sys, r, r);
    for (let k = 0; k < q.length; k++) q[k] = q[k]! - r[k]!;
  }
}

export interface FullSolution {
  outputs: Outputs;
  /** which contacts bear, which stops are reached, how the tyres stand: two solutions of one kind lie on one smooth piece */
  contacts: string;
  /** by limit and wheel: which part is the worst one, and to which side it leans, shifts or tilts */
  parts: Map<string, string>;
  q: Float64Array;
  restQ: Float64Array;
}

/** What touches what in a solved axle. */
function contactsOf(state: AxleState): string {
  return (["left", "right"] as const)
    .map((side) => {
      const c = state[side];
      const joints = Object.values(c.joints).map((j) => (j.floats ? "o" : "x"));
      const stops = [c.spring.springN, c.spring.bumpStopN, c.spring.droopStopN].map((n) => (n > 0 ? "x" : "o"));
      const tread = [c.tyre.fromMm > -c.tyre.halfWidthMm, c.tyre.toMm < c.tyre.halfWidthMm, c.tyre.lifted].map((b) => (b ? "o" : "x"));
      return [...joints, ...stops, ...tread, Math.sign(c.wheelTiltRad)].join("");
    })
    .join(" ");
}

/** The whole car solved again, from the unknowns of a neighbour. */
export function fullSolution(
  s: Scenario,
  load: Load,
  speedMps: number,
  near: { q: Float64Array; restQ: Float64Array } | null,
  leaveOut: readonly LimitName[] = [],
): FullSolution | null {
  const b = buildBench(s, {}, near?.restQ ?? null);
  if (!b.rest.ok) return null;
  polish(b.solver, b.rest.q, REST);
  b.rest.state = readState(b.model, b.rest.q, REST);
  const r = solveWarm(b.model, load, near?.q ?? b.rest.q, b.solver, b.rest.q);
  if (!r.ok) return null;
  polish(b.solver, r.q, load);
  const state = readState(b.model, r.q, load);
  const contacts = `${contactsOf(state)} | ${contactsOf(b.rest.state)}`;
  const context = limitContext(b, state, speedMps)!;
  const outputs = outputsOf(context, r.q, 1, leaveOut);
  const way = (key: OutputKey): number => Math.sign(outputs.get(key) ?? 0);
  const parts = new Map(
    allLimits(context, leaveOut).map((l) => {
      const { wheel } = l;
      const ways = wheel === "both" ? [] : [way(`camberDeg.${wheel}`), way(`wheelShiftMm.${wheel}`), way(`axisTiltDeg.${wheel}`)];
      return [`${l.name}.${wheel}`, `${l.part} ${l.utilization > 0} ${ways.join()}`];
    }),
  );
  return { outputs, contacts, parts, q: r.q, restQ: b.rest.q };
}

/**
 * Derivatives of all outputs by a step of the design: five-point differences of full solutions; null where the contacts differ among them. A
 * limit is left out where another part becomes its worst one among them: the larger of two has two slopes.
 */
export function fullDifferences(
  at: (step: number) => Scenario,
  load: Load,
  speedMps: number,
  base: FullSolution,
  h: number,
  leaveOut: readonly LimitName[],
): Map<OutputKey, number> | null {
  const out = new Map<OutputKey, number>();
  const ties = new Set<string>();
  for (const [step, w] of [
    [-2, 1 / 12],
    [-1, -2 / 3],
    [1, 2 / 3],
    [2, -1 / 12],
  ] as const) {
    const full = fullSolution(at(step * h), load, speedMps, base, leaveOut);
    if (!full || full.contacts !== base.contacts) return null;
    for (const [key, v] of full.outputs) out.set(key, (out.get(key) ?? 0) + (w / h) * v);
    for (const [limit, part] of full.parts) if (part !== base.parts.get(limit)) ties.add(limit);
  }
  for (const key of out.keys()) {
    const of = limitOf(key);
    if (of && ties.has(`${of.limit}.${of.wheel}`)) out.delete(key);
  }
  return out;
}
