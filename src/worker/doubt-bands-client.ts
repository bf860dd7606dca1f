import type { Load, Scenario } from "../core/design/types.ts";
import type { CurveOptions } from "../core/studies/curve-options.ts";
import { deltaOf } from "../state/delta.ts";
import type { WorkerApi } from "./api.ts";
import type { BandsRequest, BandsTold } from "./doubt-bands.ts";
import { supervise, type Watched } from "./supervised.ts";

export interface BandsQuestion {
  scenario: Scenario;
  load: Load;
  radiusM: number;
  options: Partial<CurveOptions>;
  inHand: BandsRequest["inHand"];
}

/** Bands of first order beside the page. In hand one question at a time, the newest that waits; a hand ends what was asked at rest. */
export interface BandsClient extends Watched {
  ask(question: BandsQuestion): void;
}

const LANE = "bands";
/** rest between two answers, so that they leave the processor to the hand that drags, ms */
const BREATH_MS = 60;

export function connectBands(onAnswer: (question: BandsQuestion, told: BandsTold) => void): BandsClient {
  const work = supervise<WorkerApi>(() => new Worker(new URL("./worker.ts", import.meta.url), { type: "module" }), { restMs: BREATH_MS });
  // a whole design in every question of a drag costs more than its difference
  let sent: { to: unknown; scenario: Scenario } | null = null;
  return {
    watch: work.watch,
    ask: (question) =>
      work.ask(question.inHand ? "hand" : "rest", {
        ask: (remote, job) => {
          const { scenario, ...r } = question;
          const before = sent?.to === remote ? sent.scenario : undefined;
          sent = { to: remote, scenario };
          return remote.bandsOf(LANE, job, { ...r, scenario: deltaOf(before, scenario) }) as Promise<BandsTold | null>;
        },
        answered: (told) => told && onAnswer(question, told),
      }),
  };
}
