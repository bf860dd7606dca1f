import type { LimitResult } from "../analysis.ts";
import { SIDES } from "../design/types.ts";
import { armBucklingLimit, armStressLimits } from "./arms.ts";
import type { LimitContext } from "./context.ts";
import { fitLimit } from "./fit.ts";
import { hubHeatLimit } from "./hub-heat.ts";
import { hubRetention } from "./hub-retention.ts";
import { camberLimit, jointPullOut, sliding, springOnStop, tyreOffRim, wheelLift } from "./wheel.ts";

const one = (r: LimitResult | null): LimitResult[] => (r ? [r] : []);

/** All limits at one solved state, worst first. Buckling costs most of the time and may be left out. */
export function allLimits(x: LimitContext, buckling = true): LimitResult[] {
  const out = SIDES.flatMap((side) => [
    hubRetention(x, side),
    ...armStressLimits(x, side),
    ...(buckling ? [armBucklingLimit(x, side)] : []),
    tyreOffRim(x, side),
    jointPullOut(x, side),
    camberLimit(x, side),
    springOnStop(x, side),
    hubHeatLimit(x, side),
    ...one(fitLimit(x, side)),
  ]);
  out.push(wheelLift(x), sliding(x));
  return out.sort((a, b) => b.utilization - a.utilization);
}

/** The limit with the largest utilization that is no mere caution. */
export function firstToGive(limits: readonly LimitResult[]): LimitResult {
  return limits.find((l) => !l.caution) ?? limits[0]!;
}
