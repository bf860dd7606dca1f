import type { Scenario } from "../core/design/types.ts";
import { type Contradiction, contradictionsOf } from "../core/runs/contradictions.ts";
import { type RunsTold, runsTold } from "../core/runs/told.ts";
import { toldAs } from "../core/steps.ts";
import { rangeOf } from "../scenario/ranges.ts";
import { runJob } from "./jobs.ts";

/** What the runs of a design tell; contradictions come later, null until then. */
export interface RunsAnswer {
  told: RunsTold;
  contradictions: readonly Contradiction[] | null;
}

function* read(s: Scenario): Generator<RunsAnswer, RunsAnswer> {
  const told = runsTold(s);
  yield { told, contradictions: null };
  const contradictions = yield* toldAs(contradictionsOf(s, told, rangeOf), () => ({ told, contradictions: null }));
  return { told, contradictions };
}

/** What the runs of a design tell, first without contradictions; false when something newer was asked meanwhile. */
export async function runsOf(lane: string, job: number, scenario: Scenario, onAnswer: (answer: RunsAnswer) => void): Promise<boolean> {
  let first = true;
  const answer = await runJob(lane, job, read(scenario), (a) => {
    if (first) onAnswer(a);
    first = false;
  });
  if (answer) onAnswer(answer);
  return answer !== null;
}
