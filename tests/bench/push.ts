import { buildBench, limitsAt, solveLoad } from "../../src/core/analyze.ts";
import { speedInCurve } from "../../src/core/cornering.ts";
import type { Load, Scenario } from "../../src/core/design/types.ts";
import { report, reportMs, share } from "./timing.ts";

const HERE: Load = { lateralG: 0.6, bumpLeftMm: 0, bumpRightMm: 0 };
const NEXT: Load = { ...HERE, lateralG: 0.61 };
const PUSH = { throttle: 0.5, brakeG: 0.1 };
const RADIUS_M = 6;
const ROUNDS = 40;
const WARM_UP = 8;
/** solutions to and fro in one measurement */
const PAIRS = 5;
/** The quarter of the rounds that the machine disturbed least is told. */
const CALM = 0.25;
/** processor time, ms: other work on the machine counts less in it */
const cpuMs = (): number => process.cpuUsage().user / 1000;
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
    const both = (push: Partial<Load>): void => {
      once({ ...HERE, ...push });
      once({ ...NEXT, ...push });
    };
    const plain: number[] = [];
    const pushed: number[] = [];
    for (let i = 0; i < ROUNDS + WARM_UP; i++) {
      const t0 = cpuMs();
      for (let k = 0; k < PAIRS; k++) both({});
      const t1 = cpuMs();
      for (let k = 0; k < PAIRS; k++) both(PUSH);
      const t2 = cpuMs();
      if (i < WARM_UP) continue;
      plain.push((t1 - t0) / 2 / PAIRS);
      pushed.push((t2 - t1) / 2 / PAIRS);
    }
    reportMs(`${s.name}: a warm solution with its limits`, share(plain, CALM));
    report("  pushed along the road besides", `${(100 * (share(pushed, CALM) / share(plain, CALM) - 1)).toFixed(1)} % more`, COST_GOAL);
  }
}
