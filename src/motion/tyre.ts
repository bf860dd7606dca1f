import type { AxleSystem } from "../core/equilibrium/condense.ts";
import { addK } from "../core/equilibrium/couple.ts";
import type { TyreModel } from "../core/equilibrium/model.ts";
import { type TreadOut, tread, treadOut } from "../core/equilibrium/tread.ts";
import { sideForces, treadSlopes, wheelLevers } from "../core/equilibrium/tyre-forces.ts";
import { HUB_TURN, HUB_X, HUB_Z, PER_CORNER, TREAD_SHIFT, WHEEL_TILT, wheelTurn } from "../core/equilibrium/unknowns.ts";
import type { Rates } from "./forces.ts";
import type { MotionModel } from "./model.ts";
import { RELAXATION_OVER_RADIUS } from "./settings.ts";

/**
 * The tyre in motion: the static core's tread on the road, with damping and slip.
 *
 * Damping: the pressure is that of the tread a moment T ahead, at place + T · speed, so that it damps and yet never pulls.
 * Side force: F = -(steer + slip stiffness · v_side / v_roll) · F_z, held between -grip and +grip. `steer` is the side force per vertical
 * force that the steering asks for, v_side the speed with which the tread's ground point wanders to the right. When nothing wanders any more this is
 * the static core's F_y = (a_y/g) · F_z, and a wheel that is bumped sideways by its linkage rolls back within about one tyre length.
 * A tyre takes some way to build its side force up: it follows with the way rolled over a relaxation length.
 */
export interface TyreState {
  treads: [TreadOut, TreadOut];
  /** N, vertical and to the right, on each wheel */
  verticalN: [number, number];
  lateralN: [number, number];
  /** share of the grip in use, 1 = slides */
  gripUsed: [number, number];
  unitSide: [number, number];
  /** side force per vertical force now, and at the start of the step */
  level: [number, number];
  levelWas: [number, number];
  /** what the level goes towards, now and at the start of the step */
  target: [number, number];
  targetWas: [number, number];
}

/** Memory of both tyres, nothing acting yet. */
export function tyreState(): TyreState {
  return {
    treads: [treadOut(), treadOut()],
    verticalN: [0, 0],
    lateralN: [0, 0],
    gripUsed: [0, 0],
    unitSide: [0, 0],
    level: [0, 0],
    levelWas: [0, 0],
    target: [0, 0],
    targetWas: [0, 0],
  };
}

export interface TyreInputs {
  /** side force per vertical force that the steering asks for, positive to the left */
  steer: number;
  /** road height under each wheel, mm, and its speed, mm/s */
  road: readonly [number, number];
  roadSpeed: readonly [number, number];
}

export interface Rolling {
  /** rolling speed, mm/s */
  rollMmps: number;
  slipPerRad: number;
  grip: readonly [number, number];
}

/** Per corner: speed of the wheel's centre by hub turn (x, z) and by tilt (x, z), mm, and the centre's height, mm. */
const levers = [new Float64Array(5), new Float64Array(5)] as const;
/** Sideways speed of the tread's ground point by each unknown of its corner. */
const jx = new Float64Array(PER_CORNER);
jx[HUB_X] = 1;

/**
 * Adds both tyres to the residual `r` (forces inside minus outside, N and N·mm) and, with `sys`, to the tangent; what they carry is left in `out`.
 * `q` is the pose at the end of the step, `rates` its speeds; `tyres` are the tyres in use (a bare rim, or none: rate 0).
 */
export function dynamicTyres(
  sys: AxleSystem | null,
  r: Float64Array,
  q: Float64Array,
  m: MotionModel,
  tyres: readonly [TyreModel, TyreModel],
  input: TyreInputs,
  rolling: Rolling,
  rates: Rates,
  out: TyreState,
): void {
  const v = rates.end;
  for (let i = 0; i < 2; i++) {
    const c = m.axle.corners[i]!;
    const b = c.base;
    const ahead = m.tyreDampingS[i]!;
    const l = levers[i]!;
    const { px, pz, cx, cz } = wheelLevers(c, q[b + HUB_TURN]!, q[b + WHEEL_TILT]!);
    l[0] = -(pz + cz);
    l[1] = px + cx;
    l[2] = -cz;
    l[3] = cx;
    l[4] = c.centre[1] + (q[b + HUB_Z]! + pz + cz);
    const rise = v[b + HUB_Z]! + l[1]! * v[b + HUB_TURN]! + l[3]! * v[b + WHEEL_TILT]!;
    const turn = wheelTurn(c, q);
    tread(
      tyres[i]!,
      l[4]! + ahead * rise,
      turn + ahead * (v[b + HUB_TURN]! + v[b + WHEEL_TILT]!),
      q[b + TREAD_SHIFT]! + ahead * v[b + TREAD_SHIFT]!,
      input.road[i]! + ahead * input.roadSpeed[i]!,
      out.treads[i]!,
    );
    out.verticalN[i] = out.treads[i]!.force;
  }
  sideForces(m.axle, 1, out.treads, out.unitSide, null);
  for (let i = 0; i < 2; i++) {
    const c = m.axle.corners[i]!;
    const t = out.treads[i]!;
    const b = c.base;
    const tyre = tyres[i]!;
    const l = levers[i]!;
    const hx = l[0]!,
      hz = l[1]!,
      tx = l[2]!,
      tz = l[3]!;
    const shift = q[b + TREAD_SHIFT]!;
    const turn = wheelTurn(c, q);
    const sin = Math.sin(turn);
    const cos = Math.cos(turn);
    const down = input.road[i]! - l[4]!;
    const rigid = !Number.isFinite(tyre.lateralK);
    jx[HUB_TURN] = hx - down;
    jx[WHEEL_TILT] = tx - down;
    jx[TREAD_SHIFT] = rigid ? 0 : cos;
    let wander = v[m.x]!;
    for (let a = 0; a < PER_CORNER; a++) wander += jx[a]! * v[b + a]!;
    const slip = rolling.slipPerRad / rolling.rollMmps;
    // the tyre follows what is asked over its relaxation length, here by the trapezoidal rule; a soft carcass does it by its own shift
    const rolled = rolling.rollMmps / (rates.perStep * RELAXATION_OVER_RADIUS * tyre.radius);
    const follows = rigid ? rolled / (2 + rolled) : 1;
    const target = input.steer + slip * wander;
    const asked = rigid ? out.levelWas[i]! + follows * (target + out.targetWas[i]! - 2 * out.levelWas[i]!) : target;
    out.target[i] = target;
    const grip = rolling.grip[i]!;
    const level = Math.min(grip, Math.max(-grip, asked));
    const slides = Math.abs(asked) >= grip;
    out.level[i] = level;
    const fx = out.unitSide[i]! * level;
    const fz = t.force;
    out.lateralN[i] = fx;
    out.gripUsed[i] = fz > 0 ? Math.abs(asked) / grip : 0;
    const lever = tyre.radius * sin + shift * cos;
    const moment = fz * lever + t.moment * cos - t.second * tyre.crown * sin - down * fx;
    r[m.x] = r[m.x]! - fx;
    r[b + HUB_X] = r[b + HUB_X]! - fx;
    r[b + HUB_Z] = r[b + HUB_Z]! - fz;
    r[b + HUB_TURN] = r[b + HUB_TURN]! - (hx * fx + hz * fz + moment);
    r[b + WHEEL_TILT] = r[b + WHEEL_TILT]! - (tx * fx + tz * fz + moment);
    if (!rigid) r[b + TREAD_SHIFT] = r[b + TREAD_SHIFT]! - (fx * cos + fz * sin);
    if (!sys || fz === 0) continue;
    // the tangent of the bed; the small terms of the turning levers are left out, the inertia outweighs them a hundredfold
    const s = treadSlopes(t, tyre.radius, tyre.crown, turn, shift);
    const ahead = 1 + m.tyreDampingS[i]! * rates.perEnd;
    const height = [0, 1, hz, tz, 0];
    const turns = [0, 0, 1, 1, 0];
    const dMoment = (n: 0 | 1 | 2): number => s.fz[n] * lever + s.m[n] * cos - s.s[n] * tyre.crown * sin;
    const dm = [dMoment(0), dMoment(1), dMoment(2)] as const;
    const side = slides ? 0 : -out.unitSide[i]! * slip * follows * rates.perEnd;
    for (let k = 0; k < PER_CORNER; k++) {
      const shifts = k === TREAD_SHIFT ? 1 : 0;
      const dF = ahead * (s.fz[0] * height[k]! + s.fz[1] * turns[k]! + s.fz[2] * shifts);
      const dM = ahead * (dm[0] * height[k]! + dm[1] * turns[k]! + dm[2] * shifts);
      addK(sys, b + HUB_Z, b + k, -dF);
      addK(sys, b + HUB_TURN, b + k, -(hz * dF + dM));
      addK(sys, b + WHEEL_TILT, b + k, -(tz * dF + dM));
      if (!rigid) addK(sys, b + TREAD_SHIFT, b + k, -sin * dF);
      if (side !== 0) {
        for (let a = 0; a < PER_CORNER; a++) if (jx[a] !== 0 && jx[k] !== 0) addK(sys, b + a, b + k, side * jx[a]! * jx[k]!);
        if (jx[k] !== 0) {
          addK(sys, m.x, b + k, side * jx[k]!);
          addK(sys, b + k, m.x, side * jx[k]!);
        }
      }
    }
    if (side !== 0) addK(sys, m.x, m.x, side);
  }
}
