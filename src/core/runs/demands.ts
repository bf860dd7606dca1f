import { LIMIT_NAMES, type LimitName, type LimitResult } from "../analysis.ts";
import { type Bench, buildBench, limitContext, solveLoad } from "../analyze.ts";
import { withValueAt } from "../design/field-path.ts";
import type { Run } from "../design/tried.ts";
import { type Scenario, SIDES, type Side } from "../design/types.ts";
import type { NoEquilibrium } from "../equilibrium/state.ts";
import { armStressOf } from "../limits/arms.ts";
import { cornerOfContext, type LimitContext } from "../limits/context.ts";
import { hubFrictionAt, hubHeat } from "../limits/hub-heat.ts";
import { hubRetention } from "../limits/hub-retention.ts";
import { allLimits } from "../limits/limits.ts";
import { jointPullN } from "../limits/push.ts";
import { LIMITS } from "../limits/records.ts";
import { tyreHoldN } from "../limits/wheel.ts";
import { type Driven, drivenIn, runLoad } from "./pace.ts";
import { type Strength, strengthsOf } from "./strengths.ts";

/**
 * What runs asked of a design's parts, told as the value of each number of `strengthsOf` at which the part would just have held: one solved
 * load for each run, and two beside it that tell how sharp the number is.
 */

/** A value in the unit of the strength's field (of the friction in the hub: for each kelvin above the air), with how sharply the run tells it (standard deviation as a share of it). */
export interface Asked {
  at: number;
  share: number;
}

export interface RunDemand {
  driven: Driven;
  /** for each strength, side by side; a side that the strength does not hold for, or that asks nothing of it, is missing */
  asked: Partial<Record<Side, Asked>>[];
  /** the limits at the run's load, worst first, but for dear ones that did not give; none where there is no equilibrium */
  limits: LimitResult[];
  /** why the model has no steady position at the run's load; null: it has one */
  noHold: NoEquilibrium | null;
}

/** Grip does not change how the axle stands; told so high, runs beyond the grip that the design has still have an answer. */
const GRIP_OF_ANY = 3;

/** A bench on which runs are looked at: the design on tyres that do not let go. */
function runBench(s: Scenario): Bench {
  let sticky = s;
  for (const home of ["corner", "left", "right"] as const)
    if (home === "corner" || s[home].tyre?.friction !== undefined) sticky = withValueAt(sticky, [home, "tyre", "friction"], GRIP_OF_ANY);
  return buildBench(sticky);
}

/** Temperatures of the hub to the hand, °C: below, between, above (common practice, no source: held for long up to some 45 °C). */
export const FELT_C = { warm: 30, hot: 45 } as const;

/** Share of its steady rise that the hub has after a run; 1 where nobody told how long it was. */
const warmed = (minutes: number | null, warmingS: number): number => (minutes === null ? 1 : 1 - Math.exp((-60 * minutes) / warmingS));

/** The value of a strength at which the part just holds what this state asks for; 0 and below: nothing is asked. */
function askedAt(x: LimitContext, side: Side, strength: Strength, run: Run): number {
  const { c, s } = cornerOfContext(x, side);
  switch (strength.limit) {
    case "hubRetention": {
      const r = hubRetention(x, side);
      return (strength.value * r.demand) / r.capacity;
    }
    case "jointPullOut":
      return jointPullN(x, side, strength.at as "upperInner");
    case "armYield":
      return armStressOf(x, side, strength.at as "upper").yields.demand;
    case "sliding":
      return s.tyre.verticalN > 0 ? Math.abs(s.tyre.lateralN) / s.tyre.verticalN : 0;
    case "tyreOffRim": {
      const { seat } = c.corner.tyre;
      const demand = Math.abs(s.tyre.lateralN);
      if (seat.kind !== "stretchedBand") return demand - tyreHoldN({ ...seat, extraHoldN: 0 }, x.speedMps);
      return demand / (2 * Math.PI * seat.friction) + seat.bandMassGPerMm * x.speedMps ** 2;
    }
    case "hubHeat": {
      // the rise grows with the friction: this is the one that would bring the hub a kelvin above the air
      const { heat } = c.corner.hub;
      const h = hubHeat(hubFrictionAt(x, side), heat, x.speedMps, c.corner.wheel.radiusMm, run.airCelsius);
      const rise = (h.steadyC - run.airCelsius) * warmed(run.minutes, h.warmingS);
      return rise > 0 ? strength.value / rise : 0;
    }
    default:
      return 0;
  }
}

type Solved = { ok: true; x: LimitContext } | { ok: false; reason: NoEquilibrium };

function solved(b: Bench, run: Run, lateralG: number, speedMps: number): Solved {
  const r = solveLoad(b, runLoad(run, lateralG));
  return r.ok ? { ok: true, x: limitContext(b, r.state, speedMps)! } : r;
}

/** Dear to tell, and only asked for where they gave. */
const DEAR: readonly LimitName[] = ["fit", "armBuckling"];

/** What one run asked of each of these strengths. */
function demandOf(b: Bench, run: Run, strengths: readonly Strength[]): RunDemand {
  const driven = drivenIn(run);
  const here = solved(b, run, driven.lateralG, driven.speedMps);
  if (!here.ok) return { driven, asked: strengths.map(() => ({})), limits: [], noHold: here.reason };
  // the hub's heat hangs on the speed, too: a run told too slow was too slow by half that share
  const beside = [1, -1].map((way) => solved(b, run, driven.lateralG * (1 + way * driven.share), driven.speedMps * (1 + (way * driven.share) / 2)));
  const asked = strengths.map((strength) => {
    const sides: RunDemand["asked"][number] = {};
    for (const side of SIDES) {
      if (!strength.sides.includes(side)) continue;
      const at = askedAt(here.x, side, strength, run);
      if (!(at > 0)) continue;
      const near = beside.flatMap((o) => {
        const v = o.ok ? askedAt(o.x, side, strength, run) : 0;
        return v > 0 ? [Math.abs(Math.log(v / at))] : [];
      });
      sides[side] = { at, share: near.length > 0 ? near.reduce((a, v) => a + v, 0) / near.length : driven.share };
    }
    return sides;
  });
  const leaveOut = DEAR.filter((name) => !run.gave.some((g) => g.limit === name));
  return { driven, asked, limits: allLimits(here.x, leaveOut), noHold: null };
}

/** What each run asked of each strength, in their order. */
export function runDemands(s: Scenario, runs: readonly Run[], strengths: readonly Strength[]): RunDemand[] {
  const b = runBench(s);
  return runs.map((run) => demandOf(b, run, strengths));
}

/** What is to be explained: a strength of some sides, or a limit that no number of the design holds alone. */
export interface Questioned {
  limit: LimitName;
  at: Strength["at"];
  sides: readonly Side[];
}

/**
 * How far what is questioned is used at a run's load, by the model: 1 = it just gives; null: it cannot be told. Where the axle has no steady
 * position there, the run's load over the one at which it ends.
 * @param times the run's cornering was this many times what was told
 */
export function usedInRun(s: Scenario, run: Run, about: Questioned, times = 1): number | null {
  const driven = drivenIn(run);
  const r = solved(runBench(s), run, driven.lateralG * times, driven.speedMps * Math.sqrt(times));
  if (!r.ok) {
    const end = Math.abs(r.reason.atLoad.lateralG);
    return end > 0 ? (driven.lateralG * times) / end : null;
  }
  const strengths = strengthsOf(s).filter((t) => t.limit === about.limit && t.at === about.at);
  const used = strengths.flatMap((t) => t.sides.filter((side) => about.sides.includes(side)).map((side) => askedAt(r.x, side, t, run) / t.value));
  if (strengths.length > 0) return Math.max(0, ...used);
  const told = allLimits(
    r.x,
    LIMIT_NAMES.filter((name) => name !== (about.limit === "armSet" ? "armYield" : about.limit)),
  ).filter((l) => l.name === about.limit && (l.wheel === "both" || LIMITS[l.name].per === "axle" || about.sides.includes(l.wheel)));
  return told.length > 0 ? Math.max(...told.map((l) => l.utilization)) : null;
}
