import { type Bench, buildBench, solveLoad } from "../analyze.ts";
import { editCorners } from "../design/edit-corners.ts";
import { cornerOf } from "../design/sides.ts";
import { type Scenario, SIDES, type Side, type Spring } from "../design/types.ts";
import { readState } from "../equilibrium/readout.ts";
import { REST, solveWarm } from "../equilibrium/solve.ts";
import type { AxleState } from "../equilibrium/state.ts";
import { wheelTravelMm } from "../equilibrium/wheel-travel.ts";

/** How high the car stands: a change that would raise or lower it is trimmed by the springs, so that only the change itself is told. */

/** Rise of a wheel against the body at rest, mm. */
export function restTravel(b: Bench, side: Side): number | null {
  return b.rest.ok ? wheelTravelMm(b.model, b.rest.state, side) : null;
}

const TRIM_ROUNDS = 4;
/** ride height is trimmed to this, mm */
const TRIMMED_MM = 0.02;

/**
 * A bench's scenario with its springs' free length trimmed so that each wheel stands at rest at the wanted mm of travel. Each wheel's
 * travel is taken to follow its own spring's length over the motion ratio at rest; a few rounds settle what couples them. The bench is
 * used up: its springs change.
 */
export function trimRideHeight(b: Bench, wanted: Record<Side, number>): Scenario {
  const s = b.scenario;
  if (!b.rest.ok) return s;
  const added: Record<Side, number> = { left: 0, right: 0 };
  let q = b.rest.q;
  for (let round = 0; round < TRIM_ROUNDS; round++) {
    let off = 0;
    for (const side of SIDES) {
      const c = b.model.corners[side === "left" ? 0 : 1];
      const miss = restTravel(b, side)! - wanted[side];
      off = Math.max(off, Math.abs(miss));
      const state = b.rest.ok ? b.rest.state[side] : null;
      // spring per wheel: about the share of the load that the spring carries, a lever of 0.3 to 1.2 in any sensible car
      const lever = state && state.spring.totalN > 0 ? Math.min(1.2, Math.max(0.3, state.tyre.verticalN / state.spring.totalN)) : 0.6;
      const step = miss * lever;
      added[side] += step;
      c.spring.free += step;
    }
    if (off < TRIMMED_MM) break;
    const r = solveWarm(b.model, REST, q, b.solver);
    if (!r.ok) return s;
    q = r.q;
    const again = solveLoad({ ...b, last: q }, REST);
    if (!again.ok) return s;
    b.rest = { ok: true, q, state: again.state };
  }
  const round = (v: number): number => Math.round(v * 100) / 100 + 0;
  return editCorners(s, (c, side) => ({ ...c, spring: { ...c.spring, freeLengthMm: round(Math.max(2, c.spring.freeLengthMm + added[side])) } }));
}

const TRIM_TOLD_MM = 0.05;

/** What the trim asks of the springs, in words; empty where it asks nothing. */
export function trimWords(before: Scenario, after: Scenario): string {
  const spring = cornerOf(before, "right").spring;
  const longer = cornerOf(after, "right").spring.freeLengthMm - spring.freeLengthMm;
  const much = `${Math.round(Math.abs(longer) * 10) / 10} mm`;
  if (Math.abs(longer) < TRIM_TOLD_MM) return "";
  const what = longer > 0 ? `packed ${much} more` : -longer <= spring.preloadMm ? `packed ${much} less` : `${much} shorter`;
  return `; springs ${what}, so that it stands as high as before`;
}

/** How the car stands at rest on a level road against how it is drawn. */
export interface Stance {
  /** how much lower the body stands than built, above each wheel, mm; below 0: higher */
  lowerMm: Record<Side, number>;
  /** packing under each spring that lets it stand as drawn, mm more than now; null: no packing does */
  packMm: Record<Side, number> | null;
}

const STAND_ROUNDS = 14;
/** the body stands as drawn to this, mm */
const STANDS_MM = 1e-3;
/** mm of packing that a mm of height takes: a first guess, and between what it is looked for */
const LEVER = { first: 0.6, least: 0.1, most: 3 } as const;

/** How much lower than drawn the body is above each wheel, mm. */
function lowerOf(b: Bench, state: AxleState): Record<Side, number> {
  const at = (i: 0 | 1): number => -(state.body.heaveMm + state.body.angleRad * (b.model.corners[i].centre[0] - b.model.cg[0])) + 0;
  return { left: at(0), right: at(1) };
}

/**
 * How the car stands, and the packing that lets it stand as drawn: rest is solved again with each spring longer until the body is as high above
 * both wheels as built. Each side follows its own spring by a lever that is learned on the way. Null where the car finds no rest.
 */
export function stanceOf(s: Scenario): Stance | null {
  const b = buildBench(s);
  if (!b.rest.ok) return null;
  const lowerMm = lowerOf(b, b.rest.state);
  const packMm: Record<Side, number> = { left: 0, right: 0 };
  const lever: Record<Side, number> = { left: LEVER.first, right: LEVER.first };
  let off = lowerMm;
  let { q } = b.rest;
  for (let round = 0; round < STAND_ROUNDS; round++) {
    if (SIDES.every((side) => Math.abs(off[side]) < STANDS_MM)) return { lowerMm, packMm };
    const step = { left: lever.left * off.left, right: lever.right * off.right };
    for (const side of SIDES) {
      packMm[side] += step[side];
      b.model.corners[side === "left" ? 0 : 1].spring.free += step[side];
    }
    const r = solveWarm(b.model, REST, q, b.solver);
    if (!r.ok) break;
    q = r.q;
    const now = lowerOf(b, readState(b.model, q, REST));
    for (const side of SIDES) {
      const rose = off[side] - now[side];
      if (Math.abs(rose) > STANDS_MM) lever[side] = Math.min(LEVER.most, Math.max(LEVER.least, step[side] / rose));
    }
    off = now;
  }
  return { lowerMm, packMm: null };
}

/** A spring that is longer by what packing adds, mm; where none is left to take out, the spring itself is shorter. Null: it would be too short. */
function packed(spring: Spring, moreMm: number): Spring | null {
  const round = (v: number): number => Math.round(v * 100) / 100 + 0;
  const preloadMm = round(spring.preloadMm + moreMm);
  if (preloadMm >= 0) return preloadMm <= PACK_MOST_MM ? { ...spring, preloadMm } : null;
  const freeLengthMm = round(spring.freeLengthMm + preloadMm);
  return freeLengthMm >= SPRING_LEAST_MM ? { ...spring, preloadMm: 0, freeLengthMm } : null;
}

const PACK_MOST_MM = 200;
const SPRING_LEAST_MM = 2;

/** The car with its springs packed so that it stands as drawn; null where that takes more than a file may hold. */
export function packedAsDrawn(s: Scenario, stance: Stance): Scenario | null {
  const { packMm } = stance;
  if (!packMm) return null;
  let fits = true;
  const next = editCorners(s, (c, side) => {
    const spring = packed(c.spring, packMm[side]);
    if (!spring) fits = false;
    return { ...c, spring: spring ?? c.spring };
  });
  return fits ? next : null;
}
