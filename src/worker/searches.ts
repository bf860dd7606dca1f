import type { Analysis } from "../core/analysis.ts";
import { createAnswers, type LongQuestion } from "../state/answers.ts";

export interface SearchAnswer {
  analysis: Analysis;
  /** how long it took, ms */
  ms: number;
}

/** The whole answer to one load, from nothing: the same as the page's own at rest of the hand. */
export function searchOf(q: LongQuestion): SearchAnswer {
  const start = performance.now();
  const { analysis } = createAnswers(q.rival, () => q.radiusM).at(q.scenario, q.load, q.rival ? "live" : "full");
  return { analysis, ms: performance.now() - start };
}
