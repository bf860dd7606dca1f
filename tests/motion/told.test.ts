import { describe, expect, it } from "vitest";
import type { LimitResult } from "../../src/core/analysis.ts";
import { JOINT_NAMES } from "../../src/core/design/types.ts";
import { BODY_TURN, HEAVE, HUB_TURN, WHEEL_TILT } from "../../src/core/equilibrium/unknowns.ts";
import { CHANNELS, channelIndex } from "../../src/motion/channels.ts";
import { poseState } from "../../src/motion/pose.ts";
import { readChannels } from "../../src/motion/read-channels.ts";
import { createSession, type Session } from "../../src/motion/session.ts";
import { expectAbs, expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";

/** What a moving axle tells of itself at an imposed moment, against hand calculations. */
function session(): Session {
  const made = createSession(shipped("heavy-forked.json"), { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 });
  if (!made.ok) throw new Error(made.reason.message);
  return made.session;
}
const x = session();
const limit = (utilization: number) => ({ utilization }) as LimitResult;

describe("the channels of a moment", () => {
  const { s, m, input } = x;
  s.q[BODY_TURN] = 0.02;
  s.q[HEAVE] = 3;
  s.q[m.x] = 5;
  for (const c of m.axle.corners) {
    s.q[c.base + HUB_TURN] = 0.01;
    s.q[c.base + WHEEL_TILT] = 0.02;
  }
  s.tyre.verticalN = [20, 30];
  s.tyre.lateralN = [-3, -4];
  s.tyre.gripUsed = [0.5, 0.6];
  s.kerbN = -20;
  Object.assign(input, { lateralG: 0.4, road: [1, 2], kerb: { side: "right", xMm: 0, speedMmps: 0, heightMm: 15 } });
  Object.assign(x.demands[0], { springMm: 51, hubN: 40, hubHoldsN: 80, tyreN: 10, tyreHoldsN: 40, jointN: 30, jointHoldsN: 50 });
  Object.assign(x.demands[1], { springMm: 52, hubN: 41, hubHoldsN: 82, tyreN: 0, tyreHoldsN: 40, jointN: 31, jointHoldsN: 62 });
  Object.assign(x.arms[0][0], { yields: limit(0.3), buckling: limit(0.1) });
  Object.assign(x.arms[0][1], { yields: limit(0.5) });
  Object.assign(x.arms[1][1], { buckling: limit(0.2) });
  const out = new Float64Array(CHANNELS.length);
  readChannels(x, out);

  it.each([
    ["lateralG", 0.4],
    // 0.02 rad with the right side up
    ["rollDeg", -1.145916],
    ["heaveMm", 3],
    ["lateralMm", 5],
    // both wheels 0.03 rad counter-clockwise on 0.5° of camber, top outwards
    ["left.camberDeg", 1.718873 + 0.5],
    ["right.camberDeg", -1.718873 + 0.5],
    ["left.verticalN", 20],
    ["right.lateralN", -4],
    ["left.roadMm", 1],
    ["right.roadMm", 2],
    ["left.springMm", 51],
    ["right.retentionN", 41],
    ["left.jointN", 30],
    // the kerb is on the right
    ["left.roadForceN", Math.hypot(20, 3)],
    ["right.roadForceN", Math.hypot(30, 24)],
    ["left.useHub", 0.5],
    ["left.useTyre", 0.25],
    ["right.useTyre", 0],
    ["left.useJoint", 0.6],
    ["left.useArm", 0.5],
    ["right.useArm", 0],
    ["left.useBuckling", 0.1],
    ["right.useBuckling", 0.2],
    ["left.useGrip", 0.5],
    ["right.useGrip", 0.6],
  ])("%s", (key, value) => {
    expectAbs(out[channelIndex(key)]!, value, 1e-6, key);
  });

  it("no grip is used in the air, nor without a wheel", () => {
    s.tyre.verticalN = [0, 30];
    s.wheelOn = [true, false];
    readChannels(x, out);
    expect([out[channelIndex("left.useGrip")], out[channelIndex("right.useGrip")]]).toEqual([0, 0]);
  });
});

describe("the pose of a moment", () => {
  const axle = x.m.axle;
  const state = poseState(axle, new Float64Array(axle.n), {
    load: { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 },
    verticalN: [0, 33],
    lateralN: [-1, -2],
    damperN: [4, 5],
    bearingNmm: [60, 70],
    jointForce: Float64Array.from({ length: 16 }, (_, i) => i + 1),
    lateralMm: 9,
    wheelOff: [null, { x: 200, z: 50, angle: 0.7 }],
  });
  const still = poseState(axle, new Float64Array(axle.n), {
    load: { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 },
    verticalN: [1, 1],
    lateralN: [0, 0],
    damperN: [0, 0],
    bearingNmm: [0, 0],
    jointForce: new Float64Array(16),
    lateralMm: 0,
    wheelOff: [null, null],
  });

  it("has the forces of the moment, each on its own side", () => {
    expect([state.left.tyre.verticalN, state.right.tyre.verticalN]).toEqual([0, 33]);
    expect([state.left.tyre.lateralN, state.right.tyre.lateralN]).toEqual([-1, -2]);
    expect([state.left.tyre.lifted, state.right.tyre.lifted]).toEqual([true, false]);
    expect([state.left.bearing.momentNmm, state.right.bearing.momentNmm]).toEqual([60, 70]);
    expectRel(state.left.spring.totalN - still.left.spring.totalN, 4, 1e-9, "damper, N");
    expectRel(state.right.spring.totalN - still.right.spring.totalN, 5, 1e-9, "damper, N");
    // joints in the order of their names, x and z, left then right
    expect(JOINT_NAMES.map((n) => state.left.joints[n].force)).toEqual([
      [1, 2],
      [3, 4],
      [5, 6],
      [7, 8],
    ]);
    expect(state.right.joints.lowerOuter.force).toEqual([15, 16]);
    expectRel(state.left.joints.upperOuter.forceN, 5, 1e-12, "N");
  });

  it("has a wheel that is off where it flies, seen from the body", () => {
    expect(state.right.wheelCentre).toEqual([191, 50]);
    expect(state.right.tyre.contact).toEqual([191, 0]);
    // 0.5° of static camber, clockwise on the right
    expectRel(state.right.wheelAngleRad, 0.7 - 0.008726646, 1e-8, "rad");
    expect(state.left.wheelCentre).toEqual(still.left.wheelCentre);
  });
});
