import { LIMIT_NAMES, type LimitName, type LimitResult } from "../analysis.ts";
import { type Bench, buildBench, limitsAt, solveLoad, speedInCurve } from "../analyze.ts";
import { checkScenario } from "../design/check.ts";
import { editCorners } from "../design/edit-corners.ts";
import { type Load, type Scenario, SIDES, type Side } from "../design/types.ts";
import { reachableSpeedMps } from "../drive/drive-report.ts";
import { REST, solveWarm } from "../equilibrium/solve.ts";
import { underShock } from "../limits/shock.ts";
import { radToDeg } from "../units.ts";
import { type Change, singleChanges } from "./change-list.ts";
import { type Hand, handSign } from "./cornering-table.ts";
import { safeSpeedOf } from "./safe-speed.ts";

/**
 * What to change first: every single change solved again, ranked by what it buys at one curve and one load. Each carries its changed
 * scenario, ready to be tried.
 */
export interface ChangesOptions {
  radiusM: number;
  hand: Hand;
  shock: number;
  /** load at which lean and margins are told; its lateral acceleration is turned to the hand */
  load: Load;
  aim: Aim;
}
/** Highest safe speed on the curve, least lean of the outer wheel at the load, or least use of one limit at the load. */
export type Aim = "speed" | "lean" | LimitName;

export const changesOptions = (o: Partial<ChangesOptions> = {}): ChangesOptions => ({
  radiusM: 6,
  hand: "left",
  shock: 1,
  load: { lateralG: 0.8, bumpLeftMm: 0, bumpRightMm: 0 },
  aim: "speed",
  ...o,
});

/** What a design does; null where the load has no equilibrium. */
export interface Outcome {
  safeSpeedMps: number;
  safeLateralG: number;
  /** what gives at the safe speed; null: the equilibrium ends, told in `endWords` */
  gives: LimitName | null;
  givesPart: string;
  /** lean of the outer wheel at the load, ° */
  leanDeg: number | null;
  rollDeg: number | null;
  /** worst utilization of each limit at the load, shock in; absent where it does not apply */
  utilization: Partial<Record<LimitName, number>> | null;
  reachableMps: number;
}

export interface ChangeResult {
  change: Change;
  outcome: Outcome;
  /** against the design as it is; positive is better */
  buys: {
    speedMps: number;
    /** degrees of lean less (size), null without an equilibrium at the load */
    leanDeg: number | null;
    /** utilization less, per limit */
    utilization: Partial<Record<LimitName, number>>;
  };
}

export interface ChangesReport {
  options: ChangesOptions;
  base: Outcome;
  /** best first for the aim */
  results: ChangeResult[];
  /** changes that cannot be built or stand, with the reason */
  refused: { change: Change; reason: string }[];
}

export interface ChangesProgress {
  done: number;
  total: number;
  result: ChangeResult | null;
}

/** Rise of a wheel against the body at rest, mm. */
function restTravel(b: Bench, side: Side): number | null {
  if (!b.rest.ok) return null;
  const s = b.rest.state;
  const c = b.model.corners[side === "left" ? 0 : 1];
  const turn = -s.body.angleRad;
  const x = s[side].wheelCentre[0] - s.body.cg[0];
  const z = s[side].wheelCentre[1] - s.body.cg[1];
  return Math.sin(turn) * x + Math.cos(turn) * z + b.model.cg[1] - c.centre[1];
}

const TRIM_ROUNDS = 4;
/** ride height is trimmed to this, mm */
const TRIMMED_MM = 0.02;

/**
 * The scenario with its springs' free length trimmed so that each wheel stands at rest as it did before, mm of travel.
 * Each wheel's travel is taken to follow its own spring's length over the motion ratio at rest; a few rounds settle what couples them.
 */
export function trimRideHeight(s: Scenario, wanted: Record<Side, number>): Scenario {
  const b = buildBench(s);
  if (!b.rest.ok) return s;
  const added: Record<Side, number> = { left: 0, right: 0 };
  let q = b.rest.q;
  for (let round = 0; round < TRIM_ROUNDS; round++) {
    let off = 0;
    for (const side of SIDES) {
      const c = b.model.corners[side === "left" ? 0 : 1];
      const miss = restTravel(b, side)! - wanted[side];
      off = Math.max(off, Math.abs(miss));
      const state = b.rest.ok ? b.rest.state[side] : null;
      // spring per wheel: about the share of the load that the spring carries, a lever of 0.3 to 1.2 in any sensible car
      const lever = state && state.spring.totalN > 0 ? Math.min(1.2, Math.max(0.3, state.tyre.verticalN / state.spring.totalN)) : 0.6;
      const step = miss * lever;
      added[side] += step;
      c.spring.free += step;
    }
    if (off < TRIMMED_MM) break;
    const r = solveWarm(b.model, REST, q, b.solver);
    if (!r.ok) return s;
    q = r.q;
    const again = solveLoad({ ...b, last: q }, REST);
    if (!again.ok) return s;
    b.rest = { ok: true, q, state: again.state };
  }
  const round = (v: number): number => Math.round(v * 100) / 100 + 0;
  return editCorners(s, (c, side) => ({ ...c, spring: { ...c.spring, freeLengthMm: round(Math.max(2, c.spring.freeLengthMm + added[side])) } }));
}

function outcomeOf(b: Bench, o: ChangesOptions): Outcome {
  const safe = safeSpeedOf(b, o.radiusM, { hand: o.hand, shock: o.shock, bumpLeftMm: o.load.bumpLeftMm, bumpRightMm: o.load.bumpRightMm });
  const load: Load = { ...o.load, lateralG: handSign(o.hand) * Math.abs(o.load.lateralG) };
  const r = solveLoad(b, load);
  const base = {
    safeSpeedMps: safe.speedMps,
    safeLateralG: safe.lateralG,
    gives: safe.limit?.name ?? safe.end?.limit ?? null,
    givesPart: safe.limit?.part ?? safe.end?.message ?? "",
    reachableMps: reachableSpeedMps(b.scenario),
  };
  if (!r.ok) return { ...base, leanDeg: null, rollDeg: null, utilization: null };
  const limits = underShock(limitsAt(b, r.state, speedInCurve(load.lateralG, o.radiusM)), o.shock);
  const utilization: Partial<Record<LimitName, number>> = {};
  for (const l of limits) utilization[l.name] = Math.max(utilization[l.name] ?? 0, l.utilization);
  const outer: Side = o.hand === "left" ? "right" : "left";
  const lean = (outer === "left" ? 1 : -1) * radToDeg(r.state[outer].wheelAngleRad);
  return { ...base, leanDeg: lean, rollDeg: -radToDeg(r.state.body.angleRad), utilization };
}

/** How good a result is for an aim: larger is better. Ties in speed are broken by what the limits leave at the load. */
function worth(r: ChangeResult, aim: Aim): number {
  const spare = -worstOf(r.outcome);
  if (aim === "speed") return r.buys.speedMps + 1e-6 * spare;
  if (aim === "lean") return (r.buys.leanDeg ?? Number.NEGATIVE_INFINITY) + 1e-6 * spare;
  return (r.buys.utilization[aim] ?? 0) + 1e-6 * spare;
}

function worstOf(o: Outcome): number {
  if (!o.utilization) return 100;
  const cautions: readonly LimitName[] = ["armSet", "springOnStop", "hubHeat"];
  return Math.max(0, ...LIMIT_NAMES.filter((n) => !cautions.includes(n)).map((n) => o.utilization?.[n] ?? 0));
}

export function rankChanges(results: readonly ChangeResult[], aim: Aim): ChangeResult[] {
  // equal ones by name, so that the order does not hang on the order of the work
  return [...results].sort((a, b) => worth(b, aim) - worth(a, aim) || (a.change.id < b.change.id ? -1 : 1));
}

/** Every `of`-th change from `index` on: parts of one study that can be worked out side by side. */
export interface ChangesShare {
  index: number;
  of: number;
}
const WHOLE: ChangesShare = { index: 0, of: 1 };

/** All single changes, one yield each; pure, stopped by not asking for more. `null` when the design itself finds no rest. */
export function* studyChanges(
  scenario: Scenario,
  options: Partial<ChangesOptions> = {},
  share: ChangesShare = WHOLE,
): Generator<ChangesProgress, ChangesReport | null> {
  const o = changesOptions(options);
  const bench = buildBench(scenario);
  if (!bench.rest.ok) return null;
  const base = outcomeOf(bench, o);
  const wanted = { left: restTravel(bench, "left")!, right: restTravel(bench, "right")! };
  const list = singleChanges(scenario).filter((_, i) => i % share.of === share.index);
  const results: ChangeResult[] = [];
  const refused: ChangesReport["refused"] = [];
  for (let i = 0; i < list.length; i++) {
    const done = i + 1;
    const listed = list[i]!;
    const problem = checkScenario(listed.scenario)[0];
    if (problem) {
      refused.push({ change: listed, reason: `${problem.path} would be ${problem.value} ${problem.unit}; allowed ${problem.allowed}` });
      yield { done, total: list.length, result: null };
      continue;
    }
    const change = listed.trim ? { ...listed, scenario: trimRideHeight(listed.scenario, wanted) } : listed;
    const b = buildBench(change.scenario);
    if (!b.rest.ok) {
      refused.push({ change, reason: b.rest.reason.message });
      yield { done, total: list.length, result: null };
      continue;
    }
    const outcome = outcomeOf(b, o);
    const utilization: Partial<Record<LimitName, number>> = {};
    for (const n of LIMIT_NAMES) {
      const before = base.utilization?.[n];
      const after = outcome.utilization?.[n];
      if (before !== undefined && after !== undefined) utilization[n] = before - after;
    }
    const leanDeg = base.leanDeg !== null && outcome.leanDeg !== null ? Math.abs(base.leanDeg) - Math.abs(outcome.leanDeg) : null;
    const result: ChangeResult = { change, outcome, buys: { speedMps: outcome.safeSpeedMps - base.safeSpeedMps, leanDeg, utilization } };
    results.push(result);
    yield { done, total: list.length, result };
  }
  return { options: o, base, results: rankChanges(results, o.aim), refused };
}

/** One report from the parts of a study. */
export function mergeChanges(parts: readonly ChangesReport[]): ChangesReport {
  const [first] = parts;
  if (!first) throw new RangeError("a study of changes has at least one part");
  const results = rankChanges(
    parts.flatMap((p) => p.results),
    first.options.aim,
  );
  return { options: first.options, base: first.base, results, refused: parts.flatMap((p) => p.refused) };
}

/** All at once. */
export function allChanges(scenario: Scenario, options: Partial<ChangesOptions> = {}): ChangesReport | null {
  const run = studyChanges(scenario, options);
  for (;;) {
    const step = run.next();
    if (step.done) return step.value;
  }
}

/** What gives next after a change, in words for its row. */
export const nextToGive = (r: ChangeResult, first: LimitResult["name"] | null): string =>
  r.outcome.gives === first ? `${r.outcome.givesPart} still first` : `${r.outcome.givesPart} next`;
