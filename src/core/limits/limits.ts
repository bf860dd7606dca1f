import type { LimitResult } from "../analysis.ts";
import { SIDES } from "../design/types.ts";
import { armLimits } from "./arms.ts";
import type { LimitContext } from "./context.ts";
import { hubRetention } from "./hub-retention.ts";
import { camberLimit, jointPullOut, sliding, springOnStop, tyreOffRim, wheelLift } from "./wheel.ts";

/** All limits at one solved state, worst first. */
export function allLimits(x: LimitContext): LimitResult[] {
  const out = SIDES.flatMap((side) => [
    hubRetention(x, side),
    ...armLimits(x, side),
    tyreOffRim(x, side),
    jointPullOut(x, side),
    camberLimit(x, side),
    springOnStop(x, side),
  ]);
  out.push(wheelLift(x), sliding(x));
  return out.sort((a, b) => b.utilization - a.utilization);
}

/** The limit with the largest utilization that is no mere caution. */
export function firstToGive(limits: readonly LimitResult[]): LimitResult {
  return limits.find((l) => !l.caution) ?? limits[0]!;
}
