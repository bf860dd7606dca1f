import { createRandom, type Random } from "../../src/core/numerics/random.ts";

/** What a run of a fuzzer found. The same seed and count give the same cases on every machine. */
export interface FuzzReport {
  name: string;
  seed: number;
  count: number;
  /** how many cases, or parts of them, ended in which way */
  ends: Record<string, number>;
  /** broken claims, each with the seed that makes its case again with a count of 1 */
  faults: string[];
  /** faults beyond the told ones */
  more: number;
  /** most CPU time of a case, ms: how busy the machine is does not count */
  slowestMs: number;
  /** seed of the slowest case */
  slowestSeed: number;
}

export type Fuzzer = (seed: number, count: number) => Promise<FuzzReport>;

/** How a case ended, or how many of its parts ended in which way. */
type End = string | Readonly<Record<string, number>>;

/** One case: how it is made, which is not timed, and what is claimed of it: the way it ended, or a thrown error with the broken claim. */
export interface FuzzCase<T> {
  make: (random: Random, seed: number) => T;
  check: (made: T) => End | Promise<End>;
}

const FAULTS_TOLD = 20;

/** Runs cases one after the other, each from a seed of its own: `seed`, `seed` + 1, ... */
export async function fuzz<T>(name: string, seed: number, count: number, { make, check }: FuzzCase<T>): Promise<FuzzReport> {
  const report: FuzzReport = { name, seed, count, ends: {}, faults: [], more: 0, slowestMs: 0, slowestSeed: seed };
  for (let s = seed; s < seed + count; s++) {
    const made = make(createRandom(s), s);
    const start = process.cpuUsage();
    let end: End;
    try {
      end = await check(made);
    } catch (e) {
      end = "broken claim";
      if (report.faults.length < FAULTS_TOLD) report.faults.push(`${name}, seed ${s}: ${String((e as Error).stack ?? e).slice(0, 1500)}`);
      else report.more++;
    }
    const used = process.cpuUsage(start);
    const ms = (used.user + used.system) / 1000;
    if (ms > report.slowestMs) Object.assign(report, { slowestMs: ms, slowestSeed: s });
    for (const [way, n] of Object.entries(typeof end === "string" ? { [end]: 1 } : end)) report.ends[way] = (report.ends[way] ?? 0) + n;
  }
  return report;
}

export function claim(holds: boolean, words: string): asserts holds {
  if (!holds) throw new Error(words.slice(0, 1000));
}

export const pick = <T>(random: Random, list: readonly T[]): T => list[random.whole(0, list.length - 1)]!;

/** A line may repeat some letters of a file, but stays a line. */
const LINE_LETTERS = 1200;
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
const ACTING = /[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/;

/** A message for people: not empty, not long, nothing that a terminal would act on. */
export function claimLine(line: string): void {
  claim(line.length > 10 && line.length < LINE_LETTERS, `a message of ${line.length} letters: ${line}`);
  claim(!ACTING.test(line), `a message with a control letter: ${JSON.stringify(line)}`);
  claim(!/undefined|\[object|NaN(?! )/.test(line.replace(/"[^"]*"/g, "")), `a message with a word of the program: ${line}`);
}
