import type { AxleSystem } from "../core/equilibrium/condense.ts";
import { addK } from "../core/equilibrium/couple.ts";
import { wheelLevers } from "../core/equilibrium/tyre-forces.ts";
import { BODY_TURN, cornerBase, HEAVE, HUB_TURN, HUB_X, HUB_Z, WHEEL_TILT } from "../core/equilibrium/unknowns.ts";
import type { MotionModel } from "./model.ts";

/**
 * Mass matrix of the moving parts over the heavy unknowns. Unknowns are measured from the body in x, planck's bodies from the
 * ground: hub speed = (x' + ux', uz'), wheel speed = hub speed + turn' · (hx, hz) + tilt' · (tx, tz), with the levers of the wheel's centre
 * as they stand at the start of the step. The arms weigh nothing of their own: the scenario counts them with the unsprung mass.
 * Forces in N, so masses count in 1e-3 kg (kg·mm/s² = 1e-3 N).
 */
const KG_MM_TO_N = 1e-3;

/** Heavy unknowns of a corner, in the places they have in it; the tread has no mass. */
const CORNER_PLACES = [HUB_X, HUB_Z, HUB_TURN, WHEEL_TILT];
/** First heavy unknown of a corner: before the left one's stand the body's heave and turn, at their places `HEAVE` and `BODY_TURN`. */
export const heavyAt = (corner: number): number => cornerBase(0) + CORNER_PLACES.length * corner;
/** The body's x among the heavy unknowns: the last one. */
export const BODY_X = heavyAt(2);
export const HEAVY = BODY_X + 1;

/** Heavy unknowns: body heave and turn, per corner hub x, z, turn and wheel tilt, and the body's x. */
export function heavyIndices(m: MotionModel): number[] {
  return [HEAVE, BODY_TURN, ...m.axle.corners.flatMap((c) => CORNER_PLACES.map((place) => c.base + place)), m.x];
}

export interface Inertia {
  heavy: number[];
  /** 11 x 11, row-major, N per mm/s² and N·mm per rad/s² */
  mass: Float64Array;
  /** per heavy unknown: weight as a generalised force of gravity (gx, gz) = (1, 0) and (0, 1) mm/s² */
  pullX: Float64Array;
  pullZ: Float64Array;
}

/** Memory for the mass matrix of `m`, empty until `updateInertia`. */
export function inertia(m: MotionModel): Inertia {
  return { heavy: heavyIndices(m), mass: new Float64Array(HEAVY * HEAVY), pullX: new Float64Array(HEAVY), pullZ: new Float64Array(HEAVY) };
}

/** Fills the mass matrix for the levers at `q`; `wheelOn` tells which corners still have their wheel. */
export function updateInertia(o: Inertia, m: MotionModel, q: Float64Array, wheelOn: readonly [boolean, boolean]): void {
  const { mass, pullX, pullZ } = o;
  mass.fill(0);
  pullX.fill(0);
  pullZ.fill(0);
  const f = KG_MM_TO_N;
  add(mass, HEAVE, HEAVE, m.bodyKg * f);
  add(mass, BODY_TURN, BODY_TURN, m.bodyInertia * f);
  add(mass, BODY_X, BODY_X, m.bodyKg * f);
  pullX[BODY_X] = m.bodyKg * f;
  pullZ[HEAVE] = m.bodyKg * f;
  for (let i = 0; i < 2; i++) {
    const c = m.axle.corners[i]!;
    const w = m.corners[i]!;
    const on = wheelOn[i]!;
    const { px, pz, cx, cz } = wheelLevers(c, q[c.base + HUB_TURN]!, q[c.base + WHEEL_TILT]!);
    const b = heavyAt(i);
    addPoint(o, b, w.hubKg * f, 0, 0, 0, 0);
    add(mass, b + HUB_TURN, b + HUB_TURN, w.hubInertia * f);
    if (on) addPoint(o, b, w.wheelKg * f, -(pz + cz), px + cx, -cz, cx);
    // a hub that has lost its wheel keeps a grain of inertia on the empty bearing
    const turning = (on ? w.wheelInertia : 1e-3 * w.hubInertia) * f;
    add(mass, b + HUB_TURN, b + HUB_TURN, turning);
    add(mass, b + HUB_TURN, b + WHEEL_TILT, turning);
    add(mass, b + WHEEL_TILT, b + HUB_TURN, turning);
    add(mass, b + WHEEL_TILT, b + WHEEL_TILT, turning);
  }
}

function add(mass: Float64Array, i: number, j: number, v: number): void {
  mass[HEAVY * i + j] = mass[HEAVY * i + j]! + v;
}

// columns of a point's x-speed and z-speed: [hub x | body x], hub z, turn, tilt, and their places among the heavy unknowns
const vx = Float64Array.of(1, 0, 0, 0, 1);
const vz = Float64Array.of(0, 1, 0, 0, 0);
const at = new Int32Array(5);

/** Adds a point mass of a corner whose unknowns begin at `b`; `tx`, `tz` its speed by the hub's turn, `ux`, `uz` by the wheel's tilt, mm. */
function addPoint(o: Inertia, b: number, mass: number, tx: number, tz: number, ux: number, uz: number): void {
  const { pullX, pullZ } = o;
  vx[HUB_TURN] = tx;
  vx[WHEEL_TILT] = ux;
  vz[HUB_TURN] = tz;
  vz[WHEEL_TILT] = uz;
  for (let k = 0; k < 4; k++) at[k] = b + k;
  at[4] = BODY_X;
  for (let r = 0; r < 5; r++) {
    const i = at[r]!;
    for (let k = 0; k < 5; k++) add(o.mass, i, at[k]!, mass * (vx[r]! * vx[k]! + vz[r]! * vz[k]!));
    pullX[i] = pullX[i]! + mass * vx[r]!;
    pullZ[i] = pullZ[i]! + mass * vz[r]!;
  }
}

/** Adds `scale` times the mass matrix to the tangent. */
export function addInertia(o: Inertia, sys: AxleSystem, scale: number): void {
  for (let i = 0; i < HEAVY; i++)
    for (let j = 0; j < HEAVY; j++) {
      const v = o.mass[HEAVY * i + j]!;
      if (v !== 0) addK(sys, o.heavy[i]!, o.heavy[j]!, scale * v);
    }
}
