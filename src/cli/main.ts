import { nearest } from "../scenario/words.ts";
import { analyzeCommand } from "./analyze.ts";
import { parseCommand, usageLine } from "./args.ts";
import { armCommand } from "./arm.ts";
import { changesCommand } from "./changes.ts";
import type { Answer, Command } from "./command.ts";
import { compareCommand } from "./compare.ts";
import { driveCommand } from "./drive.ts";
import { loadScenario } from "./files.ts";
import { jsonText } from "./json.ts";
import { kinematicsCommand } from "./kinematics.ts";
import { mapCommand } from "./map.ts";
import { motionCommand } from "./motion.ts";
import { createProgress } from "./progress.ts";
import { EXIT, Refusal } from "./refusal.ts";
import { reportCommand } from "./report.ts";
import { rigCommand } from "./rig.ts";

const COMMANDS: readonly Command[] = [
  analyzeCommand,
  rigCommand,
  kinematicsCommand,
  armCommand,
  compareCommand,
  mapCommand,
  driveCommand,
  changesCommand,
  reportCommand,
  motionCommand,
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

async function run(args: readonly string[]): Promise<string> {
  const [name, ...rest] = args;
  if (name === "--help" || name === "-h") return programHelp();
  if (name === undefined) throw new Refusal(`A command is needed.\n${programHelp()}`);
  const command = COMMANDS.find((c) => c.name === name);
  if (!command)
    throw new Refusal(
      `"${name}" is not a known command; the nearest one is ${nearest(
        name,
        COMMANDS.map((c) => c.name),
      )}. --help lists them.`,
    );
  const parsed = parseCommand(command, rest);
  if (parsed.help) return commandHelp(command);
  const progress = createProgress(process.stderr);
  const files = parsed.files.map(loadScenario);
  let answer: Answer;
  try {
    answer = await command.run(files, parsed.values, { texts: parsed.texts, flags: parsed.flags, json: parsed.json, progress });
  } finally {
    progress.end();
  }
  if (answer.csv && parsed.flags.has("csv")) return answer.csv();
  return parsed.json ? jsonText(answer.json) : answer.text();
}

/** The program: prints its answer, or why there is none, and returns the exit code. */
export async function main(args: readonly string[]): Promise<number> {
  // a reader that has seen enough, such as head, closes the pipe
  process.stdout.on("error", (e: NodeJS.ErrnoException) => {
    if (e.code !== "EPIPE") throw e;
  });
  try {
    process.stdout.write(await run(args));
    return EXIT.done;
  } catch (e) {
    if (!(e instanceof Refusal)) throw e;
    process.stderr.write(`${e.message}\n`);
    return e.code;
  }
}
