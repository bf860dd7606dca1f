import type { Drive } from "../design/types.ts";
import { weightN } from "../units.ts";

/**
 * Motors on linear torque-speed lines, T = Ts (1 - w/w0), through gear stages to the wheels.
 *
 * Several motors on one wheel add their torque and share the speed. Rolling resistance is a share of the whole car's weight, drag grows with the
 * square of speed; the wheel rolls on its unloaded radius. Slip of the tyres, the cost of cornering and the batteries' sag are left out.
 */
export interface DriveLine {
  /** motor turns per wheel turn */
  ratio: number;
  /** share of the power that reaches the wheels */
  efficiency: number;
  /** motors that drive the car */
  motors: number;
  /** push of all driven wheels standing still, N */
  stallThrustN: number;
  /** car speed at which the motors give no torque, m/s */
  noLoadMps: number;
  /** turns of a wheel per minute there */
  noLoadWheelRpm: number;
  rollingN: number;
  dragNPerMps2: number;
}

const rpmToRadPerS = (rpm: number): number => (rpm * 2 * Math.PI) / 60;
/** rad/s to 1/min. */
export const radPerSToRpm = (w: number): number => (w * 60) / (2 * Math.PI);

/** Speed divided by a gear stage: driven over driving teeth. */
export const stageRatio = (stage: { drivingTeeth: number; drivenTeeth: number }): number => stage.drivenTeeth / stage.drivingTeeth;

/** Motor speed over wheel speed, all stages. */
export function gearRatio(d: Pick<Drive, "stages">): number {
  return d.stages.reduce((g, s) => g * stageRatio(s), 1);
}

/** Share of the power that comes through all stages. */
export function gearEfficiency(d: Pick<Drive, "stages">): number {
  return d.stages.reduce((e, s) => e * s.efficiency, 1);
}

/** Greatest power of one motor, at half its no-load speed, W. */
export const motorPeakPowerW = (d: Pick<Drive, "stallTorqueNmm" | "noLoadRpm">): number => ((d.stallTorqueNmm / 1000) * rpmToRadPerS(d.noLoadRpm)) / 4;

/**
 * @param wheelRadiusMm of the driven wheels
 * @param carMassKg of the whole car
 */
export function driveLine(d: Drive, wheelRadiusMm: number, carMassKg: number): DriveLine {
  const ratio = gearRatio(d);
  const efficiency = gearEfficiency(d);
  const motors = d.drivenWheels * d.motorsPerWheel;
  const noLoadWheelRpm = d.noLoadRpm / ratio;
  return {
    ratio,
    efficiency,
    motors,
    stallThrustN: (motors * d.stallTorqueNmm * ratio * efficiency) / wheelRadiusMm,
    noLoadMps: (rpmToRadPerS(noLoadWheelRpm) * wheelRadiusMm) / 1000,
    noLoadWheelRpm,
    rollingN: d.rollingResistance * weightN(carMassKg),
    dragNPerMps2: d.dragNPerMps2,
  };
}

/** Push of all driven wheels together at a speed, N. */
export const thrustN = (l: DriveLine, speedMps: number): number => l.stallThrustN * (1 - speedMps / l.noLoadMps);

/** What holds the car back at a speed on a flat straight road, N. */
export const resistanceN = (l: DriveLine, speedMps: number): number => l.rollingN + l.dragNPerMps2 * speedMps * speedMps;

/**
 * Speed on a flat straight road at which thrust and resistance are equal, m/s; 0 when the motors cannot start the car.
 * Root of c v² + (F0/v0) v - (F0 - Fr) = 0, written without subtraction: for c = 0 it is v0 (1 - Fr/F0).
 */
export function topSpeedMps(l: DriveLine): number {
  const spare = l.stallThrustN - l.rollingN;
  if (!(spare > 0)) return 0;
  const slope = l.stallThrustN / l.noLoadMps;
  return (2 * spare) / (slope + Math.sqrt(slope * slope + 4 * l.dragNPerMps2 * spare));
}

export interface ThrustPoint {
  speedMps: number;
  thrustN: number;
  resistanceN: number;
  /** left over for gaining speed or climbing, m/s² */
  gainMps2: number;
  motorRpm: number;
  /** into the road, all wheels, W */
  powerW: number;
}

/** Thrust from standing still to the no-load speed. */
export function thrustCurve(d: Drive, wheelRadiusMm: number, carMassKg: number, count = 25): ThrustPoint[] {
  const l = driveLine(d, wheelRadiusMm, carMassKg);
  return Array.from({ length: count }, (_, i) => {
    const speedMps = (l.noLoadMps * i) / (count - 1);
    const f = thrustN(l, speedMps);
    const r = resistanceN(l, speedMps);
    return { speedMps, thrustN: f, resistanceN: r, gainMps2: (f - r) / carMassKg, motorRpm: (d.noLoadRpm * i) / (count - 1), powerW: f * speedMps };
  });
}
