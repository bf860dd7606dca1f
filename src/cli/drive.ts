import { buildBench } from "../core/analyze.ts";
import { ARM_NAMES, type Scenario, SIDES } from "../core/design/types.ts";
import { type DriveReport, driveReport } from "../core/drive/drive-report.ts";
import { gearRatio, stageRatio } from "../core/drive/motors.ts";
import { type WheelSpeeds, wheelSpeedsHeld, wheelSpeedTable } from "../core/drive/wheel-speeds.ts";
import { ROOM_C } from "../core/limits/derating.ts";
import { CURVE_SHARE, hubsOverDrive } from "../core/studies/heat-over-drive.ts";
import { kmhToMps, mpsToKmh } from "../core/units.ts";
import { CAUTIONS } from "../view/cautions.ts";
import { ARM_WORDS } from "../view/words.ts";
import { cautionsText } from "./cautions.ts";
import { type Answer, type Command, type NumberOption, RADIUS } from "./command.ts";
import type { LoadedScenario } from "./files.ts";
import { block, figures, num, signed, table } from "./table.ts";

const SPEED: NumberOption = {
  flag: "speed",
  valueName: "KMH",
  min: 0.1,
  max: 150,
  unit: "km/h",
  about: "speed of the car in km/h for the wheels' speeds; without it what the drive and the tyres' grip allow on each curve",
};

const MINUTES: NumberOption = {
  flag: "minutes",
  valueName: "MIN",
  min: 0.1,
  max: 240,
  unit: "min",
  about: "length of a drive, for the heat of the hubs; without it 5",
};
const USUAL_MINUTES = 5;
/** of the speed that drive and grip allow on a curve: what one drives for minutes */
const EASY_SHARE = 0.8;

export const driveCommand: Command = {
  name: "drive",
  about: "motors and gears: the speed they reach, the push they give, how fast each wheel must turn in a curve, what the push does to the arms",
  files: 1,
  numbers: [{ ...RADIUS, about: "a curve radius in m that is told besides the usual ones and the file's own tracks" }, SPEED, MINUTES],
  help: "Several motors on one wheel add their torque and share the speed. Flat road, no wind, batteries taken as full.",
  run: ([loaded], values) => runDrive(loaded!, values),
};

function runDrive({ file, scenario }: LoadedScenario, values: Readonly<Record<string, number>>): Answer {
  const report = driveReport(scenario);
  const speedKmh = values["speed"];
  const held = wheelSpeedsHeld(scenario, report.drivenMps ?? report.topSpeedMps, values["radius"]);
  const radii = held.map((w) => w.radiusM);
  const wheels = speedKmh === undefined ? held : wheelSpeedTable(scenario, kmhToMps(speedKmh), gearRatio(scenario.drive), radii);
  const first = held.find((w) => w.radiusM === values["radius"]) ?? held.find((w) => scenario.tracks.some((t) => t.radiusM === w.radiusM)) ?? held[0]!;
  const carMps = speedKmh === undefined ? EASY_SHARE * first.carMps : kmhToMps(speedKmh);
  const minutes = values["minutes"] ?? USUAL_MINUTES;
  const hubs = hubsOverDrive(buildBench(scenario), first.radiusM, carMps, minutes);
  return {
    json: {
      command: "drive",
      file,
      scenario: scenario.name,
      ...report,
      topSpeedKmh: mpsToKmh(report.topSpeedMps),
      topSpeedDrivenKmh: scenario.drive.topSpeedDrivenKmh,
      wheels: wheels.map((w) => ({ ...w, track: scenario.tracks.find((t) => t.radiusM === w.radiusM)?.name ?? null })),
      hubHeat: { radiusM: first.radiusM, speedKmh: mpsToKmh(carMps), curveShare: CURVE_SHARE, minutes, hubs },
      cautions: CAUTIONS,
    },
    text: () =>
      [
        `${scenario.name}\n`,
        block("How fast", speedText(scenario, report)),
        block("Push over speed", curveTable(report)),
        block("How fast each wheel must turn in a curve (electronic differential)", wheelTable(scenario, report, wheels, speedKmh)),
        block("How hot the hubs run over a drive (friction heat)", heatText(hubs, first.radiusM, carMps)),
        block("What the hardest push does to the arms (fore-aft load)", armTable(report)),
        `${cautionsText()}\n`,
      ].join("\n"),
  };
}

function speedText(s: Scenario, r: DriveReport): string {
  const { line } = r;
  const stages = s.drive.stages.map((g) => `${g.drivingTeeth} drives ${g.drivenTeeth} (speed divided by ${num(stageRatio(g), 3)})`).join(", then ");
  const top = r.topSpeedMps > 0 ? `${num(mpsToKmh(r.topSpeedMps), 1)} km/h (${num(r.topSpeedMps, 2)} m/s)` : "none: the motors cannot start the car";
  return table(
    ["", "value"],
    [
      ...(r.drivenMps === null ? [] : [["top speed driven (measured)", `${num(mpsToKmh(r.drivenMps), 1)} km/h (${num(r.drivenMps, 2)} m/s)`]]),
      ["reachable speed, flat straight road, by motors and gears", top],
      ["speed at which the motors give nothing more, km/h", num(mpsToKmh(line.noLoadMps), 1)],
      ["motors", `${line.motors} (${s.drive.motorsPerWheel} on each of ${s.drive.drivenWheels} wheels)`],
      ["gears", stages === "" ? "none, motor on the wheel" : stages],
      ["motor turns per wheel turn (ratio)", num(line.ratio, 3)],
      ["power that reaches the wheels (efficiency), %", num(100 * line.efficiency, 1)],
      ["push at a standstill, all driven wheels (stall thrust), N", num(line.stallThrustN, 1)],
      ["held back by rolling, N", num(line.rollingN, 2)],
      ["greatest power of one motor, W", num(r.peakPowerPerMotorW, 2)],
    ],
  );
}

function heatText(hubs: ReturnType<typeof hubsOverDrive>, radiusM: number, carMps: number): string {
  const way = `Half of the time in a left-hand curve of ${num(radiusM, 1)} m, half straight on, at ${num(mpsToKmh(carMps), 1)} km/h, from ${num(ROOM_C, 0)} °C.`;
  if (!hubs) return `${way} The car has no steady position in that curve: nothing to tell.`;
  const rows = hubs.left.map((l, i) => {
    const r = hubs.right[i]!;
    return [num(l.minutes, 1), num(l.tempC, 0), num(100 * l.strengthLeft, 0), num(r.tempC, 0), num(100 * r.strengthLeft, 0)];
  });
  return `${table(["minutes", "left hub, °C", "strength left, %", "right hub, °C", "strength left, %"], rows)}\n${way} An estimate: air and running faces scatter.`;
}

function curveTable(r: DriveReport): string {
  const rows = r.curve.filter((_, i) => i % 3 === 0);
  return table(
    ["km/h", "push, N", "held back, N", "gains, m/s2", "motor, 1/min", "into the road, W"],
    rows.map((p) => [num(mpsToKmh(p.speedMps), 1), num(p.thrustN, 1), num(p.resistanceN, 2), signed(p.gainMps2, 2), num(p.motorRpm, 0), num(p.powerW, 1)]),
  );
}

function wheelTable(s: Scenario, r: DriveReport, rows: readonly WheelSpeeds[], speedKmh?: number): string {
  const body = table(
    ["radius, m", "track", "car, km/h", "inner wheel, 1/min", "outer wheel, 1/min", "inner motor", "outer motor", "outer / inner", "each off the middle, %"],
    rows.map((w) => [
      num(w.radiusM, 2),
      s.tracks.find((t) => t.radiusM === w.radiusM)?.name ?? "",
      num(mpsToKmh(w.carMps), 1),
      num(w.innerRpm, 0),
      num(w.outerRpm, 0),
      num(w.innerMotorRpm, 0),
      num(w.outerMotorRpm, 0),
      num(w.ratio, 4),
      num(100 * w.share, 2),
    ]),
    2,
  );
  const at = speedKmh === undefined ? "the highest speed that drive and grip allow on that curve" : `${num(speedKmh, 1)} km/h`;
  return `${body}\nAt ${at}. The ratio does not depend on the speed. Wheels ${num(r.trackMm, 1)} mm apart (track), rolling on ${num(s.corner.wheel.radiusMm, 1)} mm; all wheels turn about one point on the axle's line.`;
}

function armTable(r: DriveReport): string {
  const rows = SIDES.flatMap((side) =>
    ARM_NAMES.map((n) => {
      const a = r.onArms[side];
      return [`${side} ${ARM_WORDS[n]}`, signed(a.forceN[n], 1), figures(a.stiffnessNPerMm[n]), signed(a.shiftMm[n], 3), num(100 * a.stressShare[n], 1)];
    }),
  );
  const wheel = SIDES.map(
    (side) => `${side} wheel ${signed(r.onArms[side].wheelShiftMm, 3)} mm forward, steering axis ${signed(r.onArms[side].casterChangeDeg, 3)} ° back`,
  ).join("; ");
  return `${table(["", "force forward, N", "stiffness, N/mm", "moves forward, mm", "of its strength, %"], rows)}\n${num(r.onArms.left.thrustN, 1)} N on each wheel: ${wheel}. The tyres' grip may allow less push than that.`;
}
