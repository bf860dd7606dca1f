import { sprungMassKg } from "../core/design/mass.ts";
import type { Scenario, Side } from "../core/design/types.ts";
import { type AxleModel, buildAxle, type CornerModel } from "../core/equilibrium/model.ts";
import {
  BODY_BELOW_PIVOT_MM,
  BODY_HEIGHT_SHARE,
  BODY_WIDTH_SHARE,
  FLANK_OVER_VERTICAL,
  HUB_BELOW_JOINT_MM,
  LEAST_HUB_SHARE,
  MOTION_ELEMENTS_PER_ARM,
  TYRE_DAMPING_RATIO,
  WHEEL_MASS_RADIUS_SHARE,
} from "./settings.ts";

/** What the scenario leaves open about moving masses; each has a stated default. */
export interface MotionDefaults {
  /** radius of gyration of the body in roll, mm; default: a uniform box 0.7 of the track wide and 1.2 of its centre of gravity's height high */
  bodyGyrationMm?: number;
  /** damping ratio of the unsprung mass on its tyre */
  tyreDampingRatio?: number;
  elementsPerArm?: number;
}

interface CornerMasses {
  /** kg and kg·mm² about their own centres: hub at the scenario's wheel centre, wheel at its centre */
  hubKg: number;
  hubInertia: number;
  wheelKg: number;
  wheelInertia: number;
}

/**
 * The axle as the moving world sees it: the static core's equations without weights, inertia and tyres (planck and
 * `tyre.ts` give those), and one more unknown, the body's lateral place `x`, mm to the right.
 */
export interface MotionModel {
  /** the static core's own model: tyres, weights, reading of states */
  axle: AxleModel;
  /** the same without weights and tyres, n + 1 unknowns, the last one `x` */
  bare: AxleModel;
  x: number;
  bodyKg: number;
  /** kg·mm² about the centre of gravity */
  bodyInertia: number;
  corners: [CornerMasses, CornerMasses];
  /** damping of each tyre as a time, damping coefficient over stiffness, s */
  tyreDampingS: [number, number];
  /** N/mm against a kerb */
  flankK: [number, number];
  /** lowest point of each hub from its reference point, of the body from its centre of gravity, mm */
  hubFoot: [[number, number], [number, number]];
  bodyFeet: [[number, number], [number, number]];
}

const gyrationOfBox = (width: number, height: number): number => Math.sqrt((width * width + height * height) / 12);

function cornerMasses(c: CornerModel): CornerMasses {
  const { corner } = c;
  const hubKg = Math.max(corner.wheel.unsprungMassKg - corner.wheel.massKg, LEAST_HUB_SHARE * corner.wheel.unsprungMassKg);
  const wheelKg = corner.wheel.unsprungMassKg - hubKg;
  const dx = c.hubLever.upper[0] - c.hubLever.lower[0];
  const dz = c.hubLever.upper[1] - c.hubLever.lower[1];
  // hub: a bar from ball joint to ball joint; wheel: a ring about its diameter, as wide as the tread
  const r = WHEEL_MASS_RADIUS_SHARE * corner.wheel.radiusMm;
  return {
    hubKg,
    hubInertia: (hubKg * (dx * dx + dz * dz)) / 12,
    wheelKg,
    wheelInertia: wheelKg * ((r * r) / 2 + corner.wheel.treadWidthMm ** 2 / 12),
  };
}

/** Builds the moving axle of a checked scenario. */
export function buildMotion(scenario: Scenario, defaults: MotionDefaults = {}): MotionModel {
  const axle = buildAxle(scenario, { elementsPerArm: defaults.elementsPerArm ?? MOTION_ELEMENTS_PER_ARM });
  const bare: AxleModel = {
    ...axle,
    n: axle.n + 1,
    kept: Int32Array.from([...axle.kept, axle.nKept]),
    nKept: axle.nKept + 1,
    bodyWeight: 0,
    corners: axle.corners.map((c) => ({ ...c, wheelWeight: 0, hubWeight: 0, tyre: { ...c.tyre, rate: 0 } })) as [CornerModel, CornerModel],
  };
  const [l, r] = axle.corners;
  const track = r.centre[0] - l.centre[0];
  const gyration = defaults.bodyGyrationMm ?? gyrationOfBox(BODY_WIDTH_SHARE * track, BODY_HEIGHT_SHARE * scenario.body.cgHeightMm);
  const both = <T>(f: (c: CornerModel, side: Side) => T): [T, T] => [f(l, "left"), f(r, "right")];
  const masses = both(cornerMasses);
  return {
    axle,
    bare,
    x: axle.n,
    bodyKg: sprungMassKg(scenario),
    bodyInertia: sprungMassKg(scenario) * gyration * gyration,
    corners: masses,
    tyreDampingS: both((c) => {
      const k = c.corner.tyre.verticalNPerMm * 1000;
      return 2 * (defaults.tyreDampingRatio ?? TYRE_DAMPING_RATIO) * Math.sqrt(c.corner.wheel.unsprungMassKg / k);
    }),
    flankK: both((c) => FLANK_OVER_VERTICAL * c.corner.tyre.verticalNPerMm),
    hubFoot: both((c) => [c.hubLever.lower[0], c.hubLever.lower[1] - HUB_BELOW_JOINT_MM]),
    bodyFeet: both((c) => [c.chassisLever.lower[0], Math.min(c.chassisLever.lower[1], c.chassisLever.upper[1]) - BODY_BELOW_PIVOT_MM]),
  };
}
