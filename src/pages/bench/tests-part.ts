import { BENCH_TESTS, newBenchTest } from "../../core/bench/definitions.ts";
import { fitBench, takeFit } from "../../core/bench/fit.ts";
import { pasted } from "../../core/bench/rows.ts";
import { withSetting } from "../../core/bench/set-up.ts";
import { capital } from "../../core/capital.ts";
import { BENCH_WORDS } from "../../core/design/bench-words.ts";
import type { BenchKind, BenchTest } from "../../core/design/tried.ts";
import type { Scenario } from "../../core/design/types.ts";
import { chosenTrack } from "../../state/road.ts";
import type { Store } from "../../state/store.ts";
import { h, setText } from "../../ui/dom.ts";
import { createMeasureNext } from "../../ui/measure-next.ts";
import type { PageHelp } from "../../ui/page.ts";
import { createStopped } from "../../ui/stopped.ts";
import { todayHere } from "../../ui/today.ts";
import { createMemo } from "../../view/marks.ts";
import { createMeasureAnswers } from "./measure-answers.ts";
import { createFitChart } from "./panels/fit-chart.ts";
import { createKinds } from "./panels/kinds.ts";
import { createPaste } from "./panels/paste.ts";
import { createResults } from "./panels/results.ts";
import { createSetUp } from "./panels/set-up.ts";
import { createSettings } from "./panels/settings.ts";
import { createStart } from "./panels/start.ts";
import { createTable } from "./panels/table.ts";
import { fitTold, kindFacts, rowNotes } from "./picture/test-words.ts";
import { askedSettings, editName, measuresSides, standsIn, withoutTest, withSide, withTest } from "./state/edits.ts";
import { lastOf, testAt } from "./state/kept.ts";
import { type BenchView, benchSlice } from "./state/slice.ts";
import { filledRows, type Place, shownColumns, tableFault, withCell, withoutRow, withPasted, withRow } from "./state/table.ts";

/** empty rows that a table shows at the least */
const LEAST_ROWS = 6;

export interface BenchPart {
  /** the list beside what is open, and what is open */
  list: HTMLElement;
  el: HTMLElement;
  update(): void;
}

/** The bench tests: a list of kinds, and the one that is open with its set-up, table, fit and result. */
export function createTestsPart(store: Store, help: PageHelp): BenchPart {
  const memo = createMemo();
  /** counts what was chosen by hand: the table begins anew with it */
  let chosen = 0;
  let paste = { open: false, text: "", told: "", fault: false };

  const view = (): BenchView => benchSlice.of(store.get().view);
  const setView = (patch: Partial<BenchView>): void => store.setView(benchSlice.patched(store.get().view, patch));
  const fresh = (s: Scenario, kind: BenchKind): BenchTest => ({ ...newBenchTest(s, kind), date: todayHere() });
  const open = (s: Scenario, kind: BenchKind): { test: BenchTest; at: number | null } =>
    testAt(s, kind, view().test) ?? memo("fresh", [s, kind, todayHere()], () => ({ test: fresh(s, kind), at: null }));

  /** Changes the open test, which is kept from its first change on. */
  const edit = (what: string, change: (test: BenchTest, s: Scenario) => BenchTest, merged = false): string | null => {
    const { kind } = view();
    if (kind === null) return null;
    const at = testAt(store.settled().a, kind, view().test)?.at ?? null;
    const next = (d: ReturnType<Store["settled"]>): typeof d => {
      const { test } = open(d.a, kind);
      return { ...d, a: withTest(d.a, at, change(test, d.a)) };
    };
    const name = editName(kind, what);
    const refusal = merged ? store.actMerged(`bench.${kind}.${what}`, name, next) : store.act(name, next);
    if (refusal === null && at === null) setView({ test: store.settled().a.bench.length - 1 });
    update();
    return refusal;
  };
  const setRows = (what: string, change: (rows: string[][], columns: number) => string[][], merged = false): string | null =>
    edit(what, (t) => ({ ...t, rows: change(t.rows, BENCH_TESTS[t.kind].columns.length) }), merged);

  const choose = (kind: BenchKind | null, test: number | null): void => {
    chosen++;
    paste = { open: false, text: "", told: "", fault: false };
    setView({ part: "tests", kind, test });
    update();
    window.scrollTo(0, 0);
    el.scrollTo(0, 0);
  };

  /** Puts a pasted table in from a cell on; what cannot be taken stays to be seen with its reason. */
  const putIn = (at: Place, text: string): void => {
    const { kind } = view();
    if (kind === null) return;
    const s = store.settled().a;
    const { test, at: index } = open(s, kind);
    const read = pasted(text, test);
    const lines = text.split(/\r?\n|\r/).filter((l) => l.trim() !== "").length;
    const next = withPasted(test, at, read, lines > filledRows(read.rows), BENCH_TESTS[kind].columns.length);
    const others = s.bench.filter((_, i) => i !== index).map((t) => t.rows);
    const count = `${read.rows.length} ${read.rows.length === 1 ? "row" : "rows"}`;
    const refusal = tableFault(next.rows, others) ?? edit(`${count} pasted`, (t) => ({ ...t, ...next }));
    paste =
      refusal !== null
        ? { open: true, text, told: `${refusal} Nothing was put in; what was pasted stands below.`, fault: true }
        : { open: false, text, told: [`${count} put in from row ${at.row + 1} on.`, ...read.notes].join(" "), fault: false };
    help.say(paste.told);
    update();
  };
  const isTable = (text: string, test: BenchTest): boolean => {
    if (!/[\t\n\r;]/.test(text.trim())) return false;
    const { rows } = pasted(text, test);
    return rows.length > 1 || (rows[0]?.filter((c) => c.trim() !== "").length ?? 0) > 1;
  };

  const kinds = createKinds({ choose });
  const stopped = createStopped();
  const answers = createMeasureAnswers(() => update(), stopped.update);
  const toTest = (kind: BenchKind): void => choose(kind, lastOf(store.settled().a, kind));
  const next = createMeasureNext({ open: toTest }, "h3");
  next.el.append(stopped.el);
  const start = createStart({ choose: toTest, next: next.el });
  const setUp = createSetUp();
  const settings = createSettings({
    set: (key, value, words) => edit(words, (t, s) => withSetting(s, t, key, value)),
    side: (side) => edit("part of which side", (t, s) => withSide(s, t, side)),
    date: (date) => edit("the day", (t) => ({ ...t, date })),
    note: (note) => edit("note", (t) => ({ ...t, note }), true),
  });
  const table = createTable({
    type: (at, text) => setRows(`row ${at.row + 1}, column ${at.column + 1}`, (rows, columns) => withCell(rows, at, text, columns), true),
    unit: (column, unit) => edit(`unit of column ${column + 1}`, (t) => ({ ...t, units: t.units.map((u, c) => (c === column ? unit : u)) })),
    paste(at, text) {
      const { kind } = view();
      if (kind === null || !isTable(text, open(store.settled().a, kind).test)) return false;
      putIn(at, text);
      return true;
    },
    addRow: (at) => setRows(`row ${at + 1} added`, (rows, columns) => withRow(rows, at, columns)),
    removeRow: (at) => setRows(`row ${at + 1} removed`, (rows) => withoutRow(rows, at)),
    undo() {
      help.say(`undone: ${store.undo() ?? "nothing"}`);
      update();
    },
    redo() {
      help.say(`done again: ${store.redo() ?? "nothing"}`);
      update();
    },
    openPaste() {
      paste = { ...paste, open: !paste.open };
      update();
      if (paste.open) pastePanel.focus();
    },
  });
  const pastePanel = createPaste({
    put(text) {
      const { kind } = view();
      if (kind !== null) putIn({ row: open(store.settled().a, kind).test.rows.length, column: 0 }, text);
    },
    type(text) {
      paste = { ...paste, text };
    },
    open() {
      paste = { ...paste, open: true };
      update();
      pastePanel.focus();
    },
    close() {
      paste = { open: false, text: "", told: "", fault: false };
      update();
    },
  });
  const chart = createFitChart();
  const results = createResults({
    put() {
      const { kind } = view();
      if (kind === null) return;
      const name = `${BENCH_WORDS[kind]}: put into the design`;
      const refusal = store.act(name, (d) => {
        const { test } = open(d.a, kind);
        return { ...d, a: takeFit(d.a, test, fitBench(d.a, test), todayHere()) };
      });
      help.say(refusal ?? name);
      update();
    },
  });

  const title = h("h2");
  const tells = h("p", { class: "bench-tells" });
  const another = h(
    "button",
    { type: "button", class: "bench-act", "data-act": "another-test", onclick: () => choose(view().kind, null) },
    "another such test",
  );
  const remove = h(
    "button",
    {
      type: "button",
      class: "bench-act",
      "data-act": "remove-test",
      onclick() {
        const { kind, test } = view();
        if (kind === null || testAt(store.settled().a, kind, test) === null || test === null) return;
        store.act(editName(kind, "removed"), (d) => ({ ...d, a: withoutTest(d.a, test) }));
        choose(kind, lastOf(store.settled().a, kind));
      },
    },
    "remove this test",
  );
  const body = h(
    "article",
    { class: "bench-test" },
    h("header", { class: "bench-head" }, title, h("p", { class: "bench-acts" }, another, remove), tells),
    setUp.el,
    settings.el,
    h(
      "div",
      { class: "bench-work" },
      h("section", { class: "bench-read", "aria-label": "what you read" }, h("h3", {}, "What you read"), table.el, pastePanel.el),
      h("section", { class: "bench-found", "aria-label": "the fit" }, h("h3", {}, "The fit"), chart.el),
      results.el,
    ),
  );
  const el = h("div", { class: "bench-main" }, start.el, body);

  function update(): void {
    const { doc } = store.get();
    const { kind } = view();
    const facts = memo("facts", [doc.a.bench, doc.a.origins, doc.a], () => kindFacts(doc.a));
    start.el.hidden = kind !== null;
    body.hidden = kind === null;
    const now = kind === null ? null : open(doc.a, kind);
    kinds.update({ rows: facts, kind, test: now?.at ?? null });
    if (kind === null || now === null) {
      start.update({ rows: facts });
      const { told, why } = answers.of(doc.a, doc.load, chosenTrack(doc.a, store.get().view.road).radiusM);
      next.update(told, why);
      return;
    }
    const { test } = now;
    const def = BENCH_TESTS[kind];
    const fit = memo("fit", [doc.a, test], () => fitBench(doc.a, test));
    setText(title, capital(BENCH_WORDS[kind]));
    setText(tells, def.tells);
    another.hidden = now.at === null;
    remove.hidden = now.at === null;
    setUp.update(def);
    settings.update({ kind, test, settings: askedSettings(doc.a, test), pitchMm: doc.a.holePitchMm, sides: measuresSides(doc.a, test) });
    table.update({
      key: `${kind}.${chosen}`,
      columns: def.columns,
      wide: shownColumns(test.rows, def.columns.length),
      units: test.units,
      rows: test.rows,
      notes: memo("notes", [fit], () => rowNotes(fit)),
      noteHead: fit.curves.length > 0 ? `left over${fit.axes.y.unit ? `, ${fit.axes.y.unit}` : ""}` : "",
      least: Math.max(LEAST_ROWS, def.leastRows + 1),
    });
    pastePanel.update(paste);
    chart.update({ fit, told: memo("told", [fit], () => fitTold(fit)) });
    results.update({ fit, origins: doc.a.origins, stands: memo("stands", [fit, doc.a], () => standsIn(doc.a, fit)) });
  }

  return { list: kinds.el, el, update };
}
