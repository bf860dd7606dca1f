import { analyzeBench, buildBench } from "../../src/core/analyze.ts";
import { cannotStand } from "../../src/core/cannot-stand.ts";
import type { Load } from "../../src/core/design/types.ts";
import type { NoEquilibrium, NoEquilibriumKind } from "../../src/core/equilibrium/state.ts";
import { WORK } from "../../src/core/tolerances.ts";
import { parseScenario } from "../../src/scenario/parse.ts";
import { formatScenario } from "../../src/scenario/write.ts";
import { cornerLoads, cornerScenario } from "../support/corner-scenario.ts";
import { notFinite } from "../support/not-finite.ts";
import { claim, type Fuzzer, fuzz } from "./fuzzer.ts";

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
/** A search looks at its bound between steps, and ends the one it is in: a few trial steps over. */
const OVER = 50;
export const REST_BOUND = WORK.rest + WORK.whyNoRest + OVER;
/** points between, the load itself from a neighbour and from rest, the bands */
export const LOAD_BOUND = WORK.pathBetween + 800 + WORK.load + WORK.bands + 16 * 10 + OVER;

/** Cars at the corners of the schema, each solved at rest and under several loads; ends are told by rest and load. */
export const fuzzCars: Fuzzer = (seed, count) =>
  fuzz("cars", seed, count, { make: (_, s) => ({ seed: s, text: formatScenario(cornerScenario(s)), loads: cornerLoads(s) }), check: oneCar });

function oneCar({ seed, text, loads }: { seed: number; text: string; loads: readonly Load[] }): Record<string, number> {
  const parsed = parseScenario(text, "car.json");
  claim(parsed.ok, `not a valid car: ${parsed.ok ? "" : parsed.problems[0]?.message}`);
  const { scenario } = parsed;
  const ends: Record<string, number> = {};
  const count = (what: string, outcome: string, steps: number, bound: number): void => {
    ends[outcome] = (ends[outcome] ?? 0) + 1;
    claim(steps <= bound, `${what}: ${steps} steps, more than ${bound}`);
  };
  const told = (what: string, reason: NoEquilibrium): void =>
    claim(reason.kind in KINDS && reason.message.length >= 20 && notFinite(reason).length === 0, `${what}: no named reason: ${JSON.stringify(reason)}`);
  const cannot = cannotStand(scenario);
  const bench = buildBench(scenario);
  const { rest } = bench;
  claim((cannot !== null) === (!rest.ok && rest.reason.kind === "cannotBeBuilt"), `car ${seed} is refused in one place only: ${cannot}`);
  count("rest", rest.ok ? "rest" : `rest: ${rest.reason.kind}`, bench.solver.iterations, REST_BOUND);
  if (!rest.ok) {
    told("rest", rest.reason);
    const a = analyzeBench(bench, loads[0]!);
    claim(!a.ok && a.reason.kind === rest.reason.kind, "another answer than at rest");
    return ends;
  }
  for (const [k, load] of loads.entries()) {
    const before = bench.solver.iterations;
    const a = analyzeBench(bench, load);
    const what = `load ${k}`;
    count(what, a.ok ? "solved" : a.reason.kind, bench.solver.iterations - before, LOAD_BOUND);
    if (!a.ok) told(what, a.reason);
    else claim(notFinite(a).length === 0, `${what}: numbers that are none: ${notFinite(a).slice(0, 3).join(", ")}`);
  }
  return ends;
}
