import { main, readCommandLine } from "../../src/cli/main.ts";
import { Refusal } from "../../src/cli/refusal.ts";
import type { Random } from "../../src/core/numerics/random.ts";
import { claim, claimLine, type Fuzzer, fuzz, pick } from "./fuzzer.ts";
import { mutateText } from "./mutate.ts";

const COMMANDS = ["analyze", "rig", "kinematics", "arm", "compare", "map", "drive", "changes", "report", "motion", "fit", "--help", "-h"];
/** Those that answer within a blink and write no file: run for good where the line can be read. */
const QUICK = new Set(["analyze", "kinematics", "arm", "compare", "drive", "fit"]);
const FILES = [
  "scenarios/heavy-forked.json",
  "scenarios/asymmetric.json",
  "tests/fixtures/spring-bench.csv",
  "nowhere.json",
  "scenarios",
  ".docs/axle.png",
  "package.json",
  "",
  "-",
  "/dev/null",
];
const OPTIONS = [
  "--lateral",
  "--bump-left",
  "--bump-right",
  "--radius",
  "--shock",
  "--jobs",
  "--points",
  "--speed",
  "--seed",
  "--hand",
  "--aim",
  "--manoeuvre",
  "--set",
  "--kind",
  "--date",
  "--csv",
  "--json",
  "--help",
  "-h",
  "-q",
  "--",
  "---",
  "--__proto__",
  "--constructor",
  "--json=1",
  "--lateral=",
  "--no-json",
  "--hold",
]; // prettier-ignore
const VALUES = [
  "0.5",
  "-0.5",
  "1e999",
  "-0",
  "NaN",
  "0x10",
  "1,5",
  " 1 ",
  "left",
  "speed",
  "curve",
  "speedMps=8",
  "speedMps=8,speedMps=9",
  "=",
  "a=b=c",
  "2026-02-31",
  "2026-11-25",
  "\u001b[31m",
  "\u009b2J\n",
  "x".repeat(3000),
  "64",
  "0.5g",
  "__proto__=1",
  "",
]; // prettier-ignore
const LETTERS = [..."-=abz019.,/ ", "\u001b", "\n", "é"];

function commandLine(random: Random): string[] {
  const args = [pick(random, COMMANDS), pick(random, FILES.slice(0, random.next() < 0.5 ? 2 : FILES.length))];
  for (let n = random.whole(0, 3); n > 0; n--) {
    args.push(pick(random, OPTIONS));
    if (random.next() < 0.7) args.push(pick(random, VALUES));
    if (random.next() < 0.15) args.push(pick(random, FILES));
  }
  return args.map((a) => (random.next() < 0.06 ? mutateText(random, a, LETTERS) : a));
}

function sink() {
  let text = "";
  const self = {
    write: (more: string, done?: (fault?: Error | null) => void): void => {
      text += more;
      done?.(null);
    },
    on: () => {},
    off: () => {},
    text: () => text,
  };
  return self;
}

type Asked = ReturnType<typeof readCommandLine>;

/** What a line asks for, or null where it is refused, which nothing but a refusal may do. */
function asked(args: readonly string[]): Asked | null {
  try {
    return readCommandLine(args);
  } catch (e) {
    claim(e instanceof Refusal, `${JSON.stringify(args)}: ${String(e)}`);
    return null;
  }
}

/** Command lines as they are mistyped. */
export const fuzzCommands: Fuzzer = (seed, count) =>
  fuzz("commands", seed, count, {
    make: commandLine,
    check: async (args) => {
      const line = asked(args);
      if (line && line.help !== null) return "help";
      if (line && !QUICK.has(line.command.name)) return "could be run";
      const out = sink();
      const err = sink();
      const code = await main(args, { out, err });
      claim([0, 1, 2].includes(code), `exit code ${code}`);
      claim((code === 0) === (err.text() === "") && (code === 0) === (out.text() !== ""), `exit code ${code}, told: ${err.text()}`);
      // a usage line or help may follow the first
      if (code !== 0) claimLine(err.text().split("\n")[0]!);
      claim(!/\n\s+at /.test(err.text()), `a stack: ${err.text()}`);
      if (out.text().startsWith("{")) JSON.parse(out.text());
      return ["answered", "refused", "no steady position"][code]!;
    },
  });
