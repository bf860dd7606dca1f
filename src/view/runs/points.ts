import type { Run } from "../../core/design/tried.ts";
import { drivenIn } from "../../core/runs/pace.ts";
import type { Hand } from "../../core/studies/curve-options.ts";
import { mpsToKmh } from "../../core/units.ts";
import { outcomeWords, paceWords, runName } from "./words.ts";

/** A run on the speed map. */
export interface RunPoint {
  /** index of the run */
  run: number;
  radiusM: number;
  kmh: number;
  gave: boolean;
  /** what it told stands in the design already */
  taken: boolean;
  words: string;
}

/** The runs of one hand as points of the map. */
export const runPoints = (runs: readonly Run[], hand: Hand): RunPoint[] =>
  runs.flatMap((run, i): RunPoint[] => {
    if (run.hand !== hand) return [];
    const kmh = mpsToKmh(drivenIn(run).speedMps);
    const words = `${runName(run, i)}: ${paceWords(run)}, ${outcomeWords(run)}`;
    return [{ run: i, radiusM: run.radiusM, kmh, gave: run.gave.length > 0, taken: run.taken, words }];
  });
