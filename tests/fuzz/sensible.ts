import type { Load } from "../../src/core/design/types.ts";
import { assemble, residualSize } from "../../src/core/equilibrium/assemble.ts";
import { factor } from "../../src/core/equilibrium/condense.ts";
import { type AxleModel, buildAxle } from "../../src/core/equilibrium/model.ts";
import { createSolver, FINAL_BLEND, solveAt } from "../../src/core/equilibrium/newton.ts";
import { readState } from "../../src/core/equilibrium/readout.ts";
import { gripG, REST, solveCold } from "../../src/core/equilibrium/solve.ts";
import type { NoEquilibriumKind } from "../../src/core/equilibrium/state.ts";
import { MOMENT_ARM_MM, RESIDUAL_SHARE } from "../../src/core/tolerances.ts";
import { randomScenario } from "../support/arbitrary-scenario.ts";
import { randomLoad } from "../support/axle-states.ts";
import { notFinite } from "../support/not-finite.ts";
import { claim, type Fuzzer, fuzz } from "./fuzzer.ts";

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

/** Sensible cars at loads up to their limits are solved, stable and in balance, or what gives way is named; nearly all of them stand. */
export const fuzzSensible: Fuzzer = (seed, count) => fuzz("sensible", seed, count, { make: (_, s) => s, check: oneSensible });

function oneSensible(seed: number): NoEquilibriumKind | "solved" {
  const model = buildAxle(randomScenario(seed));
  const beyond = seed % BEYOND_GRIP === BEYOND_GRIP - 1;
  const load = randomLoad(seed, gripG(model));
  if (beyond) load.lateralG = Math.sign(load.lateralG) * (gripG(model) + 0.05);
  const solver = createSolver(model);
  const r = solveCold(model, load, solver);
  if (r.ok) {
    claim(!beyond, "solved beyond its grip");
    claim(notFinite(readState(model, r.q, load)).length === 0, "numbers that are none");
    assemble(model, r.q, load, FINAL_BLEND, solver.r, solver.sys, solver.ws);
    const left = residualSize(model, solver.r, MOMENT_ARM_MM);
    claim(left <= RESIDUAL_SHARE * model.totalWeight, `residual of ${left} N`);
    factor(solver.sys);
    claim(solver.sys.detSign === 1, "solved, but not stable");
    return "solved";
  }
  const { kind, message, atLoad } = r.reason;
  claim(WORDS[kind].test(message), `${kind} is told as: ${message}`);
  claim(notFinite(r.reason).length === 0, "a reason with numbers that are none");
  if (kind !== "slides") claim(!restsElsewhere(model, load), `stands upright after all when it comes from elsewhere: ${message}`);
  // it gives way on the way to the load, not beyond it
  claim(Math.abs(atLoad.lateralG) <= Math.abs(load.lateralG) + 1e-9, `gives way at ${atLoad.lateralG} g, asked for ${load.lateralG} g`);
  return kind;
}
