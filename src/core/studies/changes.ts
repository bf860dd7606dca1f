import { LIMIT_NAMES, type LimitName } from "../analysis.ts";
import { type Bench, buildBench, limitsAt, solveLoad } from "../analyze.ts";
import { curveRadiusM, speedInCurve } from "../cornering.ts";
import { checkScenario } from "../design/check.ts";
import { pedals } from "../design/load.ts";
import { keptOrigins } from "../design/origins.ts";
import { armsWithoutRoom, pinWithoutRoom } from "../design/room.ts";
import { cornerOf } from "../design/sides.ts";
import { type Load, type Scenario, SIDES, type Side } from "../design/types.ts";
import { reachableSpeedMps } from "../drive/drive-report.ts";
import { atFullPush } from "../drive/thrust-on-arms.ts";
import { fitDistance } from "../limits/fit.ts";
import { failuresOf } from "../limits/records.ts";
import { underShock } from "../limits/shock.ts";
import { radToDeg } from "../units.ts";
import { type Change, singleChanges } from "./change-list.ts";
import { type Hand, handSign } from "./curve-options.ts";
import { type Aim, type ChangeResult, type Outcome, type Refusal, rankChanges, shownRefusals } from "./rank-changes.ts";
import { restTravel, trimRideHeight, trimWords } from "./ride-height.ts";
import { safeSpeedOf } from "./safe-speed.ts";

/**
 * What to change first: every single change solved again, ranked by what it buys at one curve and one load. Each carries its changed
 * scenario, ready to be tried. A pin is tried in many holes; those that cannot be built, touch the body or do not hold at the load drop
 * out, and of the rest each way stands on the list once, with the holes that buy most for the aim.
 */
export interface ChangesOptions {
  radiusM: number;
  hand: Hand;
  shock: number;
  /** load at which lean and margins are told; its lateral acceleration is turned to the hand */
  load: Load;
  aim: Aim;
}

/** What is left out: the scenario's own curve, 0.8 g to the left on a flat road, the speed as the aim. */
export const changesOptions = (s: Scenario, o: Partial<ChangesOptions> = {}): ChangesOptions => ({
  hand: "left",
  shock: 1,
  load: { lateralG: 0.8, bumpLeftMm: 0, bumpRightMm: 0 },
  aim: "speed",
  ...o,
  radiusM: curveRadiusM(s, o.radiusM),
});

export interface ChangesReport {
  options: ChangesOptions;
  base: Outcome;
  /** every design that was solved, moves by any number of holes among them */
  solved: ChangeResult[];
  /** best first for the aim; of moves of one kind the one that buys most */
  results: ChangeResult[];
  /** changes that cannot be built or stand, with the reason; of moves of one kind the shortest, where none is possible */
  refused: Refusal[];
}

export interface ChangesProgress {
  done: number;
  total: number;
  /** the design as it is */
  base: Outcome;
  result: ChangeResult | null;
}

type AtLoad = Pick<Outcome, "leanDeg" | "rollDeg" | "utilization"> & {
  /** why the load has no equilibrium */
  end: string;
  /** what comes too near to the body */
  touches: string;
};

function atLoadOf(b: Bench, o: ChangesOptions): AtLoad {
  const load: Load = { ...o.load, lateralG: handSign(o.hand) * Math.abs(o.load.lateralG) };
  const r = solveLoad(b, load);
  if (!r.ok) return { leanDeg: null, rollDeg: null, utilization: null, end: r.reason.message, touches: "" };
  const limits = underShock(limitsAt(b, r.state, speedInCurve(load.lateralG, o.radiusM)), o.shock);
  const utilization: Partial<Record<LimitName, number>> = {};
  for (const l of limits) utilization[l.name] = Math.max(utilization[l.name] ?? 0, l.utilization);
  const outer: Side = o.hand === "left" ? "right" : "left";
  const lean = (outer === "left" ? 1 : -1) * radToDeg(r.state[outer].wheelAngleRad);
  const touches = limits.find((l) => l.name === "fit")?.part ?? "";
  return { leanDeg: lean, rollDeg: -radToDeg(r.state.body.angleRad), utilization, end: "", touches };
}

const wheelInCurve = (wheel: Side | "both", hand: Hand): Outcome["givesWheel"] =>
  wheel === "both" ? null : (wheel === "left") === (hand === "left") ? "inner" : "outer";

function outcomeOf(b: Bench, o: ChangesOptions, atLoad: AtLoad): Outcome {
  const safe = safeSpeedOf(b, o.radiusM, { ...o.load, ...pedals(o.load), hand: o.hand, shock: o.shock });
  const { leanDeg, rollDeg, utilization } = atLoad;
  return {
    safeSpeedMps: safe.speedMps,
    safeLateralG: safe.lateralG,
    gives: safe.limit?.name ?? safe.end?.limit ?? null,
    givesPart: safe.limit?.part ?? safe.end?.message ?? "",
    givesWheel: wheelInCurve(safe.limit?.wheel ?? "both", o.hand),
    reachableMps: reachableSpeedMps(b.scenario),
    fullPush: atFullPush(b.scenario),
    leanDeg,
    rollDeg,
    utilization,
  };
}

/** Every `of`-th kind of change from `index` on: parts of one study that can be worked out side by side. */
export interface ChangesShare {
  index: number;
  of: number;
}
const WHOLE: ChangesShare = { index: 0, of: 1 };

/** Why a change cannot be built; null when it can, as far as that shows without solving. */
function cannotStand(change: Change, before: Scenario): string | null {
  const problem = checkScenario(change.scenario)[0];
  if (problem) return `${problem.path} would be ${problem.value} ${problem.unit}; allowed ${problem.allowed}`;
  if (!change.move) return null;
  for (const side of SIDES) {
    const c = cornerOf(change.scenario, side);
    const reason = pinWithoutRoom(c) ?? armsWithoutRoom(c, cornerOf(before, side));
    if (reason) return reason;
  }
  return null;
}

/** Passed so many times over (of the room to the body: so small a part of it left), a limit that held before is not held again by a move that goes further. */
const FAR_PAST = 2;

/** One change solved: what it makes of the car, or why it is none; `far`: a longer move of its kind need not be tried. */
type Tried = (ChangeResult | Refusal) & { far: boolean };

function tryChange(listed: Change, before: Scenario, base: Outcome, wanted: Record<Side, number>, o: ChangesOptions): Tried {
  const none = cannotStand(listed, before);
  if (none) return { change: listed, reason: none, far: false };
  let change = listed;
  let b = buildBench(listed.scenario);
  if (b.rest.ok && listed.trim) {
    const scenario = keptOrigins(listed.scenario, trimRideHeight(b, wanted));
    change = { ...listed, scenario, cost: `${listed.cost}${trimWords(before, scenario)}` };
    b = buildBench(scenario);
  }
  if (!b.rest.ok) return { change, reason: b.rest.reason.message, far: true };
  const atLoad = atLoadOf(b, o);
  const newly = (n: LimitName): boolean => (atLoad.utilization?.[n] ?? 0) >= 1 && (base.utilization?.[n] ?? 0) < 1;
  const breaks = failuresOf(before).filter(newly);
  const { clearanceMm } = before.fit;
  const deep = newly("fit") && fitDistance(clearanceMm, atLoad.utilization?.fit ?? 0) <= clearanceMm / FAR_PAST;
  const far = deep || breaks.some((n) => n !== "fit" && (atLoad.utilization?.[n] ?? 0) >= FAR_PAST);
  const touches = { change, reason: `too near to the body: ${atLoad.touches}`, far };
  if (change.move && base.utilization) {
    if (!atLoad.utilization) return { change, reason: atLoad.end, far: true };
    // a hole in the way of the body is none, whether or not the body must hold
    if (newly("fit")) return touches;
  }
  const outcome = outcomeOf(b, o, atLoad);
  if (change.move && outcome.gives === "fit" && base.gives !== "fit" && outcome.safeLateralG < Math.abs(o.load.lateralG)) return touches;
  const utilization: Partial<Record<LimitName, number>> = {};
  for (const n of LIMIT_NAMES) {
    const was = base.utilization?.[n];
    const is = outcome.utilization?.[n];
    if (was !== undefined && is !== undefined) utilization[n] = was - is;
  }
  const leanDeg = base.leanDeg !== null && outcome.leanDeg !== null ? Math.abs(base.leanDeg) - Math.abs(outcome.leanDeg) : null;
  return { change, outcome, buys: { speedMps: outcome.safeSpeedMps - base.safeSpeedMps, leanDeg, utilization }, breaks, far };
}

/** Whole kinds only: a move is not tried where a shorter one of its kind went too far. */
function shareOf(list: Change[], share: ChangesShare): Change[] {
  const kinds = new Map<string, number>();
  const kindOf = (c: Change): number => {
    const name = c.move?.kind ?? c.id;
    if (!kinds.has(name)) kinds.set(name, kinds.size);
    return kinds.get(name)!;
  };
  return list.filter((c) => kindOf(c) % share.of === share.index);
}

/** All single changes, one yield each; pure, stopped by not asking for more. `null` when the design itself finds no rest. */
export function* studyChanges(
  scenario: Scenario,
  options: Partial<ChangesOptions> = {},
  share: ChangesShare = WHOLE,
): Generator<ChangesProgress, ChangesReport | null> {
  const o = changesOptions(scenario, options);
  const bench = buildBench(scenario);
  if (!bench.rest.ok) return null;
  const base = outcomeOf(bench, o, atLoadOf(bench, o));
  const wanted = { left: restTravel(bench, "left")!, right: restTravel(bench, "right")! };
  const list = shareOf(singleChanges(scenario), share);
  const solved: ChangeResult[] = [];
  const refused: Refusal[] = [];
  const ends = new Set<string>();
  for (const [i, listed] of list.entries()) {
    const nearer = listed.move?.past.find((id) => ends.has(id));
    const { far, ...found } =
      nearer === undefined ? tryChange(listed, scenario, base, wanted, o) : { change: listed, reason: `${nearer} is too far`, far: true };
    if (far) ends.add(listed.id);
    const result = "outcome" in found ? found : null;
    if (result) solved.push(result);
    else refused.push(found as Refusal);
    yield { done: i + 1, total: list.length, base, result };
  }
  return reportOf(o, base, solved, refused);
}

/** In an order that does not hang on how the work was parted. */
const byId = <T extends { change: Change }>(list: readonly T[]): T[] => [...list].sort((a, b) => (a.change.id < b.change.id ? -1 : 1));

const reportOf = (options: ChangesOptions, base: Outcome, solved: readonly ChangeResult[], refused: readonly Refusal[]): ChangesReport => ({
  options,
  base,
  solved: byId(solved),
  results: rankChanges(solved, options.aim, base),
  refused: byId(shownRefusals(refused, solved)),
});

/** One report from the parts of a study. */
export function mergeChanges(parts: readonly ChangesReport[]): ChangesReport {
  const [first] = parts;
  if (!first) throw new RangeError("a study of changes has at least one part");
  return reportOf(
    first.options,
    first.base,
    parts.flatMap((p) => p.solved),
    parts.flatMap((p) => p.refused),
  );
}
