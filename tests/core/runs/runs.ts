import { plainRun, type Run } from "../../../src/core/design/tried.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import { shipped } from "../../support/shipped.ts";

/** A run as a builder tells it, on a circle of 6 m at a speed. */
export const run = (kmh: number, more: Partial<Run> = {}): Run => ({
  ...plainRun(6, "left", { by: "speed", kmh }),
  date: "2026-11-21",
  ...more,
});

export const hubGave = (side: "left" | "right" | null = null): Partial<Run> => ({ gave: [{ limit: "hubRetention", side, at: null }] });

export const car = (runs: Run[], file = "heavy-forked.json"): Scenario => ({ ...shipped(file), runs });
