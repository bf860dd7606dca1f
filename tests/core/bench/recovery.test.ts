import { describe, expect, it } from "vitest";
import { fitBench } from "../../../src/core/bench/fit.ts";
import { BENCH_KINDS } from "../../../src/core/design/tried.ts";
import { createRandom } from "../../../src/core/numerics/random.ts";
import { shipped } from "../../support/shipped.ts";
import { resultAt } from "./typed.ts";
import { testOf, worlds } from "./worlds.ts";

/** Share of trials whose 95 % range has to hold the true value. */
const RANGE = 0.95;
/** `TRIALS=1000` tries as many as the promise is made for; few of them tell the share less closely, by the root of their number. */
const PROMISED = 1000;
const WITHIN_PROMISED = 0.02;
const TRIALS = Number(process.env["TRIALS"] ?? 250);
const WITHIN = WITHIN_PROMISED * Math.sqrt(PROMISED / TRIALS);

const all = worlds(shipped("heavy-forked.json"));

describe(`${TRIALS} invented builders for each test`, () => {
  it("every kind of test has its builders", () => {
    expect(all.map((w) => w.kind).sort()).toEqual([...BENCH_KINDS].sort());
  });

  it.each(all)("$kind: the true values lie in the stated 95 % ranges in 95 % of trials", (w) => {
    const ends = Object.keys(w.true);
    const held = Object.fromEntries(ends.map((end) => [end, 0]));
    for (let seed = 1; seed <= TRIALS; seed++) {
      const random = createRandom(10_000 * BENCH_KINDS.indexOf(w.kind) + seed);
      const fit = fitBench(w.design, testOf(w, random));
      for (const end of ends) {
        const [low, high] = resultAt(fit, end).range95;
        const value = w.true[end]!(random);
        if (low <= value && value <= high) held[end]!++;
      }
    }
    for (const end of ends) {
      expect(held[end]! / TRIALS, `${end}: share of ranges that hold the true value`).toBeGreaterThanOrEqual(RANGE - WITHIN);
      expect(held[end]! / TRIALS, `${end}: share of ranges that hold the true value`).toBeLessThanOrEqual(RANGE + WITHIN);
    }
  });
});
