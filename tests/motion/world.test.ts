import { Vec2 } from "planck-js";
import { describe, expect, it } from "vitest";
import { BODY_TURN, HEAVE, HUB_TURN, HUB_X, HUB_Z, WHEEL_TILT } from "../../src/core/equilibrium/unknowns.ts";
import { BODY_X, HEAVY, heavyAt } from "../../src/motion/inertia.ts";
import { buildMotion } from "../../src/motion/model.ts";
import {
  buildWorld,
  freeTyre,
  freeWheel,
  lift,
  type MotionWorld,
  pinGapMm,
  poseOf,
  putAt,
  readPose,
  readSpeeds,
  readWheelSpeeds,
  setSpeed,
  stepWorld,
} from "../../src/motion/world.ts";
import { expectAbs, expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";

/**
 * The bodies of the moving world against hand calculations: body of 2.2 kg, 92 mm up; hubs of 0.13 kg and wheels of 0.22 kg at (±152, 48), each wheel on a
 * bearing 5 mm inboard. One planck unit is 10 mm.
 */
const scenario = structuredClone(shipped("heavy-forked.json"));
scenario.corner.hub.staticCamberDeg = 0;
scenario.corner.hub.bearingOffsetMm = 5;
const m = buildMotion(scenario);
const [left, right] = m.axle.corners;
const place = (at: readonly (readonly [number, number])[] = []): Float64Array => {
  const q = new Float64Array(m.bare.n);
  for (const [i, v] of at) q[i] = v;
  return q;
};
const built = (at: readonly (readonly [number, number])[] = []): MotionWorld => buildWorld(m, place(at));
const TILTED = [
  [m.x, 3],
  [HEAVE, 2],
  [BODY_TURN, 0.01],
  [right.base + HUB_X, 0.5],
  [right.base + HUB_Z, -1],
  [right.base + HUB_TURN, 0.1],
  [right.base + WHEEL_TILT, 0.05],
  [left.base + HUB_Z, 4],
  [left.base + WHEEL_TILT, -0.02],
] as const;
const DIGITS = 1e-9;

describe("where the bodies stand", () => {
  // bearing 5 mm to the left of the right hub's point, turned by 0.1 rad with it, the wheel's centre 5 mm back to the right, turned by 0.15 rad
  const check = (w: MotionWorld): void => {
    const body = poseOf(w.body);
    expectAbs(body.x, 3, DIGITS, "body (mm)");
    expectAbs(body.z, 94, DIGITS, "body (mm)");
    expectAbs(body.angle, 0.01, DIGITS, "body (rad)");
    const hub = poseOf(w.hubs[1]);
    expectAbs(hub.x, 155.5, DIGITS, "hub (mm)");
    expectAbs(hub.z, 47, DIGITS, "hub (mm)");
    expectAbs(hub.angle, 0.1, DIGITS, "hub (rad)");
    const wheel = poseOf(w.wheels[1]);
    expectAbs(wheel.x, 155.5 - 5 * Math.cos(0.1) + 5 * Math.cos(0.15), DIGITS, "wheel (mm)");
    expectAbs(wheel.z, 47 - 5 * Math.sin(0.1) + 5 * Math.sin(0.15), DIGITS, "wheel (mm)");
    expectAbs(wheel.angle, 0.15, DIGITS, "wheel (rad)");
    const onLeft = poseOf(w.wheels[0]);
    expectAbs(onLeft.x, -149 + 5 - 5 * Math.cos(0.02), DIGITS, "left wheel (mm)");
    expectAbs(onLeft.z, 52 + 5 * Math.sin(0.02), DIGITS, "left wheel (mm)");
    expectAbs(pinGapMm(w), 0, 1e-9, "gap of the bearings (mm)");
  };

  it("is what the unknowns say, as built and put there later", () => {
    check(built(TILTED));
    const w = built();
    putAt(w, m, place(TILTED));
    check(w);
  });

  // 2° of camber, top outwards: the bearing 5 mm inboard along the wheel's own axis stands 5 sin 2° higher
  it("is at the wheel's own axis with static camber", () => {
    const s = structuredClone(scenario);
    s.corner.hub.staticCamberDeg = 2;
    const leaning = buildMotion(s);
    const { base } = leaning.axle.corners[1];
    const q = new Float64Array(leaning.bare.n);
    q[base + HUB_TURN] = 0.1;
    q[base + WHEEL_TILT] = 0.05;
    const wheel = poseOf(buildWorld(leaning, q).wheels[1]);
    // the way to the bearing and the way back, as one complex number each
    const axis = Math.PI - (2 * Math.PI) / 180;
    expectAbs(wheel.x, 152 + 5 * Math.cos(axis + 0.1) - 5 * Math.cos(axis + 0.15), DIGITS, "wheel (mm)");
    expectAbs(wheel.z, 48 + 5 * Math.sin(axis + 0.1) - 5 * Math.sin(axis + 0.15), DIGITS, "wheel (mm)");
  });

  it("is read back as the unknowns it came from", () => {
    const q = place();
    readPose(built(TILTED), m, q);
    place(TILTED).forEach((v, i) => {
      expectAbs(q[i]!, v, DIGITS, `unknown ${i}`);
    });
  });

  it("is as much higher as it is lifted, and a bearing that has opened is seen", () => {
    const w = built(TILTED);
    lift(w, 7);
    expectAbs(poseOf(w.body).z, 101, DIGITS, "body (mm)");
    expectAbs(poseOf(w.hubs[0]).z, 59, DIGITS, "left hub (mm)");
    expectAbs(poseOf(w.wheels[1]).angle, 0.15, DIGITS, "right wheel (rad)");
    const p = w.wheels[0].getPosition();
    w.wheels[0].setTransform(new Vec2(p.x + 0.3, p.y - 0.4), w.wheels[0].getAngle());
    expectAbs(pinGapMm(w), 5, 1e-6, "gap (mm)");
  });
});

describe("speeds", () => {
  it("of the hubs sideways are those against the body, of the wheels' tilt those against the hub", () => {
    const w = built();
    w.body.setLinearVelocity(new Vec2(1, 2));
    w.body.setAngularVelocity(0.5);
    w.hubs[1].setLinearVelocity(new Vec2(4, -3));
    w.hubs[1].setAngularVelocity(0.2);
    w.wheels[1].setLinearVelocity(new Vec2(6, 7));
    w.wheels[1].setAngularVelocity(0.9);
    const v = new Float64Array(HEAVY);
    readSpeeds(w, v);
    const at = heavyAt(1);
    const told = [v[BODY_X], v[HEAVE], v[BODY_TURN], v[at + HUB_X], v[at + HUB_Z], v[at + HUB_TURN], v[at + WHEEL_TILT], v[heavyAt(0) + HUB_X]];
    [10, 20, 0.5, 30, -30, 0.2, 0.7, -10].forEach((want, i) => {
      expectAbs(told[i]!, want, DIGITS, `speed ${i} (mm/s, rad/s)`);
    });
    const wheels = new Float64Array(4);
    readWheelSpeeds(w, wheels);
    expect([...wheels].map((s) => Math.round(1e6 * s) / 1e6)).toEqual([0, 0, 60, 70]);
  });

  it("are the same for all when the whole is set going", () => {
    const w = built();
    w.hubs[0].setAngularVelocity(3);
    setSpeed(w, 20, -30);
    for (const b of [w.body, ...w.hubs, ...w.wheels]) expect([b.getLinearVelocity().x, b.getLinearVelocity().y, b.getAngularVelocity()]).toEqual([2, -3, 0]);
  });
});

describe("one step of 1/1000 s from rest", () => {
  const stepped = (f: readonly (readonly [number, number])[], gx = 0, gz = 0): Float64Array => {
    const w = built();
    const force = new Float64Array(HEAVY);
    for (const [i, v] of f) force[i] = v;
    stepWorld(w, force, gx, gz, 1e-3);
    const v = new Float64Array(HEAVY);
    readSpeeds(w, v);
    return v;
  };

  it("F h / m, and M h / I about the centre", () => {
    const v = stepped([
      [HEAVE, 22],
      [BODY_TURN, 50],
      [BODY_X, 4.4],
    ]);
    expectRel(v[HEAVE]!, 10, 1e-6, "body up (mm/s)");
    expectRel(v[BODY_X]!, 2, 1e-6, "body sideways (mm/s)");
    // 50 N·mm on 2.2 · 4789.333333 kg·mm²
    expectRel(v[BODY_TURN]!, 50 / (2.2 * 4789.333333), 1e-6, "body (rad/s)");
  });

  it("what the hubs get sideways on their own is not the body's", () => {
    const v = stepped([
      [BODY_X, 9],
      [heavyAt(0) + HUB_X, 3],
      [heavyAt(1) + HUB_X, 1.6],
    ]);
    expectRel(v[BODY_X]!, 2, 1e-6, "body (mm/s)");
  });

  // the bearing is 5 mm off both centres: upright force on the hub F = m_h a_h + R, pin a_h - 5 α_h = a_w - 5 α_w, R = m_w a_w, I_h α_h = 5 R + M_h ...
  // with a moment on the wheel alone: pin force R up on the wheel: a_w = R/0.22, α_w = (M - 5 R)/I_w, a_h = -R/0.13, α_h = (5 R - M)/I_h, in kg, mm, s
  it("a moment between hub and wheel turns one against the other", () => {
    const [ih, iw] = [(0.13 * 44 ** 2) / 12, 0.22 * (737.28 + 108)];
    const moment = 40e3;
    // hub: pin at -5 mm, force -R there: moment about its centre +5 R; wheel: pin at -5 mm, force +R: -5 R
    // equal speeds of the pin: -R/0.13 - 5 (5 R - M)/ih = R/0.22 - 5 (M - 5 R)/iw
    const r = ((5 * moment) / ih + (5 * moment) / iw) / (1 / 0.22 + 25 / iw + 1 / 0.13 + 25 / ih);
    const v = stepped([[heavyAt(1) + WHEEL_TILT, 40]]);
    const at = heavyAt(1);
    expectRel(v[at + HUB_Z]!, (-r / 0.13) * 1e-3, 1e-3, "hub (mm/s)");
    expectRel(v[at + HUB_TURN]!, ((5 * r - moment) / ih) * 1e-3, 1e-3, "hub (rad/s)");
    expectRel(v[at + WHEEL_TILT]!, ((moment - 5 * r) / iw - (5 * r - moment) / ih) * 1e-3, 1e-3, "wheel against hub (rad/s)");
    expectAbs(v[heavyAt(0) + HUB_TURN]!, 0, 1e-9, "left hub (rad/s)");
  });

  it("gravity draws all alike", () => {
    const v = stepped([], 2, -9);
    expectRel(v[HEAVE]!, -9, 1e-6, "body (mm/s)");
    expectRel(v[BODY_X]!, 2, 1e-6, "body (mm/s)");
    expectRel(v[heavyAt(0) + HUB_Z]!, -9, 1e-6, "left hub (mm/s)");
    expectAbs(v[heavyAt(1) + HUB_X]!, 0, 1e-9, "right hub against the body (mm/s)");
  });
});

describe("what comes loose", () => {
  it("a wheel: its pin is gone, once, and it falls until it lies or stands on the road", () => {
    const w = built();
    freeWheel(w, 1, 18, 48);
    freeWheel(w, 1, 18, 48);
    expect(w.pins.map((p) => p !== null)).toEqual([true, false]);
    expect(w.loose.map((l) => [l.kind, l.side, l.body === w.wheels[1]])).toEqual([["wheel", "right", true]]);
    lift(w, 20);
    const none = new Float64Array(HEAVY);
    none[heavyAt(1) + WHEEL_TILT] = 1e4;
    for (let i = 0; i < 60; i++) stepWorld(w, none, 0, -9.80665, 1 / 240);
    const wheel = poseOf(w.wheels[1]);
    // nothing turns it: it stands on its tread, all the rest has fallen through
    expectAbs(wheel.z, 48, 1, "wheel (mm)");
    expectAbs(wheel.angle, 0, 1e-3, "wheel (rad)");
    // 0.25 s of falling, each step with the speed at its end
    expectRel(poseOf(w.body).z, 112 - (9806.65 * 0.25 * (0.25 + 1 / 240)) / 2, 1e-6, "body (mm)");
    // a wheel that is off leaves the tilt that is read as it was
    const q = place([[right.base + WHEEL_TILT, 0.3]]);
    readPose(w, m, q);
    expect(q[right.base + WHEEL_TILT]).toBe(0.3);
  });

  it.each([0, 1] as const)("a tyre: where its wheel is, as fast and half a metre per second faster outwards (%i)", (i) => {
    const w = built(TILTED);
    setSpeed(w, 100, 20);
    w.wheels[i].setAngularVelocity(0.7);
    freeTyre(w, i, 0.1, 18, 48, 0.5);
    const [part] = w.loose;
    expect([part!.kind, part!.side, w.loose.length]).toEqual(["tyre", i === 0 ? "left" : "right", 1]);
    const [tyre, wheel] = [poseOf(part!.body), poseOf(w.wheels[i])];
    for (const key of ["x", "z", "angle"] as const) expectAbs(tyre[key], wheel[key], DIGITS, key);
    const v = part!.body.getLinearVelocity();
    expectAbs(v.x * 10, i === 0 ? -400 : 600, DIGITS, "sideways (mm/s)");
    expectAbs(v.y * 10, 20, DIGITS, "up (mm/s)");
    expectAbs(part!.body.getAngularVelocity(), 0.7, DIGITS, "rad/s");
    expectRel(part!.body.getMass(), 0.1, DIGITS, "kg");
    // a disc about its diameter's way: m r²/2
    expectRel(part!.body.getInertia() * 100, 0.1 * 1152, 1e-9, "kg·mm²");
    expect(w.pins.every((p) => p !== null)).toBe(true);
  });
});
