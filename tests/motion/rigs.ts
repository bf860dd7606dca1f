import type { Load, Scenario } from "../../src/core/design/types.ts";
import { buildMotion, type MotionModel } from "../../src/motion/model.ts";
import { advance, createSession, type MotionOptions, type Session } from "../../src/motion/session.ts";
import { SLIP_STIFFNESS_PER_RAD } from "../../src/motion/settings.ts";
import { type Stepper, stepper } from "../../src/motion/step.ts";
import { buildWorld } from "../../src/motion/world.ts";
import { weightsFor } from "../support/masses.ts";
import { shipped } from "../support/shipped.ts";

/** Axles cut down to text-book systems, so that the whole of the moving world can be held against closed forms. */

const PIN = { clearanceMm: 0, pinNPerMm: 3e6, holeNPerMm: 3e6, mountNPerMm: 3e6, pullOutN: 1e9 };

/** A scenario without play: stiff straight arms, tight pins, stiff bearings, upright wheels; `edit` makes the rest of it. */
function stiff(edit: (s: Scenario) => void): Scenario {
  const s = structuredClone(shipped("heavy-straight.json"));
  const c = s.corner;
  for (const name of ["upperArm", "lowerArm"] as const) {
    c[name].layout = "straight";
    c[name].section = { shape: "rectangle", widthMm: 60, heightMm: 60 };
    c[name].material = "aluminium";
    c[name].pivotStiffnessNmmPerDeg = 0;
  }
  c.joints = { upperInner: PIN, upperOuter: PIN, lowerInner: PIN, lowerOuter: PIN };
  c.hub.tiltPlayDeg = 0;
  c.hub.tiltStiffnessNmmPerDeg = 1e8;
  c.hub.staticCamberDeg = 0;
  c.hub.bearingOffsetMm = 0;
  c.hub.retention = { kind: "lip", radiusMm: 50, capacityN: 1e9, model: "ring", shoulderRadiusMm: 60, journalShare: 0 };
  c.tyre.crownRadiusMm = null;
  c.tyre.lateralNPerMm = null;
  c.tyre.effectiveWidthMm = null;
  s.antiRollBar.rateNPerMm = 0;
  s.left = {};
  s.right = {};
  edit(s);
  return s;
}

export interface QuarterCar {
  /** per wheel, kg */
  sprungKg: number;
  unsprungKg: number;
  /** N/mm */
  spring: number;
  tyre: number;
  /** N·s/m, either way */
  damper: number;
}

/** Two quarter cars side by side: parallel level arms two metres long, an upright spring on the hub. Stands as built at rest. */
export function quarterCars(o: QuarterCar): Scenario {
  const g = 9.80665;
  return stiff((s) => {
    const c = s.corner;
    const sink = ((o.sprungKg + o.unsprungKg) * g) / o.tyre;
    const radius = 300;
    const z = radius - sink;
    c.wheel = { radiusMm: radius, treadWidthMm: 100, massKg: 0.9 * o.unsprungKg, unsprungMassKg: o.unsprungKg };
    c.wheelCentre = { sMm: 2100, zMm: z };
    c.upperInner = { sMm: 100, zMm: z + 100 };
    c.upperOuter = { sMm: 2100, zMm: z + 100 };
    c.lowerInner = { sMm: 100, zMm: z - 100 };
    c.lowerOuter = { sMm: 2100, zMm: z - 100 };
    c.spring = {
      top: { sMm: 2100, zMm: z + 400 },
      seat: { on: "hub", sMm: 2100, zMm: z },
      rateNPerMm: o.spring,
      freeLengthMm: 400 + (o.sprungKg * g) / o.spring,
      preloadMm: 0,
      count: 1,
      bumpStop: { lengthMm: 1, rateNPerMm: 1 },
      droopStop: null,
      damping: { bumpNsPerM: o.damper, reboundNsPerM: o.damper },
    };
    c.tyre.verticalNPerMm = o.tyre;
    s.body = { ...weightsFor(s, 2 * o.sprungKg), cgHeightMm: z, otherRollStiffnessNmmPerDeg: 0 };
  });
}

/** Hubs that hang from the body on two upright arms of a length, side by side: pendulums that swing without turning. */
export function pendulums(lengthMm: number): Scenario {
  return stiff((s) => {
    const c = s.corner;
    c.upperInner = { sMm: 200, zMm: 900 };
    c.upperOuter = { sMm: 200, zMm: 900 - lengthMm };
    c.lowerInner = { sMm: 240, zMm: 900 };
    c.lowerOuter = { sMm: 240, zMm: 900 - lengthMm };
    c.wheelCentre = { sMm: 220, zMm: 900 - lengthMm };
    c.spring = {
      top: { sMm: 100, zMm: 900 },
      seat: { on: "hub", sMm: 220, zMm: 900 - lengthMm },
      rateNPerMm: 0,
      freeLengthMm: 1,
      preloadMm: 0,
      count: 1,
      bumpStop: { lengthMm: 0.1, rateNPerMm: 0 },
      droopStop: null,
      damping: { bumpNsPerM: 0, reboundNsPerM: 0 },
    };
    s.body.cgHeightMm = 900;
  });
}

export interface Rig {
  m: MotionModel;
  s: Stepper;
}

/** A world at the unknowns that `place` sets (all zero: as built). Tyres without damping unless told. */
export function rig(scenario: Scenario, place: (m: MotionModel, q: Float64Array) => void, stepsPerSecond: number, tyreDampingRatio = 0): Rig {
  const m = buildMotion(scenario, { tyreDampingRatio });
  const q = new Float64Array(m.bare.n);
  place(m, q);
  const world = buildWorld(m, q);
  return { m, s: stepper(m, world, q, 1 / stepsPerSecond, 20_000, SLIP_STIFFNESS_PER_RAD, [1, 1]) };
}

/** Times at which a sampled curve goes through zero upwards, by straight lines between samples. */
function upwardZeros(times: readonly number[], values: readonly number[]): number[] {
  const out: number[] = [];
  for (let i = 1; i < values.length; i++) {
    const a = values[i - 1]!;
    const b = values[i]!;
    if (a < 0 && b >= 0) out.push(times[i - 1]! + ((times[i]! - times[i - 1]!) * -a) / (b - a));
  }
  return out;
}

/** Mean period between the first and the last upward zero. */
export function meanPeriod(times: readonly number[], values: readonly number[]): number {
  const zeros = upwardZeros(times, values);
  if (zeros.length < 3) throw new Error(`only ${zeros.length} upward zeros`);
  return (zeros[zeros.length - 1]! - zeros[0]!) / (zeros.length - 1);
}

export const LEVEL: Load = { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 };

/** What each wheel of it bears at rest, N. */
export const HALF_N = 14.2196425;
/** A moving axle of 2.9 kg, no text-book system but a shipped car's. */
export function session(options: MotionOptions = {}, change: (s: Scenario) => void = () => {}, load: Parameters<typeof createSession>[1] = LEVEL): Session {
  const s = structuredClone(shipped("heavy-forked.json"));
  change(s);
  const made = createSession(s, load, options);
  if (!made.ok) throw new Error(made.reason.message);
  return made.session;
}

/** One step, the outside world as it was but for `change`. */
export const on = (x: Session, change: Partial<Session["scene"]> = {}): void => advance(x, { ...x.scene, ...change });
