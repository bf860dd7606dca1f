import type { LimitName, LimitResult } from "../analysis.ts";
import { LIMITS } from "./records.ts";

/**
 * Road shock: the peak of the road's force on a wheel over its steady value.
 *
 * A knock is over before body, springs and lean can follow (some hundredths of a second against some tenths), so the position is kept and all
 * forces between road and body grow together by the factor: the usual dynamic load factor of quasi-static strength checks. What is proportional to force
 * takes the factor: what the hub holds, arm stress and buckling, joints, the tyre on its rim. Lean, spring travel, lift, grip, fit and heat do not.
 * Weight and inertia of the wheel itself are taken to grow too, which is a few per cent on the safe side.
 * A bump that is rolled over slowly is another matter: it belongs to the load (road height under each wheel).
 */
export const shockOn = (name: LimitName, shock: number): number => (LIMITS[name].growsWithForce ? shock : 1);

/** The limits under a shock, worst first. */
export function underShock(limits: readonly LimitResult[], shock: number): LimitResult[] {
  if (shock === 1) return [...limits];
  return limits
    .map((l) => {
      const k = shockOn(l.name, shock);
      return { ...l, demand: l.demand * k, utilization: l.utilization * k };
    })
    .sort((a, b) => b.utilization - a.utilization);
}
