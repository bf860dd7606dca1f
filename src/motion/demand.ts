import type { LimitName, LimitResult } from "../core/analysis.ts";
import { JOINT_WORDS } from "../core/design/part-words.ts";
import { JOINT_NAMES, type Side } from "../core/design/types.ts";
import type { AxleState } from "../core/equilibrium/state.ts";
import { wheelCentreShift } from "../core/equilibrium/tyre-forces.ts";
import { BODY_TURN, HEAVE } from "../core/equilibrium/unknowns.ts";
import { wheelTravelAt } from "../core/equilibrium/wheel-travel.ts";
import { armBucklingLimit, armStressLimits } from "../core/limits/arms.ts";
import type { LimitContext } from "../core/limits/context.ts";
import { retentionDemand } from "../core/limits/hub-retention.ts";
import { tyreHoldN } from "../core/limits/wheel.ts";
import { G } from "../core/units.ts";
import { JOINTS_PER_CORNER } from "./forces.ts";
import { ARM_PUSH_LEVER_MM, ARM_RENEW_S, ARM_RENEW_SHARE, BUCKLING_NEAR, BUCKLING_RENEW_SHARE } from "./settings.ts";
import type { Stepper } from "./step.ts";

/** What holds and what is asked of it, told every step: the static core's limits with the forces of the moment, inertia included. */
export interface Demand {
  limit: LimitName;
  side: Side;
  part: string;
  demand: number;
  capacity: number;
  unit: string;
}

export const utilization = (d: Demand): number => (d.demand <= 0 ? 0 : d.capacity > 0 ? d.demand / d.capacity : Number.MAX_VALUE);

/**
 * Outward pull on what holds the wheel, N: road and kerb, weight, and what the wheel's own acceleration takes, along the wheel's axis.
 * Told for the start of the last step, where planck's accelerations have their moment. At rest this is the core's `outwardPullN`.
 */
export function movingPullN(s: Stepper, i: 0 | 1, lateralG: number): number {
  const c = s.m.axle.corners[i];
  const turn = s.q[c.base + 2]! + s.q[c.base + 3]! + c.staticTurn;
  const kg = s.m.corners[i].wheelKg;
  const { verticalN, lateralN, kerbN } = s.before;
  // a kerb pushes the wheel on its own side inwards
  const kerb = Math.sign(kerbN) === -c.sign ? kerbN : 0;
  const fx = lateralN[i] + kerb + kg * (G * lateralG - s.wheelAcc[2 * i]! / 1000);
  const fz = verticalN[i] - kg * (G + s.wheelAcc[2 * i + 1]! / 1000);
  return c.sign * (fx * Math.cos(turn) + fz * Math.sin(turn));
}

export function retentionNow(s: Stepper, i: 0 | 1, lateralG: number): Demand {
  const c = s.m.axle.corners[i];
  const d = retentionDemand(c.corner.hub.retention, movingPullN(s, i, lateralG), Math.abs(s.before.bearingMoment[i]));
  return { limit: "hubRetention", side: c.side, part: d.part, demand: d.demandN, capacity: d.capacityN, unit: "N" };
}

export function tyreNow(s: Stepper, i: 0 | 1): Demand {
  const c = s.m.axle.corners[i];
  const kerb = Math.sign(s.kerbN) === -c.sign ? s.kerbN : 0;
  return {
    limit: "tyreOffRim",
    side: c.side,
    part: "tyre on its rim",
    demand: Math.abs(s.tyre.lateralN[i] + kerb),
    capacity: tyreHoldN(c.corner.tyre.seat, s.rollMmps / 1000),
    unit: "N",
  };
}

/** Size of a joint's force, N; joints in the order of JOINT_NAMES. */
export function jointN(s: Stepper, i: 0 | 1, joint: number): number {
  const o = 2 * (JOINTS_PER_CORNER * i + joint);
  return Math.sqrt(s.jointForce[o]! ** 2 + s.jointForce[o + 1]! ** 2);
}

/** The joint of a wheel that is nearest to coming apart, in the order of JOINT_NAMES. */
export function worstJoint(s: Stepper, i: 0 | 1): number {
  const { joints } = s.m.axle.corners[i].corner;
  let worst = 0;
  let most = -1;
  for (let k = 0; k < JOINTS_PER_CORNER; k++) {
    const use = jointN(s, i, k) / joints[JOINT_NAMES[k]!].pullOutN;
    if (use > most) {
      most = use;
      worst = k;
    }
  }
  return worst;
}

export function jointNow(s: Stepper, i: 0 | 1): Demand {
  const c = s.m.axle.corners[i];
  const k = worstJoint(s, i);
  const name = JOINT_NAMES[k]!;
  return { limit: "jointPullOut", side: c.side, part: JOINT_WORDS[name], demand: jointN(s, i, k), capacity: c.corner.joints[name].pullOutN, unit: "N" };
}

/** Rise of a wheel's centre against the body, mm, positive in bump. */
export function travelMm(s: Stepper, i: 0 | 1): number {
  const c = s.m.axle.corners[i];
  const { cg } = s.m.axle;
  const [ux, uz] = wheelCentreShift(c, s.q);
  return wheelTravelAt(c, cg, [cg[0], cg[1] + s.q[HEAVE]!], s.q[BODY_TURN]!, [c.centre[0] + ux, c.centre[1] + uz]);
}

/** Keeps the arms' stresses of each wheel: told anew only when their loads have changed, because they cost as much as twenty steps. */
export interface ArmWatch {
  toldAtS: number;
  /** largest load told so far, and the load at which buckling was told, N·mm */
  largest: number;
  bucklingLoad: number;
  yields: LimitResult | null;
  buckling: LimitResult | null;
}

export const armWatch = (): ArmWatch => ({ toldAtS: Number.NEGATIVE_INFINITY, largest: 0, bucklingLoad: 0, yields: null, buckling: null });

/** Size of what bends and presses an arm pair: largest moment, and largest push over a short lever, N·mm. */
function armLoad(state: AxleState, side: Side): number {
  let worst = 0;
  for (const name of ["upper", "lower"] as const) {
    const a = state[side].arms[name];
    for (const m of a.momentNmm) worst = Math.max(worst, Math.abs(m));
    for (const n of a.axialN) worst = Math.max(worst, ARM_PUSH_LEVER_MM * Math.abs(n));
  }
  return worst;
}

/** Renews the watch at a sampled state when its load has grown, or at the latest after its time. */
export function watchArms(w: ArmWatch, x: LimitContext, side: Side, timeS: number): void {
  const load = armLoad(x.state, side);
  const grown = load > (1 + ARM_RENEW_SHARE) * w.largest;
  // a sample's time is a whole number of steps: a grain below the span keeps rounding from skipping one
  if (!grown && timeS - w.toldAtS < ARM_RENEW_S - 1e-9) return;
  w.yields = armStressLimits(x, side).find((l) => l.name === "armYield") ?? null;
  const near = (w.buckling?.utilization ?? 0) > BUCKLING_NEAR;
  if (load > (1 + (near ? ARM_RENEW_SHARE : BUCKLING_RENEW_SHARE)) * w.bucklingLoad) {
    w.buckling = armBucklingLimit(x, side);
    w.bucklingLoad = load;
  }
  w.toldAtS = timeS;
  w.largest = Math.max(w.largest, load);
}
