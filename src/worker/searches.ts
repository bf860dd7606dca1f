import type { Analysis } from "../core/analysis.ts";
import { createAnswers, type LongQuestion } from "../state/answers.ts";

export interface SearchAnswer {
  analysis: Analysis;
  /** how long it took, ms */
  ms: number;
}

/** The answer to one load from nothing, as deep as it was asked for. */
export function searchOf(q: LongQuestion): SearchAnswer {
  const start = performance.now();
  const { analysis } = createAnswers(q.rival, () => q.radiusM).at(q.scenario, q.load, q.depth);
  return { analysis, ms: performance.now() - start };
}
