import type { Side } from "../core/design/types.ts";
import type { AxleSystem } from "../core/equilibrium/condense.ts";
import { addK } from "../core/equilibrium/couple.ts";
import { wheelCentreShift, wheelLevers } from "../core/equilibrium/tyre-forces.ts";
import { BODY_TURN, HEAVE, HUB_TURN, HUB_X, HUB_Z, WHEEL_TILT, wheelTurn } from "../core/equilibrium/unknowns.ts";
import type { Rates } from "./forces.ts";
import type { MotionModel } from "./model.ts";
import { FLANK_DAMPING_S, SCRAPE_DAMPING_S, SCRAPE_N_PER_MM } from "./settings.ts";

/**
 * What acts on the axle from outside besides road and gravity: a kerb, the bare ground, a hand on the body. Contacts damp like the tyres: they feel the depth
 * that the speed will have made a moment later, so that the force sets in without a jump and never pulls.
 */

/** A kerb that comes from the side; its face at `xMm` moves with `speedMmps` to the right in the frame of the road. */
export interface Kerb {
  side: Side;
  xMm: number;
  speedMmps: number;
  heightMm: number;
}

/** A hand on the body: each pulls only where it is given. Spring and damper from the body to the target. */
export interface Hold {
  xMm?: number;
  /** rise of the body's centre of gravity against as-built */
  heaveMm?: number;
  angleRad?: number;
  nPerMm: number;
  nsPerMm: number;
  /** N·mm/rad and N·mm·s/rad */
  nmmPerRad: number;
  nmmsPerRad: number;
}

/** A pull along one direction of the unknowns: force f along J, stiffness k along J. */
function along(sys: AxleSystem | null, r: Float64Array, at: readonly number[], j: readonly number[], f: number, k: number): void {
  for (let a = 0; a < at.length; a++) r[at[a]!] = r[at[a]!]! - j[a]! * f;
  if (sys && k !== 0) for (let a = 0; a < at.length; a++) for (let b = 0; b < at.length; b++) addK(sys, at[a]!, at[b]!, k * j[a]! * j[b]!);
}

/**
 * Flank of a wheel on a kerb's face: a spring and damper across the outer edge of the tread at the height of the kerb, without friction.
 * The whole face counts up to the wheel's centre; a kerb below the tread is driven over and not felt. Returns the force on the wheel, N, positive to the right.
 */
export function kerbForce(sys: AxleSystem | null, r: Float64Array, q: Float64Array, m: MotionModel, kerb: Kerb, rates: Rates, wheelOn: boolean): number {
  const i = kerb.side === "left" ? 0 : 1;
  const c = m.axle.corners[i];
  if (!wheelOn) return 0;
  const b = c.base;
  const [ux, uz] = wheelCentreShift(c, q);
  const { pz, cz } = wheelLevers(c, q[b + HUB_TURN]!, q[b + WHEEL_TILT]!);
  const z = c.centre[1] + uz;
  const turn = wheelTurn(c, q);
  const height = Math.min(kerb.heightMm, z);
  if (height <= z - c.corner.wheel.radiusMm * Math.cos(turn)) return 0;
  const up = height - z;
  const edge = q[m.x]! + c.centre[0] + ux + (c.sign * c.corner.wheel.treadWidthMm) / 2 / Math.cos(turn) - up * Math.tan(turn);
  const at = [m.x, b + HUB_X, b + HUB_TURN, b + WHEEL_TILT];
  // x-speed of the wheel's point at that height by body x, hub x, turn, tilt
  const j = [1, 1, -(pz + cz) - up, -cz - up];
  let speed = -kerb.speedMmps;
  for (let a = 0; a < 4; a++) speed += j[a]! * rates.end[at[a]!]!;
  const deep = c.sign * (edge - kerb.xMm + FLANK_DAMPING_S * speed);
  if (deep <= 0) return 0;
  const k = m.flankK[i];
  const f = -c.sign * k * deep;
  along(sys, r, at, j, f, k * (1 + FLANK_DAMPING_S * rates.perEnd));
  return f;
}

/** Hub without wheel, and body, scraping over the ground at height `ground` mm: they push, without friction. */
export function scrapes(
  sys: AxleSystem | null,
  r: Float64Array,
  q: Float64Array,
  m: MotionModel,
  rates: Rates,
  wheelOn: readonly [boolean, boolean],
  ground: readonly [number, number],
): void {
  for (let i = 0; i < 2; i++) {
    const c = m.axle.corners[i]!;
    if (!wheelOn[i]) scrape(sys, r, q, rates, c.base + HUB_Z, c.base + HUB_TURN, c.centre[1], m.hubFoot[i]!, ground[i]!);
    scrape(sys, r, q, rates, HEAVE, BODY_TURN, m.axle.cg[1], m.bodyFeet[i]!, ground[i]!);
  }
}

function scrape(
  sys: AxleSystem | null,
  r: Float64Array,
  q: Float64Array,
  rates: Rates,
  iz: number,
  it: number,
  height: number,
  foot: readonly [number, number],
  ground: number,
): void {
  const sin = Math.sin(q[it]!);
  const cos = Math.cos(q[it]!);
  const px = cos * foot[0] - sin * foot[1];
  const pz = sin * foot[0] + cos * foot[1];
  const gap = height + q[iz]! + pz - ground;
  const deep = -(gap + SCRAPE_DAMPING_S * (rates.end[iz]! + px * rates.end[it]!));
  if (deep <= 0) return;
  along(sys, r, [iz, it], [1, px], SCRAPE_N_PER_MM * deep, SCRAPE_N_PER_MM * (1 + SCRAPE_DAMPING_S * rates.perEnd));
}

/** The hand on the body. */
export function holdBody(sys: AxleSystem | null, r: Float64Array, q: Float64Array, m: MotionModel, hold: Hold, rates: Rates): void {
  const one = (i: number, target: number | undefined, k: number, damp: number): void => {
    if (target === undefined) return;
    r[i] = r[i]! + k * (q[i]! - target) + damp * rates.end[i]!;
    if (sys) addK(sys, i, i, k + damp * rates.perEnd);
  };
  one(m.x, hold.xMm, hold.nPerMm, hold.nsPerMm);
  one(HEAVE, hold.heaveMm, hold.nPerMm, hold.nsPerMm);
  one(BODY_TURN, hold.angleRad, hold.nmmPerRad, hold.nmmsPerRad);
}
