import { parentPort, workerData } from "node:worker_threads";
import { files } from "virtual:tests";
import fc from "fast-check";
import { type Suite, suitesOf, type Test, testsOf } from "./collector.ts";
import { Forgetful, loading, mutants } from "./switch.ts";

/** What a piece passed through in the first run: every mistake that lies there, how much of the code, how long in ms of CPU. */
export interface Piece {
  name: string;
  seen: Uint8Array;
  passes: number;
  ms: number;
}
export interface Profile {
  files: (Piece & { suites: (Piece & { tests: Piece[] })[] })[];
  /** what runs while files are loaded */
  loading: number[];
}
export type Told =
  | { kind: "profile"; profile: Profile }
  | { kind: "ready" }
  | { kind: "end"; id: number; end: "killed" | "endless" | "survived"; by: string }
  | { kind: "broken"; message: string };
export interface Given {
  count: number;
  profile: Profile | null;
  /** grows with every test that begins */
  beats: Int32Array;
}

/** Room for a mistake that makes work without making it endless: so many times the passes of the first run, and so many more. */
const WORK_TIMES = 5;
const WORK_MORE = 50_000;

const { count, profile, beats } = workerData as Given;
const tell = (t: Told): void => parentPort!.postMessage(t);
// a failing case need not be made smaller
fc.configureGlobal({ seed: 20_261_125, endOnFailure: true });

let seen = new Uint8Array(count);
let passes = 0;
mutants.over = (...ids) => {
  mutants.left = 0;
  passes++;
  for (const id of ids) seen[id] = 1;
};

async function noted<T>(name: string, run: () => T): Promise<[Piece, Awaited<T>]> {
  seen = new Uint8Array(count);
  passes = 0;
  mutants.left = 0;
  Forgetful.forget();
  const start = process.cpuUsage();
  const result = await run();
  return [{ name, seen, passes, ms: process.cpuUsage(start).user / 1000 }, result];
}

async function firstRun(): Promise<Profile> {
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
  return { files: all, loading: [...loading] };
}

class Endless extends Error {}

/** A test that passes where a mistake lies. */
interface Asked {
  file: number;
  suite: number;
  test: number;
  ms: number;
}

/** How many mistakes a test has noticed so far, by its place. */
const noticed = new Map<string, number>();
const placeOf = (a: Asked): string => `${a.file} ${a.suite} ${a.test}`;

/** First those that notice much for their time. */
function testsFor(p: Profile, id: number): Asked[] {
  const out: Asked[] = [];
  for (const [file, f] of p.files.entries())
    for (const [suite, s] of f.suites.entries())
      for (const [test, t] of s.tests.entries()) if (f.seen[id] || s.seen[id] || t.seen[id]) out.push({ file, suite, test, ms: f.ms + s.ms + t.ms });
  const price = (a: Asked): number => a.ms / (1 + (noticed.get(placeOf(a)) ?? 0));
  return out.sort((a, b) => price(a) - price(b));
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
    for (asked of testsFor(p, id)) {
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
