import { LIMIT_NAMES, type LimitName } from "../analysis.ts";
import { SIDES, type Side } from "../design/types.ts";
import { camberRad } from "../equilibrium/readout.ts";
import { wheelTravelMm } from "../equilibrium/wheel-travel.ts";
import type { LimitContext } from "../limits/context.ts";
import { allLimits } from "../limits/limits.ts";
import { wheelPush } from "../limits/push.ts";
import { underShock } from "../limits/shock.ts";
import { radToDeg } from "../units.ts";

/** The numbers of an answer that carry a band, by name: what sampling and first order both tell. */
export type OutputKey =
  | "rollDeg"
  | "heaveMm"
  | `${"camberDeg" | "verticalLoadN" | "wheelTravelMm" | "wheelShiftMm" | "axisTiltDeg"}.${Side}`
  | `limit.${LimitName}.${Side | "both"}.${"demand" | "capacity" | "utilization"}`;

export type Outputs = Map<OutputKey, number>;

/** Reads them off a solved state. @param q its unknowns @param shock see limits/shock.ts */
export function outputsOf(x: LimitContext, q: Float64Array, shock: number, leaveOut: readonly LimitName[]): Outputs {
  const out: Outputs = new Map([
    ["rollDeg", radToDeg(-x.state.body.angleRad)],
    ["heaveMm", x.state.body.heaveMm],
  ]);
  SIDES.forEach((side, i) => {
    const s = x.state[side];
    out.set(`camberDeg.${side}`, radToDeg(camberRad(x.model, q, i as 0 | 1)));
    out.set(`verticalLoadN.${side}`, s.tyre.verticalN);
    out.set(`wheelTravelMm.${side}`, wheelTravelMm(x.model, x.state, side));
    const push = wheelPush(x, side);
    if (!push) return;
    out.set(`wheelShiftMm.${side}`, push.wheelShiftMm);
    out.set(`axisTiltDeg.${side}`, push.axisTiltDeg);
  });
  for (const l of underShock(allLimits(x, leaveOut), shock)) {
    const at = `limit.${l.name}.${l.wheel}` as const;
    out.set(`${at}.demand`, l.demand);
    out.set(`${at}.capacity`, l.capacity);
    out.set(`${at}.utilization`, l.utilization);
  }
  return out;
}

/** The limit that a name of an output tells of, with the wheel; null for what is no limit. */
export function limitOf(key: string): { limit: LimitName; wheel: Side | "both"; what: string } | null {
  const [, limit, wheel, what] = /^limit\.(\w+)\.(\w+)\.(\w+)$/.exec(key) ?? [];
  if (limit === undefined || !LIMIT_NAMES.includes(limit as LimitName)) return null;
  return { limit: limit as LimitName, wheel: wheel as Side | "both", what: what! };
}
