import { type Bench, buildBench, solveLoad } from "../core/analyze.ts";
import { type Load, type Scenario, SIDES, type Side } from "../core/design/types.ts";
import type { TyreModel } from "../core/equilibrium/model.ts";
import type { AxleState, NoEquilibrium } from "../core/equilibrium/state.ts";
import { TREAD_SHIFT, WHEEL_TILT } from "../core/equilibrium/unknowns.ts";
import type { LimitContext } from "../core/limits/context.ts";
import { heldWords } from "../core/limits/held-words.ts";
import { type Going, onGrip, startGoing, tellPush } from "./along-road.ts";
import {
  type ArmWatch,
  type ArmWatches,
  armDue,
  armLoadNmm,
  armWatches,
  type CornerDemands,
  cornerDemands,
  type Demand,
  hubDemand,
  jointDemand,
  readDemands,
  tyreDemand,
  use,
  watchArm,
} from "./demand.ts";
import type { Scene } from "./manoeuvres.ts";
import { buildMotion, type MotionDefaults, type MotionModel } from "./model.ts";
import { type PoseExtras, poseState } from "./pose.ts";
import {
  MOTION_ELEMENTS_PER_ARM,
  RIM_GRIP,
  RIM_RADIUS_SHARE,
  RIM_STIFFNESS_FACTOR,
  SLIP_STIFFNESS_PER_RAD,
  SLOWEST_ROLL_MPS,
  STEPS_PER_SECOND,
  TYRE_MASS_SHARE,
} from "./settings.ts";
import { forgetForces, type StepInput, type Stepper, step, stepper, stillInput } from "./step.ts";
import { buildWorld, freeTyre, freeWheel, type MotionWorld, type Pose, poseOf } from "./world.ts";

export interface MotionOptions extends MotionDefaults {
  stepsPerSecond?: number;
  speedMps?: number;
  /** grip of the surface over the tyres' own */
  grip?: number;
  /** what is overloaded comes off (default); false: it holds, the trace tells by how much too little */
  breaks?: boolean;
  /** share of what the drive gives, and what the brakes are asked for, g, once they are pressed down */
  throttle?: number;
  brakeG?: number;
  slipStiffnessPerRad?: number;
}

/** Something that happened, in words for the user, with the numbers behind it. */
export interface MotionEvent {
  timeS: number;
  /** comesOff: a wheel or a tyre flies; comesApart: a joint or an arm, the motion ends; exceeds: would, if nothing were allowed to; touches, lifts, slides, spins (or locks): cautions */
  kind: "comesOff" | "comesApart" | "exceeds" | "slides" | "spins" | "lifts" | "touchesStop";
  side: Side;
  limit: Demand["limit"];
  part: string;
  demand: number;
  capacity: number;
  unit: string;
  message: string;
}

/** A moving axle: the model, planck's world, and what has happened to it. */
export interface Session {
  bench: Bench;
  m: MotionModel;
  world: MotionWorld;
  s: Stepper;
  breaks: boolean;
  timeS: number;
  input: StepInput;
  scene: Scene;
  /** mean speed of the road under each wheel over the last step, mm/s */
  roadMean: [number, number];
  events: MotionEvent[];
  told: Set<string>;
  tyreOff: [boolean, boolean];
  /** of the last step, left and right */
  demands: [CornerDemands, CornerDemands];
  /** set once a joint or an arm has parted: there is no axle to go on with */
  apart: boolean;
  arms: [ArmWatches, ArmWatches];
  /** null: the car keeps its speed */
  going: Going | null;
  restLoadN: Record<Side, number>;
}

export type SessionResult = { ok: true; session: Session } | { ok: false; reason: NoEquilibrium };

/** Starts a moving axle at rest under `startLoad`. Fails with the physical reason when there is no rest to start from. */
export function createSession(scenario: Scenario, startLoad: Load | ((m: MotionModel) => Load), options: MotionOptions = {}): SessionResult {
  const bench = buildBench(scenario, { elementsPerArm: options.elementsPerArm ?? MOTION_ELEMENTS_PER_ARM });
  if (!bench.rest.ok) return bench.rest;
  const m = buildMotion(scenario, options);
  const start = typeof startLoad === "function" ? startLoad(m) : startLoad;
  const solved = solveLoad(bench, start);
  if (!solved.ok) return solved;
  const q = new Float64Array(m.bare.n);
  q.set(solved.q);
  const world = buildWorld(m, q);
  const roll = Math.max(SLOWEST_ROLL_MPS, options.speedMps ?? 0) * 1000;
  const grip = SIDES.map((_, i) => (options.grip ?? 1) * m.axle.corners[i]!.tyre.friction) as [number, number];
  const s = stepper(m, world, q, 1 / (options.stepsPerSecond ?? STEPS_PER_SECOND), roll, options.slipStiffnessPerRad ?? SLIP_STIFFNESS_PER_RAD, grip);
  const input = stillInput();
  input.steer = start.lateralG;
  input.lateralG = start.lateralG;
  input.road = [start.bumpLeftMm, start.bumpRightMm];
  for (const a of [s.tyre.level, s.tyre.levelWas, s.tyre.target, s.tyre.targetWas]) a.fill(start.lateralG);
  forgetForces(s, input);
  const rest = bench.rest.state;
  const session: Session = {
    bench,
    m,
    world,
    s,
    breaks: options.breaks ?? true,
    timeS: 0,
    input,
    scene: { lateralG: start.lateralG, road: [start.bumpLeftMm, start.bumpRightMm], kerb: null },
    roadMean: [0, 0],
    events: [],
    told: new Set(),
    tyreOff: [false, false],
    demands: [cornerDemands(), cornerDemands()],
    apart: false,
    arms: [armWatches(), armWatches()],
    going: startGoing(scenario, options.speedMps ?? 0, options.throttle ?? 0, options.brakeG ?? 0),
    restLoadN: { left: rest.left.tyre.verticalN, right: rest.right.tyre.verticalN },
  };
  seeBoth(session);
  return { ok: true, session };
}

const seeDemands = (x: Session, i: 0 | 1): void => readDemands(x.s, i, x.input.lateralG, x.tyreOff[i], x.going, x.demands[i]);

/** Reads both corners anew: after a sudden change the forces of either are others. */
export function seeBoth(x: Session): void {
  seeDemands(x, 0);
  seeDemands(x, 1);
}

/** Makes one step towards `scene`, the outside world at the end of the step, and lets come off what is overloaded. */
export function advance(x: Session, scene: Scene): void {
  const { s, input } = x;
  for (let i = 0; i < 2; i++) {
    // speed at the end of the step, from its mean over this step and the last one
    const mean = (scene.road[i]! - input.road[i]!) / s.h;
    input.roadSpeed[i] = 1.5 * mean - 0.5 * x.roadMean[i]!;
    x.roadMean[i] = mean;
    input.road[i] = scene.road[i]!;
  }
  // the frame's acceleration counts at the start of the step, where the mean of the inside forces has its middle
  input.lateralG = input.steer;
  input.steer = scene.lateralG;
  input.kerb = scene.kerb;
  if (!step(s, input)) {
    giveWay(x);
    return;
  }
  x.timeS = s.steps * s.h;
  for (let i = 0; i < 2; i++) judge(x, i as 0 | 1);
}

const words = (d: Demand): string => heldWords(null, round(d.demand), round(d.capacity), d.unit, " ");
const round = (v: number): string => (Math.abs(v) >= 10 ? v.toFixed(0) : v.toFixed(1));

function tell(x: Session, kind: MotionEvent["kind"], d: Demand, sentence: string): void {
  x.events.push({ timeS: x.timeS, kind, side: d.side, limit: d.limit, part: d.part, demand: d.demand, capacity: d.capacity, unit: d.unit, message: sentence });
}

/** The light parts have found no place any more: named by the joint that was asked for most, which is where it tore or snapped through. */
function giveWay(x: Session): void {
  // back to the forces of the last pose that was one
  forgetForces(x.s, x.input);
  seeBoth(x);
  const [left, right] = x.demands;
  const worst = use(left.jointN, left.jointHoldsN) > use(right.jointN, right.jointHoldsN) ? jointDemand(left, "left") : jointDemand(right, "right");
  x.apart = true;
  tell(
    x,
    "comesApart",
    worst,
    `The suspension gave way at ${x.timeS.toFixed(2)} s: its parts find no place any more (${worst.side} ${worst.part}: ${words(worst)}).`,
  );
}

/** Told once per side and limit. */
function first(x: Session, key: string): boolean {
  if (x.told.has(key)) return false;
  x.told.add(key);
  return true;
}

const when = (x: Session): string => `at ${x.timeS.toFixed(2)} s`;

/** Reads what is asked of a corner in the step just made, and lets come off what is asked for too much. */
function judge(x: Session, i: 0 | 1): void {
  const side = SIDES[i];
  const d = x.demands[i];
  seeDemands(x, i);
  if (use(d.hubN, d.hubHoldsN) >= 1 && first(x, `hub ${side}`)) {
    const hub = hubDemand(d, side);
    tell(x, x.breaks ? "comesOff" : "exceeds", hub, `The ${side} wheel ${x.breaks ? "came off" : "would come off"} ${when(x)}: ${hub.part}, ${words(hub)}.`);
    if (x.breaks) {
      loseWheel(x, i);
      seeBoth(x);
    }
  }
  if (use(d.tyreN, d.tyreHoldsN) >= 1 && first(x, `tyre ${side}`)) {
    const tyre = tyreDemand(d, side);
    tell(
      x,
      x.breaks ? "comesOff" : "exceeds",
      tyre,
      `The ${side} tyre ${x.breaks ? "came off its rim" : "would come off its rim"} ${when(x)}: pushed sideways, ${words(tyre)}.`,
    );
    if (x.breaks) {
      loseTyre(x, i);
      seeBoth(x);
    }
  }
  if (use(d.jointN, d.jointHoldsN) >= 1 && first(x, `joint ${side}`)) {
    const joint = jointDemand(d, side);
    tell(
      x,
      x.breaks ? "comesApart" : "exceeds",
      joint,
      `The ${side} ${joint.part} ${x.breaks ? "came apart" : "would come apart"} ${when(x)}: ${words(joint)}.`,
    );
    if (x.breaks) x.apart = true;
  }
  caution(x, i);
}

function caution(x: Session, i: 0 | 1): void {
  const { s } = x;
  const side = SIDES[i];
  if (!s.wheelOn[i]) return;
  const c = x.m.axle.corners[i];
  if (s.tyre.gripUsed[i] >= 1 && first(x, `slides ${side}`))
    tell(
      x,
      "slides",
      { limit: "sliding", side, part: "tyre on the road", demand: s.tyre.gripUsed[i] * s.grip[i], capacity: s.grip[i], unit: "" },
      `The ${side} tyre slides ${when(x)}: more side force asked for than its grip of ${s.grip[i].toFixed(2)} gives.`,
    );
  const spins = x.going && s.tyre.verticalN[i] > 0 && s.tyre.gripUsed[i] < 1 && x.going.gripUsed[i] >= 1;
  if (x.going && spins && first(x, `spins ${side}`))
    tell(
      x,
      "spins",
      { limit: "sliding", side, part: "tyre on the road", demand: x.going.gripUsed[i] * s.grip[i], capacity: s.grip[i], unit: "" },
      `The ${side} wheel ${x.going.asked.driveN + x.going.asked.brakeN < 0 ? "locks" : "spins"} ${when(x)}: asked for more push than the grip of ${s.grip[i].toFixed(2)} leaves beside the side force.`,
    );
  if (s.tyre.verticalN[i] <= 0 && first(x, `lifts ${side}`))
    tell(
      x,
      "lifts",
      { limit: "wheelLift", side, part: "wheel on the road", demand: x.restLoadN[side], capacity: x.restLoadN[side], unit: "N" },
      `The ${side} wheel left the road ${when(x)}.`,
    );
  const length = x.demands[i].springMm;
  if (length <= c.spring.bumpLength && first(x, `stop ${side}`))
    tell(
      x,
      "touchesStop",
      {
        limit: "springOnStop",
        side,
        part: "spring on its bump stop",
        demand: c.spring.free - length,
        capacity: c.spring.free - c.spring.bumpLength,
        unit: "mm",
      },
      `The ${side} spring touched its bump stop ${when(x)}.`,
    );
}

function loseWheel(x: Session, i: 0 | 1): void {
  const c = x.m.axle.corners[i].corner;
  freeWheel(x.world, i, c.wheel.treadWidthMm / 2, x.s.tyres[i].radius);
  x.s.wheelOn[i] = false;
  x.s.tyres[i] = { ...x.s.tyres[i], rate: 0 };
  x.s.q[x.m.axle.corners[i].base + WHEEL_TILT] = 0;
  forgetForces(x.s, x.input);
}

function loseTyre(x: Session, i: 0 | 1): void {
  const c = x.m.axle.corners[i].corner;
  const t = x.s.tyres[i];
  freeTyre(x.world, i, TYRE_MASS_SHARE * c.wheel.massKg, c.wheel.treadWidthMm / 2, t.radius, 0.5);
  const rim: TyreModel = { ...t, radius: RIM_RADIUS_SHARE * t.radius, rate: RIM_STIFFNESS_FACTOR * t.rate, crown: 0, lateralK: Number.POSITIVE_INFINITY };
  x.s.tyres[i] = rim;
  x.s.grip[i] = RIM_GRIP;
  x.tyreOff[i] = true;
  x.s.q[x.m.axle.corners[i].base + TREAD_SHIFT] = 0;
  forgetForces(x.s, x.input);
}

/** The present pose in the static solution's form. */
export function sessionState(x: Session): AxleState {
  return poseState(drawnAxle(x), x.s.q, extrasNow(x));
}

/** The axle with the tyres as they are now. */
function drawnAxle(x: Session): MotionModel["axle"] {
  if (!x.tyreOff[0] && !x.tyreOff[1]) return x.m.axle;
  return { ...x.m.axle, corners: x.m.axle.corners.map((c, i) => ({ ...c, tyre: x.s.tyres[i]! })) as MotionModel["axle"]["corners"] };
}

/** What the picture of the present moment needs besides the unknowns; copies, N, N·mm and mm. */
export function extrasNow(x: Session): PoseExtras {
  const { s } = x;
  return {
    load: { lateralG: x.input.lateralG, bumpLeftMm: x.input.road[0], bumpRightMm: x.input.road[1] },
    verticalN: [...s.tyre.verticalN],
    lateralN: [...s.tyre.lateralN],
    damperN: [...s.damperN],
    bearingNmm: [...s.bearingMoment],
    jointForce: s.jointForce.slice(),
    lateralMm: s.q[x.m.x]!,
    wheelOff: [offPose(x, 0), offPose(x, 1)],
  };
}

const offPose = (x: Session, i: 0 | 1): Pose | null => (x.s.wheelOn[i] ? null : poseOf(x.world.wheels[i]));

/** Tells what a push does and the arms' stress and buckling at the present pose, and lets an arm part that is past its limit. */
export function judgeArms(x: Session): void {
  if (x.apart) return;
  let context: LimitContext | null = null;
  if (x.going) {
    context = contextNow(x);
    tellPush(x.going, context, x.s.wheelOn);
  }
  for (const i of [0, 1] as const) {
    const side = SIDES[i];
    for (const a of [0, 1] as const) {
      const { arm } = x.m.axle.corners[i].links[a];
      const watch = x.arms[i][a];
      // a push bends the arm over its whole length
      const pushNmm = Math.abs(x.going?.told[i]?.jointPushN[arm.name] ?? 0) * x.bench.arms3d[side][arm.name].lengthMm;
      const loadNmm = armLoadNmm(arm, x.s.q) + pushNmm;
      if (!armDue(watch, loadNmm, x.timeS)) continue;
      context ??= contextNow(x);
      watchArm(watch, context, side, arm.name, loadNmm, x.timeS);
      judgeArm(x, watch, side);
    }
  }
}

/** What the static core's limits look at, now. */
function contextNow(x: Session): LimitContext {
  const seen = { state: sessionState(x), restLoadN: x.restLoadN, speedMps: x.s.rollMmps / 1000, arms3d: x.bench.arms3d };
  return x.going ? { ...seen, model: onGrip(x.m.axle, x.s.grip), push: x.going.asked } : { ...seen, model: x.m.axle };
}

function judgeArm(x: Session, watch: ArmWatch, side: Side): void {
  for (const l of [watch.yields, watch.buckling]) {
    if (!l || l.utilization < 1 || !first(x, `${l.name} ${side}`)) continue;
    const d: Demand = { limit: l.name, side, part: l.part, demand: l.demand, capacity: l.capacity, unit: l.unit };
    const verb = l.name === "armYield" ? (x.breaks ? "broke" : "would break") : x.breaks ? "buckled" : "would buckle";
    tell(x, x.breaks ? "comesApart" : "exceeds", d, `The ${side} ${l.part} ${verb} at ${x.timeS.toFixed(2)} s: ${words(d)}.`);
    if (x.breaks) x.apart = true;
  }
}
