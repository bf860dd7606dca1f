import { SIDES } from "../core/design/types.ts";
import type { AxleModel } from "../core/equilibrium/model.ts";
import { createSolver, relax } from "../core/equilibrium/newton.ts";
import { REST } from "../core/equilibrium/solve.ts";
import { FIRST_NODE, HEAVE, NODE_Z, PER_NODE, wheelTurn } from "../core/equilibrium/unknowns.ts";
import { type Session, seeBoth } from "./session.ts";
import { forgetForces } from "./step.ts";
import { lift, poseOf, putAt, setSpeed } from "./world.ts";

/** Runs of creeping that a hanging axle gets to come to rest. */
const HANG_RUNS = 8;

/** Where the light and the heavy parts hang when the body is held up and the tyres touch nothing: the static core's own rest; null: none was found. */
function hanging(x: Session): Float64Array | null {
  const { m, s } = x;
  const corners = m.axle.corners.map((c) => ({ ...c, tyre: { ...c.tyre, rate: 0 } })) as AxleModel["corners"];
  const model: AxleModel = { ...m.axle, corners, held: { heaveMm: s.q[HEAVE]!, turnRad: 0 } };
  const solver = createSolver(model);
  const q = s.q.slice(0, model.n);
  for (let run = 0; run < HANG_RUNS; run++) if (relax(solver, q, REST)) return q;
  return null;
}

/**
 * Lifts the axle and leaves it so that the lower tyre is `dropMm` above the road, about to fall. Wheels hang down on their droop stops; a
 * spring without droop stop would let go of its seat, so such an axle falls as it stood.
 */
export function liftForDrop(x: Session, dropMm: number): void {
  const { s, m } = x;
  const stopped = m.axle.corners.every((c) => Number.isFinite(c.spring.droopLength) && c.spring.droopK > 0);
  const hung = stopped ? hanging(x) : null;
  if (hung) {
    s.q.set(hung);
    putAt(x.world, m, s.q);
  }
  let low = Number.POSITIVE_INFINITY;
  for (const i of [0, 1] as const) {
    const c = m.axle.corners[i];
    const turn = wheelTurn(c, s.q);
    const centre = poseOf(x.world.wheels[i]).z;
    low = Math.min(low, centre - c.tyre.radius * Math.cos(turn) - c.tyre.halfWidth * Math.abs(Math.sin(turn)));
  }
  shiftUp(x, dropMm - low);
  s.last.fill(0);
  forgetForces(s, x.input);
  // planck's speeds are those of half a step ago: from rest at the start, falling
  setSpeed(x.world, 0, (9806.65 * s.h) / 2);
  forgetForces(s, x.input);
  // it hangs: leaving the road is no news
  for (const side of SIDES) x.told.add(`lifts ${side}`);
  s.steps = 0;
  s.iterations = 0;
  s.factors = 0;
  x.timeS = 0;
  seeBoth(x);
}

function shiftUp(x: Session, mm: number): void {
  lift(x.world, mm);
  const { q } = x.s;
  for (let i = FIRST_NODE; i < x.m.x; i += PER_NODE) q[i + NODE_Z] = q[i + NODE_Z]! + mm;
}
