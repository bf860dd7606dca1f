import { parentPort, workerData } from "node:worker_threads";
import { files } from "virtual:tests";
import fc from "fast-check";
import { type Suite, suitesOf, type Test, testsOf } from "./collector.ts";
import { type Asked, type Piece, type Profile, testsFor } from "./profile.ts";
import { Forgetful, mutants, seen } from "./switch.ts";

export type Told =
  | { kind: "profile"; profile: Profile }
  | { kind: "ready" }
  | { kind: "end"; id: number; end: "killed" | "endless" | "survived"; by: string }
  | { kind: "broken"; message: string };
export interface Given {
  count: number;
  /** tests about a mistake are asked until they took so long together in the first run, at least one */
  mostMs: number;
  profile: Profile | null;
  /** grows with every test that begins */
  beats: Int32Array;
}

/** Room for a mistake that makes work without making it endless: so many times the passes of the first run, and so many more. */
const WORK_TIMES = 5;
const WORK_MORE = 50_000;

const { count, mostMs, profile, beats } = workerData as Given;
const tell = (t: Told): void => parentPort!.postMessage(t);
// a failing case need not be made smaller
fc.configureGlobal({ seed: 20_261_125, endOnFailure: true });

async function noted<T>(name: string, run: () => T): Promise<[Piece, Awaited<T>]> {
  seen.fill(0);
  mutants.left = Number.MAX_SAFE_INTEGER;
  Forgetful.forget();
  const start = process.cpuUsage();
  const result = await run();
  return [{ name, seen: seen.slice(0, count), passes: Number.MAX_SAFE_INTEGER - mutants.left, ms: process.cpuUsage(start).user / 1000 }, result];
}

async function firstRun(): Promise<Profile> {
  const loading = seen.slice(0, count);
  const all: Profile["files"] = [];
  for (const file of files) {
    const [ofFile, suites] = await noted(file.name, () => suitesOf(file.run));
    const told = { ...ofFile, suites: [] as Profile["files"][number]["suites"] };
    for (const suite of suites) {
      const [ofSuite, tests] = await noted(suite.name, () => testsOf(suite));
      const pieces: Piece[] = [];
      for (const t of tests) {
        const [piece] = await noted(t.name, t.run).catch((e: unknown) => {
          throw new Error(`${file.name}: ${t.name}: ${String((e as Error).stack ?? e)}`);
        });
        pieces.push(piece);
      }
      told.suites.push({ ...ofSuite, tests: pieces });
    }
    all.push(told);
  }
  return { files: all, loading };
}

class Endless extends Error {}

/** How many mistakes a test has noticed so far, by its place. */
const noticed = new Map<string, number>();
const placeOf = (a: Asked): string => `${a.file} ${a.suite} ${a.test}`;

/** First those that notice much for their time. */
function inOrder(all: Asked[]): Asked[] {
  const price = (a: Asked): number => a.ms / (1 + (noticed.get(placeOf(a)) ?? 0));
  return all.sort((a, b) => price(a) - price(b));
}

/** The tests ask one after another until one fails. */
async function judge(p: Profile, id: number): Promise<Told> {
  let endless = false;
  mutants.over = () => {
    endless = true;
    throw new Endless();
  };
  mutants.on = id;
  Forgetful.forget();
  const ofFile = new Map<number, Suite[]>();
  const ofSuite = new Map<Suite, Test[]>();
  let by = "";
  let asked: Asked | null = null;
  const bounded = async <T>(piece: Piece, run: () => T): Promise<Awaited<T>> => {
    by = piece.name;
    mutants.left = WORK_TIMES * piece.passes + WORK_MORE;
    Atomics.add(beats, 0, 1);
    const result = await run();
    if (endless) throw new Endless();
    return result;
  };
  try {
    let spent = 0;
    for (asked of inOrder(testsFor(p, id))) {
      spent += asked.ms;
      if (spent > mostMs && spent > asked.ms) break;
      const { file, suite, test } = asked;
      const f = p.files[file]!;
      const s = f.suites[suite]!;
      const suites: Suite[] = ofFile.get(file) ?? (await bounded(f, () => suitesOf(files[file]!.run)));
      ofFile.set(file, suites);
      const tests: Test[] = ofSuite.get(suites[suite]!) ?? (await bounded(s, () => testsOf(suites[suite]!)));
      ofSuite.set(suites[suite]!, tests);
      await bounded(s.tests[test]!, tests[test]!.run);
    }
    return { kind: "end", id, end: "survived", by: "" };
  } catch {
    if (asked) noticed.set(placeOf(asked), (noticed.get(placeOf(asked)) ?? 0) + 1);
    return { kind: "end", id, end: endless ? "endless" : "killed", by };
  } finally {
    mutants.on = -1;
  }
}

try {
  const known = profile ?? (await firstRun());
  tell(profile ? { kind: "ready" } : { kind: "profile", profile: known });
  parentPort!.on("message", async (id: number) => tell(await judge(known, id)));
} catch (e) {
  tell({ kind: "broken", message: String((e as Error).stack ?? e) });
}
