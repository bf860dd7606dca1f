import { buildBench, solveLoad } from "../core/analyze.ts";
import type { Load, Scenario, Side } from "../core/design/types.ts";
import { radToDeg } from "../core/units.ts";

export interface LeansRequest {
  scenarios: readonly Scenario[];
  load: Load;
  side: Side;
}

/** Lean of one wheel, degrees, for each design under the load; null where it finds no equilibrium. */
export function leansOf(r: LeansRequest): (number | null)[] {
  return r.scenarios.map((scenario) => {
    const solved = solveLoad(buildBench(scenario), r.load);
    if (!solved.ok) return null;
    return (r.side === "right" ? -1 : 1) * radToDeg(solved.state[r.side].wheelAngleRad);
  });
}
