import { availableParallelism } from "node:os";
import { isMainThread, parentPort, Worker, workerData } from "node:worker_threads";
import type { Scenario } from "../core/design/types.ts";
import { type PairedQuestion, type PairedSamples, samplePaired } from "../core/doubt/paired.ts";
import { type SampleQuestion, type SampleShare, type Samples, sampleWorlds } from "../core/doubt/sample.ts";
import { toldAs, toTheEnd } from "../core/steps.ts";
import { type ChangesOptions, type ChangesReport, type ChangesShare, studyChanges } from "../core/studies/changes.ts";
import { type SpeedMap, type SpeedMapOptions, speedMap } from "../core/studies/speed-map.ts";
import { rangeOf } from "../scenario/ranges.ts";

/**
 * Long studies as tasks that other cores may take. The program is one bundle: a worker is this same bundle started again, told by its data
 * that it is one.
 */
export interface MapTask {
  kind: "map";
  scenario: Scenario;
  options: Partial<SpeedMapOptions>;
}
export interface ChangesTask {
  kind: "changes";
  scenario: Scenario;
  options: Partial<ChangesOptions>;
  share: ChangesShare;
}
interface SampleTask {
  kind: "sample";
  question: SampleQuestion;
  share: SampleShare;
}
interface PairedTask {
  kind: "paired";
  question: PairedQuestion;
  share: SampleShare;
}
export type Task = MapTask | ChangesTask | SampleTask | PairedTask;
type AnyResult = SpeedMap | ChangesReport | Samples | PairedSamples | null;
export type Result<T extends Task> = T extends MapTask
  ? SpeedMap
  : T extends SampleTask
    ? Samples | null
    : T extends PairedTask
      ? PairedSamples | null
      : ChangesReport | null;

/** Works on a task, yielding the share that is done. */
function* work(task: Task): Generator<number, AnyResult> {
  if (task.kind === "map") return yield* toldAs(speedMap(task.scenario, task.options), (step) => step.done);
  if (task.kind === "changes") return yield* toldAs(studyChanges(task.scenario, task.options, task.share), (step) => step.done / step.total);
  const share = (_: unknown, worlds: number): number => (worlds * task.share.of) / task.question.samples;
  return yield* task.kind === "sample"
    ? toldAs(sampleWorlds(task.question, rangeOf, task.share), share)
    : toldAs(samplePaired(task.question, rangeOf, task.share), share);
}

const finish = (task: Task, onProgress: (share: number) => void): AnyResult => toTheEnd(work(task), onProgress);

const MARK = "wheelstay-task-worker";

type Answer = { share: number } | { result: AnyResult };

// in a worker this file waits for tasks; nothing else of the program runs there
if (!isMainThread && workerData === MARK)
  parentPort?.on("message", (task: Task) => {
    parentPort?.postMessage({ result: finish(task, (share) => parentPort?.postMessage({ share } satisfies Answer)) } satisfies Answer);
  });

/** How many tasks at a time are of use: more than there are cores only wait for each other, and each repeats what all parts share. */
export const usefulJobs = (asked = 1, cores = availableParallelism()): number => Math.min(asked, cores);

/** Results in the order of the tasks; `jobs` of them are worked on at a time. One job needs no worker. */
export async function runTasks<T extends Task>(tasks: readonly T[], jobs: number, onProgress: (share: number) => void): Promise<Result<T>[]> {
  const shares = tasks.map(() => 0);
  const tell = (i: number, share: number): void => {
    shares[i] = share;
    onProgress(shares.reduce((a, b) => a + b, 0) / tasks.length);
  };
  const results: AnyResult[] = new Array(tasks.length).fill(null);
  let next = 0;
  const oneWorker = async (): Promise<void> => {
    const worker = new Worker(new URL(import.meta.url), { workerData: MARK });
    try {
      while (next < tasks.length) {
        const i = next++;
        results[i] = await ask(worker, tasks[i]!, (share) => tell(i, share));
        tell(i, 1);
      }
    } finally {
      await worker.terminate();
    }
  };
  const count = Math.min(jobs, tasks.length);
  if (count > 1) await Promise.all(Array.from({ length: count }, oneWorker));
  else
    tasks.forEach((task, i) => {
      results[i] = finish(task, (share) => tell(i, share));
      tell(i, 1);
    });
  return results as Result<T>[];
}

function ask(worker: Worker, task: Task, onProgress: (share: number) => void): Promise<AnyResult> {
  return new Promise((done, failed) => {
    const heard = (m: Answer): void => {
      if ("share" in m) {
        onProgress(m.share);
        return;
      }
      leave();
      done(m.result);
    };
    const broke = (e: Error): void => {
      leave();
      failed(e);
    };
    const ended = (code: number): void => broke(new Error(`a worker of the study ended with ${code} and no result`));
    const leave = (): void => {
      worker.off("message", heard);
      worker.off("exit", ended);
      worker.off("error", broke);
    };
    worker.on("message", heard);
    worker.on("error", broke);
    worker.on("exit", ended);
    worker.postMessage(task);
  });
}

/** The whole study of changes, cut into as many parts as there are jobs. */
export const changesTasks = (scenario: Scenario, options: Partial<ChangesOptions>, jobs: number): ChangesTask[] =>
  Array.from({ length: jobs }, (_, index) => ({ kind: "changes", scenario, options, share: { index, of: jobs } }));

/** Shares of one sample, as many as there are jobs. */
export const sampleShares = (jobs: number): SampleShare[] => Array.from({ length: jobs }, (_, index) => ({ index, of: jobs }));
