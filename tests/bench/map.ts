import { buildBench } from "../../src/core/analyze.ts";
import type { Scenario } from "../../src/core/design/types.ts";
import { createRandom } from "../../src/core/numerics/random.ts";
import { toTheEnd } from "../../src/core/steps.ts";
import { studyChanges } from "../../src/core/studies/changes.ts";
import { mapPoint } from "../../src/core/studies/map-levels.ts";
import { type SpeedMap, speedMap } from "../../src/core/studies/speed-map.ts";
import { directPoint, safeSpeed } from "../support/whole-studies.ts";
import { median, report, reportMs } from "./timing.ts";

const FIRST_GOAL_MS = 100;

/** Times of the speed map against solving each of its points by itself, and how far both are apart; the scenario is the caller's. */
export function benchMap(scenario: Scenario, rounds = 7): void {
  const firsts: number[] = [];
  const totals: number[] = [];
  let map: SpeedMap | null = null;
  for (let i = 0; i <= rounds; i++) {
    const t0 = performance.now();
    const run = speedMap(scenario);
    let first = 0;
    for (;;) {
      const step = run.next();
      if (first === 0) first = performance.now() - t0;
      if (step.done) {
        map = step.value;
        break;
      }
    }
    // the first round warms up
    if (i > 0) {
      firsts.push(first);
      totals.push(performance.now() - t0);
    }
  }
  const m = map!;
  const b = buildBench(scenario);
  const random = createRandom(7);
  const points = Array.from({ length: 50 }, () => ({ r: 2 * 10 ** random.next(), v: 10 * random.next() }));
  let error = 0;
  let done = 0;
  const t0 = performance.now();
  const direct = points.map((p) => directPoint(b, p.r, p.v));
  const each = (performance.now() - t0) / points.length;
  direct.forEach((d, i) => {
    if (!d.ok) return;
    const p = mapPoint(m, points[i]!.r, points[i]!.v);
    done++;
    for (const l of d.limits) {
      const exact = Math.max(...d.limits.filter((x) => x.name === l.name).map((x) => x.utilization));
      error = Math.max(error, Math.abs(p[l.name] - exact) / Math.max(1, exact));
    }
  });
  const total = median(totals);
  const first = median(firsts);
  const cells = m.worst.length;
  const t1 = performance.now();
  safeSpeed(scenario, 6, "left");
  const safe = performance.now() - t1;
  const t2 = performance.now();
  const changes = toTheEnd(studyChanges(scenario, { radiusM: 6 }));
  const study = performance.now() - t2;
  reportMs("speed map 100 × 100, all limits", total);
  report("  solving each point by itself takes over it", `${((each * cells) / total).toFixed(1)} x`);
  reportMs("first coarse picture of the map", first, FIRST_GOAL_MS);
  report("equilibria solved for the map, and points of the map over them", `${m.solves}, ${(cells / m.solves).toFixed(1)} x`);
  report(`largest error at ${done} random points, of max(1, utilization)`, error.toExponential(1), `stated: ${m.error.utilization.toExponential(1)}`);
  reportMs("safe speed at one radius by root finding", safe);
  reportMs(`what to change first, ${changes?.solved.length ?? 0} designs`, study);
}
