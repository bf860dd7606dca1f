import { describe, expect, it } from "vitest";
import { MANOEUVRES } from "../../src/motion/manoeuvres.ts";
import { randomScenario } from "../support/arbitrary-scenario.ts";
import { simulateAll } from "../support/whole-run.ts";

/** Seeds of cars of every kind; 9, 15 and 17 are torn apart by the kerb, arms that snap through included. */
const SEEDS = [2, 5, 9, 12, 15, 17];
/** A step that does not close is counted, not hidden: so many of a run's may, and only in a run that ends torn apart. */
const OPEN_STEPS = 2;

describe.each(SEEDS)("a drawn car, seed %i, that is not allowed to break", (seed) => {
  const scenario = randomScenario(seed);
  it.each(MANOEUVRES)("is told in finite numbers to the end, or says that it gave way: %s", (name) => {
    const r = simulateAll(scenario, name, {}, { breaks: false, longestS: 0.6 });
    if (!r.ok) {
      expect(r.reason.message.length).toBeGreaterThan(10);
      return;
    }
    const { trace } = r;
    for (const c of trace.columns) for (const v of c) expect(Number.isFinite(v)).toBe(true);
    for (const e of trace.events) expect(e.message).not.toMatch(/NaN|Infinity|undefined/);
    const gaveWay = trace.events.some((e) => e.kind === "comesApart");
    expect(trace.whole).toBe(!gaveWay);
    expect(trace.health.openSteps).toBeLessThanOrEqual(gaveWay ? OPEN_STEPS : 0);
  });
});
