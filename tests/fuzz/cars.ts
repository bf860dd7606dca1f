import { analyzeBench, buildBench } from "../../src/core/analyze.ts";
import { cannotStand } from "../../src/core/cannot-stand.ts";
import type { NoEquilibrium, NoEquilibriumKind } from "../../src/core/equilibrium/state.ts";
import { WORK } from "../../src/core/tolerances.ts";
import { parseScenario } from "../../src/scenario/parse.ts";
import { formatScenario } from "../../src/scenario/write.ts";
import { cornerLoads, cornerScenario } from "../support/corner-scenario.ts";
import { notFinite } from "../support/not-finite.ts";

/** What a run over generated cars found. */
export interface CarsReport {
  cars: number;
  /** answers and reasons, by their names: "rest", "solved", or what gave way */
  outcomes: Record<string, number>;
  /** what must never be, each with the seed that makes it again */
  failures: string[];
  /** the dearest searches, Newton steps, dearest first */
  slowest: { seed: number; what: string; steps: number; outcome: string }[];
}

/** Reasons that an answer may have; nobody stops these searches. */
const KINDS: Record<Exclude<NoEquilibriumKind, "stopped">, true> = {
  buckles: true,
  slides: true,
  tips: true,
  locks: true,
  springOutOfReach: true,
  unstable: true,
  laidOver: true,
  unsettled: true,
  cannotBeBuilt: true,
};
const SHOWN = 10;
/** A search looks at its bound between steps, and ends the one it is in: a few trial steps over. */
const OVER = 50;
const REST_BOUND = WORK.rest + WORK.whyNoRest + OVER;
/** points between, the load itself from a neighbour and from rest, the bands */
const LOAD_BOUND = WORK.pathBetween + 800 + WORK.load + WORK.bands + 16 * 10 + OVER;

/** Cars at the corners of the schema, each solved at rest and under several loads. The same seed gives the same report. */
export function fuzzCars(seed: number, count: number): CarsReport {
  const report: CarsReport = { cars: count, outcomes: {}, failures: [], slowest: [] };
  for (let i = seed; i < seed + count; i++) {
    try {
      oneCar(i, report);
    } catch (e) {
      report.failures.push(`seed ${i}: exception: ${e instanceof Error ? (e.stack ?? e.message) : String(e)}`);
    }
  }
  return report;
}

function oneCar(seed: number, report: CarsReport): void {
  const made = cornerScenario(seed);
  const parsed = parseScenario(formatScenario(made), "car.json");
  if (!parsed.ok) {
    report.failures.push(`seed ${seed}: not a valid car: ${parsed.problems[0]?.message}`);
    return;
  }
  const { scenario } = parsed;
  const told = (what: string, reason: NoEquilibrium): void => {
    if (!(reason.kind in KINDS) || reason.message.length < 20 || notFinite(reason).length > 0)
      report.failures.push(`seed ${seed}, ${what}: no named reason: ${JSON.stringify(reason)}`);
  };
  const count = (what: string, outcome: string, steps: number, bound: number): void => {
    report.outcomes[outcome] = (report.outcomes[outcome] ?? 0) + 1;
    report.slowest.push({ seed, what, steps, outcome });
    report.slowest.sort((a, b) => b.steps - a.steps);
    report.slowest.length = Math.min(report.slowest.length, SHOWN);
    if (steps > bound) report.failures.push(`seed ${seed}, ${what}: ${steps} steps, more than ${bound}`);
  };
  const cannot = cannotStand(scenario);
  const bench = buildBench(scenario);
  const { rest } = bench;
  if ((cannot !== null) !== (!rest.ok && rest.reason.kind === "cannotBeBuilt")) report.failures.push(`seed ${seed}: refused in one place only: ${cannot}`);
  count("rest", rest.ok ? "rest" : `rest: ${rest.reason.kind}`, bench.solver.iterations, REST_BOUND);
  if (!rest.ok) {
    told("rest", rest.reason);
    const a = analyzeBench(bench, cornerLoads(seed)[0]!);
    if (a.ok || a.reason.kind !== rest.reason.kind) report.failures.push(`seed ${seed}: another answer than at rest`);
    return;
  }
  for (const [k, load] of cornerLoads(seed).entries()) {
    const before = bench.solver.iterations;
    const a = analyzeBench(bench, load);
    const what = `load ${k}`;
    count(what, a.ok ? "solved" : a.reason.kind, bench.solver.iterations - before, LOAD_BOUND);
    if (!a.ok) told(what, a.reason);
    else {
      const bad = notFinite(a);
      if (bad.length > 0) report.failures.push(`seed ${seed}, ${what}: numbers that are none: ${bad.slice(0, 3).join(", ")}`);
    }
  }
}
