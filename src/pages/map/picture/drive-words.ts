import { buildBench } from "../../../core/analyze.ts";
import type { Scenario, Side } from "../../../core/design/types.ts";
import { type DriveReport, driveReport } from "../../../core/drive/drive-report.ts";
import type { ThrustOnArms } from "../../../core/drive/thrust-on-arms.ts";
import { type WheelSpeeds, wheelSpeeds } from "../../../core/drive/wheel-speeds.ts";
import { ROOM_C } from "../../../core/limits/derating.ts";
import type { Hand } from "../../../core/studies/curve-options.ts";
import { CURVE_SHARE, hubsOverDrive } from "../../../core/studies/heat-over-drive.ts";
import { G, kmhToMps, mpsToKmh } from "../../../core/units.ts";
import { fixed, signed, withUnit } from "../../../view/format.ts";

export interface DriveNumbers {
  /** one line for the folded panel */
  summary: string;
  facts: { words: string; value: string }[];
  thrust: { kmh: number; newton: number; holds: number }[];
  topKmh: number;
  wheels: WheelRow[];
  wheelsAt: string;
  arms: ArmRow[];
  armsNote: string;
}

export interface HeatAtSpeed {
  heat: HeatRow[];
  heatNote: string;
}

interface HeatRow {
  key: string;
  minutes: string;
  left: string;
  right: string;
  leftHolds: string;
  rightHolds: string;
}

interface WheelRow {
  key: string;
  curve: string;
  leftKmh: string;
  rightKmh: string;
  ratio: string;
  leftRpm: string;
  rightRpm: string;
  /** the curve that is asked for */
  here: boolean;
}

interface ArmRow {
  key: string;
  words: string;
  force: string;
  stiffness: string;
  shift: string;
  share: string;
}

const whole = (v: number): string => (Number.isFinite(v) ? fixed(v, 0) : "–");

function wheelRow(w: WheelSpeeds, hand: Hand, name: string, here: boolean): WheelRow {
  const [left, right] = hand === "left" ? (["inner", "outer"] as const) : (["outer", "inner"] as const);
  const kmh = (side: "inner" | "outer"): string => fixed(mpsToKmh(side === "inner" ? w.innerMps : w.outerMps), 1);
  const rpm = (side: "inner" | "outer"): string => whole(side === "inner" ? w.innerMotorRpm : w.outerMotorRpm);
  return {
    key: `${here ? "here" : ""}${w.radiusM}`,
    curve: `${fixed(w.radiusM, w.radiusM < 1 ? 2 : w.radiusM < 10 ? 1 : 0)} m${name ? `, ${name}` : ""}`,
    leftKmh: kmh(left),
    rightKmh: kmh(right),
    ratio: Number.isFinite(w.ratio) && w.ratio > 0 ? fixed(w.ratio, 3) : "turns backwards",
    leftRpm: rpm(left),
    rightRpm: rpm(right),
    here,
  };
}

const ARM_SIDE = (t: ThrustOnArms, side: string): ArmRow[] =>
  (["upper", "lower"] as const).map((n) => ({
    key: `${side}${n}`,
    words: `${n} arm${side}`,
    force: withUnit(t.forceN[n], 1, "N"),
    stiffness: withUnit(t.stiffnessNPerMm[n], 0, "N/mm"),
    shift: withUnit(t.shiftMm[n], 2, "mm"),
    share: `${fixed(100 * t.stressShare[n], 0)} %`,
  }));

/** Temperature of the hubs from start to end of a drive at one speed, half of it in the curve. Solves the car: only for an open panel. */
export function heatAtSpeed(s: Scenario, radiusM: number, carKmh: number, minutes: number): HeatAtSpeed {
  const way = `${fixed(minutes, minutes < 10 ? 1 : 0).replace(/\.0$/, "")} minutes at ${fixed(carKmh, 1)} km/h, ${fixed(100 * CURVE_SHARE, 0)} % of them in a left-hand curve of ${fixed(radiusM, 1)} m, from ${ROOM_C} °C`;
  const hubs = hubsOverDrive(buildBench(s), radiusM, kmhToMps(carKmh), minutes);
  if (!hubs) return { heat: [], heatNote: `${way}: the car has no steady position in that curve. Ask for a slower one.` };
  return {
    heat: hubs.left.map((l, i) => {
      const r = hubs.right[i]!;
      return {
        key: String(i),
        minutes: fixed(l.minutes, 1),
        left: withUnit(l.tempC, 0, "°C"),
        right: withUnit(r.tempC, 0, "°C"),
        leftHolds: `${fixed(100 * l.strengthLeft, 0)} %`,
        rightHolds: `${fixed(100 * r.strengthLeft, 0)} %`,
      };
    }),
    heatNote: `${way}. An estimate: air and rubbing faces scatter.`,
  };
}

/**
 * The drive in words and numbers.
 * @param carKmh speed of the car for the wheels' table
 * @param radiusM curve that is asked for; it stands first in the table
 */
export function driveNumbers(s: Scenario, hand: Hand, radiusM: number, carKmh: number): DriveNumbers {
  const r: DriveReport = driveReport(s, kmhToMps(carKmh));
  const top = mpsToKmh(r.topSpeedMps);
  const driven = s.drive.topSpeedDrivenKmh;
  const peak = Math.max(...r.curve.map((p) => p.powerW));
  const weight = s.body.carMassKg * G;
  const own = wheelSpeeds(r.trackMm, radiusM, kmhToMps(carKmh), s.corner.wheel.radiusMm, r.line.ratio);
  const name = (m: number): string => s.tracks.find((t) => t.radiusM === m)?.name ?? "";
  const same = (["upper", "lower"] as const).every((n) => r.onArms.left.shiftMm[n] === r.onArms.right.shiftMm[n]);
  const sides: Side[] = same ? ["right"] : ["left", "right"];
  const worst = r.onArms[r.onArms.left.wheelShiftMm > r.onArms.right.wheelShiftMm ? "left" : "right"];
  return {
    summary:
      driven !== null
        ? `driven at ${fixed(driven, 1)} km/h; by its numbers ${fixed(top, 1)} km/h`
        : top > 0
          ? `${fixed(top, 1)} km/h, motor turns ${fixed(r.line.ratio, 2)} per wheel turn`
          : "does not start the car",
    facts: [
      ...(driven === null ? [] : [{ words: "top speed driven", value: withUnit(driven, 1, "km/h") }]),
      { words: "reaches, by motors and gears", value: withUnit(top, 1, "km/h") },
      { words: "without any resistance", value: withUnit(mpsToKmh(r.line.noLoadMps), 1, "km/h") },
      { words: "motor turns per wheel turn", value: fixed(r.line.ratio, 2) },
      { words: "of the power arrives", value: `${fixed(100 * r.line.efficiency, 0)} %` },
      {
        words: `push of ${r.line.motors === Math.round(r.line.motors) ? fixed(r.line.motors, 0) : fixed(r.line.motors, 2)} motors, standing`,
        value: withUnit(r.line.stallThrustN, 1, "N"),
      },
      { words: "that is, of the car's weight", value: fixed(r.line.stallThrustN / weight, 2) },
      { words: "rolling holds back", value: withUnit(r.line.rollingN, 1, "N") },
      { words: "most power into the road", value: withUnit(peak, 0, "W") },
    ],
    thrust: r.curve.map((p) => ({ kmh: mpsToKmh(p.speedMps), newton: p.thrustN, holds: p.resistanceN })),
    topKmh: top,
    wheels: [
      wheelRow(own, hand, name(radiusM) || "your curve", true),
      ...r.wheels.filter((w) => w.radiusM !== radiusM).map((w) => wheelRow(w, hand, name(w.radiusM), false)),
    ],
    wheelsAt: `${hand}-hand curves at ${fixed(carKmh, 1)} km/h, wheels ${fixed(r.trackMm, 0)} mm apart`,
    arms: sides.flatMap((side) => ARM_SIDE(r.onArms[side], same ? "" : `, ${side}`)),
    armsNote: `At full push from standing, ${withUnit(worst.thrustN, 1, "N")} on each driven wheel: the wheel moves ${withUnit(worst.wheelShiftMm, 2, "mm")} forward and its upright turns ${signed(worst.casterChangeDeg, 2)}° (caster). Grip may allow less.`,
  };
}
