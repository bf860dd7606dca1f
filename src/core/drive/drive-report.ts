import type { Scenario, Side } from "../design/types.ts";
import { kmhToMps } from "../units.ts";
import { type DriveLine, driveLine, gearRatio, motorPeakPowerW, type ThrustPoint, thrustCurve, topSpeedMps } from "./motors.ts";
import { thrustPerWheelN } from "./push.ts";
import { type ThrustOnArms, thrustOnArms } from "./thrust-on-arms.ts";
import { trackMm, type WheelSpeeds, wheelSpeedTable } from "./wheel-speeds.ts";

/** Everything about the drive that the scenario tells. */
export interface DriveReport {
  line: DriveLine;
  /** worked out from motors, gears and resistance */
  topSpeedMps: number;
  /** really driven; null: not measured */
  drivenMps: number | null;
  peakPowerPerMotorW: number;
  curve: ThrustPoint[];
  trackMm: number;
  /** at the top speed, or at the speed asked for */
  wheels: WheelSpeeds[];
  /** each wheel at its share of the stall thrust, the hardest pull the drive can give (grip may allow less) */
  onArms: Record<Side, ThrustOnArms>;
}

/** What the drive can do; with `carMps` (m/s) also what it gives at that speed. */
export function driveReport(s: Scenario, carMps?: number): DriveReport {
  const line = driveLine(s.drive, s.corner.wheel.radiusMm, s.body.carMassKg);
  const top = topSpeedMps(line);
  const perWheel = thrustPerWheelN(s);
  return {
    line,
    topSpeedMps: top,
    drivenMps: drivenMps(s),
    peakPowerPerMotorW: motorPeakPowerW(s.drive),
    curve: thrustCurve(s.drive, s.corner.wheel.radiusMm, s.body.carMassKg),
    trackMm: trackMm(s),
    wheels: wheelSpeedTable(s, carMps ?? top, gearRatio(s.drive)),
    onArms: { left: thrustOnArms(s, "left", perWheel), right: thrustOnArms(s, "right", perWheel) },
  };
}

/** Top speed that was really driven, m/s; null: not measured. */
const drivenMps = (s: Scenario): number | null => (s.drive.topSpeedDrivenKmh === null ? null : kmhToMps(s.drive.topSpeedDrivenKmh));

/** Speed that the car reaches on a flat straight road, m/s: the one that was driven, else what motors, gears and resistance say. */
export const reachableSpeedMps = (s: Scenario): number => drivenMps(s) ?? topSpeedMps(driveLine(s.drive, s.corner.wheel.radiusMm, s.body.carMassKg));
