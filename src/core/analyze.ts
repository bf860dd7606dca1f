import type { Analysis, AxleReport, LimitName, LimitResult, PushReport, SideReport, StiffPart } from "./analysis.ts";
import { camberBands } from "./budget/band.ts";
import { camberByMotion } from "./budget/by-motion.ts";
import { camberByPart, type PathPoint } from "./budget/by-part.ts";
import { camberPerStiffer } from "./budget/stiffer.ts";
import { type ArmPlace, armWithoutFrame, armWithoutFrameWords } from "./cannot-stand.ts";
import { curveRadiusM, speedInCurve } from "./cornering.ts";
import { pedals } from "./design/load.ts";
import { JOINT_NAMES, type Load, type Scenario, type Side } from "./design/types.ts";
import { residualSize } from "./equilibrium/assemble.ts";
import { type AxleModel, buildAxle, type ModelOptions } from "./equilibrium/model.ts";
import { createSolver, type Solver, spent, withinWork } from "./equilibrium/newton.ts";
import { camberRad, readState } from "./equilibrium/readout.ts";
import { gripG, REST, solveBeside, solveCold, solveWarm } from "./equilibrium/solve.ts";
import type { AxleState, NoEquilibrium } from "./equilibrium/state.ts";
import { wheelTravelMm } from "./equilibrium/wheel-travel.ts";
import { buildArms3d, type LimitContext } from "./limits/context.ts";
import { allLimits, firstToGive } from "./limits/limits.ts";
import { type WheelPush, wheelPush } from "./limits/push.ts";
import { MOMENT_ARM_MM, PATH_STEPS, WORK } from "./tolerances.ts";
import { radToDeg } from "./units.ts";

/**
 * The single way from a scenario and a load to an answer; page, command line, studies and tests all come through here.
 */

/** A design made ready: its model, its frames, its rest state. Good for any number of loads. */
export interface Bench {
  scenario: Scenario;
  model: AxleModel;
  solver: Solver;
  arms3d: LimitContext["arms3d"];
  rest: { ok: true; q: Float64Array; state: AxleState } | { ok: false; reason: NoEquilibrium };
  /** last solved unknowns, a start for the next load */
  last: Float64Array | null;
  /** what happens beyond the tyres' grip, once it was found: the same however far beyond */
  beyondGrip: { load: Load; reason: NoEquilibrium } | null;
  /** unknowns along the last loading path, a start for the next one of as many steps */
  trail: Float64Array[];
}

export interface BenchOptions extends ModelOptions {
  /**
   * Asked before every step of every search on this bench: true ends it with the reason `stopped`. Cheap to ask (a clock, a shared flag);
   * solve anew afterwards, nothing half-done is kept.
   */
  shouldStop?: () => boolean;
}

/** The car on plain arms: it only stands in where a bench must have some model. */
function onPlainArms(scenario: Scenario): Scenario {
  const plain = { layout: "straight", pivotFreeAboutArm: false, section: { shape: "rectangle", widthMm: 4, heightMm: 4 }, material: "abs" } as const;
  const arms = { upperArm: plain, lowerArm: plain };
  return { ...scenario, left: { ...scenario.left, ...arms }, right: { ...scenario.right, ...arms } };
}

/** A bench for a design that the mechanics cannot make anything of: it has only its reason. */
function benchWithout(scenario: Scenario, at: ArmPlace, options: ModelOptions): Bench {
  const model = buildAxle(onPlainArms(scenario), options);
  const reason: NoEquilibrium = { kind: "cannotBeBuilt", message: armWithoutFrameWords(at), atLoad: REST, ...at };
  return {
    scenario,
    model,
    solver: createSolver(model),
    arms3d: buildArms3d(model),
    rest: { ok: false, reason },
    last: null,
    beyondGrip: null,
    trail: [],
  };
}

/** Never throws on a scenario whose values are in range: what cannot be built or does not stand has its reason in `rest`. */
export function buildBench(scenario: Scenario, options: BenchOptions = {}, start: Float64Array | null = null): Bench {
  const broken = armWithoutFrame(scenario);
  if (broken) return benchWithout(scenario, broken, options);
  const model = buildAxle(scenario, options);
  const solver = createSolver(model);
  solver.shouldStop = options.shouldStop ?? null;
  const r = start ? solveWarm(model, REST, start, solver) : solveCold(model, REST, solver);
  return {
    scenario,
    model,
    solver,
    arms3d: buildArms3d(model),
    rest: r.ok ? { ok: true, q: r.q, state: readState(model, r.q, REST) } : r,
    last: r.ok ? r.q : null,
    beyondGrip: null,
    trail: [],
  };
}

export interface AnalyzeOptions {
  /** curve whose speed goes with the cornering level, m; default: see `curveRadiusM` */
  radiusM?: number;
  /** steps of the loading path of the budget by part */
  pathSteps?: number;
  /** also the ranges that play and the tyres' load exponent leave (three more solutions) */
  bands?: boolean;
  /** limits that are not looked at */
  leaveOut?: readonly LimitName[];
  /** also the lean by part; left out, all of it is unassigned */
  byPart?: boolean;
  /** also what stiffening each part by 1 % does; left out, the report's table of it is empty */
  stiffer?: boolean;
  /**
   * Start every point of the loading path from the one of the last answer and leave out those between that do not come at once:
   * quickest while something is dragged. The budget by part is coarser then; what it misses stands in `unassigned`.
   */
  alongTrail?: boolean;
}

export type SolvedLoad = { ok: true; q: Float64Array; state: AxleState } | { ok: false; reason: NoEquilibrium };

const sameWay = (a: Load, b: Load): boolean => a.lateralG * b.lateralG > 0 && a.bumpLeftMm === b.bumpLeftMm && a.bumpRightMm === b.bumpRightMm;

/** Equilibrium at one load. */
export function solveLoad(b: Bench, load: Load): SolvedLoad {
  if (!b.rest.ok) return b.rest;
  const beyond = Math.abs(load.lateralG) > gripG(b.model);
  if (beyond && b.beyondGrip && sameWay(b.beyondGrip.load, load)) return { ok: false, reason: b.beyondGrip.reason };
  const r = solveWarm(b.model, load, b.last ?? b.rest.q, b.solver, b.rest.q);
  if (!r.ok) {
    if (beyond && r.reason.kind !== "stopped" && r.reason.kind !== "unsettled") b.beyondGrip = { load, reason: r.reason };
    return r;
  }
  b.last = r.q;
  return { ok: true, q: r.q, state: readState(b.model, r.q, load) };
}

/** What the limits look at, at a solved state. */
export function limitContext(b: Bench, state: AxleState, speedMps: number): LimitContext | null {
  if (!b.rest.ok) return null;
  const restLoadN = { left: b.rest.state.left.tyre.verticalN, right: b.rest.state.right.tyre.verticalN };
  return { model: b.model, state, restLoadN, speedMps, arms3d: b.arms3d };
}

/** Limits at a solved state, but for those that `leaveOut` names. */
export function limitsAt(b: Bench, state: AxleState, speedMps: number, leaveOut: readonly LimitName[] = []): LimitResult[] {
  const context = limitContext(b, state, speedMps);
  return context ? allLimits(context, leaveOut) : [];
}

function onward(before: Float64Array, last: Float64Array): Float64Array {
  const q = new Float64Array(last.length);
  for (let i = 0; i < q.length; i++) q[i] = 2 * last[i]! - before[i]!;
  return q;
}

/**
 * Equilibria from rest to a load, the last one at the load itself; stops short where the car finds none. Points between are left out once
 * they have cost all their work together (`WORK.pathBetween`), unless they come at once: the budget by part is coarser then.
 */
export function loadingPath(b: Bench, load: Load, steps: number, alongTrail = false): { ok: true; path: PathPoint[] } | { ok: false; reason: NoEquilibrium } {
  if (!b.rest.ok) return b.rest;
  const path: PathPoint[] = [{ load: REST, q: b.rest.q }];
  b.last = b.rest.q;
  const trail = alongTrail && b.trail.length === steps + 1 && b.trail[0]!.length === b.model.n ? b.trail : null;
  const next: Float64Array[] = [b.rest.q];
  const workEnd = b.solver.iterations + WORK.pathBetween;
  for (let i = 1; i <= steps; i++) {
    const t = i / steps;
    // the position does not hang on throttle and brake: they come whole at the end
    const at: Load = i === steps ? load : { lateralG: t * load.lateralG, bumpLeftMm: t * load.bumpLeftMm, bumpRightMm: t * load.bumpRightMm };
    if (i < steps && (trail || b.solver.iterations >= workEnd)) {
      const from = trail ? trail[i]! : path[path.length - 1]!.q;
      const q = solveBeside(b.model, at, from, b.solver);
      if (q) path.push({ load: at, q });
      next.push(q ?? from);
      continue;
    }
    // going on as the last step went saves an iteration
    if (trail) b.last = trail[i]!;
    else if (i > 1 && path.length === i) b.last = onward(path[i - 2]!.q, path[i - 1]!.q);
    else b.last = path[path.length - 1]!.q;
    const [r, ended] = withinWork(
      b.solver,
      i < steps ? workEnd - b.solver.iterations : WORK.load + WORK_BESIDE,
      () => [solveLoad(b, at), spent(b.solver)] as const,
    );
    if (!r.ok && ended && i < steps && r.reason.kind !== "stopped") {
      next.push(path[path.length - 1]!.q);
      continue;
    }
    if (!r.ok) return r;
    path.push({ load: at, q: r.q });
    next.push(r.q);
  }
  b.trail = next;
  return { ok: true, path };
}

/** Newton steps that a start from a neighbouring answer may cost besides the long way. */
const WORK_BESIDE = 800;

/** What a report tells of a push. */
const pushReport = (p: WheelPush | null): PushReport | null => {
  if (!p) return null;
  const { asked: _asked, gripUsed: _used, jointPullN: _pull, along: _along, folds: _folds, ...told } = p;
  return told;
};

/** The whole answer for a prepared design. */
export function analyzeBench(b: Bench, load: Load, options: AnalyzeOptions = {}): Analysis {
  const before = b.solver.iterations;
  const way = loadingPath(b, load, options.pathSteps ?? PATH_STEPS, options.alongTrail);
  if (!way.ok) return way;
  const { model, solver } = b;
  const q = way.path[way.path.length - 1]!.q;
  const state = readState(model, q, load);
  const iterations = solver.iterations - before;
  const residualN = residualSize(model, solver.r, MOMENT_ARM_MM);
  const none = (): Record<StiffPart, number> => ({}) as Record<StiffPart, number>;
  const stiffer = options.stiffer === false ? ([none(), none()] as const) : camberPerStiffer(solver, q, load);
  const byPart = camberByPart(model, way.path, options.byPart);
  const bands = options.bands === false ? null : withinWork(solver, WORK.bands, () => camberBands(b.model, solver, q, load));
  const speedMps = speedInCurve(load.lateralG, curveRadiusM(b.scenario, options.radiusM));
  const context = limitContext(b, state, speedMps)!;
  const side = (name: Side): SideReport => {
    const i = name === "left" ? 0 : 1;
    const s = state[name];
    const camberDeg = radToDeg(camberRad(model, q, i));
    const record = <T>(f: (n: (typeof JOINT_NAMES)[number]) => T) =>
      Object.fromEntries(JOINT_NAMES.map((n) => [n, f(n)])) as Record<(typeof JOINT_NAMES)[number], T>;
    return {
      camberDeg,
      camberBudgetDeg: { byMotion: camberByMotion(model, state, name), byPart: byPart[i] },
      camberPer1PercentStifferDeg: stiffer[i],
      camberBandDeg: bands?.play[i] ?? null,
      camberByLoadExponentDeg: bands?.exponent[i] ?? [camberDeg, camberDeg],
      verticalLoadN: s.tyre.verticalN,
      lateralLoadN: s.tyre.lateralN,
      wheelTravelMm: wheelTravelMm(model, state, name),
      springForceN: s.spring.totalN,
      springLengthMm: s.spring.lengthMm,
      jointForceN: record((n) => s.joints[n].forceN),
      armAxialForceN: { upper: s.arms.upper.axialN[s.arms.upper.axialN.length - 1]!, lower: s.arms.lower.axialN[s.arms.lower.axialN.length - 1]! },
      floatingJoints: JOINT_NAMES.filter((n) => s.joints[n].floats),
      push: pushReport(wheelPush(context, name)),
    };
  };
  const limits = allLimits(context, options.leaveOut);
  const report: AxleReport = {
    lateralG: load.lateralG,
    bumpLeftMm: load.bumpLeftMm,
    bumpRightMm: load.bumpRightMm,
    ...pedals(load),
    speedMps,
    rollDeg: radToDeg(-state.body.angleRad) + 0,
    heaveMm: state.body.heaveMm,
    left: side("left"),
    right: side("right"),
    antiRollBarN: state.antiRollBarN,
    limits,
    firstToGive: firstToGive(limits),
    solver: { iterations, residualN },
  };
  return { ok: true, report, state };
}

/** The whole answer from nothing: the same whatever was solved before. */
export function analyze(scenario: Scenario, load: Load, options: AnalyzeOptions = {}): Analysis {
  return analyzeBench(buildBench(scenario), load, options);
}
