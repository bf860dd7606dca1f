import { type Bench, solveLoad } from "../analyze.ts";
import { editCorners } from "../design/edit-corners.ts";
import { cornerOf } from "../design/sides.ts";
import { type Scenario, SIDES, type Side } from "../design/types.ts";
import { REST, solveWarm } from "../equilibrium/solve.ts";
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
