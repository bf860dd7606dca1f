import * as Comlink from "comlink";
import { mergeSamples, type SampleQuestion, type Samples } from "../core/doubt/sample.ts";
import type { WorkerApi } from "./api.ts";
import type { SamplesAnswer } from "./samples.ts";
import { type Supervised, supervise, type Watched, type WorkFault } from "./supervised.ts";

/** Samples beside the page, parted among workers; a newer question ends the older one. */
export interface SamplesClient extends Watched {
  /** @param key comes back with the answers */
  ask(key: string, question: SampleQuestion): void;
  stop(): void;
}

export interface SamplesEar {
  /** what is known so far of all parts together */
  progress(key: string, samples: Samples): void;
  /** null: the car as it is designed does not stand */
  ended(key: string, samples: Samples | null): void;
}

const LANE = "samples";
/** More workers than that gain little and take the cores from the page. */
const MOST_WORKERS = 4;

/** Workers that are of use here: one for each core but the page's own, two at least, since a page that waits needs none. */
export const usefulWorkers = (cores: number): number => Math.min(MOST_WORKERS, Math.max(2, cores - 1));

export function connectSamples(ear: SamplesEar, workers = usefulWorkers(globalThis.navigator?.hardwareConcurrency ?? 2)): SamplesClient {
  const works: Supervised<WorkerApi>[] = Array.from({ length: workers }, () =>
    supervise<WorkerApi>(() => new Worker(new URL("./worker.ts", import.meta.url), { type: "module" })),
  );
  let asked = 0;
  const drop = (): void => {
    asked++;
    for (const work of works) work.drop(LANE, (remote) => remote.stopJob(LANE));
  };
  return {
    watch: (watcher) => watchAll(works, watcher),
    stop: drop,
    ask(key, question) {
      const mine = ++asked;
      const parts: (Samples | null)[] = works.map(() => null);
      let open = works.length;
      let standsNot = false;
      const known = (): Samples[] => parts.filter((p) => p !== null);
      works.forEach((work, index) => {
        work.ask(LANE, {
          ask: (remote, job, waits) =>
            remote.samplesOf(
              LANE,
              job,
              { question, share: { index, of: works.length } },
              Comlink.proxy((part: Samples) => {
                if (!waits() || mine !== asked) return;
                parts[index] = part;
                ear.progress(key, mergeSamples(known()));
              }),
            ) as Promise<SamplesAnswer>,
          answered: (answer) => {
            if (!answer || mine !== asked) return;
            parts[index] = answer.samples;
            standsNot ||= answer.samples === null;
            if (--open === 0) ear.ended(key, standsNot ? null : mergeSamples(known()));
            else if (answer.samples) ear.progress(key, mergeSamples(known()));
          },
        });
      });
    },
  };
}

/** One watcher of several: it hears of the first fault that lasts, and asks again where something is wrong. */
function watchAll(works: readonly Watched[], watcher: (fault: WorkFault | null) => void): void {
  const faults: (WorkFault | null)[] = works.map(() => null);
  const tell = (): void => {
    const open = faults.filter((f) => f !== null);
    watcher(
      open[0]
        ? {
            words: open[0].words,
            again: () => {
              for (const f of open) f.again();
            },
          }
        : null,
    );
  };
  works.forEach((work, i) => {
    work.watch((fault) => {
      faults[i] = fault;
      tell();
    });
  });
}
