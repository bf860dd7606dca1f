import { describe, expect, it } from "vitest";
import { cornerOf } from "../../../src/core/design/sides.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import { buildCorner } from "../../../src/core/linkage/corner.ts";
import { type CornerKinematics, kinematicsAt } from "../../../src/core/linkage/outputs.ts";
import { READINGS } from "../../../src/core/studies/clamped.ts";
import { type RigOptions, type RigReport, rigTests } from "../../../src/core/studies/rig.ts";
import { degToRad, weightN } from "../../../src/core/units.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";
import { parallelCar, REFERENCE_LOAD_N, REFERENCE_RATE, REFERENCE_SPRING_N, stiffCar } from "./stiff-car.ts";

function rig(s: Scenario, options: RigOptions = {}): RigReport {
  const r = rigTests(s, options);
  if (!r.ok) throw new Error(r.reason.message);
  return r.report;
}

function rigid(s: Scenario, travelMm: number): CornerKinematics {
  const linkage = buildCorner(cornerOf(s, "right"));
  if (!linkage.ok) throw new Error(linkage.message);
  const k = kinematicsAt(linkage, travelMm);
  if (!k.ok) throw new Error(k.message);
  return k;
}

/** What stays of the give of parts that are as stiff as a file can say, and of a tread half a millimetre wide. */
const STIFF_SHARE = 3e-4;

describe("the rig with everything stiff but the springs", () => {
  const car = stiffCar();
  const report = rig(car);
  const slopes = report.bump.perWheel.right;

  it("holds the body where the spring carries the corner as built", () => {
    const rest = report.bump.rows.find((r) => r.at === 0)!;
    expectAbs(rest.right.wheelTravelMm, 0, 1e-3, "wheel travel, mm");
    expectRel(rest.right.verticalLoadN, REFERENCE_LOAD_N, 1e-6, "load on the pad, N");
    expectAbs(rest.clampMomentNmm, 0, 1e-3, "moment on the clamp, N·mm");
  });

  // own numbers of the reference corner: circle intersection and Newton loop closure, second method instant centres
  it("has the camber gain, half-track change and motion ratio of the reference corner", () => {
    expectRel(slopes.camberDegPerMm, -0.14996188, STIFF_SHARE, "camber gain, °/mm");
    expectRel(slopes.contactOutPerMm, 0.15848375, STIFF_SHARE, "half-track change per mm");
    expectRel(slopes.motionRatio, 0.64249038, STIFF_SHARE, "motion ratio");
  });

  it.each([-8, -4, 4, 8])("follows the reference table at %d mm of pad travel", (at) => {
    const row = report.bump.rows.find((r) => Math.abs(r.at - at) < 1e-9)!.right;
    const k = rigid(car, row.wheelTravelMm);
    expectAbs(row.camberDeg, k.camberDeg, 1e-3, "camber, °");
    expectAbs(row.contactOutMm, k.contactShiftMm, 1e-3, "half-track change, mm");
    expectAbs(row.springLengthMm, k.springLengthMm, 1e-3, "spring length, mm");
  });

  // k·MR² + F·dMR/dz: Barton & Fieldhouse, Automotive Chassis Engineering, Springer 2018, eq. 3.29-3.33
  it("has the wheel rate k·MR² + F·dMR/dz at the contact", () => {
    const h = 0.05;
    const below = rigid(car, -h);
    const above = rigid(car, h);
    const perMm = (above.motionRatioAtContact - below.motionRatioAtContact) / (above.pose.contact[1] - below.pose.contact[1]);
    const mr = rigid(car, 0).motionRatioAtContact;
    expectRel(slopes.wheelRateAtContactNPerMm, REFERENCE_RATE * mr * mr + REFERENCE_SPRING_N * perMm, STIFF_SHARE, "wheel rate, N/mm");
  });

  it("puts suspension and tyre in series at the pad", () => {
    const inSeries = 1 / (1 / slopes.wheelRateAtContactNPerMm + 1 / car.corner.tyre.verticalNPerMm);
    expectRel(slopes.padRateNPerMm, inSeries, 1e-6, "pad rate, N/mm");
  });
});

describe("the roll test", () => {
  // roll stiffness k t²/2: Gillespie, Fundamentals of Vehicle Dynamics, SAE 1992, ch. 6; the weight on leaning legs takes W·h off
  it("has pad rate times half the track squared, less the overturning by the weight", () => {
    const car = parallelCar();
    const { bump, roll } = rig(car);
    const track = 2 * car.corner.wheelCentre.sMm;
    // above the unpressed tread, where the bed of the tyre has its middle: the height as built
    const height = car.body.cgHeightMm;
    const expected = degToRad((bump.perWheel.left.padRateNPerMm * track * track) / 2 - weightN(car.body.carMassKg * car.body.axleShare) * height);
    expectRel(roll.stiffnessNmmPerDeg, expected, 1.5e-3, "roll stiffness, N·mm/°");
    expectRel(roll.camberDegPerDeg.right, 1, STIFF_SHARE, "lean of the right wheel per degree");
    expectRel(roll.camberDegPerDeg.left, -1, STIFF_SHARE, "lean of the left wheel per degree");
  });

  it("feels the anti-roll bar, which the bump test does not", () => {
    const bare = shipped("heavy-straight.json");
    const barred = structuredClone(bare);
    barred.antiRollBar = { rateNPerMm: 2, atFraction: 0.7 };
    const [a, b] = [rig(bare), rig(barred)];
    expectRel(b.bump.perWheel.left.padRateNPerMm, a.bump.perWheel.left.padRateNPerMm, 1e-6, "pad rate, N/mm");
    expect(b.roll.stiffnessNmmPerDeg).toBeGreaterThan(1.3 * a.roll.stiffnessNmmPerDeg);
  });

  it("leaves out what the rest of the car lends", () => {
    const alone = shipped("heavy-straight.json");
    const lent = structuredClone(alone);
    lent.body.otherRollStiffnessNmmPerDeg = 500;
    expectRel(rig(lent).roll.stiffnessNmmPerDeg, rig(alone).roll.stiffnessNmmPerDeg, 1e-6, "roll stiffness, N·mm/°");
  });
});

describe("the side force test", () => {
  // lever rule: moment F·R on a bearing of stiffness K; the load on the leaning wheel takes N·R off K
  it("leans a wheel on a soft bearing by F·R over what is left of its tilt stiffness", () => {
    const perDeg = 900;
    const car = parallelCar((c) => {
      c.hub.tiltStiffnessNmmPerDeg = perDeg;
    });
    const lever = car.corner.wheel.radiusMm - REFERENCE_LOAD_N / car.corner.tyre.verticalNPerMm;
    const { camberDegPerN, contactMmPerN, wheelCentreMmPerN } = rig(car).lateral.perWheel.left;
    const left = perDeg - degToRad(REFERENCE_LOAD_N * car.corner.wheel.radiusMm);
    expectRel(camberDegPerN, -lever / left, 1e-3, "camber, °/N");
    expectRel(contactMmPerN, degToRad(-camberDegPerN) * car.corner.wheel.radiusMm, 1e-3, "tread, mm/N");
    expectAbs(wheelCentreMmPerN, 0, 1e-5, "wheel centre, mm/N");
  });

  it("has no band without play, and one of twice the play of a bearing", () => {
    const firm = rig(parallelCar()).lateral.band;
    expect(firm).toEqual({ left: null, right: null });
    const play = 0.5;
    const { band } = rig(
      parallelCar((c) => {
        c.hub.tiltPlayDeg = play;
        c.hub.tiltStiffnessNmmPerDeg = 9000;
      }),
    ).lateral;
    expectRel(band.left!.camberDeg, 2 * play, 0.01, "hysteresis band, °");
  });

  it("has a wider band in worn joints", () => {
    const worn = rig(shipped("worn-joints.json")).lateral.band;
    const sound = rig(shipped("heavy-straight.json")).lateral.band;
    for (const side of ["left", "right"] as const) expect(worn[side]!.camberDeg).toBeGreaterThan(1.5 * sound[side]!.camberDeg);
  });
});

describe("the curves of every shipped car", () => {
  it.each(SHIPPED)("have exact slopes at rest: %s", (file) => {
    const car = shipped(file);
    const small = { upMm: 0.01, downMm: 0.01, rollDeg: 0.002, sideN: 0.01, steps: 1 };
    const r = rig(car, small);
    for (const curve of [r.bump, r.roll, r.lateral]) {
      expect(curve.rows).toHaveLength(3);
      const [low, , high] = curve.rows;
      for (const side of ["left", "right"] as const)
        for (const reading of READINGS) {
          const difference = (high![side][reading] - low![side][reading]) / (high!.at - low!.at);
          expectAbs(
            curve.slopes[side][reading],
            difference,
            1e-4 * Math.max(0.05, Math.abs(difference)),
            `${curve.moves}: ${side} ${reading} per ${curve.unit}`,
          );
        }
    }
  });

  it.each(SHIPPED.filter((f) => f !== "asymmetric.json"))("are alike on both sides: %s", (file) => {
    const r = rig(shipped(file));
    for (const curve of [r.bump, r.lateral])
      for (const row of curve.rows)
        for (const reading of READINGS) expectAbs(row.left[reading], row.right[reading], 1e-6, `${curve.moves} ${row.at}: ${reading}`);
    for (const row of r.roll.rows) {
      const mirror = r.roll.rows.find((o) => Math.abs(o.at + row.at) < 1e-12)!;
      for (const reading of READINGS) expectAbs(row.left[reading], mirror.right[reading], 1e-6, `roll ${row.at}: ${reading}`);
    }
  });

  it("are in order, hold their rest and rise with the pads", () => {
    const { bump } = rig(shipped("heavy-forked.json"));
    const at = bump.rows.map((r) => r.at);
    expect(at).toEqual([...at].sort((a, b) => a - b));
    expect(at).toContain(0);
    const load = bump.rows.map((r) => r.left.verticalLoadN);
    expect(load).toEqual([...load].sort((a, b) => a - b));
  });
});

describe("a curve that cannot go on", () => {
  it("ends where the wheel leaves its pad, and says so", () => {
    const { bump } = rig(stiffCar(), { downMm: 60, upMm: 2, steps: 30 });
    expect(bump.endsBelow).toMatch(/leaves its pad|no steady position/);
    expect(bump.endsAbove).toBeNull();
    // the spring is slack there: 50 N over the pad rate
    expectAbs(bump.rows[0]!.at, -REFERENCE_LOAD_N / bump.perWheel.left.padRateNPerMm, 3, "pad travel at the end, mm");
    for (const row of bump.rows) expect(row.left.verticalLoadN).toBeGreaterThan(0);
  });

  it("tells a car that finds no rest", () => {
    const car = shipped("heavy-straight.json");
    car.corner.spring.freeLengthMm = 20;
    car.corner.spring.preloadMm = 0;
    car.corner.spring.droopStop = null;
    car.corner.spring.bumpStop = { lengthMm: 2, rateNPerMm: 0.1 };
    const r = rigTests(car);
    expect(r.ok).toBe(false);
  });
});
