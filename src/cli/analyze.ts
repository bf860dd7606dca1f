import type { AxleReport, SideReport } from "../core/analysis.ts";
import { analyze } from "../core/analyze.ts";
import { curveRadiusM, speedInCurve } from "../core/cornering.ts";
import { axleMassKg, sprungMassKg } from "../core/design/mass.ts";
import { cornerOf } from "../core/design/sides.ts";
import { ARM_NAMES, JOINT_NAMES, type JointName, type Load, type Scenario } from "../core/design/types.ts";
import type { Band } from "../core/doubt/bands.ts";
import type { OutputKey } from "../core/doubt/outputs.ts";
import { toTheEnd } from "../core/steps.ts";
import { type GuessesReport, weighGuesses } from "../core/studies/guesses.ts";
import { type Stance, stanceOf } from "../core/studies/ride-height.ts";
import { mpsToKmh } from "../core/units.ts";
import { rangeOf } from "../scenario/ranges.ts";
import { CAUTIONS } from "../view/cautions.ts";
import { guessLines } from "../view/guess-words.ts";
import { stanceWords } from "../view/stance.ts";
import { ARM_WORDS, JOINT_WORDS, leanWords } from "../view/words.ts";
import { motionTable, partTable } from "./budget.ts";
import { cautionsText } from "./cautions.ts";
import { type Answer, BRAKE, BUMP_LEFT, BUMP_RIGHT, type Command, LATERAL, RADIUS, THROTTLE } from "./command.ts";
import type { LoadedScenario } from "./files.ts";
import { firstOrderBands, firstOrderTable } from "./first-order.ts";
import { firstWords, limitTable } from "./limit-table.ts";
import { type ChosenLoad, chooseLoad, loadWords, noSteadyPosition } from "./load.ts";
import { pushTable } from "./push.ts";
import { block, num, plainSigns, signed, table } from "./table.ts";

export const analyzeCommand: Command = {
  name: "analyze",
  about: "how far each wheel leans under a load, why it leans, the forces, what gives first",
  files: 1,
  numbers: [LATERAL, BUMP_LEFT, BUMP_RIGHT, THROTTLE, BRAKE, RADIUS],
  flags: [{ flag: "bands", about: "also how far every number may be off, by a quick estimate (first order); `doubt` tries cars instead" }],
  help: "Without --lateral, --bump-..., --throttle and --brake: the first load case of the file. With any of them the others are 0.\nThe throttle gives what the drive can at the speed of the curve; straight on, from standing.",
  run: ([loaded], values, more) => runAnalyze(loaded!, values, more.flags.has("bands")),
};

export interface CurveRadius {
  radiusM: number;
  from: string;
}

export function chooseRadius(scenario: Scenario, given?: number): CurveRadius {
  const radiusM = curveRadiusM(scenario, given);
  if (given !== undefined) return { radiusM, from: "from the command line" };
  const track = scenario.tracks[0];
  return { radiusM, from: track ? `"${track.name}", first track of the file` : "the file holds no track" };
}

function runAnalyze({ file, scenario }: LoadedScenario, values: Readonly<Record<string, number>>, withBands: boolean): Answer {
  const chosen = chooseLoad(scenario, values);
  const curve = chooseRadius(scenario, values["radius"]);
  const result = analyze(scenario, chosen.load, { radiusM: curve.radiusM });
  if (!result.ok) throw noSteadyPosition(file, result.reason);
  const { report } = result;
  const stance = stanceOf(scenario);
  const guesses = guessesAt(scenario, chosen.load, curve.radiusM);
  const speedMps = speedInCurve(report.lateralG, curve.radiusM);
  const speedKmh = mpsToKmh(speedMps);
  const bands = withBands ? firstOrderBands(scenario, chosen.load, speedMps) : null;
  return {
    json: {
      command: "analyze",
      file,
      scenario: scenario.name,
      loadCase: chosen.caseName,
      radiusM: curve.radiusM,
      speedKmh,
      ...report,
      atRest: stance,
      guesses,
      ...(bands ? { bands: Object.fromEntries(bands) } : {}),
      cautions: CAUTIONS,
    },
    text: () => analyzeText(scenario, chosen, curve, speedKmh, report, stance, guesses, bands),
  };
}

/** Which guesses matter at a load; takes two solutions for each. */
export function guessesAt(scenario: Scenario, load: Load, radiusM: number): GuessesReport {
  return toTheEnd(weighGuesses(scenario, load, { radiusM, allowed: rangeOf }));
}

function analyzeText(
  scenario: Scenario,
  chosen: ChosenLoad,
  curve: CurveRadius,
  speedKmh: number,
  report: AxleReport,
  stance: Stance | null,
  guesses: GuessesReport,
  bands: ReadonlyMap<OutputKey, Band> | null,
): string {
  const speed =
    report.lateralG === 0
      ? ""
      : `\nThat is ${num(speedKmh, 1)} km/h (${num(speedKmh / 3.6, 2)} m/s) in a curve of ${num(curve.radiusM, 1)} m radius (${curve.from}).`;
  const along = pushTable(report);
  return [
    `${scenario.name}\n${loadWords(chosen)}${speed}\n`,
    `${weightWords(scenario)}\n`,
    block("What gives first", firstWords(report.firstToGive)),
    block("How its values are known", plainSigns(guessLines(guesses, cornerOf(scenario, "right")).join("\n"))),
    block("Lean and loads of the wheels", `${wheelTable(report)}${stance ? `\n${plainSigns(stanceWords(scenario, stance).sentence)}` : ""}`),
    block("Why they lean, by part, largest first", partTable(report)),
    block("Why they lean, by motion", motionTable(report)),
    block("Forces in the joints and arms", forceTable(report)),
    ...(along === null ? [] : [block("Along the road", along)]),
    block("All limits, worst first", limitTable(report.limits)),
    ...(bands ? [block("How sure: one standard deviation, and where 90 % of such cars lie, to first order", firstOrderTable(bands, report.limits))] : []),
    `Solved in ${report.solver.iterations} steps, forces out of balance by at most ${report.solver.residualN.toExponential(1)} N.\n`,
    `${cautionsText()}\n`,
  ].join("\n");
}

const weightWords = (s: Scenario): string =>
  `Weight: whole car ${num(s.body.carMassKg, 2)} kg, ${num(100 * s.body.axleShare, 1)} % of it on this axle, ${num(axleMassKg(s), 2)} kg; ${num(sprungMassKg(s), 2)} kg of that on the springs (sprung mass).`;

const range = (r: [number, number] | null): string => (r === null ? "none" : `${signed(r[0], 2)} to ${signed(r[1], 2)}`);

function wheelTable(report: AxleReport): string {
  const row = (words: string, f: (s: SideReport) => string): string[] => [words, f(report.left), f(report.right)];
  const wheels = table(
    ["", "left wheel", "right wheel"],
    [
      row("lean (camber), °, + = top outwards", (s) => signed(s.camberDeg, 2)),
      row("", (s) => leanWords(s.camberDeg)),
      row("lean that play leaves open (band), °", (s) => range(s.camberBandDeg)),
      row("lean over the tyres' load exponent 0.7 to 1, °", (s) => range(s.camberByLoadExponentDeg)),
      row("load on the road (vertical), N", (s) => num(s.verticalLoadN, 1)),
      row("side force (lateral), N, + = to the right", (s) => signed(s.lateralLoadN, 1)),
      row("wheel travel against the body, mm, + = up (bump)", (s) => signed(s.wheelTravelMm, 2)),
      row("spring force, N", (s) => num(s.springForceN, 1)),
      row("spring length, mm", (s) => num(s.springLengthMm, 2)),
    ],
  );
  const body = `Body: leans (roll) ${signed(report.rollDeg, 2)} ° (+ = left side up), rises (heave) ${signed(report.heaveMm, 2)} mm against as built; anti-roll bar ${num(Math.abs(report.antiRollBarN), 1)} N.`;
  const split = "Both tyres are taken to use the same share of their grip; a newton moved between them changes the lean by about a tenth of a degree.";
  return `${wheels}\n${body}\n${split}`;
}

function forceTable(report: AxleReport): string {
  const { left, right } = report;
  const idle = (s: SideReport, name: JointName): string => (s.floatingJoints.includes(name) ? "loose, carries nothing" : num(s.jointForceN[name], 1));
  return table(
    ["", "left, N", "right, N"],
    [
      ...JOINT_NAMES.map((n) => [JOINT_WORDS[n], idle(left, n), idle(right, n)]),
      ...ARM_NAMES.map((n) => [`${ARM_WORDS[n]} along itself, + = pulled (tension)`, signed(left.armAxialForceN[n], 1), signed(right.armAxialForceN[n], 1)]),
    ],
  );
}
