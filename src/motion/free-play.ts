import type { Scenario } from "../core/design/types.ts";
import type { AxleState, NoEquilibrium } from "../core/equilibrium/state.ts";
import { G } from "../core/units.ts";
import { CHANNELS } from "./channels.ts";
import type { Scene } from "./manoeuvres.ts";
import { readChannels } from "./read-channels.ts";
import { advance, createSession, judgeArms, type MotionOptions, type Session, sessionState } from "./session.ts";
import { HAND_DAMPING_RATIO, HAND_WEIGHT_PER_MM } from "./settings.ts";
import { type Pose, poseOf } from "./world.ts";

/** What the user's hands ask for; each stays until it is changed. */
export interface Targets {
  /** cornering, g, positive to the left */
  lateralG: number;
  /** road height under each wheel, mm */
  road: [number, number];
  /** where the body's centre of gravity is pulled to, mm in the picture (x from where it started, z above the ground); null: nobody pulls */
  body: { xMm: number; zMm: number } | null;
}

/** The road follows the hand no faster than this, mm/s: a step would be a hammer blow. */
const ROAD_SPEED = 600;
/** Cornering follows no faster than this, g/s. */
const LATERAL_SPEED = 8;
/** Longest stretch of time made up for in one call, s: a page that slept does not have to catch up. */
const LONGEST_S = 0.1;

/** A moving axle in the user's hands: set targets, let time pass, look. */
export interface FreePlay {
  session: Session;
  targets: Targets;
  startXMm: number;
  /** time not yet made into steps, s */
  leftS: number;
}

export type FreePlayResult = { ok: true; play: FreePlay } | { ok: false; reason: NoEquilibrium };

/** An axle at rest on a flat road; fails with the physical reason when it has no rest. */
export function createFreePlay(scenario: Scenario, options: MotionOptions = {}): FreePlayResult {
  const made = createSession(scenario, { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 }, options);
  if (!made.ok) return made;
  const { session } = made;
  return { ok: true, play: { session, targets: { lateralG: 0, road: [0, 0], body: null }, startXMm: session.s.q[session.m.x]!, leftS: 0 } };
}

const towards = (from: number, to: number, most: number): number => from + Math.max(-most, Math.min(most, to - from));

/** Sets what the hands ask for; what is left out stays. */
export function setTargets(p: FreePlay, t: Partial<Targets>): void {
  Object.assign(p.targets, t);
  const { session, targets } = p;
  if (!targets.body) {
    session.input.hold = null;
    return;
  }
  const { m } = session;
  const k = HAND_WEIGHT_PER_MM * m.axle.totalWeight;
  session.input.hold = {
    xMm: p.startXMm + targets.body.xMm,
    heaveMm: targets.body.zMm - m.axle.cg[1],
    nPerMm: k,
    nsPerMm: 2 * HAND_DAMPING_RATIO * Math.sqrt(k * 1e3 * (m.axle.totalWeight / G)) * 1e-3,
    nmmPerRad: 0,
    nmmsPerRad: 0,
  };
}

/** Lets `seconds` pass in whole steps (the rest is kept for the next call; at most a tenth of a second). Returns the steps made. */
export function passTime(p: FreePlay, seconds: number): number {
  const { session: x } = p;
  if (x.apart) return 0;
  const { h } = x.s;
  p.leftS = Math.min(LONGEST_S, p.leftS + seconds);
  const steps = Math.floor(p.leftS / h + 1e-9);
  p.leftS -= steps * h;
  const scene: Scene = { lateralG: x.input.steer, road: [x.input.road[0], x.input.road[1]], kerb: null };
  for (let i = 0; i < steps && !x.apart; i++) {
    scene.lateralG = towards(scene.lateralG, p.targets.lateralG, LATERAL_SPEED * h);
    scene.road[0] = towards(scene.road[0], p.targets.road[0], ROAD_SPEED * h);
    scene.road[1] = towards(scene.road[1], p.targets.road[1], ROAD_SPEED * h);
    advance(x, scene);
  }
  if (steps > 0) judgeArms(x);
  return steps;
}

/** The axle as it stands now, in the static solution's form. */
export const playState = (p: FreePlay): AxleState => sessionState(p.session);

/** All channels now, in the order of CHANNELS. */
export function playChannels(p: FreePlay): Float64Array {
  const out = new Float64Array(CHANNELS.length);
  readChannels(p.session, out);
  return out;
}

/** Loose parts now, x from the body's centre line. */
export function playLoose(p: FreePlay): { kind: "wheel" | "tyre"; side: "left" | "right"; pose: Pose }[] {
  const shift = p.session.s.q[p.session.m.x]!;
  return p.session.world.loose.map((l) => {
    const pose = poseOf(l.body);
    return { kind: l.kind, side: l.side, pose: { ...pose, x: pose.x - shift } };
  });
}
