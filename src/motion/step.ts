import { assemble } from "../core/equilibrium/assemble.ts";
import { type AxleSystem, axleSystem, factor, solveSystem } from "../core/equilibrium/condense.ts";
import type { TyreModel } from "../core/equilibrium/model.ts";
import { REST } from "../core/equilibrium/solve.ts";
import {
  BODY_TURN,
  FIRST_NODE,
  HEAVE,
  HUB_TURN,
  HUB_X,
  HUB_Z,
  NODE_TURN,
  NODE_X,
  NODE_Z,
  PER_NODE,
  TREAD_SHIFT,
  WHEEL_TILT,
} from "../core/equilibrium/unknowns.ts";
import { type Workspace, workspace } from "../core/equilibrium/workspace.ts";
import { MOMENT_ARM_MM } from "../core/tolerances.ts";
import { G } from "../core/units.ts";
import { closeByNewton, type Open } from "./closing.ts";
import { bearingDamping, jointDamping, type Rates, springDamper } from "./forces.ts";
import { addInertia, HEAVY, type Inertia, inertia, updateInertia } from "./inertia.ts";
import type { MotionModel } from "./model.ts";
import { type Hold, holdBody, type Kerb, kerbForce, scrapes } from "./outside.ts";
import { BLEND_MM, BLEND_RAD, STEP_RESIDUAL_SHARE, WEIGHT_BEFORE, WEIGHT_END, WEIGHT_START } from "./settings.ts";
import { dynamicTyres, type TyreState, tyreState } from "./tyre.ts";
import { type MotionWorld, readPose, readSpeeds, readWheelSpeeds, stepWorld } from "./world.ts";

/**
 * One step of motion.
 *
 * planck moves the bodies by v' = v + h·(F/m + g), x' = x + h·v'. F is the mean of the inside forces at the end of the step, at its start and
 * one step before (weights e, s, b): with planck's speeds read as those of the half steps this is Newmark's method. The forces at the end are
 * found by Newton's method on
 *   M (x' - x - h v)/h² + e S(x') + s S(x) + b S(x_before) = weights   for what has mass (body, hubs, wheels),
 *   S(x') = 0                                                           for what has none (arms with their pins, tread under the rim),
 * S being the static core's residual with damping and tyres in motion. So the arms flex with all their elements, however stiff and light,
 * and planck never sees them.
 */
export interface StepInput {
  steer: number;
  /** sideways acceleration of the frame, g, positive to the left: what the curve asks for */
  lateralG: number;
  road: [number, number];
  roadSpeed: [number, number];
  kerb: Kerb | null;
  hold: Hold | null;
  /** force on the body's centre of gravity, N to the right and up, and moment, N·mm */
  push: [number, number, number];
}

/** An outside world that does nothing: flat road, no curve, no hand. */
export const stillInput = (): StepInput => ({ steer: 0, lateralG: 0, road: [0, 0], roadSpeed: [0, 0], kerb: null, hold: null, push: [0, 0, 0] });

export interface Stepper {
  m: MotionModel;
  world: MotionWorld;
  h: number;
  rollMmps: number;
  slipPerRad: number;
  grip: [number, number];
  tyres: [TyreModel, TyreModel];
  wheelOn: [boolean, boolean];
  /** unknowns now, their last change and the one before it */
  q: Float64Array;
  last: Float64Array;
  lastBefore: Float64Array;
  /** where the last two steps alone lead, by how much the last end lay off it, and the share of that to expect again */
  led: Float64Array;
  missed: Float64Array;
  missShare: number;
  /** speeds of the heavy unknowns, and those of a step ago */
  v: Float64Array;
  vBefore: Float64Array;
  /** inside forces on the heavy unknowns now and a step ago */
  s0: Float64Array;
  s1: Float64Array;
  inertia: Inertia;
  sys: AxleSystem;
  ws: Workspace;
  rates: Rates;
  tyre: TyreState;
  /** force of each joint on its outboard part, N: x, z; upper inner, upper outer, lower inner, lower outer, left then right */
  jointForce: Float64Array;
  /** N·mm */
  bearingMoment: [number, number];
  damperN: [number, number];
  /** on the wheel, N, positive to the right */
  kerbN: number;
  wheelSpeed: Float64Array;
  /** accelerations of the wheels' centres against the frame at the start of the last step, mm/s²: left x, z, right x, z */
  wheelAcc: Float64Array;
  /** what acted on the wheels at that same moment: vertical and side force, N, bearing moment, N·mm, kerb, N */
  before: { verticalN: [number, number]; lateralN: [number, number]; bearingMoment: [number, number]; kerbN: number };
  r: Float64Array;
  next: Float64Array;
  dq: Float64Array;
  rest: Float64Array;
  acc: Float64Array;
  /** what inertia, weight and the forces before add to the last residual */
  inert: Float64Array;
  fresh: boolean;
  steps: number;
  iterations: number;
  factors: number;
  /** steps whose forces did not close to the wanted share, and the worst of them, N */
  open: number;
  openN: number;
}

/**
 * Memory of the stepping at the unknowns `q` (n + 1, copied). `h` in s, `rollMmps` the rolling speed, mm/s, `slipPerRad` side force per vertical force and
 * radian, `grip` the largest side force per vertical force of each tyre. Call `forgetForces` before the first step when forces act already.
 */
export function stepper(m: MotionModel, world: MotionWorld, q: Float64Array, h: number, rollMmps: number, slipPerRad: number, grip: [number, number]): Stepper {
  const n = m.bare.n;
  const full = (): Float64Array => new Float64Array(n);
  return {
    m,
    world,
    h,
    rollMmps,
    slipPerRad,
    grip,
    tyres: [m.axle.corners[0].tyre, m.axle.corners[1].tyre],
    wheelOn: [true, true],
    q: q.slice(),
    last: full(),
    lastBefore: full(),
    led: full(),
    missed: full(),
    missShare: 0,
    v: new Float64Array(HEAVY),
    vBefore: new Float64Array(HEAVY),
    s0: new Float64Array(HEAVY),
    s1: new Float64Array(HEAVY),
    inertia: inertia(m),
    sys: axleSystem(m.bare),
    ws: workspace(),
    rates: { perStep: 1 / h, end: full(), perEnd: 1.5 / h },
    tyre: tyreState(),
    jointForce: new Float64Array(16),
    bearingMoment: [0, 0],
    damperN: [0, 0],
    kerbN: 0,
    wheelSpeed: new Float64Array(4),
    wheelAcc: new Float64Array(4),
    before: { verticalN: [0, 0], lateralN: [0, 0], bearingMoment: [0, 0], kerbN: 0 },
    r: full(),
    next: full(),
    dq: full(),
    rest: new Float64Array(HEAVY),
    acc: new Float64Array(HEAVY),
    inert: new Float64Array(HEAVY),
    fresh: false,
    steps: 0,
    iterations: 0,
    factors: 0,
    open: 0,
    openN: 0,
  };
}

/** Out of balance by more than this share of the weight, a step is no step: the axle has given way. */
const GIVEN_WAY_SHARE = 0.25;

const BLEND = { mm: BLEND_MM, rad: BLEND_RAD };

/** Inside forces minus outside ones at `x`, moving with `s.rates`, into `s.r`; weights and inertia are not among them. */
function inside(s: Stepper, x: Float64Array, input: StepInput, sys: AxleSystem | null): void {
  const { m, r, rates } = s;
  assemble(m.bare, x, REST, BLEND, r, sys, s.ws);
  jointDamping(sys, r, x, m.bare, rates, s.jointForce);
  for (let i = 0; i < 2; i++) {
    const c = m.bare.corners[i]!;
    s.bearingMoment[i] = bearingDamping(sys, r, x, c, rates);
    s.damperN[i] = springDamper(sys, r, x, c, rates);
  }
  dynamicTyres(sys, r, x, m, s.tyres, input, s, rates, s.tyre);
  s.kerbN = input.kerb ? kerbForce(sys, r, x, m, input.kerb, rates, s.wheelOn[input.kerb.side === "left" ? 0 : 1]) : 0;
  scrapes(sys, r, x, m, rates, s.wheelOn, input.road);
  if (input.hold) holdBody(sys, r, x, m, input.hold, rates);
  r[m.x] = r[m.x]! - input.push[0];
  r[HEAVE] = r[HEAVE]! - input.push[1];
  r[BODY_TURN] = r[BODY_TURN]! - input.push[2];
  if (sys) {
    // the body's x has no spring of its own; a grain keeps the static solution of the light parts solvable
    const k = sys.model.kept[m.x]! * (sys.model.nKept + 1);
    sys.a[k] = sys.a[k]! + 1e-12;
  }
}

/** Largest force that is out, N; moments count over the core's moment arm. NaN as soon as one of them is. */
export function outOfBalance(m: MotionModel, r: Float64Array): number {
  let worst = Math.max(Math.abs(r[HEAVE]!), Math.abs(r[BODY_TURN]!) / MOMENT_ARM_MM, Math.abs(r[m.x]!));
  const see = (v: number): void => {
    // nothing takes the place of a NaN
    if (v > worst || Number.isNaN(v)) worst = v;
  };
  for (const { base: b } of m.bare.corners) {
    see(Math.abs(r[b + HUB_X]!));
    see(Math.abs(r[b + HUB_Z]!));
    see(Math.abs(r[b + HUB_TURN]!) / MOMENT_ARM_MM);
    see(Math.abs(r[b + WHEEL_TILT]!) / MOMENT_ARM_MM);
    see(Math.abs(r[b + TREAD_SHIFT]!));
  }
  for (let i = FIRST_NODE; i < m.x; i += PER_NODE) {
    see(Math.abs(r[i + NODE_X]!));
    see(Math.abs(r[i + NODE_Z]!));
    see(Math.abs(r[i + NODE_TURN]!) / MOMENT_ARM_MM);
  }
  return worst;
}

function setRates(s: Stepper, x: Float64Array): void {
  const { end, perStep } = s.rates;
  const { q, last } = s;
  for (let i = 0; i < x.length; i++) end[i] = (1.5 * (x[i]! - q[i]!) - 0.5 * last[i]!) * perStep;
}

/** Residual of the step at `x`, over the weight of its end: inside forces plus inertia. */
function residual(s: Stepper, x: Float64Array, input: StepInput, sys: AxleSystem | null): number {
  setRates(s, x);
  inside(s, x, input, sys);
  const { r, inertia: mass, acc } = s;
  const hh = s.h * s.h;
  mass.heavy.forEach((k, i) => {
    acc[i] = (x[k]! - s.q[k]! - s.h * s.v[i]!) / hh;
  });
  mass.heavy.forEach((k, i) => {
    let f = s.rest[i]!;
    for (let j = 0; j < HEAVY; j++) f += mass.mass[HEAVY * i + j]! * acc[j]!;
    s.inert[i] = f / WEIGHT_END;
    r[k] = r[k]! + f / WEIGHT_END;
  });
  if (sys) addInertia(mass, sys, 1 / (WEIGHT_END * hh));
  return outOfBalance(s.m, r);
}

/** Sets the memory of the forces to those of the present pose, as after a sudden change; nothing is taken to move. */
export function forgetForces(s: Stepper, input: StepInput): void {
  readPose(s.world, s.m, s.q);
  readSpeeds(s.world, s.v);
  readWheelSpeeds(s.world, s.wheelSpeed);
  s.rates.end.fill(0);
  inside(s, s.q, input, null);
  s.inertia.heavy.forEach((k, i) => {
    s.s0[i] = s.r[k]!;
    s.s1[i] = s.r[k]!;
  });
  remember(s);
  s.fresh = false;
}

function remember(s: Stepper): void {
  const { before, tyre } = s;
  for (let i = 0; i < 2; i++) {
    before.verticalN[i] = tyre.verticalN[i]!;
    before.lateralN[i] = tyre.lateralN[i]!;
    before.bearingMoment[i] = s.bearingMoment[i]!;
    tyre.levelWas[i] = tyre.level[i]!;
    tyre.targetWas[i] = tyre.target[i]!;
  }
  before.kerbN = s.kerbN;
}

/**
 * Newton's method for the end of a step, into `s.next`; returns what is left out of balance, N. It starts where the last two steps lead, change and
 * change of the change; `careful` starts with the light parts where they are, and makes the tangent anew each time.
 */
function close(s: Stepper, input: StepInput, wanted: number, careful: boolean): number {
  const { q, next, dq, r, h } = s;
  const { led, missed, missShare } = s;
  for (let i = 0; i < q.length; i++) led[i] = 2 * s.last[i]! - s.lastBefore[i]! + q[i]!;
  const { heavy } = s.inertia;
  heavy.forEach((k, i) => {
    led[k] = q[k]! + h * (2 * s.v[i]! - s.vBefore[i]!);
  });
  if (careful) {
    next.set(q);
    heavy.forEach((k, i) => {
      next[k] = q[k]! + h * s.v[i]!;
    });
  } else for (let i = 0; i < q.length; i++) next[i] = led[i]! + missShare * missed[i]!;
  const keep = s.fresh && !careful;
  const size = residual(s, next, input, keep ? null : s.sys);
  if (!keep) renew(s);
  const open: Open = {
    at: next,
    change: dq,
    out: (tangent) => residual(s, next, input, tangent ? s.sys : null),
    renew: () => renew(s),
    ask: () => {
      for (let i = 0; i < r.length; i++) dq[i] = -r[i]!;
      solveSystem(s.sys, dq, dq);
    },
  };
  const closed = closeByNewton(open, size, wanted, careful);
  s.iterations += closed.iterations;
  return closed.size;
}

/**
 * Makes one step with the outside world as `input` has it at the end of the step. Returns false, and leaves the world alone, when the light parts find no
 * place in balance any more: an arm has snapped through or the linkage has been torn beyond its reach.
 */
export function step(s: Stepper, input: StepInput): boolean {
  const { m, world, h, q, next, dq, r } = s;
  updateInertia(s.inertia, m, q, s.wheelOn);
  remember(s);
  const gx = G * 1000 * input.lateralG;
  const gz = -G * 1000;
  const { heavy, pullX, pullZ } = s.inertia;
  heavy.forEach((_, i) => {
    s.rest[i] = WEIGHT_START * s.s0[i]! + WEIGHT_BEFORE * s.s1[i]! - gx * pullX[i]! - gz * pullZ[i]!;
  });
  const wanted = STEP_RESIDUAL_SHARE * m.axle.totalWeight;
  let size = close(s, input, wanted, false);
  if (!(size <= wanted)) size = close(s, input, wanted, true);
  if (!(size <= wanted)) {
    s.open++;
    // written so that a NaN is kept
    if (!(size <= s.openN)) s.openN = size;
    s.fresh = false;
    if (!(size <= GIVEN_WAY_SHARE * m.axle.totalWeight)) return false;
  }
  learn(s);
  // forces at the end, without inertia
  const force = s.acc;
  heavy.forEach((k, i) => {
    const end = r[k]! - s.inert[i]!;
    force[i] = -(WEIGHT_END * end + WEIGHT_START * s.s0[i]! + WEIGHT_BEFORE * s.s1[i]!);
    s.s1[i] = s.s0[i]!;
    s.s0[i] = end;
  });
  stepWorld(world, force, gx / 1000, gz / 1000, h);
  s.lastBefore.set(s.last);
  s.vBefore.set(s.v);
  for (let i = 0; i < q.length; i++) {
    s.last[i] = next[i]! - q[i]!;
    q[i] = next[i]!;
  }
  heavy.forEach((k, i) => {
    dq[i] = q[k]! - s.last[k]!;
  });
  readPose(world, m, q);
  heavy.forEach((k, i) => {
    s.last[k] = q[k]! - dq[i]!;
  });
  readSpeeds(world, s.v);
  const w = s.wheelAcc;
  for (let i = 0; i < 4; i++) w[i] = -s.wheelSpeed[i]!;
  readWheelSpeeds(world, s.wheelSpeed);
  for (let i = 0; i < 4; i++) w[i] = (w[i]! + s.wheelSpeed[i]!) / h;
  s.steps++;
  return true;
}

/** Sees by how much the end of the step lay off where the steps before it led, and what share of the miss before has come again. */
export function learn(s: Pick<Stepper, "led" | "missed" | "next" | "missShare">): void {
  const { led, missed, next } = s;
  let both = 0;
  let before = 0;
  for (let i = 0; i < next.length; i++) {
    const miss = next[i]! - led[i]!;
    both += miss * missed[i]!;
    before += missed[i]! * missed[i]!;
    missed[i] = miss;
  }
  s.missShare = before > 0 ? Math.min(1, Math.max(0, both / before)) : 0;
}

function renew(s: Stepper): void {
  factor(s.sys);
  s.factors++;
  s.fresh = true;
}
