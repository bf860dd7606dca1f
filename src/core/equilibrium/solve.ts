import type { Load } from "../design/types.ts";
import { LAID_OVER_DEG, WORK } from "../tolerances.ts";
import { degToRad, radToDeg } from "../units.ts";
import type { V2 } from "../vec.ts";
import { diagnose, diagnoseRest, laidOverReason, stoppedReason } from "./diagnose.ts";
import type { AxleModel } from "./model.ts";
import { apart, createSolver, relax, type Solver, solveAt, solveAtOnce, spent, stopped, withinWork } from "./newton.ts";
import { type Found, type LaidOver, type Walker, walkPath } from "./path.ts";
import { camberRad, readState } from "./readout.ts";
import type { NoEquilibrium } from "./state.ts";
import { BODY_TURN, FIRST_NODE, HEAVE, HUB_TURN, HUB_Z, lastNodeAt, NODE_X, NODE_Z, nodeAt, PER_NODE, WHEEL_TILT } from "./unknowns.ts";

export type Solved = { ok: true; q: Float64Array; solver: Solver } | { ok: false; reason: NoEquilibrium };

export const REST: Load = { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 };

/** The body let down until the tyres carry it, all else as built: where the search for rest starts. */
export function droppedStart(model: AxleModel): Float64Array {
  const q = new Float64Array(model.n);
  let rate = 0;
  let gap = 0;
  for (const c of model.corners) {
    rate += c.tyre.rate * 2 * c.tyre.halfWidth;
    gap += (c.centre[1] - c.tyre.radius) / 2;
  }
  const drop = -(model.totalWeight / rate + gap);
  q[HEAVE] = drop;
  for (const c of model.corners) q[c.base + HUB_Z] = drop;
  for (let i = FIRST_NODE; i < model.n; i += PER_NODE) q[i + NODE_Z] = drop;
  return q;
}

/** Body, hubs and wheels still stand as they were assembled: less than some 75° away from it. */
export function upright(model: AxleModel, q: Float64Array): boolean {
  const bound = 0.25;
  const body = q[BODY_TURN]!;
  return (
    Math.cos(body) > bound &&
    model.corners.every(({ base }) => Math.cos(q[base + HUB_TURN]! - body) > bound && Math.cos(q[base + HUB_TURN]! + q[base + WHEEL_TILT]! - body) > bound)
  );
}

/** A stable solution, on the branch the car was assembled in. */
const stands = (s: Solver, q: Float64Array): boolean => s.sys.detSign > 0 && upright(s.model, q);

/** The wheel that leans most, when it leans so far that it lies. */
export function laidOver(model: AxleModel, q: Float64Array): LaidOver | null {
  const lean = [camberRad(model, q, 0), camberRad(model, q, 1)] as const;
  const i = Math.abs(lean[0]) >= Math.abs(lean[1]) ? 0 : 1;
  return Math.abs(lean[i]) > degToRad(LAID_OVER_DEG) ? { side: model.corners[i].side, leanDeg: radToDeg(lean[i]) } : null;
}

/** A solution that may be shown: a stable one, on the branch the car was assembled in, on wheels that stand. */
const acceptable = (s: Solver, q: Float64Array): boolean => stands(s, q) && laidOver(s.model, q) === null;

/** Largest cornering level that the tyres can hold on to, g. */
export function gripG(model: AxleModel): number {
  return Math.min(model.corners[0].tyre.friction, model.corners[1].tyre.friction);
}

/** Furthest that one step of the loading path may take body or hubs, mm: several times what the steps above ask for. */
const STEP_REACH_MM = 25;
/** The same for what falls at a fold of the path: far enough to see where it comes to lie. */
const FALL_REACH_MM = 100;
/** Runs of creeping that a car gets to come to rest. */
const CREEP_RUNS = 16;
/** A whole run of creeping that moved nothing further than this, mm, goes round in circles: so would the next. */
const STUCK_MM = 1e-3;

/**
 * Lets the axle creep to rest, run after run (`relax`), in place on `q`.
 * @param reachMm as for `relax`
 * @returns whether it came to a balance
 */
export function creep(s: Solver, q: Float64Array, load: Load, reachMm = Number.POSITIVE_INFINITY): boolean {
  const start = q.slice();
  const before = q.slice();
  for (let run = 0; run < CREEP_RUNS; run++) {
    if (relax(s, q, load, false, reachMm)) return true;
    // over on its side, or folded up: it will not come back
    if (spent(s) || !upright(s.model, q) || apart(s.model, start, q) > reachMm) return false;
    if (apart(s.model, before, q) < STUCK_MM) return false;
    before.set(q);
  }
  return false;
}

type Rest = { ok: true; q: Float64Array } | { ok: false; laid: LaidOver | null };

/** Rest under the car's own weight, from the as-built position. */
function settle(s: Solver): Rest {
  const q = droppedStart(s.model);
  if (!(solveAt(s, q, REST) && stands(s, q))) {
    // far from rest: let it creep there, however long the way
    q.set(droppedStart(s.model));
    if (!(creep(s, q, REST) && stands(s, q))) return { ok: false, laid: null };
  }
  const laid = laidOver(s.model, q);
  return laid ? { ok: false, laid } : { ok: true, q };
}

/** Most that a jump over play may turn the body, rad, and add to an arm's bow, share of its length. */
const JUMP_TURN = 0.03;
const JUMP_BOW = 0.01;

/** Whether a jump between two answers is no more than parts changing sides in their play. */
export function onlyPlayMoved(model: AxleModel, a: Float64Array, b: Float64Array): boolean {
  if (Math.abs(a[BODY_TURN]! - b[BODY_TURN]!) > JUMP_TURN) return false;
  return model.arms.every((arm) => {
    // how far the middle has left the line between the ends, which way too: an arm that snaps through bends as far as before
    const bow = (q: Float64Array): V2 => {
      const i = nodeAt(arm, 0);
      const j = lastNodeAt(arm);
      const m = nodeAt(arm, arm.count >> 1);
      const f = arm.fractions[arm.count >> 1]!;
      return [q[m + NODE_X]! - (1 - f) * q[i + NODE_X]! - f * q[j + NODE_X]!, q[m + NODE_Z]! - (1 - f) * q[i + NODE_Z]! - f * q[j + NODE_Z]!];
    };
    const [from, to] = [bow(a), bow(b)];
    return Math.sqrt((to[0] - from[0]) ** 2 + (to[1] - from[1]) ** 2) < JUMP_BOW * arm.length;
  });
}

/** Walks from a solved load towards `to`; `q` ends at the last load that has an answer. */
function walk(s: Solver, q: Float64Array, from: Load, to: Load): ReturnType<typeof walkPath> {
  const trial = new Float64Array(q.length);
  const look = (found: boolean, further: () => boolean): Found => {
    if (!found) return "nothing";
    const laid = laidOver(s.model, trial);
    if (laid) return laid;
    if (!further()) return "nothing";
    q.set(trial);
    return "stands";
  };
  const walker: Walker = {
    go: (load) => {
      trial.set(q);
      return look(solveAt(s, trial, load, false, undefined, STEP_REACH_MM) && stands(s, trial), () => true);
    },
    // a wheel that falls to the other end of its play goes on from there, all else has given way
    fall: (load) => {
      trial.set(q);
      return look(creep(s, trial, load, FALL_REACH_MM) && stands(s, trial), () => onlyPlayMoved(s.model, q, trial));
    },
    spent: () => spent(s),
  };
  return walkPath(walker, from, to);
}

/** Solves from nothing: rest first, then up the load. Both are bounded in work (`WORK`). */
export function solveCold(model: AxleModel, load: Load, solver: Solver = createSolver(model)): Solved {
  const before = solver.iterations;
  const [rest, ended] = withinWork(solver, WORK.rest, () => [settle(solver), spent(solver)] as const);
  if (rest.ok) return solveFromRest(model, load, rest.q, solver);
  if (stopped(solver)) return { ok: false, reason: stoppedReason(REST) };
  if (rest.laid) return { ok: false, reason: laidOverReason(rest.laid, REST) };
  const steps = solver.iterations - before;
  // each try with a stiffer part may take its share of the work; a car that stands does so early
  const share = Math.ceil(WORK.whyNoRest / REST_TRIES);
  const standsNow = (): boolean => withinWork(solver, share, () => settle(solver).ok);
  const reason = diagnoseRest(model, REST, standsNow, ended ? steps : null);
  return { ok: false, reason: stopped(solver) ? stoppedReason(REST) : reason };
}

/** Tries that `diagnoseRest` makes at most. */
const REST_TRIES = 7;

/** Solves up the load from the answer at rest `rest` (left alone). */
export function solveFromRest(model: AxleModel, load: Load, rest: Float64Array, solver: Solver): Solved {
  const grip = gripG(model);
  const capped: Load = Math.abs(load.lateralG) > grip ? { ...load, lateralG: Math.sign(load.lateralG) * grip } : load;
  const q = rest.slice();
  const before = solver.iterations;
  const [way, ended] = withinWork(solver, WORK.load, () => [walk(solver, q, REST, capped), spent(solver)] as const);
  if (!way.done) {
    if (stopped(solver)) return { ok: false, reason: stoppedReason(way.at) };
    if (way.laid) return { ok: false, reason: laidOverReason(way.laid, way.at) };
    return { ok: false, reason: diagnose(model, readState(model, q, way.at), load, ended ? solver.iterations - before : null) };
  }
  if (capped !== load) {
    return { ok: false, reason: { kind: "slides", message: `The tyres let go at ${grip.toFixed(2)} g (friction).`, atLoad: capped } };
  }
  return { ok: true, q, solver };
}

/** The answer that a neighbouring one `q` (left alone) leads to at once, or null; costs a few iterations when it does, some dozens when not. */
export function solveNear(model: AxleModel, load: Load, q: Float64Array, solver: Solver): Float64Array | null {
  if (q.length !== model.n || Math.abs(load.lateralG) > gripG(model)) return null;
  const next = q.slice();
  return solveAt(solver, next, load, true) && acceptable(solver, next) ? next : null;
}

/** The same when a few iterations do, else null: for points that may be left out. */
export function solveBeside(model: AxleModel, load: Load, q: Float64Array, solver: Solver): Float64Array | null {
  if (q.length !== model.n || Math.abs(load.lateralG) > gripG(model)) return null;
  const next = q.slice();
  return solveAtOnce(solver, next, load) && acceptable(solver, next) ? next : null;
}

/**
 * Solves from a neighbouring answer `q` (left alone); falls back to the long way, so that the answer does not depend on the start.
 * @param rest the answer at rest, where it is known
 */
export function solveWarm(model: AxleModel, load: Load, q: Float64Array, solver: Solver, rest: Float64Array | null = null): Solved {
  const next = solveNear(model, load, q, solver);
  if (next) return { ok: true, q: next, solver };
  return rest ? solveFromRest(model, load, rest, solver) : solveCold(model, load, solver);
}
