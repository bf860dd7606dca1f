import type { LimitName } from "../analysis.ts";
import { cannotStand } from "../cannot-stand.ts";
import type { Run } from "../design/tried.ts";
import { type Scenario, SIDES, type Side } from "../design/types.ts";
import { type Ranges, type Uncertain, type UncertainInputs, uncertainInputs, withInputs } from "../doubt/inputs.ts";
import type { NoEquilibriumKind } from "../equilibrium/state.ts";
import { logSeen, type Posterior } from "../numerics/posterior.ts";
import { toldAs } from "../steps.ts";
import { type Questioned, usedInRun } from "./demands.ts";
import type { Driven } from "./pace.ts";
import { type Belief, logBelief, MODEL_SHARE, plainBelief, type RunsTold, type StrengthTold, seenOf } from "./told.ts";

/** Where runs and model cannot both be right, and which single input would make peace between them. */
export interface Contradiction {
  /** index of the run */
  run: number;
  kind: "held" | "gave";
  about: Questioned;
  /** a strength: what the run asked of it, what all else tells of it, and the chance of such a run then; null: no number holds it alone */
  strength: { path: string; asked: number; expected: Belief; chance: number } | null;
  /** the model has no steady position at the run's load, in its words; null: it has one */
  noHold: string | null;
  /** single inputs that would explain it, the most plausible first; empty: none does within its means */
  explanations: Explanation[];
}

export interface Explanation {
  /** path of the input, `material.abs.youngMPa`, or `run`: its cornering in g */
  key: string;
  from: number;
  to: number;
  unit: string;
  /** how many of its standard deviations it would have to be off, with the sign of the way */
  sds: number;
}

/** A run so unlikely by all else that is known is a contradiction. */
const BEYOND_DOUBT = 1e-3;
/** The same in standard deviations of one input. */
const BEYOND_SDS = 3.09;
/** What is likelier than this by a rough look is not looked at closely. */
const ROUGH = 0.05;
/** Contradictions that are explained, each at some hundred solutions; the others are only told. */
const MOST_EXPLAINED = 4;

/** An input further off than this is no explanation. */
const MOST_SDS = 10;
/** What changes the use by less than this share for a standard deviation does not explain it. */
const LEAST_EFFECT = 1e-3;
const MOST_EXPLANATIONS = 5;
const TRIED = 8;
const SECANTS = 6;
/** So near to 1 the use has to come, its logarithm. */
const NEAR = 0.01;

/** Chance of a thing told by the others of the same strength, by the whole belief: 1/p is averaged over it (harmonic mean identity). */
function roughChance(belief: Posterior, t: StrengthTold["told"][number]): number {
  const seen = { ...seenOf(t), sd: Math.hypot(t.share, MODEL_SHARE) };
  let mean = 0;
  for (let i = 1; i < belief.at.length; i++) {
    const mass = belief.below[i]! - belief.below[i - 1]!;
    if (mass > 0) mean += mass * Math.exp(-logSeen(seen, 0.5 * (belief.at[i]! + belief.at[i - 1]!)));
  }
  return 1 / mean;
}

function ofStrength(t: StrengthTold): Contradiction[] {
  const { strength, told, before } = t;
  const all = logBelief(strength, told);
  return told.flatMap((one, i): Contradiction[] => {
    if (one.kind !== "held" && one.kind !== "gave") return [];
    // where two runs contradict each other, the one that goes against the design is told
    if (one.kind === "held" ? one.at <= before.value : one.at >= before.value) return [];
    if (roughChance(all, one) > ROUGH) return [];
    const others = logBelief(
      strength,
      told.filter((_, k) => k !== i),
    );
    const chance = Math.exp(all.logEvidence - others.logEvidence);
    if (chance > BEYOND_DOUBT) return [];
    const about = { limit: strength.limit, at: strength.at, sides: one.sides };
    return [
      {
        run: one.run,
        kind: one.kind,
        about,
        strength: { path: strength.path, asked: one.at, expected: plainBelief(others), chance },
        noHold: null,
        explanations: [],
      },
    ];
  });
}

/** The limit that stands for an end of all hold, and the inputs that it hangs on: to find such an end costs some hundred times a plain answer. */
const ENDS: Partial<Record<NoEquilibriumKind, { limit: LimitName; on: RegExp }>> = {
  tips: { limit: "wheelLift", on: /cgHeightMm|wheelCentre\.|effectiveWidthMm|treadWidthMm|MassKg|axleShare|otherRoll/ },
  buckles: { limit: "armBuckling", on: /Arm\.|^material\.|Outer\.|Inner\.|MassKg|cgHeightMm/ },
};

/** Runs that drove where the model finds no steady position, and what gave that no strength stands for and the model has in hand. */
function besideStrengths(told: RunsTold, runs: readonly Run[]): Contradiction[] {
  return told.counted.flatMap((i): Contradiction[] => {
    const run = runs[i]!;
    const demand = told.demands[i]!;
    const open = (kind: "held" | "gave", about: Questioned, noHold: string | null): Contradiction => ({
      run: i,
      kind,
      about,
      strength: null,
      noHold,
      explanations: [],
    });
    if (demand.noHold) {
      const end = ENDS[demand.noHold.kind];
      return run.gave.length > 0 || !end ? [] : [open("held", { limit: end.limit, at: null, sides: SIDES }, demand.noHold.message)];
    }
    return run.gave.flatMap((g) => {
      if (told.strengths.some((t) => t.strength.limit === g.limit)) return [];
      const sides: readonly Side[] = g.side === null ? SIDES : [g.side];
      const used = demand.limits.filter((l) => l.name === g.limit && (l.wheel === "both" || g.limit === "wheelLift" || sides.includes(l.wheel)));
      return used.some((l) => l.utilization < 1) && used.every((l) => l.utilization < 1) ? [open("gave", { limit: g.limit, at: null, sides }, null)] : [];
    });
  });
}

/** The inputs with what is known of strengths before any run: runs are judged by what such parts scatter by. */
function inputsOf(s: Scenario, told: RunsTold, ranges: Ranges): UncertainInputs {
  const inputs = uncertainInputs(s, ranges);
  const sds = new Map(told.strengths.map(({ strength }) => [strength.path, strength.sd]));
  return { ...inputs, list: inputs.list.map((u) => ({ ...u, sd: Math.max(u.sd, sds.get(u.key) ?? 0) })) };
}

/** Logarithm of the use of what is questioned with one input at a score; null: so the car cannot be. */
type Use = (score: number) => number | null;

/** The value of an input so many standard deviations from where it is. */
function moved(u: Uncertain, score: number): number {
  const to = u.law === "logNormal" ? u.value * Math.exp(Math.sqrt(Math.log1p((u.sd / u.value) ** 2)) * score) : u.value + u.sd * score;
  return Math.min(u.max, Math.max(u.min, to));
}

/**
 * How far a score has to go for the use to be 1 from where it is now, by secants; null: it does not get there.
 * @param effect what one standard deviation does to the logarithm of the use
 */
function scoreAtOne(use: Use, now: number, effect: number): number | null {
  if (Math.abs(effect) < LEAST_EFFECT) return null;
  let [z0, f0] = [0, now];
  let z = -now / effect;
  if (Math.abs(z) > 2 * MOST_SDS) return null;
  for (let i = 0; i < SECANTS; i++) {
    z = Math.max(-MOST_SDS, Math.min(MOST_SDS, z));
    const f = use(z);
    if (f === null) return null;
    if (Math.abs(f) < NEAR) return z;
    if (f === f0 || z === z0) return null;
    [z0, f0, z] = [z, f, z - (f * (z - z0)) / (f - f0)];
  }
  return null;
}

function* explain(s: Scenario, run: Run, about: Questioned, inputs: UncertainInputs, driven: Driven, on: RegExp): Generator<number, Explanation[]> {
  const log = (used: number | null): number | null => (used !== null && used > 0 ? Math.log(used) : null);
  const now = log(usedInRun(s, run, about));
  if (now === null) return [];
  const useOf =
    (i: number): Use =>
    (score) => {
      const other = withInputs(inputs, new Map([[i, moved(inputs.list[i]!, score)]]));
      return cannotStand(other) === null ? log(usedInRun(other, run, about)) : null;
    };
  const byRun: Use = (score) => log(usedInRun(s, run, about, Math.exp(driven.share * score)));
  const looks: { i: number; effect: number }[] = [];
  for (const [i, { key }] of inputs.list.entries()) {
    if (!on.test(key)) continue;
    yield i / inputs.list.length;
    const f = useOf(i)(1);
    looks.push({ i, effect: f === null ? 0 : f - now });
  }
  looks.sort((a, b) => Math.abs(b.effect) - Math.abs(a.effect));
  const found: Explanation[] = looks.slice(0, TRIED).flatMap(({ i, effect }) => {
    const u = inputs.list[i]!;
    const sds = scoreAtOne(useOf(i), now, effect);
    return sds === null ? [] : [{ key: u.key, from: u.value, to: moved(u, sds), unit: u.unit, sds }];
  });
  const effect = byRun(1);
  const sds = effect === null ? null : scoreAtOne(byRun, now, effect - now);
  if (sds !== null) found.push({ key: "run", from: driven.lateralG, to: driven.lateralG * Math.exp(driven.share * sds), unit: "g", sds });
  return found.sort((a, b) => Math.abs(a.sds) - Math.abs(b.sds)).slice(0, MOST_EXPLANATIONS);
}

/** The strength itself as an explanation: how far it is from what all other runs tell of it, and not from the design alone. */
function againstOthers(found: readonly Explanation[], c: Contradiction): Explanation[] {
  const { strength } = c;
  if (!strength) return [...found];
  const { value, sd } = strength.expected;
  const spread = Math.sqrt(Math.log1p((sd / value) ** 2));
  return found
    .map((e) => (e.key === strength.path ? { ...e, from: value, sds: Math.log(e.to / value) / spread } : e))
    .sort((a, b) => Math.abs(a.sds) - Math.abs(b.sds));
}

/**
 * All contradictions between the runs that count and the model, the most unlikely first, with single inputs that would explain them; yields the
 * share of the work done. What no number holds alone (a wheel that lifted, a spring on its stop) contradicts where no single input within three
 * of its standard deviations explains it.
 */
export function* contradictionsOf(s: Scenario, told: RunsTold, ranges: Ranges, runs: readonly Run[] = s.runs): Generator<number, Contradiction[]> {
  const plain = told.strengths.flatMap(ofStrength).sort((a, b) => a.strength!.chance - b.strength!.chance);
  const open = besideStrengths(told, runs);
  const all = [...plain, ...open];
  const inputs = all.length > 0 ? inputsOf(s, told, ranges) : null;
  const out: Contradiction[] = [];
  const count = Math.min(all.length, MOST_EXPLAINED);
  for (const [k, c] of all.entries()) {
    if (k >= MOST_EXPLAINED || !inputs) {
      if (c.strength) out.push(c);
      continue;
    }
    const { driven, noHold } = told.demands[c.run]!;
    const steps = explain(s, runs[c.run]!, c.about, inputs, driven, (noHold && ENDS[noHold.kind]?.on) ?? /./);
    const explanations = againstOthers(yield* toldAs(steps, (share) => (k + share) / count), c);
    const easy = explanations[0] !== undefined && Math.abs(explanations[0].sds) < BEYOND_SDS;
    if (c.strength || !easy) out.push({ ...c, explanations });
  }
  return out;
}
