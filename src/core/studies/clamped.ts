import type { Load, Side } from "../design/types.ts";
import { assemble } from "../equilibrium/assemble.ts";
import { solveSystem } from "../equilibrium/condense.ts";
import type { AxleModel } from "../equilibrium/model.ts";
import { FINAL_BLEND, type Solver, solveAt } from "../equilibrium/newton.ts";
import { camberRad, readState } from "../equilibrium/readout.ts";
import { BODY_TURN, HEAVE, TREAD_SHIFT } from "../equilibrium/unknowns.ts";
import { wheelTravelMm } from "../equilibrium/wheel-travel.ts";
import { radToDeg } from "../units.ts";

/**
 * The axle on a rig: the body clamped, each wheel on its pad. The same equilibrium as on the road, with the body's two
 * unknowns prescribed. The pads carry no side force of their own (they float sideways).
 */
export interface RigInput {
  /** height of each pad against the road as built, mm */
  padMm: Record<Side, number>;
  /** side force of the pad on each wheel, outwards, N */
  outwardN: Record<Side, number>;
  /** place of the body: rise of its centre of gravity, mm, and turn about it, rad, counter-clockwise in the picture */
  heaveMm: number;
  turnRad: number;
}

/** What a rig measures at one wheel. Places are read outwards and upwards, against the as-built ones. */
export interface RigReading {
  /** against the pad, positive: top outwards */
  camberDeg: number;
  /** rise of the wheel centre against the body, in the body's own frame, mm */
  wheelTravelMm: number;
  /** outward shift of the wheel centre, mm */
  wheelOutMm: number;
  /** outward shift of the middle of the tread where it stands on the pad, the tyre's own sideways give included, mm */
  contactOutMm: number;
  /** rise of the middle of the tread if the tyre were not pressed in, mm */
  contactRiseMm: number;
  /** of the pad on the wheel, N */
  verticalLoadN: number;
  springLengthMm: number;
}
export const READINGS = ["camberDeg", "wheelTravelMm", "wheelOutMm", "contactOutMm", "contactRiseMm", "verticalLoadN", "springLengthMm"] as const;

export interface RigPoint {
  left: RigReading;
  right: RigReading;
  /** what the axle puts up against the clamp about the body's centre of gravity, N·mm, counter-clockwise; the rest of the car left out */
  clampMomentNmm: number;
}

/** A clamped axle with a solved position. */
export interface Clamped {
  model: AxleModel;
  solver: Solver;
  q: Float64Array;
}

const loadOf = (input: RigInput): Load => ({ lateralG: 0, bumpLeftMm: input.padMm.left, bumpRightMm: input.padMm.right });

function setInput(c: Clamped, input: RigInput): Load {
  c.model.held = { heaveMm: input.heaveMm, turnRad: input.turnRad };
  c.model.corners.forEach((corner, i) => {
    c.solver.ws.scrub[i as 0 | 1] = corner.sign * input.outwardN[corner.side];
  });
  return loadOf(input);
}

/** Solves the clamped axle from `c.q`, in place; false (and `c.q` as it was) when it finds no steady position. */
export function solveClamped(c: Clamped, input: RigInput): boolean {
  const load = setInput(c, input);
  const next = c.q.slice();
  next[HEAVE] = input.heaveMm;
  next[BODY_TURN] = input.turnRad;
  if (!solveAt(c.solver, next, load)) return false;
  c.q = next;
  return true;
}

/** Reads the rig at unknowns `q`; `input` must be the one that they belong to. */
export function readRig(c: Clamped, q: Float64Array, input: RigInput): RigPoint {
  const { model, solver } = c;
  const load = loadOf(input);
  const state = readState(model, q, load);
  const side = (i: 0 | 1): RigReading => {
    const corner = model.corners[i];
    const s = state[corner.side];
    const { radius } = corner.tyre;
    const turn = s.wheelAngleRad;
    const treadX = s.wheelCentre[0] + radius * Math.sin(turn) + q[corner.base + TREAD_SHIFT]! * Math.cos(turn);
    const built = corner.staticTurn;
    return {
      camberDeg: radToDeg(camberRad(model, q, i)),
      wheelTravelMm: wheelTravelMm(model, state, corner.side),
      wheelOutMm: corner.sign * (s.wheelCentre[0] - corner.centre[0]),
      contactOutMm: corner.sign * (treadX - corner.centre[0] - radius * Math.sin(built)),
      contactRiseMm: s.wheelCentre[1] - corner.centre[1] - radius * (Math.cos(turn) - Math.cos(built)),
      verticalLoadN: s.tyre.verticalN,
      springLengthMm: s.spring.lengthMm,
    };
  };
  setInput(c, input);
  const held = model.held;
  model.held = null;
  assemble(model, q, load, FINAL_BLEND, solver.r, null, solver.ws);
  model.held = held;
  return { left: side(0), right: side(1), clampMomentNmm: solver.r[BODY_TURN]! - model.otherRollK * q[BODY_TURN]! };
}

/** What moves when an input does: the inputs after a step of size `t` of the test. */
export type RigPath = (t: number) => RigInput;

/** Half-width of the central differences that only ever touch closed formulas: small beside every part, large beside rounding. */
const STEP = 1e-4;

const combine = (a: RigPoint, b: RigPoint, f: (x: number, y: number) => number): RigPoint => {
  const side = (n: Side): RigReading => Object.fromEntries(READINGS.map((r) => [r, f(a[n][r], b[n][r])])) as Record<(typeof READINGS)[number], number>;
  return { left: side("left"), right: side("right"), clampMomentNmm: f(a.clampMomentNmm, b.clampMomentNmm) };
};

/**
 * Slopes of every reading along a test at t = 0, where `c.q` is solved: dq/dt from the exact tangent (K dq = -dR/dt), then the
 * readings along (q + dq t, input(t)). The two derivatives of closed formulas by t are central differences; nothing is re-solved.
 */
export function slopesAtZero(c: Clamped, path: RigPath): RigPoint {
  const { model, solver } = c;
  const n = model.n;
  const forward = new Float64Array(n);
  const back = new Float64Array(n);
  assemble(model, c.q, setInput(c, path(STEP)), FINAL_BLEND, forward, null, solver.ws);
  assemble(model, c.q, setInput(c, path(-STEP)), FINAL_BLEND, back, null, solver.ws);
  for (let i = 0; i < n; i++) forward[i] = -(forward[i]! - back[i]!) / (2 * STEP);
  const dq = new Float64Array(n);
  solveSystem(solver.sys, forward, dq);
  const at = (t: number): RigPoint => {
    const q = c.q.slice();
    for (let i = 0; i < n; i++) q[i] = q[i]! + t * dq[i]!;
    return readRig(c, q, path(t));
  };
  return combine(at(STEP), at(-STEP), (x, y) => (x - y) / (2 * STEP));
}
