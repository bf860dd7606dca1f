import { describe, expect, it } from "vitest";
import { cornerArms3d } from "../../../src/core/arm/corner-arms.ts";
import { cornerOf } from "../../../src/core/design/sides.ts";
import type { Drive, Scenario } from "../../../src/core/design/types.ts";
import { driveReport, reachableSpeedMps } from "../../../src/core/drive/drive-report.ts";
import {
  driveLine,
  gearEfficiency,
  gearRatio,
  motorPeakPowerW,
  resistanceN,
  stageRatio,
  thrustCurve,
  thrustN,
  topSpeedMps,
} from "../../../src/core/drive/motors.ts";
import { thrustOnArms, thrustTest } from "../../../src/core/drive/thrust-on-arms.ts";
import { TABLE_RADII_M, trackMm, wheelSpeeds, wheelSpeedTable } from "../../../src/core/drive/wheel-speeds.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";
import { parallelCar } from "../studies/stiff-car.ts";

/** the whole car of these tests */
const KG = 6;

const drive = (o: Partial<Drive> = {}): Drive => ({
  drivenWheels: 2,
  onThisAxle: true,
  carriedBy: "body",
  motorsPerWheel: 1,
  stallTorqueNmm: 120,
  noLoadRpm: 2400,
  stages: [
    { drivingTeeth: 10, drivenTeeth: 20, efficiency: 0.9 },
    { drivingTeeth: 12, drivenTeeth: 24, efficiency: 0.9 },
  ],
  rollingResistance: 0.03,
  dragNPerMps2: 0,
  topSpeedDrivenKmh: null,
  ...o,
});

describe("a motor on its line", () => {
  // T = Ts (1 - w/w0), greatest power Ts w0/4 at half speed: lancet.mit.edu/motor/motors4.html (600 rpm, 0.325 N·m: 300 rpm, 0.163 N·m)
  it("gives its greatest power at half of its speed with half of its torque", () => {
    const d = { stallTorqueNmm: 325, noLoadRpm: 600 };
    expectRel(motorPeakPowerW(d), 5.105088, 1e-6, "W");
    // one driven wheel of 1 mm without gears pushes with as many N as the motor has N·mm
    const line = driveLine(drive({ ...d, drivenWheels: 1, motorsPerWheel: 1, stages: [] }), 1, KG);
    const torqueNmm = (rpm: number): number => thrustN(line, (rpm * 2 * Math.PI) / 60 / 1000);
    expectRel(torqueNmm(300), 162.5, 1e-12, "N·mm");
    const power = (rpm: number): number => ((torqueNmm(rpm) / 1000) * rpm * 2 * Math.PI) / 60;
    expectRel(power(300), motorPeakPowerW(d), 1e-12, "W");
    for (const rpm of [200, 290, 310, 400]) expect(power(rpm)).toBeLessThan(power(300));
  });
});

describe("gears", () => {
  it("of 24 teeth driving 42 divide the speed by 1.75 (common practice, no source)", () => {
    expectRel(stageRatio({ drivingTeeth: 24, drivenTeeth: 42 }), 1.75, 1e-12, "ratio");
  });

  // about 10 % loss per engagement: Faulhaber, Machine Design 2002-06-20
  it("multiply ratios and efficiencies: five stages of 90 % leave 59 %", () => {
    const stages = Array.from({ length: 5 }, () => ({ drivingTeeth: 10, drivenTeeth: 20, efficiency: 0.9 }));
    expectRel(gearRatio({ stages }), 32, 1e-12, "ratio");
    expectRel(gearEfficiency({ stages }), 0.59049, 1e-9, "share");
    expect(gearRatio({ stages: [] })).toBe(1);
  });
});

describe("the speed a drive reaches", () => {
  // v = (r w0/G)(1 - C m g r/(n Ts G η)): closed form, recomputed
  it("is 2.687 m/s for two small motors on 6 kg, and 2.661 m/s with some drag", () => {
    const l = driveLine(drive(), 48, KG);
    expectRel(l.stallThrustN, 16.2, 1e-9, "N");
    expectRel(l.noLoadMps, 3.015929, 1e-6, "m/s");
    expectRel(topSpeedMps(l), 2.687305, 1e-6, "m/s");
    expectRel(topSpeedMps(driveLine(drive({ dragNPerMps2: 0.02 }), 48, KG)), 2.660941, 1e-6, "m/s");
  });

  it("is where thrust and resistance are equal", () => {
    const l = driveLine(drive({ dragNPerMps2: 0.15 }), 48, KG);
    const v = topSpeedMps(l);
    expectAbs(thrustN(l, v), resistanceN(l, v), 1e-9, "N");
  });

  it("is the no-load speed without any resistance, and nothing when the motors cannot start the car", () => {
    const free = driveLine(drive({ rollingResistance: 0 }), 48, KG);
    expectRel(topSpeedMps(free), free.noLoadMps, 1e-12, "m/s");
    expect(topSpeedMps(driveLine(drive({ rollingResistance: 1 }), 48, 60))).toBe(0);
  });

  it("grows hardly with a second motor on each wheel, while the thrust doubles: they add torque and not speed (common practice, no source)", () => {
    const one = driveLine(drive(), 48, KG);
    const two = driveLine(drive({ motorsPerWheel: 2 }), 48, KG);
    expectRel(two.stallThrustN, 2 * one.stallThrustN, 1e-12, "N");
    expect(two.noLoadMps).toBe(one.noLoadMps);
    expect(topSpeedMps(two)).toBeGreaterThan(topSpeedMps(one));
    expect(topSpeedMps(two)).toBeLessThan(two.noLoadMps);
  });

  it("is the one that was really driven, where it was; the drive's own numbers stay: 21.6 km/h are 6 m/s", () => {
    const s = shipped("heavy-forked.json");
    const driven = { ...s, drive: { ...s.drive, topSpeedDrivenKmh: 21.6 } };
    expectRel(reachableSpeedMps(driven), 6, 1e-12, "m/s");
    const [a, b] = [driveReport(s), driveReport(driven)];
    expect(b.topSpeedMps).toBe(a.topSpeedMps);
    expect(b.topSpeedMps).toBe(reachableSpeedMps(s));
    expect([a.drivenMps, b.line]).toEqual([null, a.line]);
  });

  it.each(SHIPPED)("of %s lies between 20 and 25 km/h, as models of this kind do (common practice, no source)", (file) => {
    const kmh = reachableSpeedMps(shipped(file)) * 3.6;
    expect(kmh).toBeGreaterThan(20);
    expect(kmh).toBeLessThan(25);
  });

  it("stands in a curve of thrust that falls in a line to nothing at the no-load speed", () => {
    const rows = thrustCurve(drive(), 48, KG, 11);
    expectAbs(rows[10]!.thrustN, 0, 1e-9, "N");
    expectRel(rows[5]!.thrustN, rows[0]!.thrustN / 2, 1e-9, "N");
    expectRel(rows[10]!.motorRpm, 2400, 1e-12, "rpm");
  });
});

describe("wheel speeds in a curve", () => {
  // v_o/v_i = (R + t/2)/(R - t/2): Gillespie, Fundamentals of Vehicle Dynamics, 1992, ch. 6
  it.each([
    [1, 1.380952],
    [2, 1.173913],
  ])("on %d m with a track of 320 mm differ by %d", (radius, ratio) => {
    const w = wheelSpeeds(320, radius, 3, 48, 4);
    expectRel(w.ratio, ratio, 1e-6, "outer over inner");
    expectRel(w.outerMps / w.innerMps, ratio, 1e-6, "outer over inner");
    expectRel((w.innerMps + w.outerMps) / 2, 3, 1e-12, "m/s in the middle");
    expectRel(w.outerMotorRpm, 4 * w.outerRpm, 1e-12, "rpm");
    expectRel((w.outerRpm * 2 * Math.PI * 0.048) / 60, w.outerMps, 1e-12, "m/s from turns");
  });

  it("are equal on a straight road, and the inner wheel stands still when the car turns about it", () => {
    expectAbs(wheelSpeeds(320, 1e9, 3, 48, 4).ratio, 1, 1e-9, "ratio");
    expectAbs(wheelSpeeds(320, 0.16, 3, 48, 4).innerMps, 0, 1e-12, "m/s");
    expect(wheelSpeeds(320, 0.1, 3, 48, 4).innerMps).toBeLessThan(0);
  });

  it("stand in a table with the scenario's own curves, ratios falling with the radius", () => {
    const s = shipped("heavy-forked.json");
    expect(trackMm(s)).toBe(304);
    const rows = wheelSpeedTable(s, 5, 3);
    for (const t of s.tracks) expect(rows.map((r) => r.radiusM)).toContain(t.radiusM);
    expect(rows.length).toBeGreaterThanOrEqual(TABLE_RADII_M.length);
    for (let i = 1; i < rows.length; i++) expect(rows[i]!.ratio).toBeLessThan(rows[i - 1]!.ratio);
  });
});

describe("thrust on the arms", () => {
  const straight = (widthMm: number): Scenario => {
    const s = shipped("heavy-forked.json");
    const arm = { ...s.corner.lowerArm, layout: "straight" as const, section: { shape: "rectangle" as const, widthMm, heightMm: 6 } };
    return { ...s, corner: { ...s.corner, upperArm: arm, lowerArm: arm } };
  };

  // cantilever with shear: L³/(3 E I) + L/(κ G A) (Mott, Appendix 14; κ as in the beam elements); the push comes through the ball joint, whose
  // pin, hole and mount give in series: 1/2000 + 1/1200 + 1/1500 mm/N in this file
  it("bends a straight arm fore and aft like a cantilever of its width, behind the give of its ball joint", () => {
    const s = straight(4);
    const t = thrustOnArms(s, "right", 10);
    const E = 2200;
    const L = Math.sqrt(64 ** 2 + 4 ** 2);
    const bending = L ** 3 / (3 * E * ((6 * 4 ** 3) / 12));
    const G = E / (2 * 1.37);
    const shear = L / ((5 / 6) * G * 24);
    expectRel(1 / t.stiffnessNPerMm.upper, bending + shear + 1 / 2000 + 1 / 1200 + 1 / 1500, 2e-4, "mm/N");
  });

  // by hand: the joints stand 28 and 68 mm above the ground, the push of 10 N at 60 mm, so 8 N above and 2 N below. Arms of 88 mm, 8 x 8 mm,
  // E 2400 MPa: 88³/(3·2400·8⁴/12) = 0.277291 mm/N; shear with κ 0.85 (Cowper, 1966) and G 888.9 MPa: 88/(0.85·888.9·64) = 0.00182 mm/N. The
  // upper joint gives 1/20, the lower one 1/50 mm/N: 8·0.32911 = 2.6329 mm and 2·0.29911 = 0.5982 mm. The wheel's middle at 48 mm lies
  // halfway: 1.6155 mm; the axis leans by (0.5982 - 2.6329)/40 rad = -2.914°.
  it("shifts the hub by each joint's and each arm's give for its share of the push", () => {
    const car = parallelCar((c) => {
      for (const arm of [c.upperArm, c.lowerArm]) {
        arm.section = { shape: "rectangle", widthMm: 8, heightMm: 8 };
        arm.material = { name: "test", youngMPa: 2400, poisson: 0.35, yieldMPa: 40, densityKgPerM3: 1000, plastic: true, maxTempC: 80, source: "a test" };
      }
      Object.assign(c.joints.upperOuter, { pinNPerMm: 20, holeNPerMm: 1e9, mountNPerMm: 1e9 });
      Object.assign(c.joints.lowerOuter, { pinNPerMm: 50, holeNPerMm: 1e9, mountNPerMm: 1e9 });
    });
    const t = thrustOnArms(car, "left", 10, 60);
    expectRel(t.forceN.upper, 8, 1e-12, "N");
    expectRel(t.shiftMm.upper, 2.6329, 2e-4, "mm");
    expectRel(t.shiftMm.lower, 0.5982, 2e-4, "mm");
    expectRel(t.wheelShiftMm, 1.6155, 2e-4, "mm");
    expectRel(t.casterChangeDeg, -2.914, 4e-4, "°");
    const rig = thrustTest(cornerOf(car, "left"), cornerArms3d(cornerOf(car, "left")));
    expect(rig.stiffnessNPerMm).toEqual(t.stiffnessNPerMm);
  });

  it("is shared by the ball joints so that force and moment balance", () => {
    const s = shipped("heavy-forked.json");
    const t = thrustOnArms(s, "right", 8);
    const c = s.corner;
    expectRel(t.forceN.upper + t.forceN.lower, 8, 1e-12, "N");
    expectRel(t.forceN.upper * c.upperOuter.zMm + t.forceN.lower * c.lowerOuter.zMm, 8 * c.wheelCentre.zMm, 1e-12, "N·mm");
    const ground = thrustOnArms(s, "right", 8, 0);
    expect(ground.forceN.upper).toBeLessThan(0);
  });

  it("is in proportion: braking as hard shifts the wheel back as far", () => {
    const s = shipped("heavy-forked.json");
    expectRel(thrustOnArms(s, "left", -8).wheelShiftMm, -thrustOnArms(s, "left", 8).wheelShiftMm, 1e-12, "mm");
    expect(thrustOnArms(s, "left", 8).wheelShiftMm).toBeGreaterThan(0);
  });

  it("moves the wheel of thin straight bars several times as far as that of forked arms", () => {
    const forked = thrustOnArms(shipped("heavy-forked.json"), "right", 8).wheelShiftMm;
    expect(thrustOnArms(straight(4), "right", 8).wheelShiftMm).toBeGreaterThan(3 * forked);
  });
});

describe("the report of a drive", () => {
  it("holds what its parts say", () => {
    const s = shipped("heavy-forked.json");
    const r = driveReport(s);
    expect(r.topSpeedMps).toBe(reachableSpeedMps(s));
    expect(r.wheels[0]!.carMps).toBe(r.topSpeedMps);
    expect(driveReport(s, 2).wheels[0]!.carMps).toBe(2);
    expectRel(r.onArms.right.thrustN * s.drive.drivenWheels, r.line.stallThrustN, 1e-12, "N");
  });
});
