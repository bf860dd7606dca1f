import { cornerOf } from "../../core/design/sides.ts";
import type { Run } from "../../core/design/tried.ts";
import type { Scenario } from "../../core/design/types.ts";
import { withRuns } from "../../core/runs/take.ts";
import { rangeOf } from "../../scenario/ranges.ts";
import { chosenTrack } from "../../state/road.ts";
import type { Store } from "../../state/store.ts";
import { h } from "../../ui/dom.ts";
import type { PageHelp } from "../../ui/page.ts";
import { todayHere } from "../../ui/today.ts";
import { createMemo } from "../../view/marks.ts";
import { outcomeWords, paceWords } from "../../view/runs/words.ts";
import { createRunForm } from "./panels/run-form.ts";
import { createRunList } from "./panels/run-list.ts";
import { createRunsTold } from "./panels/runs-told.ts";
import { dayWords, drivenWords } from "./picture/run-words.ts";
import { runsToldWords } from "./picture/runs-told.ts";
import { createRunsAnswers } from "./runs-answers.ts";
import { freshRun, withNewRun, withoutRun, withRunAt } from "./state/run-edits.ts";
import { type BenchView, benchSlice } from "./state/slice.ts";
import type { BenchPart } from "./tests-part.ts";

/** The log of runs: a list of days, and the one that is open. */
export function createRunsPart(store: Store, help: PageHelp): BenchPart {
  const memo = createMemo();
  const view = (): BenchView => benchSlice.of(store.get().view);
  const setView = (patch: Partial<BenchView>): void => store.setView(benchSlice.patched(store.get().view, patch));
  /** The run that is open: one that is told just now, or a kept one. */
  const open = (s: Scenario): { run: Run; at: number | null; paced: boolean } | null => {
    const { draft, run } = view();
    if (run === null) return null;
    if (run === "draft") return draft && { run: draft.run, at: null, paced: draft.paced };
    const kept = s.runs[run];
    return kept ? { run: kept, at: run, paced: true } : null;
  };
  const act = (name: string, change: (s: Scenario) => Scenario, merge?: string): string | null => {
    const next = (d: ReturnType<Store["settled"]>): typeof d => ({ ...d, a: change(d.a) });
    const refusal = merge ? store.actMerged(merge, name, next) : store.act(name, next);
    help.say(refusal ?? name);
    return refusal;
  };
  const runName = (run: Run): string => `run of ${dayWords(run.date)}`;

  const list = createRunList({
    choose: (at) => {
      setView({ part: "runs", run: at });
      update();
    },
    add: () => {
      const { doc, view: v } = store.get();
      const hand = doc.load.lateralG < 0 ? "right" : "left";
      const draft = view().draft ?? { run: freshRun(todayHere(), chosenTrack(doc.a, v.road).radiusM, hand), paced: false };
      setView({ part: "runs", run: "draft", draft });
      update();
    },
  });
  const form = createRunForm({
    set(run, what, paced = false) {
      const now = open(store.settled().a);
      if (!now) return;
      const { at } = now;
      if (at === null) setView({ draft: { run, paced: paced || now.paced } });
      else act(`${runName(run)}: ${what}`, (s) => withRunAt(s, at, run), `runs.${at}.${what}`);
      update();
    },
    keep() {
      const { draft } = view();
      if (!draft?.paced) return;
      if (act(`${runName(draft.run)} kept`, (s) => withNewRun(s, draft.run)) === null) setView({ draft: null, run: store.settled().a.runs.length - 1 });
      update();
    },
    remove() {
      const now = open(store.settled().a);
      if (now?.at === null) setView({ draft: null, run: null });
      else if (now) {
        const { at } = now;
        if (act(`${runName(now.run)} removed`, (s) => withoutRun(s, at)) === null) setView({ run: null });
      }
      update();
    },
  });
  const start = h(
    "section",
    { class: "bench-start", "aria-label": "what runs are for" },
    h("h2", {}, "What your runs say"),
    h(
      "p",
      {},
      "A run that held says that the parts take at least what it asked of them; a run in which something gave says that this part takes no more. Tell of each run, also of those that held: where, how fast, and what gave.",
    ),
  );
  const told = createRunsTold({
    toMap: () => store.setView({ page: "speedMap" }),
    take() {
      const answer = answers.of(store.settled().a);
      if (answer) act("take what the runs tell", (s) => withRuns(s, answer.told, todayHere(), rangeOf));
      update();
    },
  });
  const answers = createRunsAnswers(() => {
    if (isSeen()) update();
  }, told.stopped);
  const isSeen = (): boolean => store.get().view.page === "bench" && view().part === "runs";
  let seen = false;
  store.subscribe(() => {
    if (seen && !isSeen()) answers.rest();
    seen = isSeen();
  });
  const el = h("div", { class: "bench-main" }, start, form.el, told.el);

  function update(): void {
    const { doc } = store.get();
    const now = open(doc.a);
    list.update({
      rows: doc.a.runs.map((run, at) => ({
        at,
        day: dayWords(run.date),
        words: paceWords(run),
        outcome: outcomeWords(run),
        broke: run.gave.length > 0,
        taken: run.taken,
      })),
      run: now?.at ?? null,
      drafting: now !== null && now.at === null,
    });
    const answer = doc.a.runs.length > 0 ? answers.of(doc.a) : null;
    told.update(
      doc.a.runs.length === 0 ? null : memo("told", [doc.a, answer], () => runsToldWords(doc.a, answer?.told ?? null, answer?.contradictions ?? null)),
    );
    start.hidden = now !== null;
    form.el.hidden = now === null;
    if (!now) return;
    form.update({
      key: String(now.at ?? "draft"),
      run: now.run,
      paced: now.paced,
      kept: now.at !== null,
      title: now.at === null ? "A run that is not kept yet" : `Run of ${dayWords(now.run.date)}`,
      paceWords: drivenWords(now.run),
      ownGrip: cornerOf(doc.a, "right").tyre.friction,
    });
  }
  return { list: list.el, el, update };
}
