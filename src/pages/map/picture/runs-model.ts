import type { Scenario } from "../../../core/design/types.ts";
import type { Contradiction } from "../../../core/runs/contradictions.ts";
import { worthTaking } from "../../../core/runs/take.ts";
import type { RunsTold } from "../../../core/runs/told.ts";
import { fixed } from "../../../view/format.ts";
import type { SafeWords } from "../../../view/map/words.ts";
import { beliefWords, contradictionWords, numberWords, outcomeWords, paceWords, type RunAgainst, rangeWords, runName } from "../../../view/runs/words.ts";

/** What the map's column tells of the runs. */
export interface RunsModel {
  /** "3 runs, 1 of them taken" */
  count: string;
  /** safe speed with what the runs tell; empty: they tell nothing new, or it is being worked out */
  safe: string;
  /** what each number would become */
  values: readonly { name: string; now: string; range: string }[];
  against: readonly RunAgainst[];
  /** what keeps them from being told; empty: nothing */
  note: string;
  canTake: boolean;
  /** all of them, one in a row */
  list: readonly string[];
}

/**
 * @param told what the runs tell; null: being worked out @param contradictions null: being looked for
 * @param now safe speed of the design at the chosen curve @param known the same with the runs
 */
export function runsModel(
  s: Scenario,
  told: RunsTold | null,
  contradictions: readonly Contradiction[] | null,
  now: SafeWords | null,
  known: SafeWords | null,
): RunsModel | null {
  if (s.runs.length === 0) return null;
  const taken = s.runs.filter((r) => r.taken).length;
  const worth = told ? worthTaking(told) : [];
  const open = s.runs.length - taken;
  // of what is shown, so that the sum comes out
  const more = known && now ? Number(fixed(known.kmh, 1)) - Number(fixed(now.kmh, 1)) : 0;
  const way = Math.abs(more) < 0.05 ? "as before" : `${fixed(Math.abs(more), 1)}\u2009km/h ${more < 0 ? "less" : "more"}`;
  return {
    count: `${s.runs.length === 1 ? "1 run" : `${s.runs.length} runs`}${taken === 0 ? "" : taken === s.runs.length ? ", all taken" : `, ${taken} taken`}`,
    safe: worth.length > 0 && known ? `With what the runs tell it is safe below ${known.number}\u2009km/h, ${way}.` : "",
    values: worth.map(({ strength: { path }, before, after }) => ({
      name: numberWords(path),
      now: `${beliefWords(path, after)} instead of ${beliefWords(path, before)}`,
      range: `95\u2009% range ${rangeWords(path, after)}`,
    })),
    against: (contradictions ?? []).map((c) => contradictionWords(c, s.runs[c.run]!)),
    note:
      open === 0
        ? ""
        : told === null
          ? "working out what they tell"
          : worth.length === 0
            ? "They tell nothing that is not known already."
            : contradictions === null
              ? "looking for contradictions"
              : "",
    canTake: worth.length > 0,
    list: s.runs.map((run, i) => `${runName(run, i)}: ${paceWords(run)}, ${outcomeWords(run)}${run.taken ? "; taken" : ""}`),
  };
}
