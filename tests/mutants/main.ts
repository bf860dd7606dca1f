import { mkdirSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { availableParallelism } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { Worker } from "node:worker_threads";
import { bundleMutants, type Mutant } from "./instrument.ts";
import { type Profile, testsFor } from "./profile.ts";
import type { Given, Told } from "./worker.ts";

/** Too dear to be asked about every mistake: hundreds of whole cars, or whole runs in time. */
const SLOW = ["core/budget/budget.test.ts", "core/equilibrium/invariants.test.ts", "motion/wild.test.ts"];
/** Tests about one mistake are asked, the cheapest first, until they took so long together, s of CPU. */
const MOST_S = 2;
/** A worker that begins no test for so long hangs in code without a switch: that, and so many times the slowest test of the first run. */
const HANG_MS = 60_000;
const HANG_TIMES = 20;
const LOOK_MS = 1000;
/** The lists are written, and a line tells where the run stands, after so many mistakes: a run that is ended early was not for nothing. */
const TELL_EVERY = 100;

const USAGE = `usage: npm run mutants -- FOLDER [--by TESTS] [--without TESTS] [--most S] [--every N] [--workers N]
  FOLDER below src, as core/limits, or files below it, as core/limits/fit.ts, with commas between; --by: folders or files below tests that judge, with commas between (the mirrored folder);
  --without: those of them that do not; --most: s of CPU of tests about one mistake, cheapest first (${MOST_S});
  --every: a sample, only each Nth mistake`;
type End = "killed" | "endless" | "survived" | "nobody" | "loading";

const under = (folder: string, place: string, ends: RegExp): string[] => {
  const path = join(folder, place);
  if (ends.test(path)) return [path];
  return readdirSync(path, { recursive: true, encoding: "utf8" })
    .map((n) => join(path, n))
    .filter((n) => ends.test(n))
    .sort();
};

/** Judges all mistakes on some workers, a new one for each that hangs. */
async function judgeAll(
  out: string,
  mutants: readonly Mutant[],
  workers: number,
  mostMs: number,
  note: (id: number, end: End, by: string) => void,
): Promise<void> {
  let profile: Profile | null = null;
  let hang = HANG_MS;
  let queue: number[] = [];
  const sort = (p: Profile): void => {
    const list = p.files.flatMap((f) => f.suites.flatMap((s) => s.tests.map((t) => ({ ms: f.ms + s.ms + t.ms, line: `${f.name}: ${t.name}` }))));
    list.sort((a, b) => b.ms - a.ms);
    writeFileSync(join(out, "tests.txt"), list.map((t) => `${t.ms.toFixed(0)} ms ${t.line}\n`).join(""));
    const tests = p.files.flatMap((f) => f.suites.flatMap((s) => s.tests));
    hang += HANG_TIMES * list[0]!.ms;
    console.log(`${tests.length} tests in ${p.files.length} files, ${(tests.reduce((s, t) => s + t.ms, 0) / 1000).toFixed(1)} s of CPU in the first run`);
    for (const [id, { leftOut }] of mutants.entries()) {
      if (leftOut) continue;
      if (testsFor(p, id).length > 0) queue.push(id);
      else note(id, p.loading[id] ? "loading" : "nobody", "");
    }
    queue = queue.reverse();
  };

  /** One worker until the first run is told, the queue is empty (false) or it hangs (true). */
  const once = (): Promise<boolean> =>
    new Promise((done, failed) => {
      const beats = new Int32Array(new SharedArrayBuffer(4));
      const w = new Worker(join(out, "worker.mjs"), { workerData: { count: mutants.length, mostMs, profile, beats } satisfies Given });
      let at = -1;
      let beat = -1;
      let since = performance.now();
      const leave = (more: boolean): void => {
        clearInterval(watch);
        w.terminate();
        done(more);
      };
      const watch = setInterval(() => {
        const now = Atomics.load(beats, 0);
        if (at < 0 || now !== beat) since = performance.now();
        beat = now;
        if (performance.now() - since < hang) return;
        note(at, "endless", "");
        leave(true);
      }, LOOK_MS);
      const next = (): void => {
        at = queue.pop() ?? -1;
        if (at < 0) leave(false);
        else w.postMessage(at);
      };
      w.on("error", failed);
      w.on("message", (t: Told) => {
        if (t.kind === "broken") failed(new Error(t.message));
        else if (t.kind === "profile") {
          profile = t.profile;
          sort(profile);
          leave(true);
        } else {
          if (t.kind === "end") note(t.id, t.end, t.by);
          next();
        }
      });
    });
  const work = async (): Promise<void> => {
    while (await once());
  };
  await once();
  await Promise.all(Array.from({ length: workers }, work));
}

/** Plants the mistakes of a folder one at a time and tells which of them no test notices. */
export async function main(args: string[]): Promise<number> {
  let options: { by?: string; without?: string; workers?: string; most?: string; every?: string };
  let place: string | undefined;
  try {
    const parsed = parseArgs({
      args,
      allowPositionals: true,
      options: { by: { type: "string" }, without: { type: "string" }, workers: { type: "string" }, most: { type: "string" }, every: { type: "string" } },
    });
    options = parsed.values;
    place = parsed.positionals[0];
  } catch {
    place = undefined;
    options = {};
  }
  if (place === undefined) {
    console.log(USAGE);
    return 1;
  }
  const without = [...SLOW, ...(options.without?.split(",") ?? [])].map((t) => join("tests", t));
  const places = place.split(",");
  const mirrored = (p: string): string => p.replace(/\/[^/]*\.ts$/, "");
  const tests = [...new Set(options.by?.split(",") ?? places.map(mirrored))]
    .flatMap((t) => under("tests", t, /\.test\.ts$/))
    .filter((t) => !without.some((w) => t.startsWith(w)));
  const out = join(".mutants", places.length > 1 ? `${mirrored(places[0]!).replaceAll("/", "-")}-some` : place.replaceAll("/", "-"));
  rmSync(out, { recursive: true, force: true });
  mkdirSync(out, { recursive: true });
  const root = process.cwd();
  const every = Number(options.every ?? 1);
  const planted = await bundleMutants(
    root,
    places.flatMap((p) => under("src", p, /\.ts$/)),
    tests,
    join(root, out),
  );
  const mutants = planted.map((m, id) => ({ ...m, leftOut: m.leftOut || id % every > 0 }));
  const ends: Record<End, [Mutant, string][]> = { killed: [], endless: [], survived: [], nobody: [], loading: [] };
  const line = ([m, by]: [Mutant, string]): string =>
    `${m.file}:${m.line}:${m.column} ${m.kind} -> ${m.replacement.replace(/\s+/g, " ").slice(0, 120)}${by && ` | ${by}`}`;
  const sorted = (list: [Mutant, string][]): string[] =>
    list.sort(([a], [b]) => (a.file === b.file ? a.line - b.line || a.column - b.column : a.file < b.file ? -1 : 1)).map(line);
  const write = (): void => {
    for (const [end, list] of Object.entries(ends)) writeFileSync(join(out, `${end}.txt`), `${sorted(list).join("\n")}\n`);
  };
  const noticed = (l: (m: Mutant) => boolean): string => {
    const n = (...which: End[]): number => which.reduce((sum, e) => sum + ends[e].filter(([m]) => l(m)).length, 0);
    const [all, seen] = [n("killed", "endless", "survived", "nobody"), n("killed", "endless")];
    return `${seen} of ${all} (${((100 * seen) / Math.max(1, all)).toFixed(1)} %; ${n("endless")} without end, ${n("nobody")} where no test goes)`;
  };
  const tellFile = (file: string): void => {
    console.log(`${file}: ${noticed((m) => m.file === file)}, after ${(process.cpuUsage().user / 1e6).toFixed(0)} s of CPU`);
    write();
  };
  let judged = 0;
  const open = new Map<string, number>();
  for (const m of mutants) if (!m.leftOut) open.set(m.file, (open.get(m.file) ?? 0) + 1);
  await judgeAll(join(root, out), mutants, Number(options.workers ?? availableParallelism()), 1000 * Number(options.most ?? MOST_S), (id, end, by) => {
    const { file } = mutants[id]!;
    ends[end].push([mutants[id]!, by]);
    open.set(file, open.get(file)! - 1);
    if (open.get(file) === 0) tellFile(file);
    if (++judged % TELL_EVERY > 0) return;
    console.log(`so far ${noticed(() => true)}`);
    write();
  });
  console.log(`${place}: ${noticed(() => true)}; ${ends.loading.length} act only while a file is loaded. Lists: ${out}/survived.txt, nobody.txt, ...`);
  return 0;
}
