import { JOINT_NAMES, type Scenario, SIDES, type Side } from "../core/design/types.ts";
import { driveLine, resistanceN } from "../core/drive/motors.ts";
import { brakePerWheelN, NO_PUSH, type PushAsked, passedOn, pushAsked, thrustPerWheelN } from "../core/drive/push.ts";
import type { LimitContext } from "../core/limits/context.ts";
import { type WheelPush, wheelPush } from "../core/limits/push.ts";
import { SLOWEST_ROLL_MPS } from "./settings.ts";
import type { Stepper } from "./step.ts";

/**
 * How a car with throttle or brake in use goes along the road: m v' = what all wheels pass on - rolling - drag, m the whole car's mass.
 *
 * The wheels of this axle pass on what the friction circle leaves beside their side force, those of the other axle all they are asked for. Left out:
 * the weight that goes from one axle to the other meanwhile (a front view knows no wheelbase), the spin of the wheels (a wheel that spins or
 * locks passes on what grip leaves, and its motors go as the road does), and what the push does to the front view, square to it.
 */
export interface Going {
  scenario: Scenario;
  throttle: number;
  brakeG: number;
  startMps: number;
  mps: number;
  wayMm: number;
  /** push that each wheel of this axle is asked for, N */
  asked: PushAsked;
  /** what the left and the right tyre pass on, N, forwards positive */
  passedN: [number, number];
  /** resultant of asked push and side force over what the grip holds, 1 on the friction circle */
  gripUsed: [number, number];
  /** what the push did to hub, joints and arms when it was last told, with every recorded sample; null: nothing pushed */
  told: [WheelPush | null, WheelPush | null];
  /** in the order of JOINT_NAMES: the push in each outer joint, N, square to the picture, and what it adds in each inner one, as last told */
  pull: [Float64Array, Float64Array];
}

/** A car at its first speed, m/s, nothing pressed yet; null: neither throttle nor brake is used, it keeps its speed. */
export function startGoing(scenario: Scenario, mps: number, throttle: number, brakeG: number): Going | null {
  if (throttle === 0 && brakeG === 0) return null;
  const none = (): Float64Array => new Float64Array(JOINT_NAMES.length);
  return {
    scenario,
    throttle,
    brakeG,
    startMps: mps,
    mps,
    wayMm: 0,
    asked: NO_PUSH,
    passedN: [0, 0],
    gripUsed: [0, 0],
    told: [null, null],
    pull: [none(), none()],
  };
}

const WHEELS_PER_AXLE = 2;

/** Lets the car go on for a step, its pedals pressed by the share `pressed`; the tyres' forces are those that `s` has at the start of it. */
export function goOn(g: Going, s: Stepper, pressed: number): void {
  const { scenario } = g;
  const { body, brake, drive, corner } = scenario;
  const pedals = { throttle: pressed * g.throttle, brakeG: pressed * g.brakeG };
  let asked = pushAsked(scenario, { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0, ...pedals }, g.mps);
  // brakes that hold a car at rest push no harder than its drive
  const stands = g.mps === 0;
  if (stands) asked = { driveN: asked.driveN, brakeN: Math.max(asked.brakeN, -asked.driveN) };
  g.asked = asked;
  let force = 0;
  for (const i of [0, 1] as const) {
    const p = passedOn(asked, s.tyre.lateralN[i], s.tyre.verticalN[i], s.grip[i]);
    g.passedN[i] = p.share * (asked.driveN + asked.brakeN);
    g.gripUsed[i] = p.gripUsed;
    force += g.passedN[i];
  }
  const elsewhere = (wheels: number, here: boolean): number => Math.max(0, wheels - (here ? WHEELS_PER_AXLE : 0));
  force += elsewhere(drive.drivenWheels, drive.onThisAxle) * pedals.throttle * thrustPerWheelN(scenario, g.mps);
  const otherBrakes = elsewhere(brake.wheels, brake.onThisAxle) * brakePerWheelN(scenario, pedals.brakeG);
  force += stands ? Math.max(otherBrakes, -Math.max(0, force)) : otherBrakes;
  force -= resistanceN(driveLine(drive, corner.wheel.radiusMm, body.carMassKg), g.mps);
  // brakes and resistance stop the car and do not send it back
  const after = Math.max(0, g.mps + (force / body.carMassKg) * s.h);
  g.wayMm += 500 * (g.mps + after) * s.h;
  g.mps = after;
  s.rollMmps = Math.max(SLOWEST_ROLL_MPS, after) * 1000;
}

/** Where the car is: the time at which it would be there at its first speed, s, its way, mm, and its speed over its first one. */
export interface Place {
  timeS: number;
  wayMm: number;
  faster: number;
}

/** Place of a car at a time, s; a car that started from rest has no first speed to tell it by, and keeps its own time. */
export const placeOf = (startMps: number, mps: number, wayMm: number, timeS: number): Place =>
  startMps > 0 ? { timeS: wayMm / (1000 * startMps), wayMm, faster: mps / startMps } : { timeS, wayMm, faster: 1 };

/** Longest way that a car of this first speed, m/s, can have gone after a time, mm: on its first push all along, or as fast as its motors turn. */
export function longestWayMm(scenario: Scenario, startMps: number, throttle: number, timeS: number): number {
  const line = driveLine(scenario.drive, scenario.corner.wheel.radiusMm, scenario.body.carMassKg);
  const most = (throttle * line.stallThrustN) / scenario.body.carMassKg;
  return 1000 * Math.min(startMps * timeS + (most * timeS * timeS) / 2, Math.max(startMps, line.noLoadMps) * timeS);
}

/** Limits look at a surface's own grip. */
export function onGrip(model: LimitContext["model"], grip: readonly [number, number]): LimitContext["model"] {
  const corners = model.corners.map((c, i) => ({ ...c, tyre: { ...c.tyre, friction: grip[i]! } })) as [(typeof model.corners)[0], (typeof model.corners)[1]];
  return { ...model, corners };
}

/** Tells anew what the push does to hub, joints and arms in the state of `x`. */
export function tellPush(g: Going, x: LimitContext, wheelOn: readonly [boolean, boolean]): void {
  for (const i of [0, 1] as const) {
    const side: Side = SIDES[i];
    const told = wheelOn[i] ? wheelPush(x, side) : null;
    g.told[i] = told;
    JOINT_NAMES.forEach((name, k) => {
      const { forceN } = x.state[side].joints[name];
      const outer = name === "upperOuter" ? "upper" : name === "lowerOuter" ? "lower" : null;
      g.pull[i][k] = !told ? 0 : outer ? told.jointPushN[outer] : told.jointPullN[name] - forceN;
    });
  }
}

/** Pull in a joint (in the order of JOINT_NAMES) whose force in the picture's plane is `planeN`, N, with what the push adds. */
export function pulledN(g: Going, i: 0 | 1, joint: number, planeN: number): number {
  const push = g.pull[i][joint]!;
  return JOINT_NAMES[joint] === "upperOuter" || JOINT_NAMES[joint] === "lowerOuter" ? Math.sqrt(planeN * planeN + push * push) : planeN + push;
}
