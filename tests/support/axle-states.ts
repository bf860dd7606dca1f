import type { Load, Scenario } from "../../src/core/design/types.ts";
import type { AxleModel } from "../../src/core/equilibrium/model.ts";
import { buildAxle } from "../../src/core/equilibrium/model.ts";
import { createSolver, type Solver } from "../../src/core/equilibrium/newton.ts";
import { gripG, solveCold } from "../../src/core/equilibrium/solve.ts";
import { createRandom } from "../../src/core/numerics/random.ts";
import { randomScenario } from "./arbitrary-scenario.ts";
import { SHIPPED, shipped } from "./shipped.ts";

/** A load within the tyres' grip, with bumps in half of the cases; the same seed gives the same load. */
export function randomLoad(seed: number, gripG: number, share = 1, bumpMm = 15): Load {
  const { next } = createRandom(seed + 1_000_000);
  const lateralG = (2 * next() - 1) * gripG * share;
  const bump = (): number => (next() < 0.5 ? 0 : (2 * next() - 1) * bumpMm);
  return { lateralG, bumpLeftMm: bump(), bumpRightMm: bump() };
}

export interface SolvedCase {
  name: string;
  scenario: Scenario;
  load: Load;
  model: AxleModel;
  solver: Solver;
  q: Float64Array;
}

/** Solved axles: the shipped scenarios at their own load cases, then random cars at random loads. */
export function* solvedCases(seeds: number, share = 0.7, bumpMm = 6): Generator<SolvedCase> {
  for (const file of SHIPPED) {
    const scenario = shipped(file);
    for (const { name, ...load } of scenario.loadCases) {
      const model = buildAxle(scenario);
      const r = solveCold(model, load);
      if (r.ok) yield { name: `${file} ${name}`, scenario, load, model, solver: r.solver, q: r.q };
    }
  }
  for (let seed = 0; seed < seeds; seed++) {
    const scenario = randomScenario(seed);
    const model = buildAxle(scenario);
    const load = randomLoad(seed, gripG(model), share, bumpMm);
    const solver = createSolver(model);
    const r = solveCold(model, load, solver);
    if (r.ok) yield { name: `seed ${seed}`, scenario, load, model, solver, q: r.q };
  }
}
