import { BENCH_TESTS } from "../core/bench/definitions.ts";
import { type BenchFit, type BenchResult, fitBench, takeFit } from "../core/bench/fit.ts";
import { BENCH_WORDS } from "../core/design/bench-words.ts";
import { BENCH_KINDS, type BenchKind, type BenchTest } from "../core/design/tried.ts";
import type { Scenario } from "../core/design/types.ts";
import { readBenchTest } from "../scenario/bench-file.ts";
import { parseScenario } from "../scenario/parse.ts";
import { shownName, visible } from "../scenario/words.ts";
import { formatScenario } from "../scenario/write.ts";
import type { Answer, Command, RunHelp } from "./command.ts";
import { type LoadedScenario, type LoadedText, loadScenario, refusalOf } from "./files.ts";
import { planOutput, writeOutput } from "./output.ts";
import { Refusal } from "./refusal.ts";
import { block, figures, num, plainSigns, table } from "./table.ts";
import { today } from "./today.ts";

export const fitCommand: Command = {
  name: "fit",
  about: "what a bench test tells of a design: values with their ± through the model's own laws; without TEST those kept in the file",
  files: 1,
  before: "TEST",
  numbers: [],
  texts: [
    { flag: "kind", valueName: "KIND", about: "kind of test of a table that does not tell its own", oneOf: BENCH_KINDS },
    { flag: "out", valueName: "FILE", about: "write the scenario with these values as measured, and with the test" },
  ],
  help:
    'TEST: a table (CSV) with a line of headings, such as "load (g);length (mm)", and before it lines such as "# kind: springPress" and\n' +
    `"# packingMm: 3"; or JSON as a scenario keeps a test, with "format": "wheelstay-bench-test".\n\nKinds and what may be told of their set-up:\n${kindsHelp()}`,
  run: ([loaded], _values, more) => runFit(loaded!, more),
};

function kindsHelp(): string {
  const widest = Math.max(...BENCH_KINDS.map((k) => k.length));
  return BENCH_KINDS.map((k) => `  ${k.padEnd(widest)}  ${BENCH_WORDS[k]}; ${BENCH_TESTS[k].settings.map((o) => o.key).join(", ")}`).join("\n");
}

interface Fitted {
  test: BenchTest;
  fit: BenchFit;
}

function runFit(loaded: LoadedScenario, more: RunHelp): Answer {
  const { file, scenario } = loaded;
  const { before } = more;
  const kind = more.texts["kind"] as BenchKind | undefined;
  if (kind !== undefined && before === null) throw new Refusal("--kind is given without a test; allowed with a table before the scenario.");
  const out = more.texts["out"] === undefined ? null : planOutput("out", more.texts["out"], before ? [loaded, before] : [loaded], []);
  const read = before === null ? null : testOf(before, scenario, kind);
  const tests = read ? [read.test] : scenario.bench;
  if (tests.length === 0) throw new Refusal(`${shownName(file)}: bench holds no test; allowed with a TEST before the scenario, or with tests in it.`);
  const fits = tests.map((test): Fitted => ({ test, fit: fitBench(scenario, test) }));
  // texts as they are in the file, whatever a terminal may show of them
  const written = out === null ? null : writeOutput(out, taken(loadScenario(loaded.path).scenario, fits, read !== null, out.file));
  return {
    json: {
      command: "fit",
      file,
      scenario: scenario.name,
      testFile: before?.file ?? null,
      tests: fits.map(({ test, fit }) => ({ kind: test.kind, date: test.date, note: test.note, side: test.side, setUp: test.setUp, ...fit })),
      notes: read?.notes ?? [],
      written,
    },
    text: () =>
      plainSigns(
        [
          `${scenario.name}\n`,
          ...(read?.notes ?? []).map((n) => `${n}\n`),
          ...fits.map(fitText),
          ...(written ? [`${visible(written.file)}: written, ${num(written.bytes / 1000, 0)} kB\n`] : []),
        ].join("\n"),
      ),
  };
}

function testOf(before: LoadedText, scenario: Scenario, kind: BenchKind | undefined): { test: BenchTest; notes: string[] } {
  const read = readBenchTest(before.text, before.file, scenario, kind);
  if (!read.ok) throw refusalOf(before.file, read);
  return read.value;
}

/** The scenario with what the tests told, and with the test; read again before it is written. */
function taken(scenario: Scenario, fits: readonly Fitted[], keep: boolean, file: string): string {
  const told = fits.reduce((s, { test, fit }) => takeFit(s, test, fit, today()), scenario);
  const whole = keep ? { ...told, bench: [...told.bench, ...fits.map((f) => f.test)] } : told;
  const text = formatScenario(whole);
  const again = parseScenario(text, file);
  if (!again.ok) throw refusalOf(file, again);
  return text;
}

const MOST_BAD_ROWS = 12;

function fitText({ test, fit }: Fitted): string {
  const title = `${BENCH_WORDS[test.kind]}${test.date ? `, ${test.date}` : ""}`;
  const read = fit.rows.filter((r) => r.ok === true).length;
  const bad = fit.rows.flatMap((r, i) => (r.ok === false ? [`Row ${i + 1}: ${visible(r.reason)}.`] : []));
  const body = [
    ...(test.note ? [`Note: ${visible(test.note)}`] : []),
    ...(fit.results.length > 0
      ? [table(["", "in the design", "measured", "±", "95 % range", "unit"], fit.results.map(resultRow))]
      : ["Nothing can be told yet."]),
    "",
    `${read} ${read === 1 ? "reading" : "readings"} used.`,
    ...bad.slice(0, MOST_BAD_ROWS),
    ...(bad.length > MOST_BAD_ROWS ? [`… and ${bad.length - MOST_BAD_ROWS} more rows that cannot be used.`] : []),
    ...(fit.loop ? [`Loop ${fit.loop.words}: ${figures(fit.loop.value)} ${fit.loop.unit}.`] : []),
    ...(fit.samples ? [samplesText(fit.samples, fit.results[0]?.unit ?? "")] : []),
    ...(fit.advice ? [fit.advice] : []),
    ...fit.notes,
  ];
  return block(title, body.join("\n"));
}

const samplesText = (s: NonNullable<BenchFit["samples"]>, unit: string): string =>
  `${s.n} parts: mean ${figures(s.mean)}, scatter ${figures(s.sd)} ${unit}; 95 of 100 hold ${figures(s.characteristic)} ${unit} (characteristic value, EN 1990 Annex D).`;

function resultRow(r: BenchResult): string[] {
  // as many decimals as two figures of its ± are worth
  const digits = r.sd > 0 ? Math.max(0, Math.min(6, 1 - Math.floor(Math.log10(r.sd)))) : 3;
  const n = (v: number): string => num(v, digits);
  const [low, high] = r.range95;
  return [
    `${r.words}${r.path === null ? " (told only)" : ""}`,
    r.was === null ? "none" : figures(r.was),
    n(r.value),
    n(r.sd),
    `${n(low)} to ${n(high)}`,
    r.unit,
  ];
}
