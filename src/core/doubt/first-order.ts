import type { LimitName } from "../analysis.ts";
import type { Bench } from "../analyze.ts";
import type { Load, Scenario, Side } from "../design/types.ts";
import { assemble } from "../equilibrium/assemble.ts";
import { type AxleSystem, axleSystem, factor, solveSystem } from "../equilibrium/condense.ts";
import { type AxleModel, buildAxle } from "../equilibrium/model.ts";
import { FINAL_BLEND } from "../equilibrium/newton.ts";
import { readState } from "../equilibrium/readout.ts";
import { REST } from "../equilibrium/solve.ts";
import { buildArms3d } from "../limits/context.ts";
import { type Uncertain, type UncertainInputs, withInputs } from "./inputs.ts";
import { type OutputKey, outputsOf } from "./outputs.ts";

/**
 * Exact first-order derivatives of an answer by its inputs: dy/dp = ∂y/∂p - ∂y/∂q K⁻¹ ∂r/∂p at a solved load, K the exact tangent there,
 * factored once. ∂r/∂p is a central difference of the residual at the same unknowns with the input moved; the output is differenced along
 * (dq, dp). No new solution is sought. Both loads count: the wheels' loads at rest, which the lift is told against, hang on the inputs, too.
 */
export interface SolvedPoint {
  bench: Bench;
  load: Load;
  /** unknowns at the load */
  q: Float64Array;
  speedMps: number;
  shock: number;
  leaveOut: readonly LimitName[];
}

/** Derivatives about a solved point; plain data. */
export interface Derivatives {
  keys: readonly OutputKey[];
  /** the outputs themselves, as `keys` */
  values: Float64Array;
  /** by input, then as `keys`: per unit of the input. Null: the design does not hold together a little to its side */
  by: readonly (Float64Array | null)[];
}

/** A point made ready: its tangents factored, at the load and at rest. */
export interface Tangent {
  point: SolvedPoint;
  keys: readonly OutputKey[];
  values: Float64Array;
  atLoad: AxleSystem;
  atRest: AxleSystem;
  restQ: Float64Array;
  /** what the residuals are at the point itself, next to nothing */
  left: { load: Float64Array; rest: Float64Array };
}

/** What may be moved: the design, the load, the speed that goes with it. */
interface Moved {
  scenario: Scenario;
  load: Load;
  speedMps: number;
}

/** Factors the tangents; null where the car does not stand at rest or the tangent has no inverse. */
export function tangentAt(point: SolvedPoint): Tangent | null {
  const { bench, load, q, shock, leaveOut } = point;
  const { model, solver, rest } = bench;
  if (!rest.ok) return null;
  const left = { load: new Float64Array(model.n), rest: new Float64Array(model.n) };
  const factored = (at: Float64Array, l: Load, r: Float64Array): AxleSystem => {
    const sys = axleSystem(model);
    assemble(model, at, l, FINAL_BLEND, r, sys, solver.ws);
    factor(sys);
    return sys;
  };
  const [atLoad, atRest] = [factored(q, load, left.load), factored(rest.q, REST, left.rest)];
  if (atLoad.lu!.singular || atRest.lu!.singular) return null;
  const restLoadN = { left: rest.state.left.tyre.verticalN, right: rest.state.right.tyre.verticalN };
  const context = { model, state: readState(model, q, load), restLoadN, speedMps: point.speedMps, arms3d: bench.arms3d };
  const told = outputsOf(context, q, shock, leaveOut);
  return { point, keys: [...told.keys()], values: Float64Array.from(told.values()), atLoad, atRest, restQ: rest.q, left };
}

/** Step of the differences: small against the doubt and the value, large against rounding (residuals are right to some 1e-11 N). */
const STEP_OF_SD = 1e-3;
const STEP_OF_VALUE = 1e-4;

/** What stands on the springs is rounded to a microgram: weights take a step beside which that vanishes, and a difference that may be so wide. */
const WEIGHT = /(Kg|\.axleShare)$/;
const STEP_OF_WEIGHT = 3e-4;

/** Places along an arm, where its elements are cut anew: less straight than the rest. */
const CUTS = /(raction|stemShare)$/;

/** How far an input is moved for its derivative, in its unit. */
export function stepOf(u: Uncertain): number {
  if (WEIGHT.test(u.key)) return STEP_OF_WEIGHT * u.value;
  return Math.min(STEP_OF_SD * u.sd, u.value === 0 ? Number.POSITIVE_INFINITY : STEP_OF_VALUE * Math.abs(u.value));
}

/** Derivatives by one thing that is moved. */
export interface SideStep {
  /** of the outputs, as the tangent's keys */
  by: Float64Array;
  /** of the unknowns at the load and at rest */
  q: Float64Array;
  restQ: Float64Array;
}

/** Derivatives of all outputs by one input; null where the design a little to its side cannot be told. */
export const derivativeBy = (t: Tangent, inputs: UncertainInputs, index: number, quick = false): Float64Array | null =>
  sideStep(t, inputs, index, quick)?.by ?? null;

/**
 * The same with those of the unknowns.
 * @param quick from one side alone: half the work, right to a thousandth or so, which is enough for a band that is looked at
 */
export function sideStep(t: Tangent, inputs: UncertainInputs, index: number, quick = false): SideStep | null {
  const u = inputs.list[index]!;
  const { load, speedMps } = t.point;
  const at = (step: number): Moved => ({ scenario: withInputs(inputs, new Map([[index, u.value + step]])), load, speedMps });
  // at the end of its range an input moves one way only
  const h = stepOf(u);
  const way = u.value - h < u.min ? 1 : u.value + h > u.max ? -1 : 0;
  if (quick) return along(t, at, h, way === -1 ? BACKWARD_QUICK : FORWARD_QUICK);
  if (way !== 0) return along(t, at, h, way === 1 ? FORWARD : BACKWARD);
  return along(t, at, h, WEIGHT.test(u.key) || CUTS.test(u.key) ? WIDE : CENTRAL);
}

/** Derivatives by the cornering level, per g with its sign; the speed goes along. */
export function levelStep(t: Tangent, speedAt: (lateralG: number) => number): SideStep | null {
  const { bench, load } = t.point;
  const at = (step: number): Moved => {
    const lateralG = load.lateralG + step;
    return { scenario: bench.scenario, load: { ...load, lateralG }, speedMps: speedAt(lateralG) };
  };
  return along(t, at, LEVEL_STEP_G, CENTRAL);
}
const LEVEL_STEP_G = 1e-4;

/** Weights of a difference: steps in units of h, with their factors over h. */
type Weights = readonly (readonly [step: number, weight: number])[];
const CENTRAL: Weights = [
  [-1, -0.5],
  [1, 0.5],
];
/** Fourth order. */
const WIDE: Weights = [
  [-2, 1 / 12],
  [-1, -2 / 3],
  [1, 2 / 3],
  [2, -1 / 12],
];
/** Second order as well, from one side: (-3 f(0) + 4 f(h) - f(2h)) / 2h. */
const FORWARD: Weights = [
  [0, -1.5],
  [1, 2],
  [2, -0.5],
];
const mirrored = (weights: Weights): Weights => weights.map(([step, w]) => [-step, -w]);
const BACKWARD = mirrored(FORWARD);
const FORWARD_QUICK: Weights = [
  [0, -1],
  [1, 1],
];
const BACKWARD_QUICK = mirrored(FORWARD_QUICK);

function along(t: Tangent, at: (step: number) => Moved, h: number, weights: Weights): SideStep | null {
  const { model } = t.point.bench;
  const made = weights.map(([step]) => {
    if (step === 0) return null;
    const moved = at(step * h);
    return { moved, model: moved.scenario === model.scenario ? model : buildAxle(moved.scenario) };
  });
  // elements that are cut anew count the unknowns anew
  if (made.some((m) => m && m.model.n !== model.n)) return null;
  const dq = unknownsMove(t, made, weights, h, false);
  const dRest = unknownsMove(t, made, weights, h, true);
  const by = new Float64Array(t.keys.length);
  for (const [i, m] of made.entries()) {
    const [step, weight] = weights[i]!;
    const told = m && readAt(t, m.moved, m.model, shifted(t.point.q, dq, step * h), shifted(t.restQ, dRest, step * h));
    for (let k = 0; k < by.length; k++) by[k] = by[k]! + (weight / h) * (told ? (told.get(t.keys[k]!) ?? Number.NaN) : t.values[k]!);
  }
  return { by, q: dq, restQ: dRest };
}

const shifted = (q: Float64Array, dq: Float64Array, by: number): Float64Array => q.map((v, i) => v + by * dq[i]!);

/** dq/dp = -K⁻¹ ∂r/∂p, at the load or at rest. */
function unknownsMove(t: Tangent, made: readonly ({ moved: Moved; model: AxleModel } | null)[], weights: Weights, h: number, rest: boolean): Float64Array {
  const { bench, q } = t.point;
  const n = bench.model.n;
  const r = new Float64Array(n);
  const dq = new Float64Array(n);
  // at rest nothing but the design itself is moved
  if (rest && made.every((m) => !m || m.model === bench.model)) return dq;
  for (const [i, m] of made.entries()) {
    if (m) assemble(m.model, rest ? t.restQ : q, rest ? REST : m.moved.load, FINAL_BLEND, r, null, bench.solver.ws);
    else r.set(rest ? t.left.rest : t.left.load);
    const w = weights[i]![1] / h;
    for (let k = 0; k < n; k++) dq[k] = dq[k]! - w * r[k]!;
  }
  solveSystem(rest ? t.atRest : t.atLoad, dq, dq);
  return dq;
}

function readAt(t: Tangent, moved: Moved, model: AxleModel, q: Float64Array, restQ: Float64Array) {
  const { bench, shock, leaveOut } = t.point;
  const state = readState(model, q, moved.load);
  const rest = readState(model, restQ, REST);
  const load = (side: Side): number => rest[side].tyre.verticalN;
  const arms3d = model === bench.model ? bench.arms3d : buildArms3d(model);
  return outputsOf({ model, state, restLoadN: { left: load("left"), right: load("right") }, speedMps: moved.speedMps, arms3d }, q, shock, leaveOut);
}

export interface DerivativesOptions {
  /** inputs asked for, by their places in the list; default: all */
  wanted?: readonly number[];
  /** derivatives of another look at the same inputs, that stand in for those that are not asked for */
  before?: Derivatives;
  quick?: boolean;
}

/** All derivatives, one input after the other; yields between them, so that a page can put the work off. Null where the point has no tangent. */
export function* derivatives(point: SolvedPoint, inputs: UncertainInputs, o: DerivativesOptions = {}): Generator<number, Derivatives | null> {
  const t = tangentAt(point);
  if (!t) return null;
  const wanted = o.wanted ?? inputs.list.map((_, i) => i);
  const same = o.before && o.before.keys.length === t.keys.length && o.before.keys.every((key, k) => key === t.keys[k]);
  const by: (Float64Array | null)[] = inputs.list.map((_, i) => (same ? (o.before!.by[i] ?? null) : null));
  for (const [n, i] of wanted.entries()) {
    by[i] = derivativeBy(t, inputs, i, o.quick);
    yield (n + 1) / wanted.length;
  }
  return { keys: t.keys, values: t.values, by };
}
