import { toTheEnd } from "../core/steps.ts";
import { COMMON, completeParams, MANOEUVRE_INFO, MANOEUVRES, type ManoeuvreName, type ParamSpec } from "../motion/manoeuvres.ts";
import { type MotionReport, motionReport, type PeakRow } from "../motion/run.ts";
import { type SimulateResult, simulate } from "../motion/simulate.ts";
import { type Trace, traceTable } from "../motion/trace.ts";
import { CAPS } from "../scenario/caps.ts";
import { quoted, shownText } from "../scenario/words.ts";
import { CAUTIONS } from "../view/cautions.ts";
import { csvText } from "../view/csv.ts";
import { cautionsText } from "./cautions.ts";
import type { Answer, Command, FlagOption, NumberOption, RunHelp, TextOption } from "./command.ts";
import type { LoadedScenario } from "./files.ts";
import { noSteadyPosition } from "./load.ts";
import type { Progress } from "./progress.ts";
import { Refusal } from "./refusal.ts";
import { block, figures, num, table } from "./table.ts";

const MANOEUVRE: TextOption = { flag: "manoeuvre", valueName: "NAME", about: "what the car is made to do", oneOf: MANOEUVRES };
const SET: TextOption = {
  flag: "set",
  valueName: "NUMBERS",
  about: "numbers of the manoeuvre, as speedMps=8,heightMm=10; what is not given keeps its default",
};
const CSV: FlagOption = { flag: "csv", about: "the whole run as a table with commas, one line per moment, instead of tables" };
const HOLD: FlagOption = { flag: "hold", about: "let nothing come off: what would come off is told all the same" };
const SEED: NumberOption = { flag: "seed", valueName: "N", min: 0, max: 1_000_000, unit: "", about: "picks another rough road; without it 1", whole: true };

const specWords = (p: ParamSpec): string => `${p.key} (${p.label}) ${p.min} to ${p.max}${p.unit ? ` ${p.unit}` : ""}, else ${p.byDefault}`;

export const motionCommand: Command = {
  name: "motion",
  about: "the axle driven over bumps and into curves: peaks, what comes off and when, the road shock for the speed map",
  files: 1,
  numbers: [SEED],
  texts: [MANOEUVRE, SET],
  flags: [CSV, HOLD],
  help: [
    `Every manoeuvre takes ${COMMON.map(specWords).join("; ")}. Besides:`,
    ...MANOEUVRES.map((m) => `  ${m}: ${MANOEUVRE_INFO[m].teaches}\n    ${MANOEUVRE_INFO[m].params.map(specWords).join("\n    ")}`),
  ].join("\n"),
  run: ([loaded], values, more) => runMotionCommand(loaded!, values, more),
};

function runMotionCommand({ file, scenario }: LoadedScenario, values: Readonly<Record<string, number>>, more: RunHelp): Answer {
  const given = more.texts["manoeuvre"];
  if (given === undefined) throw new Refusal(`motion needs --manoeuvre NAME; allowed ${MANOEUVRES.join(", ")}.`);
  const name = given as ManoeuvreName;
  const numbers = numbersOf(name, more.texts["set"]);
  const run = simulate(scenario, name, numbers, { seed: values["seed"] ?? 1, breaks: !more.flags.has("hold") });
  const result = finish(run, more.progress);
  if (!result.ok) throw noSteadyPosition(file, result.reason);
  const { trace } = result;
  const report = motionReport(trace);
  return {
    json: { command: "motion", file, scenario: scenario.name, ...report, held: more.flags.has("hold"), trace: columnsOf(trace), cautions: CAUTIONS },
    csv: () => csvText(traceTable(trace)),
    text: () =>
      [
        `${scenario.name}\n${report.title}: ${MANOEUVRE_INFO[name].teaches}\n`,
        block("The numbers", numberTable(name, report)),
        block("What happened", eventWords(report)),
        block("Road shock", shockWords(report)),
        ...(["axle", "left", "right"] as const).map((side) =>
          block(side === "axle" ? "Peaks of the body" : `Peaks of the ${side} wheel`, peakTable(report, side)),
        ),
        `${num(report.durationS, 2)} s of motion at ${report.stepsPerSecond} steps a second, ${trace.timeS.length} moments kept (--csv or --json).\n`,
        `${cautionsText()}\n`,
      ].join("\n"),
  };
}

const PAIR = /^\s*([a-zA-Z]+)\s*=\s*(\S+)\s*$/;

/** "speedMps=8,heightMm=10" as numbers; the manoeuvre tells which it takes and in which range. */
function numbersOf(name: ManoeuvreName, text: string | undefined): Record<string, number> {
  const numbers: Record<string, number> = {};
  for (const part of text === undefined ? [] : text.split(",")) {
    const [, key, value] = PAIR.exec(part) ?? [];
    if (key === undefined || value === undefined) throw new Refusal(`--set has ${quoted(part)}; a name and a number are wanted, as speedMps=8.`);
    if (key.length > CAPS.wordLetters) throw new Refusal(`--set has ${shownText(key)}, which is no number of a manoeuvre.`);
    if (Object.hasOwn(numbers, key)) throw new Refusal(`--set has ${shownText(key)} twice; allowed once.`);
    numbers[key] = Number(value);
    if (!Number.isFinite(numbers[key])) throw new Refusal(`--set has ${shownText(key)}=${quoted(value)}, which is not a number.`);
  }
  try {
    return completeParams(name, numbers);
  } catch (e) {
    if (e instanceof RangeError) throw new Refusal(`--set: ${e.message}`);
    throw e;
  }
}

function finish(run: Generator<{ timeS: number; durationS: number }, SimulateResult>, progress: Progress): SimulateResult {
  return toTheEnd(run, (step) => progress.at(step.timeS / step.durationS, "of the motion"));
}

function columnsOf(trace: Trace): Record<string, number[]> {
  const { head, rows } = traceTable(trace);
  return Object.fromEntries(head.map((key, i) => [key, rows.map((row) => row[i]!)]));
}

function numberTable(name: ManoeuvreName, r: MotionReport): string {
  const specs = [...COMMON, ...MANOEUVRE_INFO[name].params];
  return table(
    ["", "name for --set", "value", "unit"],
    specs.map((p) => [p.label, p.key, figures(r.params[p.key]!), p.unit]),
    2,
  );
}

function eventWords(r: MotionReport): string {
  if (r.events.length === 0) return "Nothing came off, slid, lifted or touched a stop.";
  return table(
    ["at, s", "wheel", "what", "asked", "holds", "unit"],
    r.events.map((e) => [num(e.atS, 3), e.side, e.what, figures(e.demand), figures(e.capacity), e.unit]),
    3,
  );
}

function shockWords(r: MotionReport): string {
  if (r.shockFactor === null) return `No steady answer to compare with: ${r.steadyReason ?? "the manoeuvre has none"}.`;
  const note = r.broken ? " Something came off, so this is the peak up to then and of a lame car after it; --hold lets everything stay on." : "";
  return `The road's largest force on a wheel is ${num(r.shockFactor, 2)} times the steady one (${r.shockWheel} wheel): --shock ${num(Math.max(1, r.shockFactor), 2)} for map, changes and report.${note}`;
}

/** What is next to nothing is nothing: rounding of the solver, not motion. */
const NOTHING = 1e-9;
const amount = (v: number): string => figures(Math.abs(v) < NOTHING ? 0 : v);

function peakTable(r: MotionReport, side: PeakRow["side"]): string {
  return table(
    ["", "peak", "at, s", "at rest under the same load", "times"],
    r.peaks
      .filter((p) => p.side === side)
      .map((p) => [
        `${p.what}${p.unit ? `, ${p.unit}` : ""}`,
        amount(p.peak),
        num(p.atS, 3),
        p.steady === null ? "none" : amount(p.steady),
        p.factor === null ? "" : num(p.factor, 2),
      ]),
  );
}
