import type { LimitName, LimitResult } from "../analysis.ts";
import { SIDES, type Side } from "../design/types.ts";
import { armBucklingLimit, armStressLimits } from "./arms.ts";
import { belowRoad } from "./below-road.ts";
import type { LimitContext } from "./context.ts";
import { fitLimit } from "./fit.ts";
import { hubHeatLimit } from "./hub-heat.ts";
import { hubRetention } from "./hub-retention.ts";
import { axisTilt, camberLimit, jointPullOut, sliding, springOnStop, tyreOffRim, wheelLift, wheelShift } from "./wheel.ts";

type Tells = { each: (x: LimitContext, side: Side) => LimitResult | LimitResult[] | null } | { once: (x: LimitContext) => LimitResult };

/** What tells each limit; none can be forgotten. */
const TELLS: Record<LimitName, Tells> = {
  hubRetention: { each: hubRetention },
  armYield: { each: armStressLimits },
  // told along with the yield, from the same stress
  armSet: { each: () => null },
  armBuckling: { each: armBucklingLimit },
  tyreOffRim: { each: tyreOffRim },
  jointPullOut: { each: jointPullOut },
  camber: { each: camberLimit },
  springOnStop: { each: springOnStop },
  hubHeat: { each: hubHeatLimit },
  fit: { each: fitLimit },
  belowRoad: { each: belowRoad },
  wheelShift: { each: wheelShift },
  axisTilt: { each: axisTilt },
  wheelLift: { once: wheelLift },
  sliding: { once: sliding },
};

/** All limits at one solved state, worst first, but for those that `leaveOut` names: the buckling of the arms and the fit cost most of the time. */
export function allLimits(x: LimitContext, leaveOut: readonly LimitName[] = []): LimitResult[] {
  const asked = (Object.entries(TELLS) as [LimitName, Tells][]).filter(([name]) => !leaveOut.includes(name));
  const each = SIDES.flatMap((side) => asked.flatMap(([, t]) => ("each" in t ? (t.each(x, side) ?? []) : [])));
  const once = asked.flatMap(([, t]) => ("once" in t ? [t.once(x)] : []));
  return [...each, ...once].sort((a, b) => b.utilization - a.utilization);
}

/** The limit with the largest utilization that is no mere caution. */
export function firstToGive(limits: readonly LimitResult[]): LimitResult {
  return limits.find((l) => !l.caution) ?? limits[0]!;
}
