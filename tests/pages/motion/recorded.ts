import { cornerOf } from "../../../src/core/design/sides.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import type { Resting } from "../../../src/pages/motion/moment.ts";
import type { RunName } from "../../../src/pages/motion/run-fields.ts";
import type { Recorded } from "../../../src/pages/motion/story.ts";
import { motionOf } from "../../../src/worker/motion.ts";
import { drawnAt, scenarioFile } from "../../view/fixture.ts";

/** A run as the page gets it. */
export function recordedOf(s: Scenario, run: RunName, numbers: Record<string, number>): Recorded {
  const steps = motionOf({ scenario: s, name: run, numbers });
  for (;;) {
    const next = steps.next();
    if (!next.done) continue;
    if (!next.value.ok) throw new Error(next.value.words);
    return { run, trace: next.value.trace, held: next.value.held };
  }
}

export const restingOf = (scenario: Scenario): Resting => ({
  scenario,
  corners: { left: cornerOf(scenario, "left"), right: cornerOf(scenario, "right") },
  report: drawnAt(scenario, {}).report,
});

/** A car whose wheels are pinned fast and whose stretched bands are weak: in a curve the tyres leave their rims. */
export function weakBands(): Scenario {
  const s = structuredClone(scenarioFile("heavy-cross-pinned"));
  s.corner.tyre.seat = { ...s.corner.tyre.seat, bandTensionN: 8 };
  return s;
}
