import { parseArgs } from "node:util";
import { serveBuilt } from "../browser/serve.ts";
import { launchBrowser } from "../support/browser.ts";
import { fuzzCars } from "./cars.ts";
import { fuzzCommands } from "./commands.ts";
import { fuzzEdits, STEPS } from "./edits.ts";
import { fuzzFiles } from "./files.ts";
import type { Fuzzer, FuzzReport } from "./fuzzer.ts";
import { fuzzLinks } from "./links.ts";
import { fuzzPresses, PRESSES } from "./presses.ts";
import { fuzzSensible } from "./sensible.ts";

interface Kind {
  /** cases of a batch: about as long as a batch of the others */
  batch: number;
  /** CPU time that no case may take, ms; infinite where another program does the work */
  hangMs: number;
  start(): Promise<{ run: Fuzzer; close(): Promise<void> }>;
}

const inProcess = (run: Fuzzer) => async () => ({ run, close: async () => {} });

async function startPresses(): Promise<{ run: Fuzzer; close(): Promise<void> }> {
  const site = await serveBuilt();
  const { browser } = await launchBrowser({ webgl: false });
  return {
    run: fuzzPresses(browser, site.url),
    async close() {
      await browser.close();
      await site.close();
    },
  };
}

/** Nothing that is opened may hold anybody up; a command solves a car besides, a car is solved four times, a walk has many steps. */
const KINDS: Readonly<Record<string, Kind>> = {
  files: { batch: 1000, hangMs: 2000, start: inProcess(fuzzFiles) },
  links: { batch: 1000, hangMs: 2000, start: inProcess(fuzzLinks) },
  commands: { batch: 200, hangMs: 10_000, start: inProcess(fuzzCommands) },
  cars: { batch: 50, hangMs: 8000, start: inProcess(fuzzCars) },
  sensible: { batch: 500, hangMs: 4000, start: inProcess(fuzzSensible) },
  edits: { batch: 50, hangMs: 20_000, start: inProcess(fuzzEdits) },
  presses: { batch: 2, hangMs: Number.POSITIVE_INFINITY, start: startPresses },
};
const SEEDS = 2 ** 31;

const USAGE = `usage: npm run fuzz -- [--minutes N] [--seed N] [--only NAMES] [--count N]
  names: ${Object.keys(KINDS).join(", ")}, with commas between
  --minutes: on and on with new seeds; without it one batch of each
  --count: cases of a batch. A case of edits is a walk of ${STEPS}, one of presses has ${PRESSES}.`;

interface Total {
  cases: number;
  ends: Record<string, number>;
  broken: number;
  slow: number;
  slowestMs: number;
  slowestSeed: number;
}

const endWords = (ends: Readonly<Record<string, number>>): string =>
  Object.entries(ends)
    .map(([end, n]) => `${n} ${end}`)
    .join(", ");
const slowestWords = (t: { slowestMs: number; slowestSeed: number }): string => `slowest ${t.slowestMs.toFixed(0)} ms of CPU (seed ${t.slowestSeed})`;

function tell(r: FuzzReport, total: Total): void {
  console.log(`${r.name}: seeds ${r.seed} to ${r.seed + r.count - 1}: ${endWords(r.ends)}; ${slowestWords(r)}`);
  for (const f of r.faults) console.log(`  BROKEN ${f}`);
  if (r.more > 0) console.log(`  and ${r.more} more`);
  const hangs = r.slowestMs > KINDS[r.name]!.hangMs;
  if (hangs) console.log(`  SLOW ${r.name}, seed ${r.slowestSeed}: ${r.slowestMs.toFixed(0)} ms`);
  total.cases += r.count;
  total.broken += r.faults.length + r.more;
  total.slow += hangs ? 1 : 0;
  for (const [end, n] of Object.entries(r.ends)) total.ends[end] = (total.ends[end] ?? 0) + n;
  if (r.slowestMs > total.slowestMs) Object.assign(total, { slowestMs: r.slowestMs, slowestSeed: r.slowestSeed });
}

interface Wishes {
  names: string[];
  minutes: number;
  seed: number;
  count: number | null;
}

function readWishes(args: string[]): Wishes | string {
  const text = { type: "string" } as const;
  let given: { minutes?: string; seed?: string; only?: string; count?: string };
  try {
    given = parseArgs({ args, options: { minutes: text, seed: text, only: text, count: text } }).values;
  } catch (e) {
    return `${(e as Error).message}\n${USAGE}`;
  }
  const names = given.only?.split(",") ?? Object.keys(KINDS);
  const numbers = [given.minutes, given.seed, given.count].map((v) => (v === undefined ? 0 : Number(v)));
  if (names.some((n) => !Object.hasOwn(KINDS, n)) || numbers.some((v) => !(v >= 0))) return USAGE;
  return {
    names,
    minutes: Number(given.minutes ?? 0),
    seed: given.seed === undefined ? Math.floor(Date.now() % SEEDS) : Number(given.seed),
    count: given.count === undefined ? null : Number(given.count),
  };
}

/** Runs the fuzzers in turn and prints the seeds; `--seed S --count 1 --only NAME` makes one case again. Exit code 1 when a claim breaks. */
export async function main(args: string[]): Promise<number> {
  const wishes = readWishes(args);
  if (typeof wishes === "string") {
    console.error(wishes);
    return 1;
  }
  const until = performance.now() + wishes.minutes * 60_000;
  const running = [];
  for (const name of wishes.names) {
    const total: Total = { cases: 0, ends: {}, broken: 0, slow: 0, slowestMs: 0, slowestSeed: 0 };
    running.push({ name, total, next: wishes.seed, ...(await KINDS[name]!.start()) });
  }
  do {
    for (const one of running) {
      const count = wishes.count ?? KINDS[one.name]!.batch;
      tell(await one.run(one.next, count), one.total);
      one.next = (one.next + count) % SEEDS;
    }
  } while (performance.now() < until);
  console.log("\nin all");
  for (const { name, total, close } of running) {
    const amiss = total.broken + total.slow > 0 ? `; ${total.broken} BROKEN, ${total.slow} SLOW` : "";
    console.log(`${name}: ${total.cases} cases: ${endWords(total.ends)}; ${slowestWords(total)}${amiss}`);
    await close();
  }
  return running.every(({ total }) => total.broken + total.slow === 0) ? 0 : 1;
}
