import { buildArm3d } from "../../../src/core/arm/arm-frame.ts";
import { armLengthMm, jointNPerMm } from "../../../src/core/design/corner-geometry.ts";
import { axleMassKg } from "../../../src/core/design/mass.ts";
import type { BenchKind, BenchTest } from "../../../src/core/design/tried.ts";
import type { Corner, Material, Scenario } from "../../../src/core/design/types.ts";
import { bearingMoment } from "../../../src/core/equilibrium/bearing.ts";
import { buildAxle, type CornerModel } from "../../../src/core/equilibrium/model.ts";
import { tread, treadOut } from "../../../src/core/equilibrium/tread.ts";
import { retentionDemand } from "../../../src/core/limits/hub-retention.ts";
import { tyreHoldN } from "../../../src/core/limits/wheel.ts";
import { springForceAt } from "../../../src/core/linkage/spring-force.ts";
import type { Random } from "../../../src/core/numerics/random.ts";
import { typed } from "./typed.ts";

/**
 * Invented builders with known cars: what their scales and rulers show, made from the full model (the axle's own assembled laws solved the
 * other way round), scattered by the hand and rounded to the steps of kitchen scale, ruler and phone.
 */
export interface World {
  kind: BenchKind;
  /** the car as it really is */
  truth: Scenario;
  /** the design that the builder has before the test, off from the truth */
  design: Scenario;
  setUp: BenchTest["setUp"];
  /** a table of one builder; deterministic for the same random numbers */
  rows(random: Random): string[][];
  /** by the end of a result's path: the true value, of the next part where parts break */
  true: Record<string, (random: Random) => number>;
}

const G = 9.80665;
const GRAM_N = G / 1000;

const withCorner = (s: Scenario, change: (c: Corner) => Corner): Scenario => ({ ...s, corner: change(s.corner), left: {}, right: {} });

/** Where a rising function has a value. */
function where(f: (x: number) => number, value: number, low: number, high: number): number {
  for (let i = 0; i < 100; i++) {
    const middle = (low + high) / 2;
    if (f(middle) < value) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

const round = (v: number, step: number): string => String(Number((Math.round(v / step) * step).toFixed(6)));
const grams = (newton: number): string => round(newton / GRAM_N, 1);

const plastic = (youngMPa: number): Material => ({
  name: "print",
  youngMPa,
  poisson: 0.36,
  yieldMPa: 30,
  densityKgPerM3: 1100,
  plastic: true,
  maxTempC: 80,
  source: "invented",
});

const right = (s: Scenario): CornerModel => buildAxle(s).corners[1];

/** Loads in whole grams, up and down again. */
const upDown = (most: number, steps: number): number[] => {
  const up = Array.from({ length: steps }, (_, i) => Math.round((most * (i + 1)) / steps));
  return [...up, ...up.slice(0, -1).reverse()];
};

/** @param forked the shipped heavy car with forked arms */
export function worlds(forked: Scenario): World[] {
  const base = withCorner(forked, (c) => ({
    ...c,
    lowerArm: { ...c.lowerArm, material: plastic(1630) },
    hub: { ...c.hub, tiltStiffnessNmmPerDeg: 305, tiltPlayDeg: 0.62 },
    spring: { ...c.spring, rateNPerMm: 2.07, freeLengthMm: 66.3, preloadMm: 2 },
    tyre: { ...c.tyre, verticalNPerMm: 11.7, effectiveWidthMm: 29.4, lateralNPerMm: 17.5 },
    joints: { ...c.joints, lowerInner: { ...c.joints.lowerInner, clearanceMm: 0.42 } },
  }));
  const truth: Scenario = { ...base, body: { ...base.body, carMassKg: 5.37, axleShare: 0.553, cgHeightMm: 96.5 } };
  // what is sought is unknown to the builder; what is taken from the design is known
  const blank = withCorner(truth, (c) => ({
    ...c,
    lowerArm: { ...c.lowerArm, material: { ...plastic(2600), poisson: 0.36 } },
    hub: { ...c.hub, tiltStiffnessNmmPerDeg: 200, tiltPlayDeg: 0.1 },
    spring: { ...c.spring, rateNPerMm: 3, freeLengthMm: 60 },
    tyre: { ...c.tyre, effectiveWidthMm: null, lateralNPerMm: null },
  }));
  const soft = withCorner(blank, (c) => ({ ...c, tyre: { ...c.tyre, verticalNPerMm: 20 } }));
  const c = truth.corner;
  const length = armLengthMm(c, "lower");
  const arm = buildArm3d(c.lowerArm, length, 0.5);
  const pins = 1 / jointNPerMm(c.joints.lowerInner);
  const model = right(truth);
  const hand = (random: Random, sd: number): number => sd * random.normal();

  const hang = (random: Random): string[][] => {
    const zero = 30 + random.next();
    return [...upDown(800, 5), ...upDown(800, 5).map((g) => -g)].map((g) => {
      const sag = Math.sign(g) * c.joints.lowerInner.clearanceMm + g * GRAM_N * (arm.flexibility[14]! + pins);
      return [String(g), round(zero + sag + hand(random, 0.2), 0.5)];
    });
  };
  const along = (random: Random): string[][] => {
    const zero = 30 + random.next();
    return upDown(3000, 6).map((g) => [String(g), round(zero + g * GRAM_N * arm.flexibility[0]! + hand(random, 0.1), 0.1)]);
  };
  const tilts = new Map<number, number>();
  const tiltOf = (moment: number): number => {
    let at = tilts.get(moment);
    if (at === undefined) {
      at = (where((t) => bearingMoment(model.bearing, t, 1e-9), moment, -0.3, 0.3) * 180) / Math.PI;
      tilts.set(moment, at);
    }
    return at;
  };
  const tilt = (random: Random): string[][] => {
    const zero = 0.4 * random.next();
    return [500, 900, 1300, 1700, 900, -500, -900, -1300, -1700, -900].map((g) => [String(g), round(zero + tiltOf(g * GRAM_N * 48) + hand(random, 0.1), 0.1)]);
  };
  const lengthOf = (newton: number): number => where((l) => -springForceAt(c.spring, l).forceN, -newton, 51, 68.3 + 1e-9);
  const springLengths = new Map(upDown(2400, 6).map((g) => [g, lengthOf(g * GRAM_N)]));
  const spring = (random: Random): string[][] => upDown(2400, 6).map((g) => [String(g), round(springLengths.get(g)! + hand(random, 0.3), 0.5)]);

  const bed = treadOut();
  /** the tread under a load, N, leaned by °: sink of its middle and place of the force from the tread's middle, mm */
  const pressed = (newton: number, deg: number): { sink: number; place: number } => {
    const turn = (deg * Math.PI) / 180;
    const radius = model.tyre.radius;
    const force = (sink: number): number => {
      tread(model.tyre, radius * Math.cos(turn) - sink, turn, 0, 0, bed);
      return bed.force;
    };
    const sink = where(force, newton, -5, 20);
    force(sink);
    const lever = radius * Math.sin(turn) + (bed.moment * Math.cos(turn) - bed.second * model.tyre.crown * Math.sin(turn)) / bed.force;
    return { sink, place: lever - radius * Math.sin(turn) };
  };
  const sinks = new Map(upDown(3000, 6).map((g) => [g, pressed(g * GRAM_N, 0).sink]));
  const press = (random: Random): string[][] => {
    const zero = random.next();
    return upDown(3000, 6).map((g) => [String(g), round(zero + sinks.get(g)! + hand(random, 0.05), 0.1)]);
  };
  const leans = [-10, -8, -6, -4, -2, 0, 2, 4, 6, 8, 10];
  const places = new Map(leans.map((deg) => [deg, pressed(1.5 * G, deg).place]));
  const lean = (random: Random): string[][] =>
    leans.map((deg) => [String(deg), grams(0.75 * G - (1.5 * G * places.get(deg)!) / 200 + hand(random, 2 * GRAM_N))]);
  const sideways = (random: Random): string[][] => {
    const zero = random.next();
    return [...upDown(2000, 5), ...upDown(2000, 5).map((g) => -g)].map((g) => [
      String(g),
      round(zero + (g * GRAM_N) / model.tyre.lateralK + hand(random, 0.15), 0.5),
    ]);
  };

  const strength =
    (mean: number, share: number) =>
    (random: Random): number =>
      Math.max(0.2 * mean, mean * (1 + share * random.normal()));
  const lip = strength(88, 0.1);
  const pullOut = strength(63, 0.12);
  const tension = strength(27, 0.08);
  const five = <T>(one: () => T): T[] => Array.from({ length: 5 }, one);
  const { retention } = c.hub;
  // the pull at which a part of this strength is used up
  const pullOf = (capacityN: number): number => where((f) => retentionDemand(retention, f, 0).demandN, capacityN, 0, 1000);
  const holdOf = (bandTensionN: number): number => tyreHoldN({ ...c.tyre.seat, bandTensionN }, 0);

  const axle = axleMassKg(truth);
  const wheels = [axle * 0.49, axle * 0.51, (truth.body.carMassKg - axle) * 0.5, (truth.body.carMassKg - axle) * 0.5];

  const sprungKg = truth.body.carMassKg - 1.4;
  const whole = (sprungKg * truth.body.cgHeightMm + 1.4 * c.wheelCentre.zMm) / truth.body.carMassKg;
  const track = 300;
  // the line of weight through the lower treads, the car leaned by its lower tyres' sinking
  const angle = where(
    (deg) => {
      const a = (deg * Math.PI) / 180;
      const sink = (truth.body.carMassKg * G * Math.cos(a) * truth.body.axleShare) / c.tyre.verticalNPerMm;
      return whole * Math.tan(a + sink / track);
    },
    track / 2,
    1,
    85,
  );

  return [
    {
      kind: "armHang",
      truth,
      design: blank,
      setUp: { held: "pins" },
      rows: hang,
      true: { "material.youngMPa": () => 1630, "lowerInner.clearanceMm": () => 0.42 },
    },
    { kind: "armAlongRoad", truth, design: blank, setUp: { rulerMm: 0.1 }, rows: along, true: { "material.youngMPa": () => 1630 } },
    { kind: "wheelTilt", truth, design: blank, setUp: { pullAtMm: 48 }, rows: tilt, true: { tiltStiffnessNmmPerDeg: () => 305, tiltPlayDeg: () => 0.62 } },
    {
      kind: "pinPlay",
      truth,
      design: blank,
      setUp: { joint: "lowerInner", rulerMm: 0.05 },
      rows: (random) => five(() => [round(0.84 + hand(random, 0.06), 0.05)]),
      true: { "lowerInner.clearanceMm": () => 0.42 },
    },
    { kind: "springPress", truth, design: blank, setUp: { packingMm: 2 }, rows: spring, true: { rateNPerMm: () => 2.07, freeLengthMm: () => 66.3 } },
    { kind: "tyrePress", truth, design: soft, setUp: {}, rows: press, true: { verticalNPerMm: () => 11.7 } },
    { kind: "tyreTilt", truth, design: blank, setUp: { pressKg: 1.5, spanMm: 200 }, rows: lean, true: { effectiveWidthMm: () => 29.4 } },
    { kind: "tyreSideways", truth, design: blank, setUp: {}, rows: sideways, true: { lateralNPerMm: () => 17.5 } },
    { kind: "hubPullOff", truth, design: blank, setUp: {}, rows: (random) => five(() => [grams(pullOf(lip(random)))]), true: { capacityN: lip } },
    {
      kind: "jointPullOut",
      truth,
      design: blank,
      setUp: { joint: "upperOuter" },
      rows: (random) => five(() => [grams(pullOut(random))]),
      true: { pullOutN: pullOut },
    },
    { kind: "tyrePushOff", truth, design: blank, setUp: {}, rows: (random) => five(() => [grams(holdOf(tension(random)))]), true: { bandTensionN: tension } },
    {
      kind: "wheelWeights",
      truth,
      design: { ...blank, body: { ...blank.body, carMassKg: 4, axleShare: 0.5 } },
      setUp: {},
      rows: (random) => [1, 2, 3].map(() => wheels.map((kg) => round(1000 * kg + hand(random, 6), 1))),
      true: { carMassKg: () => truth.body.carMassKg, axleShare: () => truth.body.axleShare },
    },
    {
      kind: "heightByTilting",
      truth,
      design: { ...blank, body: { ...blank.body, cgHeightMm: 60 } },
      setUp: { trackMm: track, otherTrackMm: track, unsprungKg: 1.4, axleHeightMm: c.wheelCentre.zMm },
      rows: (random) => five(() => [round(angle + hand(random, 0.4), 0.1)]),
      true: { cgHeightMm: () => truth.body.cgHeightMm },
    },
    {
      kind: "motor",
      truth,
      design: { ...blank, drive: { ...blank.drive, stallTorqueNmm: 60, noLoadRpm: 9000 } },
      setUp: { leverMm: 80, at: "motor" },
      rows: (random) =>
        [1, 2, 3, 4].map(() => [grams(truth.drive.stallTorqueNmm / 80 + hand(random, 0.03)), round(truth.drive.noLoadRpm + hand(random, 40), 10)]),
      true: { stallTorqueNmm: () => truth.drive.stallTorqueNmm, noLoadRpm: () => truth.drive.noLoadRpm },
    },
  ];
}

/** The test that a builder of this world makes. */
export const testOf = (w: World, random: Random): BenchTest => typed(w.design, w.kind, w.rows(random), w.setUp);
