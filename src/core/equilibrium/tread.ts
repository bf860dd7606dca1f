import type { TyreModel } from "./model.ts";

/**
 * The tread on the road: a Winkler bed across a tread strip, pushing only where it is pressed in.
 *
 * Strip point at coordinate e from the wheel plane (mm, along the wheel axis, positive to the right), wheel turned by p:
 *   penetration  d(e) = d0 + d1 e - d2 e²,   d0 = road - Cz + R cos p - shift sin p,  d1 = -sin p,  d2 = cos p / (2 crown radius)
 * Vertical force, first and second moment over the loaded strip follow in closed form from the powers of its ends.
 * Flat and upright: F = k·d0. Far edge lifted: the loaded strip shrinks to one side, F = rate·d_max²/(2 |sin p|).
 * The bed's energy is rate/2 ∫ d² de, so force and moment have a symmetric derivative.
 */
export interface TreadOut {
  from: number;
  to: number;
  d0: number;
  d1: number;
  d2: number;
  /** ∫d, ∫e d, ∫e² d times rate: N, N·mm, N·mm² */
  force: number;
  moment: number;
  second: number;
  /** rate times ∫eⁿ de over the loaded strip, n = 0..4: derivatives of the three above */
  j: Float64Array;
}

/** Room for what `tread` tells. */
export function treadOut(): TreadOut {
  return { from: 0, to: 0, d0: 0, d1: 0, d2: 0, force: 0, moment: 0, second: 0, j: new Float64Array(5) };
}

/** Fills `out` for a wheel centre height, wheel turn, shift of the tread under the wheel and road height. */
export function tread(tyre: TyreModel, centreZ: number, turn: number, shift: number, road: number, out: TreadOut): void {
  const sin = Math.sin(turn);
  const cos = Math.cos(turn);
  const d0 = road - centreZ + tyre.radius * cos - shift * sin;
  const d1 = -sin;
  const d2 = tyre.crown * cos;
  const h = tyre.halfWidth;
  let from = -h;
  let to = h;
  if (d2 > 0) {
    const disc = d1 * d1 + 4 * d2 * d0;
    if (disc <= 0) {
      to = from;
    } else {
      // stable roots of d0 + d1 e - d2 e²
      const qq = d1 >= 0 ? (d1 + Math.sqrt(disc)) / 2 : (d1 - Math.sqrt(disc)) / 2;
      const ra = qq / d2;
      const rb = qq === 0 ? 0 : -d0 / qq;
      const lo = Math.min(ra, rb);
      const hi = Math.max(ra, rb);
      if (lo > from) from = Math.min(lo, h);
      if (hi < to) to = Math.max(hi, -h);
      if (to < from) to = from;
    }
  } else if (d1 !== 0) {
    const root = -d0 / d1;
    if (d1 > 0) from = Math.min(Math.max(from, root), h);
    else to = Math.max(Math.min(to, root), -h);
  } else if (d0 <= 0) {
    to = from;
  }
  const j = out.j;
  const rate = tyre.rate;
  let pf = from;
  let pt = to;
  for (let n = 0; n < 5; n++) {
    j[n] = (rate * (pt - pf)) / (n + 1);
    pf *= from;
    pt *= to;
  }
  out.from = from;
  out.to = to;
  out.d0 = d0;
  out.d1 = d1;
  out.d2 = d2;
  out.force = d0 * j[0]! + d1 * j[1]! - d2 * j[2]!;
  out.moment = d0 * j[1]! + d1 * j[2]! - d2 * j[3]!;
  out.second = d0 * j[2]! + d1 * j[3]! - d2 * j[4]!;
}
