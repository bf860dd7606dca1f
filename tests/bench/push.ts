import { buildBench, limitsAt, solveLoad } from "../../src/core/analyze.ts";
import { speedInCurve } from "../../src/core/cornering.ts";
import type { Load, Scenario } from "../../src/core/design/types.ts";
import { median, report, reportMs } from "./timing.ts";

const HERE: Load = { lateralG: 0.6, bumpLeftMm: 0, bumpRightMm: 0 };
const NEXT: Load = { ...HERE, lateralG: 0.61 };
const PUSH = { throttle: 0.5, brakeG: 0.1 };
const RADIUS_M = 6;
const ROUNDS = 120;
const WARM_UP = 20;
const COST_GOAL = "at most 5 %";

/** A solution from its neighbour with all its limits, pushed along the road and not, in turns so that both meet the same machine. */
export function benchPush(scenarios: readonly Scenario[]): void {
  for (const s of scenarios) {
    const b = buildBench(s);
    const once = (load: Load): void => {
      const r = solveLoad(b, load);
      if (!r.ok) throw new Error(r.reason.message);
      limitsAt(b, r.state, speedInCurve(load.lateralG, RADIUS_M));
    };
    const plain: number[] = [];
    const pushed: number[] = [];
    for (let i = 0; i < ROUNDS + WARM_UP; i++) {
      const t0 = performance.now();
      once(HERE);
      once(NEXT);
      const t1 = performance.now();
      once({ ...HERE, ...PUSH });
      once({ ...NEXT, ...PUSH });
      const t2 = performance.now();
      if (i < WARM_UP) continue;
      plain.push((t1 - t0) / 2);
      pushed.push((t2 - t1) / 2);
    }
    reportMs(`${s.name}: a warm solution with its limits`, median(plain));
    report("  pushed along the road besides", `${(100 * (median(pushed) / median(plain) - 1)).toFixed(1)} % more`, COST_GOAL);
  }
}
