import { alike } from "../../core/design/alike.ts";
import type { Run } from "../../core/design/tried.ts";
import type { Scenario } from "../../core/design/types.ts";
import { carId } from "../../state/car-id.ts";
import type { StoppedModel } from "../../ui/stopped.ts";
import type { RunsAnswer } from "../../worker/runs.ts";
import { connectStudies, type StudiesClient } from "../../worker/studies-client.ts";

/** a hand that goes on is not kept waiting by it, ms */
const QUIET_MS = 400;

/** A run without what is only noted of it. */
const driven = (runs: readonly Run[]): readonly unknown[] => runs.map(({ date: _d, note: _n, ...run }) => run);

/** The same car with its values known alike, driven alike: its runs tell the same. */
const same = (a: Scenario, b: Scenario): boolean => a === b || (carId(a) === carId(b) && alike(a.origins, b.origins) && alike(driven(a.runs), driven(b.runs)));

export interface RunsAnswers {
  /** what a design's runs tell, asked for when it is not known; null: being worked out */
  of(scenario: Scenario): RunsAnswer | null;
  /** nobody looks any more */
  rest(): void;
}

/** What runs tell, worked out beside the page once the hand rests. */
export function createRunsAnswers(changed: () => void, stopped: (model: StoppedModel | null) => void): RunsAnswers {
  let client: StudiesClient | null = null;
  let asked: Scenario | null = null;
  let answered: { scenario: Scenario; answer: RunsAnswer } | null = null;
  let timer = 0;
  const ask = (scenario: Scenario): void => {
    if (!client) {
      client = connectStudies();
      client.watch(stopped);
    }
    asked = scenario;
    client.runs("runs", scenario, (answer) => {
      answered = { scenario, answer };
      changed();
    });
  };
  return {
    of(scenario) {
      if (!(asked && same(asked, scenario))) {
        window.clearTimeout(timer);
        timer = window.setTimeout(() => ask(scenario), QUIET_MS);
      }
      return answered && same(answered.scenario, scenario) ? answered.answer : null;
    },
    rest() {
      window.clearTimeout(timer);
      client?.stop("runs");
      asked = answered?.answer.contradictions ? answered.scenario : null;
    },
  };
}
