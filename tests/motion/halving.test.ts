import { describe, it } from "vitest";
import { MANOEUVRES, type ManoeuvreName } from "../../src/motion/manoeuvres.ts";
import type { Trace } from "../../src/motion/trace.ts";
import { expectAbs } from "../support/close.ts";
import { SHIPPED, shipped } from "../support/shipped.ts";
import { simulateAll } from "../support/whole-run.ts";

const TWO_PER_CENT = 0.02;
/** Peaks below this are no peaks, by unit of the channel. */
const FLOOR: Record<string, number> = { "°": 0.02, N: 0.1, mm: 0.05 };
const WATCHED = ["camberDeg", "verticalN", "lateralN", "travelMm", "springMm", "retentionN", "jointN", "roadForceN"];

function run(file: string, name: ManoeuvreName, stepsPerSecond?: number): Trace {
  const r = simulateAll(shipped(file), name, {}, { breaks: false, ...(stepsPerSecond ? { stepsPerSecond } : {}) });
  if (!r.ok) throw new Error(r.reason.message);
  return r.trace;
}

/** The cars take turns: a whole run of each with each manoeuvre would take longer than all other tests of the motion. Each car drives two or three. */
const TURNS = 3;

describe.each(SHIPPED.map((file, turn) => [file, turn] as const))("half the step, %s", (file, turn) => {
  it.each(MANOEUVRES.filter((_, i) => (i + turn) % TURNS === 0))("changes no peak by two per cent: %s", (name) => {
    const full = run(file, name);
    const half = run(file, name, 2 * full.stepsPerSecond);
    full.peaks.forEach((p, i) => {
      const key = p.channel.split(".").pop()!;
      if (!WATCHED.includes(key) && p.channel !== "rollDeg" && p.channel !== "heaveMm") return;
      const fine = half.peaks[i]!;
      expectAbs(p.value, fine.value, Math.max(TWO_PER_CENT * Math.abs(fine.value), FLOOR[p.unit]!), `peak of ${p.channel}, ${p.unit}`);
    });
  });
});
