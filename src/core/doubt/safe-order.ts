import { LIMIT_NAMES, type LimitName } from "../analysis.ts";
import { type Bench, solveLoad } from "../analyze.ts";
import { speedInCurve } from "../cornering.ts";
import type { Side } from "../design/types.ts";
import { type CurveOptions, curveOptions, handSign, loadOn } from "../studies/curve-options.ts";
import { type SafeSpeed, safeSpeedOf } from "../studies/safe-speed.ts";
import { derivativeBy, levelStep, tangentAt } from "./first-order.ts";
import type { UncertainInputs } from "./inputs.ts";
import type { OutputKey } from "./outputs.ts";

/**
 * First order of the safe speed: it is where the limit that gives first comes to 1, U(v, p) = 1, so that dv/dp = -(∂U/∂p)/(∂U/∂v) with U's
 * derivatives along the solved positions. Another limit that takes over as an input moves is not seen; sampling sees it.
 */
export interface SafeDerivatives {
  safe: SafeSpeed;
  /** m/s per unit of each input; null where that cannot be told */
  by: readonly (number | null)[] | null;
  /** why `by` is null */
  why: "" | "ends" | "jumps";
}

/** A limit told further from 1 than this has jumped there (a part that falls over in its play): no slope leads to it. */
const JUMPED = 1e-3;

/** The safe speed on a curve with its derivatives; yields between inputs. Null where the car does not stand. */
export function* safeDerivatives(
  b: Bench,
  inputs: UncertainInputs,
  radiusM: number,
  options: Partial<CurveOptions> = {},
  quick = false,
): Generator<number, SafeDerivatives | null> {
  if (!b.rest.ok) return null;
  const o = curveOptions(options);
  const safe = safeSpeedOf(b, radiusM, options);
  const { limit } = safe;
  if (!limit) return { safe, by: null, why: "ends" };
  if (Math.abs(limit.utilization - 1) > JUMPED) return { safe, by: null, why: "jumps" };
  const load = loadOn(o, safe.lateralG);
  const r = solveLoad(b, load);
  if (!r.ok) return { safe, by: null, why: "ends" };
  const leaveOut = LIMIT_NAMES.filter((name) => name !== limit.name);
  const t = tangentAt({ bench: b, load, q: r.q, speedMps: safe.speedMps, shock: o.shock, leaveOut });
  const k = t ? t.keys.indexOf(utilizationKey(limit.name, limit.wheel)) : -1;
  const byLevel = t && levelStep(t, (a) => speedInCurve(a, radiusM))?.by;
  if (!t || !byLevel || k < 0) return { safe, by: null, why: "ends" };
  const perG = byLevel[k]! * handSign(o.hand);
  if (!(perG > 0)) return { safe, by: null, why: "jumps" };
  // v² = a g R
  const speedPerG = safe.speedMps / (2 * safe.lateralG);
  const by: (number | null)[] = [];
  for (const i of inputs.list.keys()) {
    const d = derivativeBy(t, inputs, i, quick);
    by.push(d ? (-d[k]! / perG) * speedPerG : null);
    yield (i + 1) / inputs.list.length;
  }
  return { safe, by, why: "" };
}

/** Name of the output that tells how far a limit is used. */
export const utilizationKey = (limit: LimitName, wheel: Side | "both"): OutputKey => `limit.${limit}.${wheel}.utilization`;
