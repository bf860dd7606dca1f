import { BENCH_TESTS } from "../../../core/bench/definitions.ts";
import type { BenchFit } from "../../../core/bench/fit.ts";
import { readRows } from "../../../core/bench/rows.ts";
import { capital } from "../../../core/capital.ts";
import { BENCH_WORDS } from "../../../core/design/bench-words.ts";
import type { BenchKind, BenchTest } from "../../../core/design/tried.ts";
import { BENCH_KINDS } from "../../../core/design/tried.ts";
import type { Origin, Scenario } from "../../../core/design/types.ts";
import { signed } from "../../../view/format.ts";
import { howOf } from "../../../view/origin-words.ts";
import { filledRows } from "../state/table.ts";

/** What the list of tests, the table and the drawing of the fit say. */

/** How a value is known that may stand in a material known as a whole. */
export function originAt(origins: Scenario["origins"], path: string): Origin | undefined {
  const whole = /^(.*\.material)\./.exec(path)?.[1];
  return origins[path] ?? (whole === undefined ? undefined : origins[whole]);
}

/** How the values that a kind of test measures are known: a guess among them is told first; null: there are none. */
function knownOf(s: Scenario, kind: BenchKind): "guess" | "entered" | "measured" | null {
  const hows = BENCH_TESTS[kind].paths(s, "both", { setUp: {} }).map((p) => howOf(originAt(s.origins, p)));
  if (hows.length === 0) return null;
  return hows.includes("guess") ? "guess" : hows.every((h) => h === "measured") ? "measured" : "entered";
}

const KNOWN_WORDS = { guess: "still a guess", entered: "entered", measured: "measured" } as const;

/** "7 rows"; "6 of 7 rows" where not each can be read. */
const rowsWords = (s: Scenario, test: BenchTest): string => {
  const n = filledRows(test.rows);
  const read = readRows(s, test).filter((r) => r.ok).length;
  return `${read < n ? `${read} of ` : ""}${n} ${n === 1 ? "row" : "rows"}`;
};

const SIDE_WORDS = { both: "", left: "left, ", right: "right, " } as const;

export interface KindFacts {
  kind: BenchKind;
  words: string;
  minutes: number;
  /** how the values that it measures are known, the least known first; null: there is none in this design */
  how: "guess" | "entered" | "measured" | null;
  /** the same in words */
  known: string;
  /** its kept tests, by their place in the design */
  kept: { at: number; words: string }[];
}

export const kindFacts = (s: Scenario): KindFacts[] =>
  BENCH_KINDS.map((kind) => {
    const how = knownOf(s, kind);
    return {
      kind,
      words: capital(BENCH_WORDS[kind]),
      minutes: BENCH_TESTS[kind].minutes,
      how,
      known: how ? KNOWN_WORDS[how] : "",
      kept: s.bench.flatMap((t, at) =>
        t.kind === kind ? [{ at, words: `done ${t.date ?? "on a day not told"}: ${SIDE_WORDS[t.side]}${rowsWords(s, t)}` }] : [],
      ),
    };
  });

/** Decimals for what is left over beside each row. */
const leftDigits = (fit: Pick<BenchFit, "rows">): number => {
  const most = Math.max(0, ...fit.rows.map((r) => (r.ok && Number.isFinite(r.residual) ? Math.abs(r.residual) : 0)));
  return most > 0 ? Math.min(5, Math.max(0, 1 - Math.floor(Math.log10(most)))) : 2;
};

/** What stands behind each row of the table. */
export function rowNotes(fit: Pick<BenchFit, "rows">): ({ ok: boolean; words: string } | null)[] {
  const digits = leftDigits(fit);
  return fit.rows.map((r) => {
    if (r.ok === null) return null;
    if (!r.ok) return { ok: false, words: r.reason };
    return { ok: true, words: Number.isFinite(r.residual) ? signed(r.residual, digits) : "" };
  });
}

/** The drawing in words. */
export function fitTold(fit: BenchFit): string {
  const good = fit.rows.filter((r) => r.ok);
  const { x, y } = fit.axes;
  const most = Math.max(0, ...good.map((r) => (r.ok && Number.isFinite(r.residual) ? Math.abs(r.residual) : 0)));
  const lines = fit.curves.length > 0 ? `${fit.curves.map((c) => c.words).join(", ")}; left over at most ${most.toPrecision(2)} ${y.unit}` : "no line yet";
  return `${good.length} points, ${y.words} over ${x.words}: ${lines}`;
}
