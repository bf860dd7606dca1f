import { stageRatio } from "../core/drive/motors.ts";
import { mpsToKmh } from "../core/units.ts";
import type { ChartModel } from "../view/curves.ts";
import { fixed, withUnit } from "../view/format.ts";
import { plain } from "./build-list.ts";
import { chartSvg } from "./chart-svg.ts";
import type { ReportData } from "./data.ts";
import { el, paragraph, table } from "./markup.ts";
import { section } from "./sections.ts";

/** Push of the drive and what holds the car back, over speed. */
function thrustChart(d: ReportData): ChartModel {
  const points = d.drive.curve;
  const most = Math.max(1, ...points.map((p) => p.thrustN));
  const step = 10 ** Math.floor(Math.log10(most));
  const top = Math.ceil(most / step) * step;
  const last = mpsToKmh(points.at(-1)?.speedMps ?? 1);
  const end = Math.max(5, Math.ceil(last / 5) * 5);
  return {
    key: "thrust",
    title: "Push over speed",
    term: "thrust of all driven wheels, N",
    xName: "speed",
    xUnit: "km/h",
    yUnit: "N",
    digits: 1,
    x: { min: 0, max: end, ticks: [0, end / 2, end] },
    y: { min: 0, max: top, ticks: [0, top / 2, top] },
    series: [
      { key: "thrust", design: "a", name: "push", thin: false, points: points.map((p) => [mpsToKmh(p.speedMps), Math.max(0, p.thrustN)]) },
      { key: "held", design: "a", name: "held back", thin: true, points: points.map((p) => [mpsToKmh(p.speedMps), p.resistanceN]) },
    ],
    rules: [],
    now: d.drive.topSpeedMps > 0 ? mpsToKmh(d.drive.topSpeedMps) : null,
    dots: [],
  };
}

/** Speed, push, and the wheels' speeds in curves. */
export function driveSection(d: ReportData): string {
  const { drive, request } = d;
  const s = request.scenario;
  const { line } = drive;
  const stages = s.drive.stages.map((g) => `${g.drivingTeeth} drives ${g.drivenTeeth} (÷${plain(stageRatio(g), 3)})`).join(", then ");
  const facts = table({
    head: ["", "value"],
    rows: [
      ...(drive.drivenMps === null
        ? []
        : [["top speed driven (measured)", `${withUnit(mpsToKmh(drive.drivenMps), 1, "km/h")}, ${withUnit(drive.drivenMps, 2, "m/s")}`]]),
      [
        drive.drivenMps === null ? "reachable speed" : "reachable speed by motors and gears",
        drive.topSpeedMps > 0
          ? `${withUnit(mpsToKmh(drive.topSpeedMps), 1, "km/h")}, ${withUnit(drive.topSpeedMps, 2, "m/s")}`
          : "none: the motors cannot start the car",
      ],
      ["motors", `${line.motors}, ${s.drive.motorsPerWheel} on each of ${s.drive.drivenWheels} wheels`],
      ["gears", stages === "" ? "none" : stages],
      ["motor turns per wheel turn (ratio)", plain(line.ratio, 3)],
      ["reaches the wheels (efficiency)", `${fixed(100 * line.efficiency, 0)} %`],
      ["push at a standstill (stall)", withUnit(line.stallThrustN, 1, "N")],
      ["held back by rolling", withUnit(line.rollingN, 2, "N")],
      ["greatest power of one motor", withUnit(drive.peakPowerPerMotorW, 1, "W")],
    ],
    words: [0, 1],
  });
  return section(
    "The drive",
    null,
    el("div", { class: "charts" }, el("figure", {}, chartSvg(thrustChart(d))), facts),
    paragraph("Upright line: where push and what holds back are equal, the reachable speed.", "note"),
    table({
      caption: "How fast each wheel must turn in a curve, for an electronic differential",
      head: [
        "radius, m",
        "track",
        "car, km/h",
        "inner wheel, 1/min",
        "outer wheel, 1/min",
        "inner motor, 1/min",
        "outer motor, 1/min",
        "outer over inner",
        "off the middle, ±%",
      ],
      rows: d.wheels.map((w) => [
        plain(w.radiusM),
        s.tracks.find((t) => t.radiusM === w.radiusM)?.name ?? "",
        fixed(mpsToKmh(w.carMps), 1),
        fixed(w.innerRpm, 0),
        fixed(w.outerRpm, 0),
        fixed(w.innerMotorRpm, 0),
        fixed(w.outerMotorRpm, 0),
        fixed(w.ratio, 4),
        fixed(100 * w.share, 2),
      ]),
      words: [1],
    }),
    paragraph("At the highest speed that drive and grip allow on each curve; the ratio and the share are the same at any speed.", "note"),
  );
}
