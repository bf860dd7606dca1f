import { SIDES, type Side } from "../core/design/types.ts";
import { type RigCurve, type RigReport, rigTests } from "../core/studies/rig.ts";
import type { Answer, Command } from "./command.ts";
import type { LoadedScenario } from "./files.ts";
import { noSteadyPosition } from "./load.ts";
import { block, figures, num, signed, table } from "./table.ts";

export const rigCommand: Command = {
  name: "rig",
  about: "the body clamped, a pad under each wheel: bump, roll, side force and thrust, curves and slopes",
  files: 1,
  numbers: [],
  help: "The body is held where the car stands at rest. Everything bends. Pad travel is that of the file's fit section (bumpTravelMm, droopTravelMm).",
  run: ([loaded]) => runRig(loaded!),
};

function runRig({ file, scenario }: LoadedScenario): Answer {
  const rig = rigTests(scenario);
  if (!rig.ok) throw noSteadyPosition(file, rig.reason);
  const { report } = rig;
  return {
    json: { command: "rig", file, scenario: scenario.name, ...report },
    text: () =>
      [
        `${scenario.name}\nOn the rig: body clamped at rest (${signed(report.held.heaveMm, 2)} mm against as built, roll ${signed(report.held.rollDeg, 2)} °), pads float sideways\n`,
        block("Slopes at rest", slopeTable(report)),
        block("Bump: both pads rise together", curveTable(report.bump, "pads mm")),
        block("Roll: the body turns on level pads, + = left side up", curveTable(report.roll, "roll °")),
        block("Side force: each wheel is pulled outwards", curveTable(report.lateral, "pull N")),
        "lean (camber): + = top outwards; tread out: the middle of the tread moves outwards on the pad\n",
      ].join("\n"),
  };
}

function slopeTable(r: RigReport): string {
  const row = (words: string, f: (s: Side) => string): string[] => [words, ...SIDES.map(f)];
  const band = (s: Side): RigReport["lateral"]["band"][Side] => r.lateral.band[s];
  return table(
    ["", "left wheel", "right wheel"],
    [
      ["bump test"],
      row("  lean per mm of wheel travel (camber gain), °/mm", (s) => signed(r.bump.perWheel[s].camberDegPerMm, 4)),
      row("  tread outwards per mm of wheel travel", (s) => signed(r.bump.perWheel[s].contactOutPerMm, 4)),
      row("  spring shortening per mm of wheel travel (motion ratio)", (s) => num(r.bump.perWheel[s].motionRatio, 4)),
      row("  wheel rate at the wheel centre, N/mm", (s) => num(r.bump.perWheel[s].wheelRateAtCentreNPerMm, 4)),
      row("  wheel rate at the contact, N/mm", (s) => num(r.bump.perWheel[s].wheelRateAtContactNPerMm, 4)),
      row("  pad rate, suspension and tyre together (ride rate), N/mm", (s) => num(r.bump.perWheel[s].padRateNPerMm, 4)),
      ["roll test"],
      row("  lean per degree of roll, °/°", (s) => signed(r.roll.camberDegPerDeg[s], 4)),
      ["  moment of the axle per degree (roll stiffness), N·mm/°", num(r.roll.stiffnessNmmPerDeg, 0), ""],
      ["side force test"],
      row("  lean per newton pulled outwards (compliance), °/N", (s) => signed(r.lateral.perWheel[s].camberDegPerN, 5)),
      row("  tread outwards, mm/N", (s) => signed(r.lateral.perWheel[s].contactMmPerN, 5)),
      row("  wheel centre outwards, mm/N", (s) => signed(r.lateral.perWheel[s].wheelCentreMmPerN, 5)),
      row("  left open by play, push to pull (hysteresis band), °", (s) => (band(s) ? num(band(s)!.camberDeg, 3) : "none")),
      row("  the same for the tread, mm", (s) => (band(s) ? num(band(s)!.contactMm, 3) : "none")),
      ["thrust test, from the arms' spatial stiffness"],
      row("  forward flex at the wheel centre (driven by a shaft), mm/N", (s) => figures(r.thrust[s].atCentre.mmPerN)),
      row("  forward flex at the road (motor or brake in the hub), mm/N", (s) => figures(r.thrust[s].atRoad.mmPerN)),
      row("  steering axis leans back by a force at the road (caster), °/N", (s) => signed(r.thrust[s].atRoad.casterDegPerN, 5)),
      row("  free movement at the wheel centre by clearance, mm", (s) => num(r.thrust[s].playMm, 3)),
    ],
  );
}

function curveTable(c: RigCurve, input: string): string {
  const body = table(
    [input, "left: lean °", "travel mm", "tread out mm", "load N", "right: lean °", "travel mm", "tread out mm", "load N"],
    c.rows.map((r) => [
      signed(r.at, 2),
      ...SIDES.flatMap((s) => [signed(r[s].camberDeg, 3), signed(r[s].wheelTravelMm, 2), signed(r[s].contactOutMm, 3), num(r[s].verticalLoadN, 1)]),
    ]),
  );
  const ends = [c.endsBelow && `Below, the curve ends: ${c.endsBelow}.`, c.endsAbove && `Above, the curve ends: ${c.endsAbove}.`].filter((m) => m !== null);
  return [body, ...ends].join("\n");
}
