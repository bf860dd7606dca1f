import type { Load, Scenario } from "../core/design/types.ts";
import type { CurveOptions } from "../core/studies/curve-options.ts";
import { deltaOf } from "../state/delta.ts";
import type { WorkerApi } from "./api.ts";
import type { BandsRequest, BandsTold } from "./doubt-bands.ts";
import type { SamplesTold, ToldRequest } from "./doubt-told.ts";
import { supervise, type Watched } from "./supervised.ts";

export interface BandsQuestion {
  scenario: Scenario;
  load: Load;
  radiusM: number;
  options: Partial<CurveOptions>;
  inHand: BandsRequest["inHand"];
}

/** Doubts beside the page: bands of first order, and what a sample says. */
export interface DoubtClient extends Watched {
  /** In hand one question at a time, the newest that waits; a hand ends what was asked at rest. */
  bands(question: BandsQuestion): void;
  tell(request: ToldRequest, onTold: (told: SamplesTold) => void): void;
}

const BANDS = "bands";
/** rest between two answers, so that they leave the processor to the hand that drags, ms */
const BREATH_MS = 60;

export function connectDoubt(onBands: (question: BandsQuestion, told: BandsTold) => void = () => undefined): DoubtClient {
  const work = supervise<WorkerApi>(() => new Worker(new URL("./worker.ts", import.meta.url), { type: "module" }), { restMs: BREATH_MS });
  // a whole design in every question of a drag costs more than its difference
  let sent: { to: unknown; scenario: Scenario } | null = null;
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
    tell: (request, onTold) =>
      work.ask("told", {
        ask: (remote) => remote.toldOf(request) as Promise<SamplesTold | null>,
        answered: (told) => told && onTold(told),
      }),
  };
}
