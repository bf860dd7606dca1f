import { describe, expect, it } from "vitest";
import type { Load } from "../../../src/core/design/types.ts";
import { assemble, residualSize } from "../../../src/core/equilibrium/assemble.ts";
import { factor } from "../../../src/core/equilibrium/condense.ts";
import { type AxleModel, buildAxle } from "../../../src/core/equilibrium/model.ts";
import { createSolver, FINAL_BLEND, solveAt } from "../../../src/core/equilibrium/newton.ts";
import { readState } from "../../../src/core/equilibrium/readout.ts";
import { gripG, REST, solveCold } from "../../../src/core/equilibrium/solve.ts";
import type { NoEquilibriumKind } from "../../../src/core/equilibrium/state.ts";
import { MOMENT_ARM_MM, RESIDUAL_SHARE } from "../../../src/core/tolerances.ts";
import { randomScenario } from "../../support/arbitrary-scenario.ts";
import { randomLoad } from "../../support/axle-states.ts";
import { notFinite } from "../../support/not-finite.ts";

const CARS = 2000;
/** Every twentieth car is asked for more than its tyres hold. */
const BEYOND_GRIP = 20;

/** What a reason must say: which thing gave way, never just that the search failed. */
const WORDS: Record<NoEquilibriumKind, RegExp> = {
  buckles: /arms? buckles?/,
  slides: /tyres let go/,
  tips: /tips/,
  locks: /lock/,
  springOutOfReach: /spring/,
  unstable: /wheel folds (under|over)/,
  laidOver: /wheel is laid over .* leans more than 45°/,
  // a sensible car is never left undecided
  unsettled: /^never$/,
  stopped: /^never$/,
  cannotBeBuilt: /^never$/,
};

/** Beyond this lean a wheel lies on its side, ° */
const LIES_DEG = 45;

/** Whether the car, put down from its rest or from a curve the other way, finds a stable rest standing on wheels that are on the right way round. */
function restsElsewhere(model: AxleModel, load: Load): boolean {
  const starts: Load[] = [REST, { ...REST, lateralG: -load.lateralG }];
  return starts.some((from) => {
    const r = solveCold(model, from);
    if (!r.ok) return false;
    const s = createSolver(model);
    const stable = solveAt(s, r.q, load) && s.sys.detSign > 0;
    const standing = model.corners.every((c) => Math.abs(r.q[c.base + 2]! + r.q[c.base + 3]! + c.staticTurn) < (LIES_DEG * Math.PI) / 180);
    return stable && standing && Math.cos(r.q[1]!) > 0.25 && model.corners.every((c) => Math.cos(r.q[c.base + 2]! - r.q[1]!) > 0.25);
  });
}

describe("robustness", () => {
  it(`solves ${CARS} cars at loads up to their limits, or names what gives way`, () => {
    const counts: Record<string, number> = { solved: 0 };
    const short: string[] = [];
    for (let seed = 0; seed < CARS; seed++) {
      const model = buildAxle(randomScenario(seed));
      const beyond = seed % BEYOND_GRIP === BEYOND_GRIP - 1;
      const load = randomLoad(seed, gripG(model));
      if (beyond) load.lateralG = Math.sign(load.lateralG) * (gripG(model) + 0.05);
      const solver = createSolver(model);
      const r = solveCold(model, load, solver);
      if (r.ok) {
        counts["solved"] = counts["solved"]! + 1;
        expect(beyond, `seed ${seed}: solved beyond its grip`).toBe(false);
        expect(notFinite(readState(model, r.q, load)), `seed ${seed}: numbers that are none`).toEqual([]);
        assemble(model, r.q, load, FINAL_BLEND, solver.r, solver.sys, solver.ws);
        expect(residualSize(model, solver.r, MOMENT_ARM_MM), `seed ${seed}: residual, N`).toBeLessThanOrEqual(RESIDUAL_SHARE * model.totalWeight);
        factor(solver.sys);
        expect(solver.sys.detSign, `seed ${seed}: stable`).toBe(1);
        continue;
      }
      const { kind, message, atLoad } = r.reason;
      counts[kind] = (counts[kind] ?? 0) + 1;
      if (kind !== "slides") short.push(`seed ${seed}: ${message}`);
      expect(message, `seed ${seed}, ${kind}`).toMatch(WORDS[kind]);
      expect(notFinite(r.reason), `seed ${seed}: numbers that are none`).toEqual([]);
      if (kind !== "slides") expect(restsElsewhere(model, load), `seed ${seed}: stands upright after all when it comes from elsewhere`).toBe(false);
      // it gives way on the way to the load, not beyond it
      expect(Math.abs(atLoad.lateralG), `seed ${seed}: load at which it gives way, g`).toBeLessThanOrEqual(Math.abs(load.lateralG) + 1e-9);
    }
    console.log(`${CARS} cars: ${JSON.stringify(counts)}\n${short.join("\n")}`);
    expect(Object.values(counts).reduce((a, b) => a + b)).toBe(CARS);
    // nearly all valid cars stand; a search that gives up early would show here
    expect(counts["solved"]).toBeGreaterThan(0.92 * CARS);
    expect(counts["slides"]).toBeGreaterThan(0.04 * CARS);
  });
});
