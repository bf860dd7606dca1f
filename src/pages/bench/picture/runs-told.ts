import type { Scenario } from "../../../core/design/types.ts";
import type { Contradiction } from "../../../core/runs/contradictions.ts";
import type { RunsTold, StrengthTold } from "../../../core/runs/told.ts";
import { beliefWords, contradictionWords, numberWords, type RunAgainst, rangeWords, runName } from "../../../view/runs/words.ts";

/** A number that runs tell of: what is known of it without and with them, on one scale from 0 to 1. */
export interface ToldRow {
  path: string;
  words: string;
  before: string;
  after: string;
  range: string;
  /** "held in run 1 and run 3, gave in run 2" */
  by: string;
  bands: Record<"before" | "after", { low: number; at: number; high: number }>;
  /** what single runs told: from where on it held, up to where it gave */
  marks: { at: number; kind: "held" | "gave" | "exact" }[];
}

export interface RunsToldWords {
  /** what moved or became narrower by enough to be taken */
  rows: ToldRow[];
  /** what was asked of too little */
  others: string[];
  /** what gave where that was to be expected, so that it tells nothing new */
  known: string[];
  against: readonly RunAgainst[];
  /** what there is to say besides; empty: nothing */
  note: string;
  canTake: boolean;
}

/** room beside the widest band, as a share of it */
const ROOM = 0.08;

function rowOf(s: Scenario, t: StrengthTold): ToldRow {
  const { path } = t.strength;
  const [low, high] = [Math.min(t.before.low, t.after.low), Math.max(t.before.high, t.after.high)];
  const room = ROOM * (high - low || high || 1);
  const share = (v: number): number => Math.min(1, Math.max(0, (v - low + room) / (high - low + 2 * room)));
  const band = (b: StrengthTold["before"]) => ({ low: share(b.low), at: share(b.value), high: share(b.high) });
  const named = (kinds: readonly string[]): string => {
    const runs = [...new Set(t.told.filter((o) => kinds.includes(o.kind)).map((o) => o.run))];
    return runs.map((i) => runName(s.runs[i]!, i)).join(" and ");
  };
  const by = [
    ["held in ", named(["held"])],
    ["gave in ", named(["gave"])],
    ["read in ", named(["exact", "between"])],
  ] as const;
  return {
    path,
    words: numberWords(path),
    before: beliefWords(path, t.before),
    after: beliefWords(path, t.after),
    range: rangeWords(path, t.after),
    by: by.flatMap(([verb, runs]) => (runs ? [`${verb}${runs}`] : [])).join(", "),
    bands: { before: band(t.before), after: band(t.after) },
    marks: t.told.map((o) => ({ at: share(o.at), kind: o.kind === "between" ? "exact" : o.kind })),
  };
}

/** @param told null: being worked out @param contradictions null: being looked for */
export function runsToldWords(s: Scenario, told: RunsTold | null, contradictions: readonly Contradiction[] | null): RunsToldWords {
  const worth = told?.strengths.filter((t) => t.worth) ?? [];
  const dull = told?.strengths.filter((t) => t.told.length > 0 && !t.worth) ?? [];
  const open = s.runs.some((r) => !r.taken);
  const note = !open
    ? "What these runs told stands in the design."
    : told === null
      ? "Working out what they tell …"
      : worth.length === 0
        ? "They tell nothing of the parts that is not known already."
        : contradictions === null
          ? "Looking for contradictions …"
          : contradictions.length === 0
            ? "No run contradicts the model."
            : "";
  return {
    rows: worth.map((t) => rowOf(s, t)),
    others: dull.filter((t) => t.told.every((o) => o.kind === "held")).map((t) => numberWords(t.strength.path)),
    known: dull.filter((t) => t.told.some((o) => o.kind !== "held")).map((t) => numberWords(t.strength.path)),
    against: (contradictions ?? []).map((c) => contradictionWords(c, s.runs[c.run]!)),
    note,
    canTake: worth.length > 0,
  };
}
