import { runTasks, sampleShares } from "../../src/cli/tasks.ts";
import { buildBench, limitContext, solveLoad } from "../../src/core/analyze.ts";
import { speedInCurve } from "../../src/core/cornering.ts";
import type { Scenario } from "../../src/core/design/types.ts";
import { bandsOf, inputsThatMatter } from "../../src/core/doubt/bands.ts";
import { type Derivatives, derivatives, type SolvedPoint } from "../../src/core/doubt/first-order.ts";
import { uncertainInputs } from "../../src/core/doubt/inputs.ts";
import { outputsOf } from "../../src/core/doubt/outputs.ts";
import { safeDerivatives } from "../../src/core/doubt/safe-order.ts";
import { mergeSamples, type SampleQuestion, sampleWorlds } from "../../src/core/doubt/sample.ts";
import { tellSamples } from "../../src/core/doubt/told.ts";
import { toTheEnd } from "../../src/core/steps.ts";
import { rangeOf } from "../../src/scenario/ranges.ts";
import { guessed } from "../support/guessed.ts";
import { medianMs, report, reportMs } from "./timing.ts";

const LOAD = { lateralG: 0.5, bumpLeftMm: 0, bumpRightMm: 0 };
const RADIUS_M = 6;
const SAMPLES = 512;
const FRAME_GOAL_MS = 2;
const SAMPLES_GOAL_MS = 2000;
const FIRST_GOAL_MS = 300;
/** Cores that the goals were set on. */
const JOBS = 2;
/** A picture is one from so many worlds on. */
const PICTURE = 32;

/** What it costs to tell how sure an answer is, of a car of which nothing was measured. */
export async function benchDoubt(plain: Scenario): Promise<void> {
  const s = guessed(plain);
  const inputs = uncertainInputs(s, rangeOf, { drive: false });
  report("uncertain inputs", `${inputs.list.length}`);
  const bench = buildBench(s);
  const r = solveLoad(bench, LOAD);
  if (!r.ok) throw new Error(r.reason.message);
  const speedMps = speedInCurve(LOAD.lateralG, RADIUS_M);
  const point: SolvedPoint = { bench, load: LOAD, q: r.q, speedMps, shock: 1, leaveOut: ["armBuckling", "fit"] };
  const d = toTheEnd(derivatives(point, inputs)) as Derivatives;
  const matter = inputsThatMatter(inputs, d);
  const now = outputsOf(limitContext(bench, r.state, speedMps)!, r.q, 1, ["armBuckling", "fit"]);
  reportMs(
    "live band, on top of a dragged frame: bands about its numbers",
    medianMs(() => bandsOf(inputs, d, now), 200),
    FRAME_GOAL_MS,
  );
  report("  inputs that matter, whose derivatives are taken anew beside the page", `${matter.length}`);
  reportMs(
    "  those derivatives, from one side (beside the page)",
    medianMs(() => toTheEnd(derivatives(point, inputs, { wanted: matter, before: d, quick: true })), 20),
  );
  reportMs(
    "exact derivatives by all inputs, all limits but buckling and fit",
    medianMs(() => toTheEnd(derivatives(point, inputs)), 12),
  );
  reportMs(
    "  of the safe speed, its search included",
    medianMs(() => toTheEnd(safeDerivatives(bench, inputs, RADIUS_M)), 12),
  );
  reportMs(
    "uncertain inputs listed",
    medianMs(() => uncertainInputs(s, rangeOf), 30),
  );

  const question: SampleQuestion = { scenario: s, samples: SAMPLES, seed: 1, curve: { radiusM: RADIUS_M, overM: [2, 20], options: {} }, at: null };
  const run = sampleWorlds(question, rangeOf);
  const t0 = process.cpuUsage();
  let step = run.next();
  for (let n = 1; n < PICTURE / JOBS && !step.done; n++) step = run.next();
  const toFirst = process.cpuUsage(t0);
  reportMs(`safe speed sampled: first picture, its share of ${PICTURE} worlds (nothing warmed up)`, (toFirst.user + toFirst.system) / 1000, FIRST_GOAL_MS);
  toTheEnd(run);
  const cpu = process.cpuUsage();
  toTheEnd(sampleWorlds(question, rangeOf));
  const used = process.cpuUsage(cpu);
  reportMs(`  ${SAMPLES} worlds, processor time on one core`, (used.user + used.system) / 1000);
  for (const round of ["cold", "again"]) {
    // what both cores worked, over two: on a machine with nothing else to do that is how long it takes
    const before = process.cpuUsage();
    const parts = await runTasks(
      sampleShares(JOBS).map((share) => ({ kind: "sample" as const, question, share })),
      JOBS,
      () => undefined,
    );
    const both = process.cpuUsage(before);
    const ms = (both.user + both.system) / 1000 / JOBS;
    const told = tellSamples(mergeSamples(parts.map((p) => p!)))!.safe!;
    reportMs(`  ${SAMPLES} worlds in ${JOBS} workers, their start included (${round}): processor time over ${JOBS}`, ms, SAMPLES_GOAL_MS);
    report("    90 % of them, to drive at most, m/s", `${told.band.low.toFixed(2)} to ${told.band.high.toFixed(2)}, ${told.atMost.speedMps.toFixed(2)}`);
  }
}
