import { buildBench } from "../../src/core/analyze.ts";
import type { Load, Scenario } from "../../src/core/design/types.ts";
import { bandAbout, spreadOf } from "../../src/core/doubt/bands.ts";
import { uncertainInputs } from "../../src/core/doubt/inputs.ts";
import { safeDerivatives } from "../../src/core/doubt/safe-order.ts";
import { type SampleQuestion, sampleWorlds } from "../../src/core/doubt/sample.ts";
import { tellSamples } from "../../src/core/doubt/told.ts";
import { toTheEnd } from "../../src/core/steps.ts";
import { safeSpeedOf } from "../../src/core/studies/safe-speed.ts";
import { rangeOf } from "../../src/scenario/ranges.ts";
import { againstFull } from "../support/first-order-check.ts";
import { guessed } from "../support/guessed.ts";
import { inventedWorld } from "../support/invented-world.ts";
import { report } from "./timing.ts";

/** Proofs that cost too much for every test run: derivatives of every input of every car, and how often bands hold the truth. */

const LOADS: readonly Load[] = [
  { lateralG: 0.4, bumpLeftMm: 0, bumpRightMm: 0 },
  { lateralG: 0.25, bumpLeftMm: 0, bumpRightMm: 3, throttle: 0.5 },
];

/** Every output by every input of every car, against full solutions. */
export function proveDerivatives(cars: readonly Scenario[]): void {
  for (const s of cars)
    for (const load of LOADS) {
      const check = againstFull(s, load, { speedMps: 3, leaveOut: [] });
      const words = `${check.compared}, largest difference ${check.most.toExponential(1)}`;
      report(`${s.name}, ${load.lateralG} g${load.throttle ? ", bump and throttle" : ""}`, words, `at most 1e-5, wrong ${check.wrong.length}`);
      report("  inputs left out at a contact's corner; outputs at a tie", `${check.atACorner.join(" ") || "none"}; ${check.ties}`);
      for (const w of check.wrong) report(`  ${w}`, "");
    }
}

const WORLDS = 1000;
const RADIUS_M = 6;

/** Worlds invented by other dice than the sample's, solved in full: how many lie within the 90 % band. */
export function proveCoverage(cars: readonly Scenario[]): void {
  for (const s of cars) {
    const car = guessed(s);
    const inputs = uncertainInputs(car, rangeOf, { drive: false });
    const question: SampleQuestion = { scenario: car, samples: 1024, seed: 1, curve: { radiusM: RADIUS_M, overM: null, options: {} }, at: null };
    const { band } = tellSamples(toTheEnd(sampleWorlds(question, rangeOf))!)!.safe!;
    const d = toTheEnd(safeDerivatives(buildBench(car), inputs, RADIUS_M))!;
    const first = d.by && bandAbout(d.safe.speedMps, spreadOf(inputs, (i) => d.by![i] ?? null).sd);
    let within = 0;
    let withinFirst = 0;
    for (let w = 0; w < WORLDS; w++) {
      const v = safeSpeedOf(buildBench(inventedWorld(inputs, w)), RADIUS_M).speedMps;
      if (v >= band.low && v <= band.high) within++;
      if (first && v >= first.low && v <= first.high) withinFirst++;
    }
    report(`${s.name}: ${WORLDS} invented worlds within the sampled 90 % band`, `${((100 * within) / WORLDS).toFixed(1)} %`, "90 % ± 2 %");
    report("  within that of first order (the car is not straight over guesses so wide)", first ? `${((100 * withinFirst) / WORLDS).toFixed(1)} %` : "none");
  }
}
