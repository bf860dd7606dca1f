import { describe, expect, it } from "vitest";
import type { Scenario } from "../../../src/core/design/types.ts";
import { passedOn, pushAsked, pushOnJoints } from "../../../src/core/drive/push.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";

const REST = { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 };
const car = (change: (s: Scenario) => void = () => {}): Scenario => {
  const s = structuredClone(shipped("heavy-forked.json"));
  change(s);
  return s;
};

describe("the push that a wheel is asked for", () => {
  // by hand: 100 N·mm, one stage 10:30 at 0.8, radius 50 mm: 100·3·0.8/50 = 4.8 N per motor; two motors a wheel: 9.6 N a wheel
  const plain = car((s) => {
    s.drive = {
      ...s.drive,
      drivenWheels: 2,
      motorsPerWheel: 2,
      stallTorqueNmm: 100,
      noLoadRpm: 3000,
      stages: [{ drivingTeeth: 10, drivenTeeth: 30, efficiency: 0.8 }],
    };
    s.corner.wheel.radiusMm = 50;
    s.body.carMassKg = 4;
    s.brake = { ...s.brake, wheels: 4 };
  });
  // 1000 rpm at the wheel: 1000·2π/60·0.05 = 5.235988 m/s without load
  it("is the throttle's share of the motors' line at the speed", () => {
    expectRel(pushAsked(plain, { ...REST, throttle: 1 }, 0).driveN, 9.6, 1e-12, "N standing still");
    expectRel(pushAsked(plain, { ...REST, throttle: 0.25 }, 0).driveN, 2.4, 1e-12, "N at a quarter");
    expectRel(pushAsked(plain, { ...REST, throttle: 1 }, 5.235987755982989 / 2).driveN, 4.8, 1e-9, "N at half the speed");
    expect(pushAsked(plain, { ...REST, throttle: 1 }, 6).driveN).toBe(0);
  });

  it("is nothing on wheels that are not driven, or do not brake", () => {
    const idle = car((s) => {
      s.drive.onThisAxle = false;
      s.brake.onThisAxle = false;
    });
    expect(pushAsked(idle, { ...REST, throttle: 1, brakeG: 0.5 }, 0)).toEqual({ driveN: 0, brakeN: 0 });
  });

  // 0.5 g on 4 kg: 0.5·4·9.80665 = 19.6133 N, shared by four wheels
  it("is the braking wheels' share of what slows the whole car down", () => {
    expectRel(pushAsked(plain, { ...REST, brakeG: 0.5 }, 3).brakeN, -4.903325, 1e-9, "N");
  });
});

// Pauwelussen, Essentials of Vehicle Dynamics, 2015, ch. 2: side and along-road force lie within an ellipse, here a circle of radius μ Fz
describe("the friction circle", () => {
  it("leaves along the road what the side force does not use: 3, 4, 5", () => {
    const { share, gripUsed } = passedOn({ driveN: 50, brakeN: 0 }, 30, 50, 1);
    expectRel(share, 0.8, 1e-12, "of 50 N: 40 N");
    expectRel(gripUsed, Math.sqrt(34) / 5, 1e-12, "√(50² + 30²)/50");
  });

  it("is met from inside: 12 along and 5 aside of 13", () => {
    expectRel(passedOn({ driveN: 0, brakeN: -12 }, 5, 26, 0.5).gripUsed, 1, 1e-12, "");
    expectRel(passedOn({ driveN: 0, brakeN: -12 }, 5, 26, 0.5).share, 1, 1e-12, "");
    expectRel(passedOn({ driveN: 6, brakeN: 0 }, -5, 26, 0.5).gripUsed, Math.sqrt(61) / 13, 1e-12, "");
  });

  it("leaves nothing to a wheel in the air, or one that slides sideways", () => {
    expect(passedOn({ driveN: 1, brakeN: 0 }, 0, 0, 1).share).toBe(0);
    expect(passedOn({ driveN: 1, brakeN: 0 }, 20, 10, 1).share).toBe(0);
    expect(passedOn({ driveN: 0, brakeN: 0 }, 5, 10, 1)).toEqual({ share: 1, gripUsed: 0.5 });
  });
});

// by hand: joints 60 and 20 mm high, centre 50, road 0, 10 N forwards
describe("the push on the hub", () => {
  const heights = { upper: 60, lower: 20, centre: 50, road: 0 };
  const on = (carriedBy: "body" | "hub" | "upperArm" | "lowerArm", newton = 10) => pushOnJoints(heights, [{ newton, carriedBy }]);

  it("acts at the centre where the body carries the motor: 7.5 N above, 2.5 N below", () => {
    expect(on("body")).toEqual({ upper: 7.5, lower: 2.5, torqueNmm: { upper: 0, lower: 0 } });
  });

  it("acts at the road where the hub carries it: the couple of 500 N·mm over 40 mm takes 12.5 N from the upper one", () => {
    expect(on("hub")).toEqual({ upper: -5, lower: 15, torqueNmm: { upper: 0, lower: 0 } });
  });

  it("twists the arm that carries the stage by force times the centre's height, its front up when the road pushes forwards", () => {
    expect(on("lowerArm")).toEqual({ upper: 7.5, lower: 2.5, torqueNmm: { upper: 0, lower: -500 } });
    expect(on("upperArm", -10).torqueNmm).toEqual({ upper: 500, lower: 0 });
  });

  it("adds drive and brake, each where it is carried", () => {
    const both = pushOnJoints(heights, [
      { newton: 10, carriedBy: "body" },
      { newton: -4, carriedBy: "hub" },
    ]);
    expectAbs(both.upper, 7.5 + 2, 1e-12, "N");
    expectAbs(both.lower, 2.5 - 6, 1e-12, "N");
  });
});
