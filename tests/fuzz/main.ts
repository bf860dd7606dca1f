import { parseArgs } from "node:util";
import { fuzzCars } from "./cars.ts";
import { fuzzCommands } from "./commands.ts";
import { fuzzEdits } from "./edits.ts";
import { fuzzFiles } from "./files.ts";
import type { Fuzzer, FuzzReport } from "./fuzzer.ts";
import { fuzzLinks } from "./links.ts";

const FUZZERS: Readonly<Record<string, Fuzzer>> = { files: fuzzFiles, links: fuzzLinks, commands: fuzzCommands, cars: fuzzCars, edits: fuzzEdits };
/** cases of each fuzzer without other wishes, and of a batch of a long run */
const BATCH = 1000;
/** nothing that is opened may hold anybody up for longer; a command besides solves a car */
const HANG_MS: Readonly<Record<string, number>> = { files: 2000, links: 2000, commands: 10_000, cars: 10_000, edits: 20_000 };
const SEEDS = 2 ** 31;

const USAGE = `usage: npm run fuzz -- [--minutes N] [--seed N] [--only NAMES] [--count N]
  names: ${Object.keys(FUZZERS).join(", ")}, with commas between; --count: cases of each (without it ${BATCH}); --minutes: on and on with new seeds`;

function tell(r: FuzzReport): boolean {
  const ends = Object.entries(r.ends).map(([end, n]) => `${n} ${end}`);
  console.log(`${r.name}: seeds ${r.seed} to ${r.seed + r.count - 1}: ${ends.join(", ")}; slowest ${r.slowestMs.toFixed(0)} ms of CPU (seed ${r.slowestSeed})`);
  for (const f of r.faults) console.log(`  BROKEN ${f}`);
  if (r.more > 0) console.log(`  and ${r.more} more`);
  const hangs = r.slowestMs > HANG_MS[r.name]!;
  if (hangs) console.log(`  SLOW ${r.name}, seed ${r.slowestSeed}: ${r.slowestMs.toFixed(0)} ms`);
  return r.faults.length === 0 && !hangs;
}

/** Runs the fuzzers and prints the seeds; `--seed S --count 1 --only NAME` makes one case again. Exit code 1 when a claim breaks. */
export async function main(args: string[]): Promise<number> {
  const text = { type: "string" } as const;
  let given: { minutes?: string; seed?: string; only?: string; count?: string };
  try {
    given = parseArgs({ args, options: { minutes: text, seed: text, only: text, count: text } }).values;
  } catch (e) {
    console.error(`${(e as Error).message}\n${USAGE}`);
    return 1;
  }
  const names = given.only?.split(",") ?? Object.keys(FUZZERS);
  const numbers = [given.minutes, given.seed, given.count].map((v) => (v === undefined ? 0 : Number(v)));
  if (names.some((n) => !Object.hasOwn(FUZZERS, n)) || numbers.some((v) => !(v >= 0))) {
    console.error(USAGE);
    return 1;
  }
  const until = performance.now() + Number(given.minutes ?? 0) * 60_000;
  const count = Number(given.count ?? BATCH);
  let seed = given.seed === undefined ? Math.floor(Date.now() % SEEDS) : Number(given.seed);
  let well = true;
  do {
    for (const name of names) well = tell(await FUZZERS[name]!(seed, count)) && well;
    seed = (seed + count) % SEEDS;
  } while (performance.now() < until);
  return well ? 0 : 1;
}
