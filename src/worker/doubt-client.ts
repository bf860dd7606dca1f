import * as Comlink from "comlink";
import type { Load, Scenario } from "../core/design/types.ts";
import type { CurveOptions } from "../core/studies/curve-options.ts";
import { deltaOf } from "../state/delta.ts";
import type { WorkerApi } from "./api.ts";
import type { BandsRequest, BandsTold } from "./doubt-bands.ts";
import type { SamplesRequest, SamplesTold } from "./doubt-samples.ts";
import { supervise, type Watched } from "./supervised.ts";

export interface BandsQuestion {
  scenario: Scenario;
  load: Load;
  radiusM: number;
  options: Partial<CurveOptions>;
  inHand: BandsRequest["inHand"];
}

/** Doubts beside the page, in one worker: bands of first order come in between the worlds of a sample. */
export interface DoubtClient extends Watched {
  /** In hand one question at a time, the newest that waits; a hand ends what was asked at rest. */
  bands(question: BandsQuestion): void;
  /** A newer sample ends the older one, whose answers are dropped. */
  sample(request: SamplesRequest, onTold: (told: SamplesTold) => void, ended: (complete: boolean) => void): void;
  endSample(): void;
}

const BANDS = "bands";
const SAMPLE = "sample";
/** rest between two answers, so that they leave the processor to the hand that drags, ms */
const BREATH_MS = 60;

export function connectDoubt(onBands: (question: BandsQuestion, told: BandsTold) => void): DoubtClient {
  const work = supervise<WorkerApi>(() => new Worker(new URL("./worker.ts", import.meta.url), { type: "module" }), { restMs: BREATH_MS });
  // a whole design in every question of a drag costs more than its difference
  let sent: { to: unknown; scenario: Scenario } | null = null;
  let newestSample = 0;
  const endSample = (): void => {
    newestSample++;
    work.drop(SAMPLE, (remote) => remote.stopJob(SAMPLE));
  };
  return {
    watch: work.watch,
    bands: (question) =>
      work.ask(question.inHand ? "hand" : "rest", {
        ask: (remote, job) => {
          const { scenario, ...r } = question;
          const before = sent?.to === remote ? sent.scenario : undefined;
          sent = { to: remote, scenario };
          return remote.bandsOf(BANDS, job, { ...r, scenario: deltaOf(before, scenario) }) as Promise<BandsTold | null>;
        },
        answered: (told) => told && onBands(question, told),
      }),
    sample(request, onTold, ended) {
      endSample();
      const mine = newestSample;
      work.ask(SAMPLE, {
        ask: (remote, job) =>
          remote.samplesOf(
            SAMPLE,
            job,
            request,
            Comlink.proxy((told: SamplesTold) => {
              if (mine === newestSample) onTold(told);
            }),
          ),
        answered: (complete) => {
          if (mine === newestSample) ended(complete);
        },
      });
    },
    endSample,
  };
}
