import type { Run } from "../../../src/core/design/tried.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import { shipped } from "../../support/shipped.ts";

/** A run as a builder tells it, on a circle of 6 m at a speed. */
export const run = (kmh: number, more: Partial<Run> = {}): Run => ({
  date: "2026-11-21",
  note: "",
  radiusM: 6,
  hand: "left",
  pace: { by: "speed", kmh },
  grip: null,
  bumpMm: 0,
  minutes: null,
  gave: [],
  hub: null,
  airCelsius: 20,
  taken: false,
  ...more,
});

export const hubGave = (side: "left" | "right" | null = null): Partial<Run> => ({ gave: [{ limit: "hubRetention", side, at: null }] });

export const car = (runs: Run[], file = "heavy-forked.json"): Scenario => ({ ...shipped(file), runs });
