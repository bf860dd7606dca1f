import { resolveMaterial } from "../arm/materials.ts";
import { cornerOf } from "../design/sides.ts";
import type { Run } from "../design/tried.ts";
import { type Scenario, SIDES, type Side } from "../design/types.ts";
import { fitStrength, NORMAL } from "../numerics/censored.ts";
import { normalQuantile } from "../numerics/distributions.ts";
import { blurred, type Posterior, posterior, quantileOf, type SeenWithin } from "../numerics/posterior.ts";
import { type Asked, FELT_C, type RunDemand, runDemands } from "./demands.ts";
import { type Strength, strengthsOf } from "./strengths.ts";

/**
 * What runs tell of a design's parts. A run that held says that the part takes more than was asked of it, one that it gave in says less: censored
 * observations of the part's strength, whose prior is what such parts scatter by, or what the bench told. All in logarithms: strengths are
 * above 0, and loads are off by shares of themselves.
 */

/** One thing that one run tells of one strength. */
export interface Told {
  /** index of the run */
  run: number;
  kind: "held" | "gave" | "between" | "exact";
  /** values of the strength, its field's unit; `high` only for `between` */
  at: number;
  high?: number;
  /** standard deviation of `at`, as a share */
  share: number;
  /** sides that it is about */
  sides: readonly Side[];
}

export interface Belief {
  value: number;
  sd: number;
  /** 95 % range */
  low: number;
  high: number;
}

export interface StrengthTold {
  strength: Strength;
  told: Told[];
  before: Belief;
  after: Belief;
  /** by the runs alone, whatever was known before: value and standard error; null: nothing held, or nothing gave */
  alone: { value: number; sd: number } | null;
  /** the runs moved the value or narrowed it by enough to be worth taking */
  worth: boolean;
}

export interface RunsTold {
  /** indices of the runs that count: those that were not taken into the design yet */
  counted: number[];
  demands: RunDemand[];
  strengths: StrengthTold[];
}

/** What one run's load is off by besides its speed and line: dust, unevenness, wear; share, one standard deviation (common practice, no source). */
const RUN_SHARE = 0.03;
/** What the model's loads are off by in all runs alike, share, one standard deviation (common practice, no source). */
export const MODEL_SHARE = 0.05;
/** A thermometer held to the hub at once after the run, K, one standard deviation. */
const THERMOMETER_K = 3;
/** The heat of a hub is worked out more roughly than forces are, share. */
const HEAT_SHARE = 0.1;

/** A range is narrower, or its middle moved, by at least this share of what it was. */
const WORTH = 0.05;

/** How much a load at which it held or gave is off by, in all. */
const shareOf = (a: Asked): number => Math.hypot(a.share, RUN_SHARE);

const largest = (asked: RunDemand["asked"][number], sides: readonly Side[]): Asked | null =>
  sides.reduce<Asked | null>((most, side) => {
    const a = asked[side];
    return a && (!most || a.at > most.at) ? a : most;
  }, null);

/** The strength that a thing that gave belongs to: the one that is named, else the one nearest to giving. */
function blamed(gave: Run["gave"][number], demand: RunDemand, strengths: readonly Strength[]): number {
  let worst = -1;
  let most = 0;
  strengths.forEach((s, i) => {
    if (s.limit !== gave.limit || (gave.at !== null && s.at !== null && s.at !== gave.at)) return;
    const a = largest(demand.asked[i]!, gave.side === null ? SIDES : [gave.side]);
    if (a && a.at / s.value > most) {
      most = a.at / s.value;
      worst = i;
    }
  });
  return worst;
}

/** What one run tells of the hub's friction: it must have brought the hub to what was felt. */
function heatTold(s: Scenario, run: Run, index: number, demand: RunDemand["asked"][number]): Told[] {
  // the hotter hub is the one that was felt
  const hotter = SIDES.filter((side) => demand[side] !== undefined).sort((a, b) => demand[a]!.at - demand[b]!.at)[0];
  if (!hotter) return [];
  const sides = [hotter];
  const per = demand[hotter]!;
  const share = Math.hypot(shareOf(per), HEAT_SHARE);
  const friction = (celsius: number): number => per.at * Math.max(0, celsius - run.airCelsius);
  const above = (celsius: number): Told[] => (friction(celsius) > 0 ? [{ run: index, kind: "held", at: friction(celsius), share, sides }] : []);
  if (run.hub !== null && "celsius" in run.hub) {
    const rise = run.hub.celsius - run.airCelsius;
    if (!(rise > THERMOMETER_K)) return [];
    // without the time it was still getting warmer: the friction is at least this
    return run.minutes === null
      ? above(run.hub.celsius)
      : [{ run: index, kind: "exact", at: friction(run.hub.celsius), share: Math.hypot(share, THERMOMETER_K / rise), sides }];
  }
  if (run.gave.some((g) => g.limit === "hubHeat")) return above(resolveMaterial(cornerOf(s, hotter).hub.heat.material).maxTempC);
  if (run.hub === null) return [];
  const { felt } = run.hub;
  if (felt === "hot") return above(FELT_C.hot);
  if (felt === "warm" && run.minutes === null) return above(FELT_C.warm);
  if (run.minutes === null) return [];
  const high = friction(felt === "warm" ? FELT_C.hot : FELT_C.warm);
  const low = felt === "warm" ? friction(FELT_C.warm) : 0;
  if (!(high > 0)) return [];
  return low > 0 ? [{ run: index, kind: "between", at: low, high, share, sides }] : [{ run: index, kind: "gave", at: high, share, sides }];
}

/** What one run tells of each strength; `index` is the run's in the list. */
export function toldBy(s: Scenario, run: Run, index: number, demand: RunDemand, strengths: readonly Strength[]): Told[][] {
  const gave = run.gave.map((g) => ({ side: g.side, strength: blamed(g, demand, strengths), limit: g.limit }));
  return strengths.map((strength, i): Told[] => {
    const asked = demand.asked[i]!;
    if (strength.limit === "hubHeat") return heatTold(s, run, index, asked);
    // the grip of another surface tells nothing of the design's
    if (strength.limit === "sliding" && run.grip !== null) return [];
    const failed = gave.find((g) => g.strength === i);
    if (failed) {
      const sides = failed.side === null ? strength.sides : [failed.side];
      const a = largest(asked, sides);
      return a ? [{ run: index, kind: "gave", at: a.at, share: shareOf(a), sides }] : [];
    }
    const a = largest(asked, strength.sides);
    return a ? [{ run: index, kind: "held", at: a.at, share: shareOf(a), sides: strength.sides }] : [];
  });
}

/** A thing told as the posterior takes it, in logarithms. */
export const seenOf = (t: Told): SeenWithin =>
  t.kind === "between" ? { kind: "between", low: Math.log(t.at), high: Math.log(t.high!), sd: t.share } : { kind: t.kind, at: Math.log(t.at), sd: t.share };

/** Mean and standard deviation of a strength's logarithm before any run: a log-normal law with its value and its sd. */
function logPrior({ value, sd }: Pick<Strength, "value" | "sd">): { mean: number; sd: number } {
  const spread = Math.sqrt(Math.log1p((sd / value) ** 2));
  return { mean: Math.log(value) - 0.5 * spread * spread, sd: spread };
}

/** A value from runs is known at least so well but for the model's own fault, share. */
const LEAST_OWN = 0.01;

/**
 * The belief in logarithms after these things told. Runs all have the model's fault in common, those that were taken already, too: what they told
 * is the strength with that fault, which more runs narrow, and the fault comes upon it once.
 */
export function logBelief(strength: Pick<Strength, "value" | "sd" | "fromRuns">, told: readonly Told[]): Posterior {
  const prior = logPrior(strength);
  const seen = told.map(seenOf);
  if (!strength.fromRuns) return posterior({ law: "normal", ...prior }, seen, MODEL_SHARE);
  const own = Math.sqrt(Math.max(LEAST_OWN ** 2, prior.sd ** 2 - MODEL_SHARE ** 2));
  return blurred(posterior({ law: "normal", mean: prior.mean, sd: own }, seen), MODEL_SHARE);
}

function beforeRuns(strength: Strength): Belief {
  const { mean, sd } = logPrior(strength);
  const reach = sd * normalQuantile(0.975);
  return { value: strength.value, sd: strength.sd, low: Math.exp(mean - reach), high: Math.exp(mean + reach) };
}

/** Mean, standard deviation and range of the strength itself. */
export function plainBelief(p: Posterior): Belief {
  let [mean, square] = [0, 0];
  for (let i = 1; i < p.at.length; i++) {
    const mass = p.below[i]! - p.below[i - 1]!;
    const c = Math.exp(0.5 * (p.at[i]! + p.at[i - 1]!));
    mean += mass * c;
    square += mass * c * c;
  }
  return { value: mean, sd: Math.sqrt(Math.max(0, square - mean * mean)), low: Math.exp(quantileOf(p, 0.025)), high: Math.exp(quantileOf(p, 0.975)) };
}

/** The strength that makes what the runs told most likely, each run being off by its usual share. */
function byRunsAlone(told: readonly Told[]): StrengthTold["alone"] {
  const share = Math.sqrt(told.reduce((s, t) => s + t.share * t.share, 0) / told.length);
  const fitted = fitStrength(NORMAL, told.map(seenOf), share);
  return fitted.ok ? { value: Math.exp(fitted.fit.place), sd: fitted.fit.placeError * Math.exp(fitted.fit.place) } : null;
}

/** What is known of a strength after these things told. */
export function strengthAfter(strength: Strength, told: readonly Told[]): StrengthTold {
  const before = beforeRuns(strength);
  const after = told.length > 0 ? plainBelief(logBelief(strength, told)) : before;
  const worth = Math.abs(after.value - before.value) > WORTH * before.sd || after.sd < (1 - WORTH) * before.sd;
  return { strength, told: [...told], before, after, alone: byRunsAlone(told), worth };
}

/** What the runs of a design tell; those that were taken already are left out. */
export function runsTold(s: Scenario, runs: readonly Run[] = s.runs): RunsTold {
  const strengths = strengthsOf(s);
  const demands = runDemands(s, runs, strengths);
  const counted = runs.flatMap((run, i) => (run.taken ? [] : [i]));
  const told = counted.map((i) => toldBy(s, runs[i]!, i, demands[i]!, strengths));
  return {
    counted,
    demands,
    strengths: strengths.map((strength, k) =>
      strengthAfter(
        strength,
        told.flatMap((of) => of[k]!),
      ),
    ),
  };
}
