import { type Body, RevoluteJoint, Vec2, WeldJoint, World } from "planck-js";
import type { Load, Scenario } from "../../src/core/design/types.ts";
import { JOINT_NAMES, SIDES } from "../../src/core/design/types.ts";
import { buildAxle } from "../../src/core/equilibrium/model.ts";
import { createSolver } from "../../src/core/equilibrium/newton.ts";
import { camberRad, readState } from "../../src/core/equilibrium/readout.ts";
import { REST, solveCold, solveFromRest } from "../../src/core/equilibrium/solve.ts";
import { jointN } from "../../src/motion/demand.ts";
import { MANOEUVRES, type ManoeuvreName, type Scene } from "../../src/motion/manoeuvres.ts";
import { advance, createSession, type Session } from "../../src/motion/session.ts";
import { MOTION_ELEMENTS_PER_ARM, STEPS_PER_SECOND, UNIT_MM } from "../../src/motion/settings.ts";
import type { Trace } from "../../src/motion/trace.ts";
import { simulateAll } from "../support/whole-run.ts";
import { median, report, reportMs } from "./timing.ts";
import { QUIET_UNIT_MS } from "./unit.ts";

const LOAD: Load = { lateralG: 0.6, bumpLeftMm: 0, bumpRightMm: 0 };
/** the median of so many: short runs scatter most, whole cars are many */
const ROUNDS = 9;
const CAR_ROUNDS = 5;
/** For a second of motion: ten times real time. */
const SPEED_GOAL_MS = 100;
/** A joint force below this is none. */
const FORCE_FLOOR_N = 0.5;
const SETTLE_S = 2.5;

/** Processor seconds that a call takes, the median of some rounds: other programs on the machine do not count. */
function processorSeconds(run: () => void, rounds = ROUNDS): number {
  const taken: number[] = [];
  for (let i = 0; i <= rounds; i++) {
    const before = process.cpuUsage();
    run();
    const used = process.cpuUsage(before);
    if (i > 0) taken.push((used.user + used.system) / 1e6);
  }
  return median(taken);
}

/** Every manoeuvre of every car as it is by default, start, arm stresses, recording and static answer included. */
export function benchSpeed(cars: readonly Scenario[]): void {
  let slowest = { what: "", times: Number.POSITIVE_INFINITY };
  // compiled by the first car, at which no time is taken
  for (const name of MANOEUVRES) drive(cars[0]!, name);
  for (const car of cars)
    for (const name of MANOEUVRES) {
      let trace = drive(car, name);
      const seconds = processorSeconds(() => {
        trace = drive(car, name);
      }, CAR_ROUNDS);
      const { steps, iterations } = trace.health;
      const simulated = trace.timeS[trace.timeS.length - 1]!;
      const times = simulated / seconds;
      const what = `${car.name}, ${name}`;
      if (times < slowest.times) slowest = { what, times };
      reportMs(`${what} (${(iterations / steps).toFixed(2)} iterations a step): ${times.toFixed(1)} x real time`, (1000 * seconds) / simulated, SPEED_GOAL_MS);
    }
  report(`slowest: ${slowest.what}`, `${slowest.times.toFixed(1)} x`, `at least 10 x where a unit takes ${QUIET_UNIT_MS} ms`);
}

function drive(car: Scenario, name: ManoeuvreName): Trace {
  const r = simulateAll(car, name, {}, { breaks: false });
  if (!r.ok) throw new Error(r.reason.message);
  return r.trace;
}

interface SettleBench {
  /** processor time of solving the load from the answer at rest, where motion starts too, and from nothing, ms */
  fromRestMs: number;
  coldMs: number;
  /** motion until camber and joint forces stay near the answer: how near, simulated s, ms of processor time */
  settled: { share: number; seconds: number; ms: number }[];
}

const SOLVES = 200;
/** The bounds that motion at rest is held to, and a thousandth: nearer still the static answer is always. */
const NEAR = [0.03, 0.001];

/** The same load from rest, solved and settled, in processor time. */
function benchSettle(scenario: Scenario): SettleBench {
  // the same arms on both sides of the comparison
  const model = buildAxle(scenario, { elementsPerArm: MOTION_ELEMENTS_PER_ARM });
  const solver = createSolver(model);
  const rest = solveCold(model, REST, solver);
  const there = solveCold(model, LOAD, solver);
  if (!rest.ok || !there.ok) throw new Error("no equilibrium");
  const each = (solve: () => { ok: boolean }): number =>
    (1000 / SOLVES) *
    processorSeconds(() => {
      for (let i = 0; i < SOLVES; i++) if (!solve().ok) throw new Error("no equilibrium");
    });
  const fromRestMs = each(() => solveFromRest(model, LOAD, rest.q, solver));
  const coldMs = each(() => solveCold(model, LOAD, solver));
  const state = readState(model, there.q, LOAD);
  const within = (x: Session, share: number): boolean =>
    SIDES.every((side, i) => {
      const at = i as 0 | 1;
      const camber = camberRad(model, there.q, at);
      if (Math.abs(camberRad(x.m.axle, x.s.q, at) - camber) > share * Math.abs(camber)) return false;
      return JOINT_NAMES.every((name, k) => {
        const f = state[side].joints[name].forceN;
        return Math.abs(jointN(x.s, at, k) - f) <= Math.max(share * f, share * FORCE_FLOOR_N);
      });
    });
  const start = (): Session => {
    const made = createSession(scenario, REST, { speedMps: 6, breaks: false });
    if (!made.ok) throw new Error(made.reason.message);
    return made.session;
  };
  // the load all at once: the shortest way to the answer
  const scene: Scene = { lateralG: LOAD.lateralG, road: [0, 0], kerb: null };
  const settled = NEAR.map((share) => {
    const x = start();
    let seconds = 0;
    for (let i = 0; i < SETTLE_S / x.s.h; i++) {
      advance(x, scene);
      if (!within(x, share)) seconds = x.timeS;
    }
    const ms = 1000 * (processorSeconds(() => roll(start(), scene, seconds)) - processorSeconds(() => start()));
    return { share, seconds, ms };
  });
  return { fromRestMs, coldMs, settled };
}

function roll(x: Session, scene: Scene, seconds: number): void {
  for (let i = 0; i < seconds / x.s.h; i++) advance(x, scene);
}

interface NativeArm {
  pieces: number;
  realInertia: boolean;
  stepsPerSecond: number;
  /** deflection under the spring seat over the beam's own, after two seconds; NaN: blown up */
  ratio: number;
  /** of this one arm alone, by processor time */
  armStepsPerSecond: number;
}

/**
 * The same lower arm built of planck's own parts, rigid pieces with sprung welds between two pins, loaded at the spring seat: why the arms are not left to planck.
 * Pinned at both ends, EI, length and mass of the forked demo arm.
 */
function benchNativeArm(pieces: number, realInertia: boolean, stepsPerSecond: number): NativeArm {
  const length = 72;
  const ei = 1.2e5;
  const seat = 0.6;
  const forceN = 20;
  const kg = 0.0025;
  const u = (mm: number): number => mm / UNIT_MM;
  const world = new World({ gravity: new Vec2(0, 0), allowSleep: false, continuousPhysics: false });
  const ground = world.createBody();
  const l = length / pieces;
  // N·mm/rad to planck's units
  const k = (ei / l) * 1e-3 * (1000 / UNIT_MM) ** 2;
  const own = ((kg / pieces) * u(l) ** 2) / 12;
  // the weld's own frequency held to half the step rate, by more inertia than the piece has
  const capped = (2 * k) / (Math.PI * stepsPerSecond) ** 2;
  const inertia = realInertia ? own : Math.max(own, capped);
  const bodies: Body[] = [];
  for (let i = 0; i < pieces; i++) {
    const b = world.createBody({ type: "dynamic", position: new Vec2(u((i + 0.5) * l), 0), angularDamping: 0 });
    b.setMassData({ mass: kg / pieces, center: new Vec2(0, 0), I: inertia });
    if (i > 0) {
      const joint = new WeldJoint({ frequencyHz: Math.sqrt(k * (2 / inertia)) / (2 * Math.PI), dampingRatio: 1 }, bodies[i - 1]!, b, new Vec2(u(i * l), 0));
      world.createJoint(joint);
    }
    bodies.push(b);
  }
  world.createJoint(new RevoluteJoint({}, ground, bodies[0]!, new Vec2(0, 0)));
  // the outer end may move along the arm: it hangs on a long link
  const far = world.createBody({ type: "dynamic", position: new Vec2(u(length), u(500)) });
  far.setMassData({ mass: 0.05, center: new Vec2(0, 0), I: 0.05 * u(1000) ** 2 });
  world.createJoint(new RevoluteJoint({}, bodies[pieces - 1]!, far, new Vec2(u(length), 0)));
  world.createJoint(new RevoluteJoint({}, far, ground, new Vec2(u(length), u(1000))));
  const at = seat * length;
  const loaded = bodies[Math.min(pieces - 1, Math.floor(at / l))]!;
  const local = loaded.getLocalPoint(new Vec2(u(at), 0));
  const before = process.cpuUsage();
  for (let i = 0; i < 2 * stepsPerSecond; i++) {
    loaded.applyForce(new Vec2(0, (-forceN * 1000) / UNIT_MM), loaded.getWorldPoint(local), true);
    world.step(1 / stepsPerSecond, 40, 10);
  }
  const used = process.cpuUsage(before);
  const sag = -loaded.getWorldPoint(local).y * UNIT_MM;
  const a = at;
  const b = length - at;
  const exact = (forceN * a * a * b * b) / (3 * ei * length);
  return {
    pieces,
    realInertia,
    stepsPerSecond,
    ratio: Math.abs(sag) < 10 * exact ? sag / exact : Number.NaN,
    armStepsPerSecond: (2e6 * stepsPerSecond) / (used.user + used.system),
  };
}

/** What it costs to find a load's answer by letting the axle settle. */
export function benchSettling(scenario: Scenario): void {
  const settle = benchSettle(scenario);
  reportMs("0.6 g: solved from the answer at rest", settle.fromRestMs);
  reportMs("0.6 g: solved from nothing", settle.coldMs);
  for (const s of settle.settled) {
    reportMs(`0.6 g: settled by motion to ${(100 * s.share).toFixed(1)} % (${s.seconds.toFixed(2)} s of it)`, s.ms);
    report("  over solving from the answer at rest", `${(s.ms / settle.fromRestMs).toFixed(0)} x`, "the static solver should win by 100 x");
  }
}

/** Arms of planck's own parts: how far off they are, and what they cost. */
export function benchNativeArms(): void {
  for (const [pieces, real, hz] of [
    [2, true, STEPS_PER_SECOND],
    [4, true, STEPS_PER_SECOND],
    [2, false, STEPS_PER_SECOND],
    [4, false, STEPS_PER_SECOND],
    [8, true, STEPS_PER_SECOND],
    [8, false, STEPS_PER_SECOND],
    [8, true, 960],
  ] as const) {
    const n = benchNativeArm(pieces, real, hz);
    const value = Number.isNaN(n.ratio) ? "blows up" : `${((n.ratio - 1) * 100).toFixed(1)} %`;
    report(`arm of ${n.pieces} planck pieces, ${n.realInertia ? "its own inertia" : "inertia raised to the step"}: sag off by`, value);
    reportMs("  a thousand steps of this one arm", 1e6 / n.armStepsPerSecond);
  }
}
