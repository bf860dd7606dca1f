import { buildBench } from "../core/analyze.ts";
import { tracksOf } from "../core/cornering.ts";
import { plainRun } from "../core/design/tried.ts";
import type { Scenario } from "../core/design/types.ts";
import { LIMITS } from "../core/limits/records.ts";
import { type Contradiction, contradictionsOf } from "../core/runs/contradictions.ts";
import { withRuns, worthTaking } from "../core/runs/take.ts";
import { type RunsTold, runsTold } from "../core/runs/told.ts";
import { readPace } from "../core/runs/typed-pace.ts";
import { toTheEnd } from "../core/steps.ts";
import { type SafeSpeed, safeSpeedOf } from "../core/studies/safe-speed.ts";
import { mpsToKmh } from "../core/units.ts";
import { rangeOf } from "../scenario/ranges.ts";
import { CAUTIONS } from "../view/cautions.ts";
import { beliefWords, contradictionWords, numberWords, outcomeWords, rangeWords, toldWords } from "../view/runs/words.ts";
import { cautionsText } from "./cautions.ts";
import { type Answer, type Command, HANDS, type RunHelp, type TextOption } from "./command.ts";
import type { LoadedScenario } from "./files.ts";
import { Refusal } from "./refusal.ts";
import { block, num, plainSigns, table } from "./table.ts";

const HELD: TextOption = {
  flag: "held",
  valueName: "RUN",
  about: "what one more run would tell in which all held: '20 km/h on 6 m', 'lap 14.2 s on a circle of 3 m', '0.6 g'; without a circle on the first track",
};

export const logCommand: Command = {
  name: "log",
  about: "the runs of a scenario file: what each asked of the parts, what holding and giving tell of them, safe speed before and with them",
  files: 1,
  numbers: [],
  texts: [HELD],
  help: "Runs stand in the file's list `runs`. Those that were taken into the design already are listed and count no more. Ranges are 95 %; nothing is written.",
  run: ([loaded], _values, more) => runLog(loaded!, more),
};

interface SpeedAnswer {
  radiusM: number;
  track: string | null;
  before: { speedKmh: number; lateralG: number; gives: string | null };
  with: { speedKmh: number; lateralG: number; gives: string | null };
}

/** Of both hands the worse. */
function worseHand(s: Scenario, radii: readonly number[], step: () => void): SafeSpeed[] {
  const bench = buildBench(s);
  return radii.map((radiusM) => {
    step();
    return HANDS.map((hand) => safeSpeedOf(bench, radiusM, { hand })).reduce((w, x) => (x.speedMps < w.speedMps ? x : w));
  });
}

function speedsOf(s: Scenario, known: Scenario, step: (share: number) => void): SpeedAnswer[] {
  const radii = [...new Set([...tracksOf(s).map((t) => t.radiusM), ...s.runs.map((r) => r.radiusM)])].sort((a, b) => a - b);
  let done = 0;
  const all = known === s ? radii.length : 2 * radii.length;
  const tick = (): void => step(done++ / all);
  const before = worseHand(s, radii, tick);
  const after = known === s ? before : worseHand(known, radii, tick);
  const answer = (p: SafeSpeed) => ({ speedKmh: mpsToKmh(p.speedMps), lateralG: p.lateralG, gives: p.limit?.name ?? p.end?.limit ?? null });
  return radii.map((radiusM, i) => ({
    radiusM,
    track: s.tracks.find((t) => t.radiusM === radiusM)?.name ?? null,
    before: answer(before[i]!),
    with: answer(after[i]!),
  }));
}

function allContradictions(s: Scenario, told: RunsTold, more: RunHelp): Contradiction[] {
  return toTheEnd(contradictionsOf(s, told, rangeOf), (share) => more.progress.at(0.2 + 0.4 * share, "of the log, runs against the model"));
}

/** The design with one more run, left-hand on a smooth road, in which all held. */
function withHeld(s: Scenario, text: string | undefined): Scenario {
  if (text === undefined) return s;
  const read = readPace(text);
  if (!read.ok) throw new Refusal(`--${HELD.flag}: ${read.message}.`);
  const run = plainRun(read.radiusM ?? tracksOf(s)[0]!.radiusM, "left", read.pace);
  return { ...s, runs: [...s.runs, { ...run, note: `told by --${HELD.flag}` }] };
}

function runLog({ file, scenario: written }: LoadedScenario, more: RunHelp): Answer {
  const scenario = withHeld(written, more.texts[HELD.flag]);
  more.progress.at(0, "of the log, loads of the runs");
  const told = runsTold(scenario);
  const contradictions = allContradictions(scenario, told, more);
  // the day is that of taking it into the design, which is not done here
  const known = withRuns(scenario, told, null, rangeOf);
  const speeds = speedsOf(scenario, known, (share) => more.progress.at(0.6 + 0.4 * share, "of the log, safe speeds"));
  const tells = (i: number) => told.strengths.flatMap(({ strength, told: of }) => of.filter((t) => t.run === i).map((t) => ({ strength, t })));
  return {
    json: {
      command: "log",
      file,
      scenario: scenario.name,
      runs: scenario.runs.map((run, i) => {
        const { driven, noHold, limits } = told.demands[i]!;
        return {
          ...run,
          speedKmh: mpsToKmh(driven.speedMps),
          lateralG: driven.lateralG,
          lateralShare: driven.share,
          counted: told.counted.includes(i),
          noSteadyPosition: noHold?.message ?? null,
          firstByModel: limits[0] ? { limit: limits[0].name, wheel: limits[0].wheel, utilization: limits[0].utilization } : null,
          tells: tells(i).map(({ strength, t }) => ({ path: strength.path, kind: t.kind, at: t.at, high: t.high ?? null, share: t.share })),
        };
      }),
      strengths: told.strengths.map(({ strength, before, after, alone, worth, told: of }) => ({
        ...strength,
        runs: of.map((t) => t.run),
        before,
        after,
        byRunsAlone: alone,
        worth,
      })),
      speeds,
      contradictions: contradictions.map((c) => ({ ...c, words: contradictionWords(c, scenario.runs[c.run]!) })),
      cautions: CAUTIONS,
    },
    text: () =>
      scenario.runs.length === 0
        ? `${scenario.name}\nNo runs stand in this file. Each goes into its list "runs", with the curve's radius, how fast, and what gave.\n`
        : plainSigns(
            [
              `${scenario.name}\n`,
              block("Runs", runTable(scenario, told)),
              block("What each run tells of the part nearest to giving", tellTable(scenario, told)),
              block("What the runs tell of the parts, 95 % ranges", strengthTable(told)),
              block("Highest speed at which nothing gives, the worse hand", speedTable(speeds)),
              ...(contradictions.length > 0 ? [block("Runs against the model", contradictionText(contradictions, scenario))] : []),
              `${cautionsText()}\n`,
            ].join("\n"),
          ),
  };
}

function runTable(s: Scenario, told: RunsTold): string {
  return table(
    ["run", "day", "what happened", "", "radius, m", "km/h", "g", "+- of it"],
    s.runs.map((run, i) => {
      const { driven, noHold } = told.demands[i]!;
      const note = noHold ? "the model finds no steady position there" : told.counted.includes(i) ? "" : "taken already";
      const asked = [num(run.radiusM, 2), num(mpsToKmh(driven.speedMps), 1), num(driven.lateralG, 3), `${num(100 * driven.share, 0)} %`];
      return [String(i + 1), run.date ?? "", outcomeWords(run), note, ...asked];
    }),
    4,
  );
}

/** Of each run that counts the thing that comes nearest to what the part takes, and whatever gave. */
function tellTable(s: Scenario, told: RunsTold): string {
  const rows = told.counted.flatMap((i) => {
    const all = told.strengths.flatMap(({ strength, told: of }) =>
      of.filter((t) => t.run === i).map((t) => ({ strength, t, near: strength.limit === "hubHeat" ? 0 : t.at / strength.value })),
    );
    const nearest = [...all].sort((a, b) => b.near - a.near)[0];
    const shown = all.filter((a) => a === nearest || a.t.kind !== "held" || a.strength.limit === "hubHeat");
    return shown.map(({ strength, t }) => [
      String(i + 1),
      outcomeWords(s.runs[i]!),
      numberWords(strength.path),
      toldWords(strength.path, t),
      beliefWords(strength.path, strength),
    ]);
  });
  return rows.length === 0 ? "Nothing: no run counts." : table(["run", "what happened", "of", "so it is", "in the design"], rows, 5);
}

function strengthTable(told: RunsTold): string {
  const worth = worthTaking(told);
  const rows = worth.map((t) => {
    const { path, limit } = t.strength;
    return [
      numberWords(path),
      LIMITS[limit].words.row.toLowerCase(),
      beliefWords(path, t.before),
      beliefWords(path, t.after),
      rangeWords(path, t.after),
      t.alone ? beliefWords(path, t.alone) : "open",
      t.told.map((o) => o.run + 1).join(", "),
    ];
  });
  const dull = told.strengths.filter((t) => t.told.length > 0 && !worth.includes(t));
  const named = (of: typeof dull): string => of.map((t) => numberWords(t.strength.path)).join("; ");
  const others = dull.filter((t) => t.told.every((o) => o.kind === "held"));
  const known = dull.filter((t) => t.told.some((o) => o.kind !== "held"));
  return [
    rows.length === 0 ? "Nothing new." : table(["number", "told by", "in the design", "with the runs", "95 % range", "by the runs alone", "runs"], rows, 7),
    ...(known.length > 0 ? [`As was to be expected, so that it tells nothing new of: ${named(known)}.`] : []),
    ...(others.length > 0 ? [`Too little was asked to learn of: ${named(others)}.`] : []),
  ].join("\n");
}

const speedTable = (speeds: readonly SpeedAnswer[]): string =>
  table(
    ["radius, m", "track", "before, km/h", "gives first", "with the runs, km/h", "gives first"],
    speeds.map((p) => {
      const gives = (name: string | null): string => (name === null ? "no steady position beyond" : LIMITS[name as keyof typeof LIMITS].words.row);
      return [num(p.radiusM, 2), p.track ?? "", num(p.before.speedKmh, 1), gives(p.before.gives), num(p.with.speedKmh, 1), gives(p.with.gives)];
    }),
    2,
  );

const contradictionText = (all: readonly Contradiction[], s: Scenario): string =>
  all
    .map((c) => {
      const { said, explained } = contradictionWords(c, s.runs[c.run]!);
      return c.explanations.length > 0
        ? `${said}\n  One of these alone would explain it, the most plausible first:\n${explained.map((e) => `  - ${e}`).join("\n")}`
        : `${said}\n  ${explained[0]}`;
    })
    .join("\n");
