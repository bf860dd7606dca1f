import { type Bench, limitContext, solveLoad } from "../analyze.ts";
import { lateralGAt } from "../cornering.ts";
import { cornerOf } from "../design/sides.ts";
import { SIDES, type Side } from "../design/types.ts";
import { REST } from "../equilibrium/solve.ts";
import type { LimitContext } from "../limits/context.ts";
import { type HeatPoint, heatOverDrive, hubFrictionAt, hubHeat } from "../limits/hub-heat.ts";

/** Share of a drive's time that is spent in the curve (common practice, no source: half a lap on a small track). */
export const CURVE_SHARE = 0.5;

/**
 * Temperature of each hub over a drive of some minutes: half of it in a left-hand curve, half straight on, all at one speed.
 * @param radiusM radius of the curve, m; @param speedMps speed, m/s
 * @returns points from the start to the end, or null when the car finds no steady position in that curve
 */
export function hubsOverDrive(b: Bench, radiusM: number, speedMps: number, minutes: number, steps = 5): Record<Side, HeatPoint[]> | null {
  const curve = solveLoad(b, { ...REST, lateralG: lateralGAt(speedMps, radiusM) });
  if (!curve.ok || !b.rest.ok) return null;
  const inCurve = limitContext(b, curve.state, speedMps);
  const straight = limitContext(b, b.rest.state, speedMps);
  if (!inCurve || !straight) return null;
  return Object.fromEntries(
    SIDES.map((side) => {
      const c = cornerOf(b.scenario, side);
      const heat = (x: LimitContext) => hubHeat(hubFrictionAt(x, side), c.hub.heat, speedMps, c.wheel.radiusMm);
      return [side, heatOverDrive(heat(inCurve), heat(straight), c.hub, CURVE_SHARE, minutes, steps)];
    }),
  ) as Record<Side, HeatPoint[]>;
}
