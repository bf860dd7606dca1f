import { BENCH_KINDS, type BenchKind, type Run } from "../../../core/design/tried.ts";
import { runSchema } from "../../../scenario/bench.ts";
import { type Fields, flagOr, numberOr, oneOf } from "../../../state/read.ts";
import { defineSlice } from "../../../state/slice.ts";

/** A run that is being told and not kept yet; its pace counts once it is told. */
export interface RunDraft {
  run: Run;
  paced: boolean;
}

/** How the bench is looked at. */
export interface BenchView {
  part: "tests" | "runs";
  /** the kind of test that is open; null: none */
  kind: BenchKind | null;
  /** which of the design's kept tests is open; null: one that nothing was typed in yet */
  test: number | null;
  /** which of the design's runs is open, or the one that is told just now; null: none */
  run: number | "draft" | null;
  draft: RunDraft | null;
}

const INITIAL: BenchView = { part: "tests", kind: null, test: null, run: null, draft: null };

function draftOf(raw: unknown): RunDraft | null {
  if (typeof raw !== "object" || raw === null) return null;
  const { run, paced } = raw as Fields;
  const read = runSchema.safeParse(run);
  return read.success ? { run: read.data, paced: flagOr(paced, false) } : null;
}

const indexOr = (raw: unknown): number | null => {
  const n = numberOr(raw, null, 0, 1e6);
  return n !== null && Number.isInteger(n) ? n : null;
};

export const benchSlice = defineSlice<BenchView>("bench", INITIAL, (raw: Fields) => ({
  part: oneOf(raw.part, ["tests", "runs"] as const, "tests"),
  kind: oneOf(raw.kind, BENCH_KINDS, null),
  test: indexOr(raw.test),
  run: raw.run === "draft" ? "draft" : indexOr(raw.run),
  draft: draftOf(raw.draft),
}));
