import { LIMIT_NAMES } from "../../src/core/analysis.ts";
import { BENCH_TESTS, newBenchTest } from "../../src/core/bench/definitions.ts";
import { fitBench, takeFit } from "../../src/core/bench/fit.ts";
import { pasted } from "../../src/core/bench/rows.ts";
import { BENCH_KINDS, type BenchTest, HUB_FEELS, type Run } from "../../src/core/design/tried.ts";
import { SIDES } from "../../src/core/design/types.ts";
import type { Random } from "../../src/core/numerics/random.ts";
import { drivenIn } from "../../src/core/runs/pace.ts";
import { fitPicture } from "../../src/pages/bench/picture/fit-picture.ts";
import { fitTold, kindFacts, rowNotes } from "../../src/pages/bench/picture/test-words.ts";
import { askedSettings, measuresSides, standsIn, withoutTest, withSide, withTest } from "../../src/pages/bench/state/edits.ts";
import { lastOf, testAt } from "../../src/pages/bench/state/kept.ts";
import { freshRun, paceOf, partsOf, toldBy, withGiven, withNewRun, withoutRun, withRunAt } from "../../src/pages/bench/state/run-edits.ts";
import { cellFault, tableFault, withCell, withoutRow, withPasted, withRow } from "../../src/pages/bench/state/table.ts";
import { type Edit, numberFor } from "./desk.ts";
import { claim, pick } from "./fuzzer.ts";

const TODAY = "2026-11-26";
/** What people type into cells, and what nobody should. */
const TYPED = [
  "0",
  "-1",
  "−2,5",
  "1e9",
  "",
  " ",
  "abc",
  "12 mm",
  "0.5 kg",
  "3 holes",
  "NaN",
  "Infinity",
  "1,234.5",
  "🛞",
  "=A1+B2",
  "x".repeat(24),
  "-0",
  "1 200",
] as const;
const SHEETS = [
  "load (g)\tsag (mm)\n0\t0\n100\t0.4\n200\t0.9\n300\t1.2",
  "0;0\n0,5;1,2\n1,0;2,3\n1,5;3,6\n2,0;4,9",
  "1,2,3,4,5,6,7,8",
  "\n\n\n",
  "load\tremark\n100\tcreaked, and so I stopped here at once",
  "85\n88\n79\n91\n84",
  "a\tb\nc\td",
] as const;

const cell = (random: Random): string => (random.next() < 0.6 ? (random.between(-5, 400) * (random.next() < 0.5 ? 1 : 0.01)).toFixed(2) : pick(random, TYPED));

/** Readings of a kind of test that may well stand. */
function readings(random: Random, test: BenchTest): string[][] {
  const n = random.whole(1, 8);
  return Array.from({ length: n }, (_, i) =>
    BENCH_TESTS[test.kind].columns.map((_c, c) => (100 * (i + 1) * (c === 0 ? 1 : 0.01) + random.between(0, 3)).toFixed(1)),
  );
}

/** Everything that the bench does with its tests: what is typed stays, however it reads; a result goes in or is refused with its sentence. */
export const benchTests: Edit = ({ random, store }) => {
  const kind = pick(random, BENCH_KINDS);
  const a = store.settled().a;
  const now = testAt(a, kind, random.next() < 0.8 ? lastOf(a, kind) : null);
  const test = now?.test ?? newBenchTest(a, kind);
  const columns = BENCH_TESTS[kind].columns.length;
  const put = (what: string, next: BenchTest): string | null => store.act(what, (d) => ({ ...d, a: withTest(d.a, now?.at ?? null, next) }));
  const some = random.next();
  if (some < 0.2) put("readings", { ...test, rows: readings(random, test) });
  else if (some < 0.4) {
    const at = { row: random.whole(0, 12), column: random.whole(0, columns - 1) };
    const text = random.next() < 0.1 ? "9".repeat(random.whole(20, 40)) : cell(random);
    const full = a.bench.length >= 60 && !now;
    const refusal = put("cell", { ...test, rows: withCell(test.rows, at, text, columns) });
    claim((refusal === null) === (cellFault(text) === null) || full || refusal === null, `a cell refused without need: ${refusal}`);
  } else if (some < 0.5) {
    const at = { row: random.whole(0, 5), column: random.whole(0, columns - 1) };
    const text = random.next() < 0.2 ? `${"1\t2\n".repeat(random.whole(900, 1100))}` : pick(random, SHEETS);
    const next = withPasted(test, at, pasted(text, test), random.next() < 0.5, columns);
    const others = a.bench.filter((_, i) => i !== now?.at).map((t) => t.rows);
    const fault = tableFault(next.rows, others);
    const refusal = put("paste", { ...test, ...next });
    if (fault === null && (now || a.bench.length < 60)) claim(refusal === null, `a table refused without need: ${refusal}`);
    else claim(refusal !== null, `a table that is too much passed: ${fault}`);
  } else if (some < 0.55) put("row", { ...test, rows: withRow(test.rows, random.whole(0, 4), columns) });
  else if (some < 0.6) put("no row", { ...test, rows: withoutRow(test.rows, random.whole(0, 4)) });
  else if (some < 0.65) put("side", withSide(a, test, pick(random, ["both", ...SIDES] as const)));
  else if (some < 0.75) {
    const o = pick(random, BENCH_TESTS[kind].settings);
    const range = { min: o.min ?? -1e6, max: o.max ?? 1e6 };
    put("setting", { ...test, setUp: { ...test.setUp, [o.key]: o.options ? pick(random, Object.keys(o.options)) : numberFor(random, range, range) } });
  } else if (some < 0.8) {
    const c = random.whole(0, columns - 1);
    const unit = pick(random, [...BENCH_TESTS[kind].columns[c]!.units, "furlong"]);
    put("unit", { ...test, units: test.units.map((u, i) => (i === c ? unit : u)) });
  } else if (some < 0.82) put("day", { ...test, date: pick(random, [TODAY, null, "2026-13-40"]) });
  else if (some < 0.9) store.act("result", (d) => ({ ...d, a: takeFit(d.a, test, fitBench(d.a, test), TODAY) }));
  else if (now) store.act("removed", (d) => ({ ...d, a: withoutTest(d.a, now.at) }));

  // what the page shows of it: nothing throws, whatever was typed
  const s = store.settled().a;
  const shown = testAt(s, kind, lastOf(s, kind))?.test ?? test;
  const fit = fitBench(s, shown);
  claim(fit.rows.length === shown.rows.length, `${fit.rows.length} rows of a fit for ${shown.rows.length}`);
  claim(
    rowNotes(fit).every((note) => note?.ok !== false || note.words.length > 5),
    "a bad row without its reason",
  );
  claim(!/NaN|Infinity|undefined/.test(JSON.stringify(fitPicture(fit, 400, 300)) + fitTold(fit)), "no number in the drawing of a fit");
  askedSettings(s, shown);
  measuresSides(s, shown);
  standsIn(s, fit);
  claim(kindFacts(s).length === BENCH_KINDS.length, "kinds are missing");
};

function someRun(random: Random): Run {
  const run = freshRun(pick(random, [TODAY, "2026-02-30"]), numberFor(random, { min: 1, max: 20 }, { min: 0.1, max: 1000 }), pick(random, SIDES));
  const by = pick(random, ["speed", "lap", "g"] as const);
  const offered = { speed: { min: 5, max: 40 }, lap: { min: 2, max: 20 }, g: { min: 0, max: 2 } }[by];
  const allowed = { speed: { min: 0.1, max: 300 }, lap: { min: 0.1, max: 3600 }, g: { min: 0, max: 5 } }[by];
  return { ...run, pace: paceOf(by, numberFor(random, offered, allowed)) };
}

/** Everything that is done with the log of runs. */
export const runs: Edit = ({ random, store }) => {
  const { runs: now } = store.settled().a;
  const at = random.whole(0, Math.max(0, now.length - 1));
  const run = now[at];
  if (!run || random.next() < 0.4) {
    store.act("run", (d) => ({ ...d, a: withNewRun(d.a, someRun(random)) }));
    return;
  }
  const set = (next: Run): void => void store.actMerged(`runs.${at}`, "run", (d) => ({ ...d, a: withRunAt(d.a, at, next) }));
  const some = random.next();
  if (some < 0.3) {
    const limit = pick(random, LIMIT_NAMES);
    set(withGiven(run, limit, random.next() < 0.7, { side: pick(random, [null, ...SIDES]), at: pick(random, [null, ...partsOf(limit)]) }));
  } else if (some < 0.5) {
    const by = pick(random, ["speed", "lap", "g"] as const);
    claim(
      store.actMerged(`runs.${at}`, "pace", (d) => ({ ...d, a: withRunAt(d.a, at, { ...run, pace: toldBy(run, by) }) })) === null,
      "the same pace is refused",
    );
    claim(Number.isFinite(drivenIn(run).lateralG), "a run without a cornering");
  } else if (some < 0.6)
    set({
      ...run,
      hub: pick(random, [null, { celsius: numberFor(random, { min: 20, max: 90 }, { min: -40, max: 300 }) }, ...HUB_FEELS.map((felt) => ({ felt }))]),
    });
  else if (some < 0.7) set({ ...run, grip: pick(random, [null, numberFor(random, { min: 0.3, max: 1.5 }, { min: 0.05, max: 3 })]) });
  else if (some < 0.8)
    set({
      ...run,
      minutes: pick(random, [null, numberFor(random, { min: 1, max: 30 }, { min: 0.02, max: 600 })]),
      bumpMm: numberFor(random, { min: 0, max: 10 }, { min: 0, max: 60 }),
      note: "x".repeat(random.whole(0, 150)),
    });
  else store.act("run removed", (d) => ({ ...d, a: withoutRun(d.a, at) }));
};
