import type { LimitName, LimitResult } from "../core/analysis.ts";
import { JOINT_WORDS } from "../core/design/part-words.ts";
import { type ArmName, JOINT_NAMES, type Side } from "../core/design/types.ts";
import { armElement, beamOut } from "../core/equilibrium/beam.ts";
import { point } from "../core/equilibrium/couple.ts";
import type { ArmModel } from "../core/equilibrium/model.ts";
import { springEnds, springSpan } from "../core/equilibrium/spring-ends.ts";
import { wheelCentreShift } from "../core/equilibrium/tyre-forces.ts";
import { BODY_TURN, HEAVE, wheelTurn } from "../core/equilibrium/unknowns.ts";
import { wheelTravelAt } from "../core/equilibrium/wheel-travel.ts";
import { armBucklingOf, armStressOf } from "../core/limits/arms.ts";
import type { LimitContext } from "../core/limits/context.ts";
import { retentionDemand } from "../core/limits/hub-retention.ts";
import { tyreHoldN } from "../core/limits/wheel.ts";
import { G } from "../core/units.ts";
import { type Going, pulledN } from "./along-road.ts";
import { JOINTS_PER_CORNER } from "./forces.ts";
import { ARM_PUSH_LEVER_MM, ARM_RENEW_S, ARM_RENEW_SHARE, BUCKLING_NEAR, BUCKLING_RENEW_SHARE } from "./settings.ts";
import type { Stepper } from "./step.ts";

const beam = beamOut();
const p1 = point();
const p2 = point();
const span = springSpan();

/** What holds and what is asked of it, told every step: the static core's limits with the forces of the moment, inertia included. */
export interface Demand {
  limit: LimitName;
  side: Side;
  part: string;
  demand: number;
  capacity: number;
  unit: string;
}

/**
 * Outward pull on what holds the wheel, N: road and kerb, weight, and what the wheel's own acceleration takes, along the wheel's axis.
 * Told for the start of the last step, where planck's accelerations have their moment. At rest this is the core's `outwardPullN`.
 */
export function movingPullN(s: Stepper, i: 0 | 1, lateralG: number): number {
  const c = s.m.axle.corners[i];
  const turn = wheelTurn(c, s.q);
  const kg = s.m.corners[i].wheelKg;
  const { verticalN, lateralN, kerbN } = s.before;
  // a kerb pushes the wheel on its own side inwards
  const kerb = Math.sign(kerbN) === -c.sign ? kerbN : 0;
  const fx = lateralN[i] + kerb + kg * (G * lateralG - s.wheelAcc[2 * i]! / 1000);
  const fz = verticalN[i] - kg * (G + s.wheelAcc[2 * i + 1]! / 1000);
  return c.sign * (fx * Math.cos(turn) + fz * Math.sin(turn));
}

/** Pull and prying on what holds a wheel, N, at the start of the last step; `lateralG` is the frame's acceleration, g. */
export function retentionNow(s: Stepper, i: 0 | 1, lateralG: number): Demand {
  const c = s.m.axle.corners[i];
  const d = retentionDemand(c.corner.hub.retention, movingPullN(s, i, lateralG), Math.abs(s.before.bearingMoment[i]));
  return { limit: "hubRetention", side: c.side, part: d.part, demand: d.demandN, capacity: d.capacityN, unit: "N" };
}

/** Side force that drags a tyre off its rim, N: the road's, and the push of a kerb on its outer side. */
function tyreDragN(s: Stepper, i: 0 | 1): number {
  const kerb = Math.sign(s.kerbN) === -s.m.axle.corners[i].sign ? s.kerbN : 0;
  return Math.abs(s.tyre.lateralN[i] + kerb);
}

/** Size of the force, N, of joint `joint` (0 to 3) of corner `i` in the last step; joints in the order of JOINT_NAMES. */
export function jointN(s: Stepper, i: 0 | 1, joint: number): number {
  const o = 2 * (JOINTS_PER_CORNER * i + joint);
  return Math.sqrt(s.jointForce[o]! ** 2 + s.jointForce[o + 1]! ** 2);
}

/** What is asked of one corner's hub, tyre, joints and spring in the last step, and what holds: numbers alone, because every step reads them. */
export interface CornerDemands {
  /** what holds the wheel, in words; N. Nothing is asked of a hub that has lost its wheel */
  hubPart: string;
  hubN: number;
  hubHoldsN: number;
  tyreN: number;
  tyreHoldsN: number;
  /** the joint nearest to coming apart, in the order of JOINT_NAMES */
  joint: number;
  jointN: number;
  jointHoldsN: number;
  springMm: number;
}

/** Demands of a corner before any step. */
export const cornerDemands = (): CornerDemands => ({
  hubPart: "",
  hubN: 0,
  hubHoldsN: 1,
  tyreN: 0,
  tyreHoldsN: 1,
  joint: 0,
  jointN: 0,
  jointHoldsN: 1,
  springMm: 0,
});

/** Fills `d` for a corner; `lateralG` is the frame's acceleration, g, `tyreOff` whether the wheel rolls on its bare rim, `going` what pushes along the road. */
export function readDemands(s: Stepper, i: 0 | 1, lateralG: number, tyreOff: boolean, going: Going | null, d: CornerDemands): void {
  const { corner } = s.m.axle.corners[i];
  const on = s.wheelOn[i];
  d.hubN = 0;
  d.tyreN = 0;
  if (on) {
    const hub = retentionNow(s, i, lateralG);
    d.hubPart = hub.part;
    d.hubN = hub.demand;
    d.hubHoldsN = hub.capacity;
  }
  if (on && !tyreOff) {
    d.tyreN = tyreDragN(s, i);
    d.tyreHoldsN = tyreHoldN(corner.tyre.seat, s.rollMmps / 1000);
  }
  let most = -1;
  for (let k = 0; k < JOINTS_PER_CORNER; k++) {
    const plane = jointN(s, i, k);
    const n = going ? pulledN(going, i, k, plane) : plane;
    const holds = corner.joints[JOINT_NAMES[k]!].pullOutN;
    if (!(n / holds > most)) continue;
    most = n / holds;
    d.joint = k;
    d.jointN = n;
    d.jointHoldsN = holds;
  }
  d.springMm = springLength(s, i);
}

/** The hub's demand as it is told. */
export const hubDemand = (d: CornerDemands, side: Side): Demand => ({
  limit: "hubRetention",
  side,
  part: d.hubPart,
  demand: d.hubN,
  capacity: d.hubHoldsN,
  unit: "N",
});

/** The tyre's demand as it is told. */
export const tyreDemand = (d: CornerDemands, side: Side): Demand => ({
  limit: "tyreOffRim",
  side,
  part: "tyre on its rim",
  demand: d.tyreN,
  capacity: d.tyreHoldsN,
  unit: "N",
});

/** The worst joint's demand as it is told. */
export const jointDemand = (d: CornerDemands, side: Side): Demand => ({
  limit: "jointPullOut",
  side,
  part: JOINT_WORDS[JOINT_NAMES[d.joint]!],
  demand: d.jointN,
  capacity: d.jointHoldsN,
  unit: "N",
});

/** Demand over capacity, both in the same unit; a capacity of nothing is passed by any demand. */
export const use = (demand: number, capacity: number): number => (demand <= 0 ? 0 : capacity > 0 ? demand / capacity : Number.MAX_VALUE);

/** Rise of a wheel's centre against the body, mm, positive in bump. */
export function travelMm(s: Stepper, i: 0 | 1): number {
  const c = s.m.axle.corners[i];
  const { cg } = s.m.axle;
  const [ux, uz] = wheelCentreShift(c, s.q);
  return wheelTravelAt(c, cg, [cg[0], cg[1] + s.q[HEAVE]!], s.q[BODY_TURN]!, [c.centre[0] + ux, c.centre[1] + uz]);
}

/** Length of a corner's spring now, mm. */
const springLength = (s: Stepper, i: 0 | 1): number => springEnds(p1, p2, s.q, s.m.axle.corners[i], span).length;

/** Keeps one arm's stress: told anew only when its own load has changed, because it costs as much as ten steps, buckling as much as fifty. */
export interface ArmWatch {
  toldAtS: number;
  /** largest load told so far, and the load at which buckling was told, N·mm */
  largest: number;
  bucklingLoad: number;
  yields: LimitResult | null;
  buckling: LimitResult | null;
}

/** Upper and lower arm of a corner. */
export type ArmWatches = [ArmWatch, ArmWatch];

/** A watch that has told nothing yet. */
const armWatch = (): ArmWatch => ({ toldAtS: Number.NEGATIVE_INFINITY, largest: 0, bucklingLoad: 0, yields: null, buckling: null });

/** Watches of a corner's arms that have told nothing yet. */
export const armWatches = (): ArmWatches => [armWatch(), armWatch()];

/** Size of what bends and presses an arm in the pose `q`: largest moment, and largest push over a short lever, N·mm. */
export function armLoadNmm(arm: ArmModel, q: Float64Array): number {
  let worst = 0;
  for (let e = 0; e < arm.count - 1; e++) {
    armElement(q, arm, e, beam, false);
    worst = Math.max(worst, Math.abs(beam.g[2]!), Math.abs(beam.g[5]!), ARM_PUSH_LEVER_MM * Math.abs(beam.axial));
  }
  return worst;
}

/** Whether an arm's stress has to be told again: its load, N·mm, has grown, or it is time. */
export function armDue(w: ArmWatch, loadNmm: number, timeS: number): boolean {
  // a sample's time is a whole number of steps: a grain below the span keeps rounding from skipping one
  return loadNmm > (1 + ARM_RENEW_SHARE) * w.largest || timeS - w.toldAtS >= ARM_RENEW_S - 1e-9;
}

/** Tells an arm anew at the state of `x`; `load` is `armLoadNmm` there. Buckling only when the load has grown enough since it was told. */
export function watchArm(w: ArmWatch, x: LimitContext, side: Side, name: ArmName, load: number, timeS: number): void {
  w.yields = armStressOf(x, side, name).yields;
  const near = (w.buckling?.utilization ?? 0) > BUCKLING_NEAR;
  if (load > (1 + (near ? ARM_RENEW_SHARE : BUCKLING_RENEW_SHARE)) * w.bucklingLoad) {
    w.buckling = armBucklingOf(x, side, name);
    w.bucklingLoad = load;
  }
  w.toldAtS = timeS;
  w.largest = Math.max(w.largest, load);
}

/** The worse arm's share of a limit as last told; 0 while nothing is. */
export const worseShare = (arms: ArmWatches, limit: "yields" | "buckling"): number =>
  Math.max(arms[0][limit]?.utilization ?? 0, arms[1][limit]?.utilization ?? 0);
