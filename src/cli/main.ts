import { nearest, quoted, visible } from "../scenario/words.ts";
import { analyzeCommand } from "./analyze.ts";
import { type Parsed, parseCommand, usageLine } from "./args.ts";
import { armCommand } from "./arm.ts";
import { changesCommand } from "./changes.ts";
import type { Answer, Command } from "./command.ts";
import { compareCommand } from "./compare.ts";
import { doubtCommand } from "./doubt.ts";
import { driveCommand } from "./drive.ts";
import { forTerminal, loadBehind, loadScenario, loadText } from "./files.ts";
import { fitCommand } from "./fit.ts";
import { jsonText } from "./json.ts";
import { kinematicsCommand } from "./kinematics.ts";
import { logCommand } from "./log.ts";
import { mapCommand } from "./map.ts";
import { motionCommand } from "./motion.ts";
import { createProgress, type ProgressStream } from "./progress.ts";
import { EXIT, Refusal } from "./refusal.ts";
import { reportCommand } from "./report.ts";
import { rigCommand } from "./rig.ts";
import { type Sink, send } from "./send.ts";

const COMMANDS: readonly Command[] = [
  analyzeCommand,
  rigCommand,
  kinematicsCommand,
  armCommand,
  compareCommand,
  mapCommand,
  logCommand,
  driveCommand,
  changesCommand,
  doubtCommand,
  reportCommand,
  motionCommand,
  fitCommand,
];

const EXIT_WORDS =
  "Exit code: 0 done, 1 bad input (file, field, value and allowed range on stderr), 2 the car finds no steady position (what happened on stderr).";

function programHelp(): string {
  const widest = Math.max(...COMMANDS.map((c) => c.name.length));
  return [
    "Wheelstay: how a loaded axle of a large model car leans, bends and carries, and what gives first.",
    "",
    "usage: npm run -s wheelstay -- COMMAND FILE ...",
    "",
    ...COMMANDS.map((c) => `  ${c.name.padEnd(widest)}  ${c.about}`),
    "",
    "Every command prints a table, or with --json one JSON object and nothing else.",
    "COMMAND --help tells its options.",
    EXIT_WORDS,
    "",
  ].join("\n");
}

function commandHelp(c: Command): string {
  const options = [
    ...(c.texts ?? []).map((t) => [`--${t.flag} ${t.valueName}`, t.oneOf ? `${t.about}; ${t.oneOf.join(", ")}` : t.about]),
    ...c.numbers.map((n) => [`--${n.flag} ${n.valueName}`, `${n.about}; ${`${n.min} to ${n.max} ${n.unit}`.trimEnd()}`]),
    ...(c.flags ?? []).map((f) => [`--${f.flag}`, f.about]),
    ["--json", "one JSON object instead of tables"],
  ];
  const widest = Math.max(...options.map(([flag]) => flag!.length));
  return [usageLine(c), "", `${c.about}.`, c.help, "", ...options.map(([flag, about]) => `  ${flag!.padEnd(widest)}  ${about}`), "", EXIT_WORDS, ""].join("\n");
}

/** Streams of the program; those of the process, or a test's own. */
export interface Streams {
  out: Sink;
  err: Sink & ProgressStream;
}

function commandNamed(name: string | undefined): Command {
  if (name === undefined) throw new Refusal(`A command is needed.\n${programHelp()}`);
  const command = COMMANDS.find((c) => c.name === name);
  if (command) return command;
  const names = COMMANDS.map((c) => c.name);
  const near = nearest(name, names);
  throw new Refusal(
    `${quoted(name)} is not a known command; ${near === undefined ? `allowed ${names.join(", ")}` : `the nearest one is ${near}`}. --help tells more.`,
  );
}

/** What a command line asks for: a command with its options, or a help text. Throws a refusal that names what is wrong. */
export function readCommandLine(args: readonly string[]): { help: string } | { help: null; command: Command; parsed: Parsed } {
  const [name, ...rest] = args;
  if (name === "--help" || name === "-h") return { help: programHelp() };
  const command = commandNamed(name);
  const parsed = parseCommand(command, rest);
  return parsed.help ? { help: commandHelp(command) } : { help: null, command, parsed };
}

async function run(args: readonly string[], err: ProgressStream): Promise<string> {
  const asked = readCommandLine(args);
  if (asked.help !== null) return asked.help;
  const { command, parsed } = asked;
  const progress = createProgress(err);
  const [before, given] = parsed.files.length > command.files ? [loadText(parsed.files[0]!), parsed.files.slice(1)] : [null, parsed.files];
  const files = given.map((file) => (before ? loadBehind(file, before, command.before ?? "") : loadScenario(file)));
  const { texts, flags, json } = parsed;
  let answer: Answer;
  try {
    answer = await command.run(json ? files : files.map(forTerminal), parsed.values, { texts, flags, json, progress, before });
  } finally {
    progress.end();
  }
  if (answer.csv && flags.has("csv")) return answer.csv();
  return json ? jsonText(answer.json) : visibleLines(answer.text());
}

/** Whatever a message repeats of the command line, its own ends of line are the only ones that act. */
const visibleLines = (text: string): string => text.split("\n").map(visible).join("\n");

/** The program: prints its answer, or why there is none, and returns the exit code. */
export async function main(args: readonly string[], { out, err }: Streams = { out: process.stdout, err: process.stderr }): Promise<number> {
  // where the messages go may be closed as well; then the exit code alone tells
  err.on("error", () => {});
  try {
    await send(out, await run(args, err));
    return EXIT.done;
  } catch (e) {
    if (!(e instanceof Refusal)) throw e;
    await send(err, `${visibleLines(e.message)}\n`).catch(() => {});
    return e.code;
  }
}
