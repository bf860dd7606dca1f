import { analyze, analyzeBench, buildBench } from "../../src/core/analyze.ts";
import type { Load, Scenario } from "../../src/core/design/types.ts";
import { rigTests } from "../../src/core/studies/rig.ts";
import { medianMs, reportMs } from "./timing.ts";

const LOAD: Load = { lateralG: 0.8, bumpLeftMm: 0, bumpRightMm: 0 };

/** The whole answer as page and command line ask for it. */
export function benchAnswer(scenario: Scenario): void {
  const bench = buildBench(scenario);
  const run = (options: Parameters<typeof analyzeBench>[2]) => () => {
    if (!analyzeBench(bench, LOAD, options).ok) throw new Error("no equilibrium");
  };
  reportMs("design ready: budgets, bands, all limits", medianMs(run({}), 60));
  reportMs("  without the bands", medianMs(run({ bands: false }), 60));
  reportMs("  without the bands, 8 steps of loading", medianMs(run({ bands: false, pathSteps: 8 }), 60));
  reportMs(
    "from nothing: design, rest and answer",
    medianMs(() => analyze(scenario, LOAD), 40),
  );
  reportMs(
    "the four rig tests with all curves",
    medianMs(() => rigTests(scenario), 12),
  );
}
