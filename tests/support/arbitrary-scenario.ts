import fc from "fast-check";
import { MATERIAL_NAMES } from "../../src/core/arm/materials.ts";
import { springSeatPoint } from "../../src/core/design/corner-geometry.ts";
import { fieldValue, withOrigins } from "../../src/core/design/origins.ts";
import {
  ARM_LAYOUTS,
  type Arm,
  CARRIERS,
  type Corner,
  type DeepPartial,
  type Joint,
  type Material,
  type Origin,
  type PointSZ,
  type Retention,
  type Scenario,
  type Section,
  type Spring,
  type SpringSeat,
  type TyreSeat,
} from "../../src/core/design/types.ts";
import { createRandom } from "../../src/core/numerics/random.ts";
import { withSprung } from "./masses.ts";

/**
 * Valid scenarios of physically sensible cars, from about 1:12 to 1:6: every layout, section, seat, retention and
 * option occurs, sizes and stiffnesses spread widely around what carries the car's own weight.
 */

/** A source of choices: each call draws one number in [0, 1). Low draws give the plain variants. */
type Draw = () => number;

/** The same seed gives the same scenario. */
export function randomScenario(seed: number): Scenario {
  return build(createRandom(seed).next);
}

/** More than any scenario draws; a shortage would show as zeros, which are valid too. */
const DRAWS = 320;
const STEPS = 2 ** 20;

/** As fast-check arbitrary: shrinks towards a plain symmetric car without clearances. */
export function arbScenario(): fc.Arbitrary<Scenario> {
  return fc.array(fc.integer({ min: 0, max: STEPS - 1 }), { minLength: DRAWS, maxLength: DRAWS }).map((numbers) => {
    let at = 0;
    return build(() => (numbers[at++] ?? 0) / STEPS);
  });
}

// JSON has no negative zero
const round = (v: number): number => Math.round(v * 1000) / 1000 + 0;

class Chooser {
  private readonly draw: Draw;
  constructor(draw: Draw) {
    this.draw = draw;
  }
  between(low: number, high: number): number {
    return round(low + (high - low) * this.draw());
  }
  /** spread evenly over powers of ten */
  decades(low: number, high: number): number {
    return round(low * (high / low) ** this.draw());
  }
  pick<T>(list: readonly T[]): T {
    return list[Math.min(list.length - 1, Math.floor(this.draw() * list.length))]!;
  }
  chance(share: number): boolean {
    return this.draw() >= 1 - share;
  }
  /** `plain`, or in a share of the cases a drawn value */
  maybe<T>(share: number, plain: T, drawn: () => T): T {
    return this.chance(share) ? drawn() : plain;
  }
  whole(low: number, high: number): number {
    return low + Math.min(high - low, Math.floor(this.draw() * (high - low + 1)));
  }
}

function section(c: Chooser, size: number): Section {
  const widthMm = c.between(3.5 * size, 10 * size);
  const heightMm = c.between(3.5 * size, 10 * size);
  switch (c.pick(["rectangle", "round", "tube", "I", "pinHoleBar"] as const)) {
    case "rectangle":
      return { shape: "rectangle", widthMm, heightMm };
    case "round":
      return { shape: "round", diameterMm: widthMm };
    case "tube":
      return { shape: "tube", outerMm: widthMm, innerMm: round(widthMm * c.between(0, 0.85)) };
    case "I":
      return { shape: "I", widthMm, heightMm, flangeMm: round(heightMm * c.between(0.1, 0.35)), webMm: round(widthMm * c.between(0.15, 0.6)) };
    case "pinHoleBar": {
      const holesRun = c.pick(["foreAft", "upDown"] as const);
      const across = holesRun === "foreAft" ? heightMm : widthMm;
      const holeMm = round(across * c.between(0, 0.7));
      return { shape: "pinHoleBar", widthMm, heightMm, holeMm, holePitchMm: round(holeMm + c.between(2, 6)), holesRun };
    }
  }
}

function ownMaterial(c: Chooser): Material {
  const youngMPa = c.decades(800, 210_000);
  return {
    name: "drawn at random",
    youngMPa,
    poisson: c.between(0, 0.45),
    yieldMPa: round(youngMPa * c.between(0.003, 0.02)),
    densityKgPerM3: c.between(900, 8000),
    plastic: c.chance(0.5),
    maxTempC: c.between(50, 200),
    source: "drawn at random",
  };
}

const material = (c: Chooser): string | Material => c.maybe<string | Material>(0.2, c.pick(MATERIAL_NAMES), () => ownMaterial(c));

function arm(c: Chooser, size: number): Arm {
  return {
    layout: c.pick(ARM_LAYOUTS),
    stemShare: c.between(0, 0.9),
    spreadMm: c.between(12 * size, 70 * size),
    section: section(c, size),
    stemSection: c.maybe<Section | null>(0.3, null, () => section(c, size)),
    material: material(c),
    pivotStiffnessNmmPerDeg: c.maybe(0.25, 0, () => c.decades(0.1, 100)),
    pivotFreeAboutArm: c.chance(0.15),
  };
}

function joint(c: Chooser): Joint {
  return {
    clearanceMm: c.maybe(0.7, 0, () => c.between(0, 0.5)),
    pinNPerMm: c.decades(300, 1e5),
    holeNPerMm: c.decades(300, 1e5),
    mountNPerMm: c.decades(300, 1e5),
    pullOutN: c.decades(20, 1000),
  };
}

function retention(c: Chooser, size: number): Retention {
  const journalShare = c.between(0, 1);
  switch (c.pick(["lip", "crossPin", "screwedRing"] as const)) {
    case "lip": {
      const radiusMm = c.between(4 * size, 12 * size);
      const shoulderRadiusMm = round(radiusMm * c.between(1, 1.8));
      return { kind: "lip", radiusMm, capacityN: c.decades(20, 500), model: c.pick(["ring", "shoulder"] as const), shoulderRadiusMm, journalShare };
    }
    case "crossPin":
      return {
        kind: "crossPin",
        pinDiameterMm: c.between(1, 5),
        shearStrengthMPa: c.decades(15, 400),
        shearRadiusMm: c.between(3 * size, 10 * size),
        journalShare,
      };
    case "screwedRing":
      return {
        kind: "screwedRing",
        threadRadiusMm: c.between(4 * size, 12 * size),
        engagedLengthMm: c.between(1, 8),
        shearStrengthMPa: c.decades(10, 200),
        journalShare,
      };
  }
}

interface Points {
  upperInner: PointSZ;
  upperOuter: PointSZ;
  lowerInner: PointSZ;
  lowerOuter: PointSZ;
  wheelCentre: PointSZ;
}

function points(c: Chooser, size: number, radiusMm: number): Points {
  const track = c.between(135 * size, 175 * size);
  const lowerOuter = { sMm: round(track - c.between(8, 36) * size), zMm: round(radiusMm * c.between(0.45, 0.85)) };
  const lowerInner = { sMm: c.between(25 * size, 70 * size), zMm: round(lowerOuter.zMm + c.between(-8, 12) * size) };
  const hub = round(c.between(30, 55) * size);
  const wheelCentre = { sMm: track, zMm: round(radiusMm + c.between(0, 3)) };
  const parallel = {
    upperOuter: { sMm: lowerOuter.sMm, zMm: round(lowerOuter.zMm + hub) },
    upperInner: { sMm: lowerInner.sMm, zMm: round(lowerInner.zMm + hub) },
  };
  const upper = c.maybe(0.85, parallel, () => {
    const upperOuter = { sMm: round(lowerOuter.sMm + c.between(-8, 6) * size), zMm: round(lowerOuter.zMm + hub) };
    const zMm = round(Math.max(lowerInner.zMm + 18 * size, upperOuter.zMm + c.between(-14, 8) * size));
    return { upperOuter, upperInner: { sMm: round(lowerInner.sMm + c.between(-10, 25) * size), zMm } };
  });
  return { ...upper, lowerInner, lowerOuter, wheelCentre };
}

function spring(c: Chooser, size: number, p: Points, cornerN: number): Spring {
  const fraction = c.between(0.35, 0.95);
  const seat: SpringSeat = c.maybe<SpringSeat>(0.5, { on: "lowerArm", fraction }, () =>
    c.maybe<SpringSeat>(0.5, { on: "upperArm", fraction }, () => ({
      on: "hub",
      sMm: round(p.lowerOuter.sMm + c.between(-6, 4) * size),
      zMm: round((p.lowerOuter.zMm + p.upperOuter.zMm) / 2),
    })),
  );
  const at = springSeatPoint({ ...p, spring: { seat } } as unknown as Corner);
  const top = { sMm: round(at.sMm - c.between(0, 20) * size), zMm: round(at.zMm + c.between(38, 70) * size) };
  const length = Math.sqrt((top.sMm - at.sMm) ** 2 + (top.zMm - at.zMm) ** 2);
  const ratio = ((seat.on === "hub" ? 1 : seat.fraction) * (top.zMm - at.zMm)) / length;
  const count = c.whole(1, 3);
  // chosen so that the car's own weight compresses the suspension by a few millimetres
  const rateNPerMm = round(Math.max(0.1, cornerN / (c.between(4, 16) * size * ratio * ratio * count)));
  const compression = (cornerN / (ratio * rateNPerMm * count)) * c.between(0.75, 1.25);
  const preloadMm = c.maybe(0.5, 0, () => c.between(0, Math.min(6 * size, compression / 2)));
  const bumpLengthMm = round(Math.max(1, length - c.between(4, 15) * size * ratio));
  return {
    top,
    seat,
    rateNPerMm,
    freeLengthMm: round(length + compression - preloadMm),
    preloadMm,
    count,
    bumpStop: { lengthMm: bumpLengthMm, rateNPerMm: c.decades(5, 500) },
    droopStop: c.maybe<Spring["droopStop"]>(0.6, null, () => ({ lengthMm: round(length + c.between(1, 12) * size * ratio), rateNPerMm: c.decades(5, 500) })),
    damping: { bumpNsPerM: c.decades(2, 100), reboundNsPerM: c.decades(2, 200) },
  };
}

function corner(c: Chooser, size: number, sprungN: number): Corner {
  const radiusMm = c.between(38 * size, 58 * size);
  const treadWidthMm = c.between(18 * size, 46 * size);
  const p = points(c, size, radiusMm);
  const unsprungMassKg = round(Math.max(0.02, 0.35 * size ** 3 * c.between(0.5, 1.6)));
  const massKg = round(unsprungMassKg * c.between(0.3, 0.9));
  const carrying = c.between(0.5, 1);
  const effectiveWidthMm = c.maybe<number | null>(0.4, null, () => round(treadWidthMm * carrying));
  const totalN = sprungN + unsprungMassKg * 9.8;
  return {
    ...p,
    upperArm: arm(c, size),
    lowerArm: arm(c, size),
    joints: { upperInner: joint(c), upperOuter: joint(c), lowerInner: joint(c), lowerOuter: joint(c) },
    spring: spring(c, size, p, sprungN),
    hub: {
      tiltStiffnessNmmPerDeg: c.decades(300 * size ** 3, 1e5),
      tiltPlayDeg: c.maybe(0.6, 0, () => c.between(0, 1.5)),
      staticCamberDeg: c.maybe(0.6, 0, () => c.between(-4, 2)),
      bearingOffsetMm: c.between(-4 * size, 12 * size),
      retention: retention(c, size),
      heat: {
        friction: c.between(0.02, 0.5),
        journalRadiusMm: c.between(1.5, 6),
        journalLengthMm: c.between(4, 20),
        coolingAreaMm2: c.between(300, 4000),
        coolingWPerM2K: c.between(8, 40),
        material: material(c),
      },
    },
    wheel: { radiusMm, treadWidthMm, massKg, unsprungMassKg },
    tyre: {
      verticalNPerMm: round(Math.max(1, totalN / c.between(0.6, 3))),
      effectiveWidthMm,
      crownRadiusMm: c.maybe<number | null>(0.3, null, () => round(treadWidthMm * c.between(1, 12))),
      lateralNPerMm: c.maybe<number | null>(0.3, null, () => round(Math.max(1, totalN * c.between(0.5, 4)))),
      friction: c.between(0.5, 1.6),
      loadExponent: c.maybe(0.3, 1, () => c.between(0.7, 1)),
      seat: {
        kind: c.pick<TyreSeat["kind"]>(["stretchedBand", "sideDiscs", "glue"]),
        bandTensionN: c.between(0, 80),
        bandMassGPerMm: c.between(0.02, 0.5),
        friction: c.between(0.2, 1.2),
        extraHoldN: c.between(0, 100),
      },
    },
  };
}

/** What differs on one side: mostly nothing, else a few parts of every kind. */
function override(c: Chooser, size: number, common: Corner): DeepPartial<Corner> {
  if (!c.chance(0.4)) return {};
  const over: DeepPartial<Corner> = {};
  if (c.chance(0.4)) over.lowerArm = arm(c, size);
  if (c.chance(0.3)) over.upperArm = { section: section(c, size), material: material(c) };
  if (c.chance(0.4)) over.joints = { lowerOuter: { clearanceMm: c.between(0, 0.6) }, upperInner: joint(c) };
  if (c.chance(0.4)) over.spring = { rateNPerMm: round(common.spring.rateNPerMm * c.between(0.7, 1.5)) };
  if (c.chance(0.4)) over.hub = { staticCamberDeg: c.between(-4, 2), retention: retention(c, size) };
  if (c.chance(0.3)) over.upperOuter = { sMm: round(common.upperOuter.sMm + c.between(-3, 3) * size) };
  if (c.chance(0.3)) over.wheel = { radiusMm: round(common.wheel.radiusMm * c.between(0.96, 1.04)) };
  if (c.chance(0.3)) over.tyre = { friction: c.between(0.5, 1.6), lateralNPerMm: null };
  return over;
}

const EVERY = 17;

/** One value in some is a guess or measured, others at other cars; without a draw, so that the cars are what they were. */
function withSomeKnown(s: Scenario): Scenario {
  const paths: string[] = [];
  const walk = (v: unknown, path: string): void => {
    if (typeof v === "object" && v !== null)
      for (const [key, inner] of Object.entries(v)) walk(inner, Array.isArray(v) ? `${path}[${key}]` : path === "" ? key : `${path}.${key}`);
    else if (fieldValue(s, path) !== undefined) paths.push(path);
  };
  walk(s, "");
  const first = Math.round(1000 * s.body.carMassKg) % EVERY;
  const known = paths.filter((_, i) => i % EVERY === first);
  return withOrigins(
    s,
    Object.fromEntries(
      known.map((path, i): [string, Origin] => {
        const value = fieldValue(s, path);
        const plusMinus = typeof value === "number" ? { plusMinus: round(Math.abs(value) / 50) } : {};
        return [path, i % 2 === 0 ? { how: "guess", ...plusMinus, note: "a soft one" } : { how: "measured", ...plusMinus, date: "2026-11-26" }];
      }),
    ),
  );
}

function build(draw: Draw): Scenario {
  const c = new Chooser(draw);
  const size = c.between(0.65, 1.4);
  const sprungMassKg = round(2.2 * size ** 3 * c.between(0.5, 1.8));
  const common = corner(c, size, (sprungMassKg * 9.8) / 2);
  // drawn from the mass, so that cars of earlier seeds stay what they were; an arm only where both sides have that of the common corner, held
  const carrier = (per: number, of: Pick<Scenario, "left" | "right">): Scenario["drive"]["carriedBy"] => {
    const wanted = CARRIERS[Math.floor(per * sprungMassKg) % 4]!;
    if (wanted !== "upperArm" && wanted !== "lowerArm") return wanted;
    const own = common[wanted];
    return of.left[wanted] || of.right[wanted] || (own.layout === "straight" && own.pivotFreeAboutArm) ? "hub" : wanted;
  };
  const drawn: Scenario = {
    format: "wheelstay-scenario",
    version: 2,
    name: "drawn at random",
    teaches: c.pick(["", "that any valid car is solved", 'quotes ", tabs \t and umlauts ä'] as const),
    holePitchMm: c.pick([8, 5, 10, 12.7] as const),
    halfPitchAllowed: c.chance(0.5),
    corner: common,
    left: override(c, size, common),
    right: override(c, size, common),
    bench: [],
    runs: [],
    body: {
      carMassKg: 0,
      axleShare: 0,
      cgHeightMm: c.between(45 * size, 95 * size),
      otherRollStiffnessNmmPerDeg: c.maybe(0.4, 0, () => round(c.between(50, 2000) * size ** 3)),
    },
    antiRollBar: { rateNPerMm: c.maybe(0.5, 0, () => c.decades(0.05, 5)), atFraction: c.between(0.2, 1) },
    limits: { camberDeg: c.between(1, 8), wheelShiftMm: 2.5, axisTiltDeg: 1.5, spinMustHold: round(1000 * sprungMassKg) % 5 === 0 },
    drive: {
      drivenWheels: c.pick([4, 2]),
      motorsPerWheel: c.pick([1, 0.5, 2]),
      stallTorqueNmm: c.decades(10, 1000),
      noLoadRpm: c.decades(300, 30_000),
      stages: Array.from({ length: c.whole(0, 3) }, () => ({ drivingTeeth: c.whole(8, 40), drivenTeeth: c.whole(8, 80), efficiency: c.between(0.6, 1) })),
      rollingResistance: c.between(0, 0.1),
      dragNPerMps2: c.between(0, 0.1),
      topSpeedDrivenKmh: round(1000 * sprungMassKg) % 3 === 0 ? 21.5 : null,
      onThisAxle: round(1000 * sprungMassKg) % 7 !== 0,
      carriedBy: "body",
    },
    brake: { wheels: 4, onThisAxle: true, carriedBy: "hub" },
    fit: {
      clearanceMm: c.between(0, 4),
      mustHold: round(1000 * sprungMassKg) % 2 === 0,
      outlines: Array.from({ length: c.whole(0, 2) }, (_, i) => ({
        name: `outline ${i}`,
        points: [0, 70, 150, 190].map((s) => ({ sMm: round(s * size), zMm: c.between(120 * size, 170 * size) })),
        closed: c.chance(0.3),
        bothSides: c.chance(0.7),
      })),
      keepOut: Array.from({ length: c.whole(0, 2) }, (_, i) => ({
        name: `box ${i}`,
        fromSMm: c.between(-10, 0),
        toSMm: c.between(4, 20 * size),
        fromZMm: c.between(5, 20),
        toZMm: c.between(30, 80 * size),
        bothSides: c.chance(0.7),
      })),
      bumpTravelMm: c.between(2, 15),
      droopTravelMm: c.between(2, 15),
      alongRoadMm: round(1000 * sprungMassKg) % 4 === 0 ? 12 : null,
    },
    loadCases: Array.from({ length: c.whole(0, 3) }, (_, i) => ({
      name: `load ${i}`,
      lateralG: c.between(-1.2, 1.2),
      bumpLeftMm: c.maybe(0.3, 0, () => c.between(-6, 8)),
      bumpRightMm: c.maybe(0.3, 0, () => c.between(-6, 8)),
      throttle: i === 1 ? 0.6 : 0,
      brakeG: i === 2 ? 0.4 : 0,
    })),
    tracks: Array.from({ length: c.whole(0, 2) }, (_, i) => ({ name: `track ${i}`, radiusM: c.decades(1, 40) })),
    origins: {},
  };
  drawn.drive.carriedBy = carrier(1000, drawn);
  drawn.brake.carriedBy = carrier(500, drawn);
  return withSomeKnown(withSprung(drawn, sprungMassKg));
}
