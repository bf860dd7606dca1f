import { type Body, Box, Edge, RevoluteJoint, Settings, Vec2, World } from "planck-js";
import { BODY_TURN, HEAVE, HUB_TURN, HUB_X, HUB_Z, WHEEL_TILT } from "../core/equilibrium/unknowns.ts";
import { BODY_X, heavyAt } from "./inertia.ts";
import type { MotionModel } from "./model.ts";
import { ANGULAR_SLOP, FORCE_TO_PLANCK, LINEAR_SLOP, POSITION_ITERATIONS, TORQUE_TO_PLANCK, UNIT_MM, VELOCITY_ITERATIONS } from "./settings.ts";

/**
 * The planck world: the bodies that have mass (sprung body, two hubs, two wheels), the wheels' bearing pins, gravity, and what
 * flies loose. The only file that knows planck. Everything light and stiff between the bodies (arms, joints, springs, tyres) comes
 * in as forces that `step.ts` has solved for the end of the step.
 */

// the settings are global to planck: set once, here
Settings.linearSlop = LINEAR_SLOP;
Settings.angularSlop = ANGULAR_SLOP;

export interface Pose {
  /** mm, z up */
  x: number;
  z: number;
  angle: number;
}

interface LoosePart {
  kind: "wheel" | "tyre";
  side: "left" | "right";
  body: Body;
}

export interface MotionWorld {
  world: World;
  body: Body;
  hubs: [Body, Body];
  wheels: [Body, Body];
  pins: [RevoluteJoint | null, RevoluteJoint | null];
  ground: Body;
  loose: LoosePart[];
}

const u = (mm: number): number => mm / UNIT_MM;

function massBody(world: World, x: number, z: number, kg: number, inertiaKgMm2: number): Body {
  const body = world.createBody({ type: "dynamic", position: new Vec2(u(x), u(z)), linearDamping: 0, angularDamping: 0 });
  body.setMassData({ mass: kg, center: new Vec2(0, 0), I: inertiaKgMm2 / (UNIT_MM * UNIT_MM) });
  return body;
}

/** Builds the world at the pose of the unknowns `q` (n + 1, mm and rad against as-built), all at rest. Masses in kg, inertia in kg·mm². */
export function buildWorld(m: MotionModel, q: Float64Array): MotionWorld {
  const world = new World({ gravity: new Vec2(0, 0), allowSleep: false, continuousPhysics: false });
  const ground = world.createBody({ type: "static" });
  const x = q[m.x]!;
  const { axle } = m;
  const body = massBody(world, x, axle.cg[1] + q[HEAVE]!, m.bodyKg, m.bodyInertia);
  body.setAngle(q[BODY_TURN]!);
  const pins: MotionWorld["pins"] = [null, null];
  const hubs: Body[] = [];
  const wheels: Body[] = [];
  axle.corners.forEach((c, i) => {
    const w = m.corners[i]!;
    const { hub: h, wheel: wh } = cornerPoses(m, q, i as 0 | 1);
    const hub = massBody(world, h.x, h.z, w.hubKg, w.hubInertia);
    hub.setAngle(h.angle);
    const wheel = massBody(world, wh.x, wh.z, w.wheelKg, w.wheelInertia);
    wheel.setAngle(wh.angle);
    const [lx, lz] = c.bearingLever;
    pins[i] = world.createJoint(
      new RevoluteJoint({ bodyA: hub, bodyB: wheel, localAnchorA: new Vec2(u(lx), u(lz)), localAnchorB: new Vec2(u(lx), u(lz)), referenceAngle: 0 }),
    );
    hubs.push(hub);
    wheels.push(wheel);
  });
  return { world, body, hubs: hubs as [Body, Body], wheels: wheels as [Body, Body], pins, ground, loose: [] };
}

/** Puts all bodies where the unknowns `q` (n + 1) have them; their speeds stay. */
export function putAt(w: MotionWorld, m: MotionModel, q: Float64Array): void {
  const x = q[m.x]!;
  w.body.setTransform(new Vec2(u(x), u(m.axle.cg[1] + q[HEAVE]!)), q[BODY_TURN]!);
  for (const i of [0, 1] as const) {
    const { hub, wheel } = cornerPoses(m, q, i);
    w.hubs[i].setTransform(new Vec2(u(hub.x), u(hub.z)), hub.angle);
    w.wheels[i].setTransform(new Vec2(u(wheel.x), u(wheel.z)), wheel.angle);
  }
}

/** Where a hub and its wheel stand for the unknowns `q` (n + 1). */
function cornerPoses(m: MotionModel, q: Float64Array, i: 0 | 1): { hub: Pose; wheel: Pose } {
  const c = m.axle.corners[i];
  const turn = q[c.base + HUB_TURN]!;
  const x = c.centre[0] + q[m.x]! + q[c.base + HUB_X]!;
  const z = c.centre[1] + q[c.base + HUB_Z]!;
  const [lx, lz] = c.bearingLever;
  const a = turn + q[c.base + WHEEL_TILT]!;
  return {
    hub: { x, z, angle: turn },
    wheel: {
      x: x + Math.cos(turn) * lx - Math.sin(turn) * lz - (Math.cos(a) * lx - Math.sin(a) * lz),
      z: z + Math.sin(turn) * lx + Math.cos(turn) * lz - (Math.sin(a) * lx + Math.cos(a) * lz),
      angle: a,
    },
  };
}

/** Reads the heavy unknowns out of planck into `q`. A wheel that is off leaves its bearing straight. */
export function readPose(w: MotionWorld, m: MotionModel, q: Float64Array): void {
  const p = w.body.getPosition();
  const x = p.x * UNIT_MM;
  q[m.x] = x;
  q[HEAVE] = p.y * UNIT_MM - m.axle.cg[1];
  q[BODY_TURN] = w.body.getAngle();
  for (let i = 0; i < 2; i++) {
    const c = m.axle.corners[i]!;
    const hub = w.hubs[i]!;
    const h = hub.getPosition();
    q[c.base + HUB_X] = h.x * UNIT_MM - x - c.centre[0];
    q[c.base + HUB_Z] = h.y * UNIT_MM - c.centre[1];
    q[c.base + HUB_TURN] = hub.getAngle();
    if (w.pins[i]) q[c.base + WHEEL_TILT] = w.wheels[i]!.getAngle() - hub.getAngle();
  }
}

/** Reads the heavy speeds, mm/s and rad/s, in the order of the heavy unknowns. */
export function readSpeeds(w: MotionWorld, v: Float64Array): void {
  const b = w.body.getLinearVelocity();
  v[HEAVE] = b.y * UNIT_MM;
  v[BODY_TURN] = w.body.getAngularVelocity();
  v[BODY_X] = b.x * UNIT_MM;
  for (let i = 0; i < 2; i++) {
    const hub = w.hubs[i]!;
    const h = hub.getLinearVelocity();
    const at = heavyAt(i);
    v[at + HUB_X] = (h.x - b.x) * UNIT_MM;
    v[at + HUB_Z] = h.y * UNIT_MM;
    v[at + HUB_TURN] = hub.getAngularVelocity();
    if (w.pins[i]) v[at + WHEEL_TILT] = w.wheels[i]!.getAngularVelocity() - hub.getAngularVelocity();
  }
}

/** Speed of each wheel's centre, mm/s: [left x, left z, right x, right z]. */
export function readWheelSpeeds(w: MotionWorld, v: Float64Array): void {
  for (let i = 0; i < 2; i++) {
    const s = w.wheels[i]!.getLinearVelocity();
    v[2 * i] = s.x * UNIT_MM;
    v[2 * i + 1] = s.y * UNIT_MM;
  }
}

/** Sets the speeds of all bodies to a common translation, mm/s. */
export function setSpeed(w: MotionWorld, vx: number, vz: number): void {
  for (const b of [w.body, ...w.hubs, ...w.wheels]) {
    b.setLinearVelocity(new Vec2(u(vx), u(vz)));
    b.setAngularVelocity(0);
  }
}

/** Moves everything up by `mm`. */
export function lift(w: MotionWorld, mm: number): void {
  for (const b of [w.body, ...w.hubs, ...w.wheels]) {
    const p = b.getPosition();
    b.setTransform(new Vec2(p.x, p.y + u(mm)), b.getAngle());
  }
}

const push = new Vec2(0, 0);

/**
 * Hands the generalised forces `f` (heavy order, N and N·mm) to the bodies and lets planck make one step of `h` s under gravity (gx, gz), m/s².
 * The force along the body's x moves everything: what the hubs get on their own does not act on the body.
 */
export function stepWorld(w: MotionWorld, f: Float64Array, gx: number, gz: number, h: number): void {
  const gravity = w.world.getGravity();
  gravity.x = (gx * 1000) / UNIT_MM;
  gravity.y = (gz * 1000) / UNIT_MM;
  const apply = (b: Body, fx: number, fz: number, torque: number): void => {
    push.x = fx * FORCE_TO_PLANCK;
    push.y = fz * FORCE_TO_PLANCK;
    b.applyForceToCenter(push, true);
    b.applyTorque(torque * TORQUE_TO_PLANCK, true);
  };
  apply(w.body, f[BODY_X]! - f[heavyAt(0) + HUB_X]! - f[heavyAt(1) + HUB_X]!, f[HEAVE]!, f[BODY_TURN]!);
  for (let i = 0; i < 2; i++) {
    const at = heavyAt(i);
    const on = w.pins[i] !== null;
    apply(w.hubs[i]!, f[at + HUB_X]!, f[at + HUB_Z]!, f[at + HUB_TURN]! - (on ? f[at + WHEEL_TILT]! : 0));
    if (on) apply(w.wheels[i]!, 0, 0, f[at + WHEEL_TILT]!);
  }
  w.world.step(h, VELOCITY_ITERATIONS, POSITION_ITERATIONS);
}

/** Largest gap of a bearing pin, mm: health of planck's joints. */
export function pinGapMm(w: MotionWorld): number {
  let worst = 0;
  for (const pin of w.pins) {
    if (!pin) continue;
    const a = pin.getAnchorA();
    const b = pin.getAnchorB();
    worst = Math.max(worst, Math.sqrt((a.x - b.x) ** 2 + (a.y - b.y) ** 2) * UNIT_MM);
  }
  return worst;
}

/** Lets the wheel of corner `i` (0 left, 1 right) go: its pin is gone, it gets a shape and falls, rolls and knocks by planck's own contacts. A wheel that is off already stays as it is. */
export function freeWheel(w: MotionWorld, i: 0 | 1, halfWidthMm: number, radiusMm: number): void {
  const pin = w.pins[i];
  if (!pin) return;
  w.world.destroyJoint(pin);
  w.pins[i] = null;
  needGround(w);
  giveShape(w.wheels[i]!, halfWidthMm, radiusMm);
  w.loose.push({ kind: "wheel", side: i === 0 ? "left" : "right", body: w.wheels[i]! });
}

/** Lets a tyre go from its rim, moving as the wheel moves and `sideMps` faster outwards. */
export function freeTyre(w: MotionWorld, i: 0 | 1, kg: number, halfWidthMm: number, radiusMm: number, sideMps: number): void {
  needGround(w);
  const wheel = w.wheels[i]!;
  const p = wheel.getPosition();
  const tyre = massBody(w.world, p.x * UNIT_MM, p.y * UNIT_MM, kg, kg * ((radiusMm * radiusMm) / 2));
  tyre.setAngle(wheel.getAngle());
  const v = wheel.getLinearVelocity();
  tyre.setLinearVelocity(new Vec2(v.x + (i === 0 ? -1 : 1) * u(1000 * sideMps), v.y));
  tyre.setAngularVelocity(wheel.getAngularVelocity());
  giveShape(tyre, halfWidthMm, radiusMm);
  w.loose.push({ kind: "tyre", side: i === 0 ? "left" : "right", body: tyre });
}

function giveShape(b: Body, halfWidthMm: number, radiusMm: number): void {
  // loose parts touch the ground, not each other and not the car
  b.createFixture({ shape: new Box(u(halfWidthMm), u(radiusMm)), density: 0, friction: 0.5, restitution: 0.3, filterCategoryBits: 2, filterMaskBits: 1 });
}

function needGround(w: MotionWorld): void {
  if (w.ground.getFixtureList()) return;
  w.ground.createFixture({ shape: new Edge(new Vec2(-1e4, 0), new Vec2(1e4, 0)), friction: 0.6, filterCategoryBits: 1, filterMaskBits: 2 });
}

/** Where a planck body is: mm in the frame of the road, rad counter-clockwise. */
export function poseOf(b: Body): Pose {
  const p = b.getPosition();
  return { x: p.x * UNIT_MM, z: p.y * UNIT_MM, angle: b.getAngle() };
}
