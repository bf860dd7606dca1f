import type { Load } from "../design/types.ts";
import { FINAL_BLEND_MM, FINAL_BLEND_RAD, MOMENT_ARM_MM, RESIDUAL_SHARE } from "../tolerances.ts";
import { assemble, type Blend, residualSize } from "./assemble.ts";
import { type AxleSystem, axleSystem, factor, solveSystem } from "./condense.ts";
import type { AxleModel } from "./model.ts";
import { BODY_TURN, FIRST_NODE, HEAVE, HUB_TURN, HUB_X, HUB_Z, isTurn, NODE_TURN, NODE_X, NODE_Z, PER_NODE, TREAD_SHIFT, WHEEL_TILT } from "./unknowns.ts";
import { type Workspace, workspace } from "./workspace.ts";

export const FINAL_BLEND: Blend = { mm: FINAL_BLEND_MM, rad: FINAL_BLEND_RAD };

/** Memory of a solver run; one per model, reused from load to load. */
export interface Solver {
  model: AxleModel;
  sys: AxleSystem;
  ws: Workspace;
  r: Float64Array;
  dq: Float64Array;
  trial: Float64Array;
  /** Newton steps done so far, over all calls: the measure of work, the same on every machine */
  iterations: number;
  /** the search ends when `iterations` comes to this; set by `withinWork` */
  workEnd: number;
  /** asked before every step: true ends the search at once, wherever it stands */
  shouldStop: (() => boolean) | null;
}

/** Whether the search must end: its work is used up, or somebody wants it stopped. */
export const spent = (s: Solver): boolean => s.iterations >= s.workEnd || stopped(s);
/** Whether somebody wants the search stopped. */
export const stopped = (s: Solver): boolean => s.shouldStop?.() ?? false;

/** Runs `f` with at most `most` Newton steps more, within whatever bound holds already. */
export function withinWork<T>(s: Solver, most: number, f: () => T): T {
  const before = s.workEnd;
  s.workEnd = Math.min(before, s.iterations + most);
  try {
    return f();
  } finally {
    s.workEnd = before;
  }
}

/** A solver for the model, its work unbounded. */
export function createSolver(model: AxleModel): Solver {
  return {
    model,
    sys: axleSystem(model),
    ws: workspace(),
    r: new Float64Array(model.n),
    dq: new Float64Array(model.n),
    trial: new Float64Array(model.n),
    iterations: 0,
    workEnd: Number.POSITIVE_INFINITY,
    shouldStop: null,
  };
}

/** Longest step of one iteration: translations, mm, and turns, rad. Beyond it the linear model is worth nothing. */
const MAX_STEP_MM = 6;
const MAX_STEP_RAD = 0.12;

/** Share of the step `dq` that may be taken at once, 0..1; 0: the step is not finite. */
export function stepScale(model: AxleModel, dq: Float64Array): number {
  let mm = Math.abs(dq[HEAVE]!);
  let rad = Math.abs(dq[BODY_TURN]!);
  for (const c of model.corners) {
    mm = Math.max(mm, Math.abs(dq[c.base + HUB_X]!), Math.abs(dq[c.base + HUB_Z]!), Math.abs(dq[c.base + TREAD_SHIFT]!));
    rad = Math.max(rad, Math.abs(dq[c.base + HUB_TURN]!), Math.abs(dq[c.base + WHEEL_TILT]!));
  }
  for (let i = FIRST_NODE; i < model.n; i += PER_NODE) {
    mm = Math.max(mm, Math.abs(dq[i + NODE_X]!), Math.abs(dq[i + NODE_Z]!));
    rad = Math.max(rad, Math.abs(dq[i + NODE_TURN]!));
  }
  if (!(mm < Number.POSITIVE_INFINITY && rad < Number.POSITIVE_INFINITY)) return 0;
  return Math.min(1, MAX_STEP_MM / mm, MAX_STEP_RAD / rad);
}

/** A step gains when it leaves less than this share of the least residual so far. */
const GAIN = 0.9;
/** Full steps first: stiff axial errors of a turning arm may grow for a step and vanish in the next. After so many without gain they are halved. */
const HALVE_AFTER = 4;
/** At most so often, until the residual falls. */
const HALVINGS = 8;

/**
 * Newton's method at one load with contact corners rounded by `blend`, in place on `q`.
 * @param patience steps without gain after which it gives up
 * @param near whether the start is a neighbouring answer: a first step that leaps means a part hanging loose in its play, which
 *   Newton's method would only throw about; it gives up at once then
 * @returns whether the residual came below its share of the axle's weight; `q` is only meaningful then
 */
export function newton(s: Solver, q: Float64Array, load: Load, blend: Blend, maxIterations: number, patience = maxIterations, near = false): boolean {
  const { model, sys, ws, r, dq, trial } = s;
  const tolerance = RESIDUAL_SHARE * model.totalWeight;
  assemble(model, q, load, blend, r, sys, ws);
  let size = residualSize(model, r, MOMENT_ARM_MM);
  let best = size;
  let sinceBest = 0;
  for (let it = 0; it < maxIterations; it++) {
    if (size <= tolerance) {
      // the tangent at the solution is wanted by stability, budgets and predictors
      factor(sys);
      return true;
    }
    if (spent(s)) return false;
    factor(sys);
    if (sys.lu!.singular) return false;
    for (let i = 0; i < model.n; i++) dq[i] = -r[i]!;
    solveSystem(sys, dq, dq);
    s.iterations++;
    let scale = stepScale(model, dq);
    if (scale === 0 || (near && it === 0 && scale < 1)) return false;
    if (sinceBest >= HALVE_AFTER) {
      for (let tries = 0; tries < HALVINGS; tries++) {
        for (let i = 0; i < model.n; i++) trial[i] = q[i]! + scale * dq[i]!;
        assemble(model, trial, load, blend, r, null, ws);
        if (residualSize(model, r, MOMENT_ARM_MM) < size) break;
        scale /= 2;
      }
    }
    for (let i = 0; i < model.n; i++) q[i] = q[i]! + scale * dq[i]!;
    assemble(model, q, load, blend, r, sys, ws);
    size = residualSize(model, r, MOMENT_ARM_MM);
    if (!(size < Number.POSITIVE_INFINITY)) return false;
    if (size < GAIN * best) {
      best = size;
      sinceBest = 0;
    } else if (++sinceBest > patience) return false;
  }
  return false;
}

/** Steps without gain that tell contacts opening and closing in a cycle. */
const PATIENCE = 4;

/** Newton's method alone: at once or not at all. `q` is only meaningful when it comes. */
export function solveAtOnce(s: Solver, q: Float64Array, load: Load): boolean {
  return newton(s, q, load, FINAL_BLEND, AT_ONCE, PATIENCE, true) && s.sys.detSign > 0;
}

/** Steps that a start next to the answer needs at most. */
const AT_ONCE = 8;

/**
 * Newton's method first; where contacts open and close in a cycle, the axle creeps to its rest instead.
 * The sharp problem is what is solved in the end either way.
 * @param reachMm as for `relax`
 * @returns whether it came to an answer that is no balance on a knife's edge; else `q` is as it was
 */
export function solveAt(s: Solver, q: Float64Array, load: Load, near = false, maxIterations = 14, reachMm = Number.POSITIVE_INFINITY): boolean {
  const start = q.slice();
  if (newton(s, q, load, FINAL_BLEND, maxIterations, PATIENCE, near) && s.sys.detSign > 0) return true;
  q.set(start);
  if (relax(s, q, load, near, reachMm) && s.sys.detSign > 0) return true;
  q.set(start);
  // very stiff parts gain nothing for many steps and then all at once
  if (newton(s, q, load, FINAL_BLEND, maxIterations) && s.sys.detSign > 0) return true;
  q.set(start);
  return false;
}

/** Resistance that a relaxing axle starts with: N per mm of one step, N·mm per rad over the moment arm squared. */
const RELAX_START = 30;
/** The same next to an answer, from where the way is short. */
const RELAX_START_NEAR = 10;
const RELAX_STEPS = 300;
/** Relaxed far enough for Newton's method to take over: residual as a share of the weight, and resistance. */
const RELAXED_SHARE = 1e-5;
const RELAXED_RESISTANCE = 1;

/**
 * A residual that grows by no more than this factor a step belongs to a part that slides slowly across its play: it may go
 * faster. The bound keeps the resistance some five times above the negative stiffness that drives it.
 */
const SLIDES = 1.15;

/** Least of the resistance, so that it stays one. */
const RELAX_LEAST = 1e-9;

/**
 * The resistance after a step by which the residual `grew` so many times: it falls by 0.5 to 0.7 while the residual falls or slides, else
 * grows as the residual does, to twice at most; never beyond what a far start begins with.
 */
export function nextResistance(c: number, grew: number): number {
  const by = grew < SLIDES ? Math.max(0.5, Math.min(0.7, grew)) : Math.min(2, grew);
  return Math.min(RELAX_START, Math.max(RELAX_LEAST, c * by));
}

/** Steps between such trials, and how far a trial may go: beyond, it has found something else. */
const RELAX_TRY = 25;
/** A first trial comes early: most contacts find their side in a few steps. */
const RELAX_EARLY = 6;
/** Next to an answer a trial costs little, since one that leaps is called off. */
const RELAX_EARLY_NEAR = 2;
const RELAX_REACH_MM = 3;

/** Largest difference of two positions of body and hubs, mm, turns over the moment arm. */
export function apart(model: AxleModel, a: Float64Array, b: Float64Array): number {
  let most = Math.max(Math.abs(a[HEAVE]! - b[HEAVE]!), MOMENT_ARM_MM * Math.abs(a[BODY_TURN]! - b[BODY_TURN]!));
  for (const { base } of model.corners)
    for (let i = base; i < base + TREAD_SHIFT; i++) most = Math.max(most, (isTurn(i) ? MOMENT_ARM_MM : 1) * Math.abs(a[i]! - b[i]!));
  return most;
}

/** Size of the push off an unstable balance, mm (turns over the moment arm). */
const PUSH_MM = 0.02;

/** Moves `q` a little along the softest mode of the factored tangent (inverse iteration), wheels leaning in at the top. */
export function pushOff(s: Solver, q: Float64Array): void {
  const { model, dq } = s;
  dq.fill(0);
  for (const c of model.corners) dq[c.base + WHEEL_TILT] = c.sign;
  for (let it = 0; it < 4; it++) {
    solveSystem(s.sys, dq, dq);
    let size = 0;
    for (const c of model.corners)
      size = Math.max(
        size,
        Math.abs(dq[c.base + HUB_X]!),
        Math.abs(dq[c.base + HUB_Z]!),
        MOMENT_ARM_MM * Math.abs(dq[c.base + HUB_TURN]!),
        MOMENT_ARM_MM * Math.abs(dq[c.base + WHEEL_TILT]!),
      );
    size = Math.max(size, Math.abs(dq[HEAVE]!), MOMENT_ARM_MM * Math.abs(dq[BODY_TURN]!));
    if (!(size > 0 && size < Number.POSITIVE_INFINITY)) return;
    for (let i = 0; i < model.n; i++) dq[i] = dq[i]! / size;
  }
  const [l, r] = model.corners;
  const lean = l.sign * dq[l.base + WHEEL_TILT]! + r.sign * dq[r.base + WHEEL_TILT]! + l.sign * dq[l.base + HUB_TURN]! + r.sign * dq[r.base + HUB_TURN]!;
  const way = lean < 0 ? -PUSH_MM : PUSH_MM;
  for (let i = 0; i < model.n; i++) q[i] = q[i]! + way * dq[i]!;
}

/**
 * Lets the axle creep downhill from `q` to a stable rest at this load, as if all but the arms' inner nodes moved in thick oil:
 * (K + c·D) dq = -R with the resistance c falling as the residual falls. It leaves positions that are balanced but unstable, such as
 * a wheel upright in the middle of its bearing play, to the side they fall to. Newton's method finishes.
 * @param reachMm called off as soon as body or hubs have gone further from the start than this, mm (turns over the moment arm): what is
 *   on its way to another place altogether
 * @returns whether it came to a balance; an unstable one only after two pushes off it that led back
 */
export function relax(s: Solver, q: Float64Array, load: Load, near = false, reachMm = Number.POSITIVE_INFINITY): boolean {
  const { model, sys, ws, r, dq } = s;
  const arm2 = MOMENT_ARM_MM * MOMENT_ARM_MM;
  let c = near ? RELAX_START_NEAR : RELAX_START;
  const blend = FINAL_BLEND;
  const start = q.slice();
  let falls = 2;
  let nextTry = 0;
  assemble(model, q, load, blend, r, sys, ws);
  let size = residualSize(model, r, MOMENT_ARM_MM);
  for (let it = 0; it < RELAX_STEPS; it++) {
    if (spent(s) || (reachMm < Number.POSITIVE_INFINITY && apart(model, start, q) > reachMm)) return false;
    for (let i = 0; i < model.n; i++) {
      const k = model.kept[i]!;
      if (k < 0) continue;
      const at = k * model.nKept + k;
      sys.a[at] = sys.a[at]! + c * (isTurn(i) ? arm2 : 1);
    }
    factor(sys);
    if (sys.lu!.singular) return false;
    for (let i = 0; i < model.n; i++) dq[i] = -r[i]!;
    solveSystem(sys, dq, dq);
    s.iterations++;
    const scale = stepScale(model, dq);
    if (scale === 0) return false;
    for (let i = 0; i < model.n; i++) q[i] = q[i]! + scale * dq[i]!;
    assemble(model, q, load, blend, r, sys, ws);
    const next = residualSize(model, r, MOMENT_ARM_MM);
    if (!(next < Number.POSITIVE_INFINITY)) return false;
    c = nextResistance(c, next / size);
    size = next;
    // chattering contacts keep the resistance up: see now and then whether Newton's method can finish from here
    const early = near && (it === RELAX_EARLY_NEAR || it === 2 * RELAX_EARLY_NEAR);
    if (early || it === RELAX_EARLY || it % RELAX_TRY === RELAX_TRY - 1) {
      const beside = q.slice();
      if (newton(s, beside, load, blend, early ? AT_ONCE : 12, early ? PATIENCE : 12, early) && sys.detSign > 0 && apart(model, q, beside) < RELAX_REACH_MM) {
        q.set(beside);
        return true;
      }
      assemble(model, q, load, blend, r, sys, ws);
      continue;
    }
    if (it >= nextTry && size < RELAXED_SHARE * model.totalWeight && c < RELAXED_RESISTANCE) {
      const slow = q.slice();
      if (!newton(s, q, load, blend, 20)) {
        // not at rest yet, only slow: just beyond a fold of the path a wheel takes long to begin to fall
        q.set(slow);
        assemble(model, q, load, blend, r, sys, ws);
        nextTry = it + RELAX_TRY;
        continue;
      }
      if (sys.detSign > 0 || falls === 0) return true;
      // balanced on a knife's edge: give it a push the way it wants to fall
      falls--;
      pushOff(s, q);
      c = RELAX_START;
      assemble(model, q, load, blend, r, sys, ws);
      size = residualSize(model, r, MOMENT_ARM_MM);
    }
  }
  return false;
}
