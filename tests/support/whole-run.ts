import type { Scenario } from "../../src/core/design/types.ts";
import { toTheEnd } from "../../src/core/steps.ts";
import type { ManoeuvreName, Params } from "../../src/motion/manoeuvres.ts";
import { type SimulateOptions, type SimulateResult, simulate } from "../../src/motion/simulate.ts";

/** Runs a manoeuvre to its end at once. */
export function simulateAll(scenario: Scenario, name: ManoeuvreName, params: Params = {}, options: SimulateOptions = {}): SimulateResult {
  return toTheEnd(simulate(scenario, name, params, options));
}
