import type { AxleReport, LimitResult } from "../core/analysis.ts";
import { analyze } from "../core/analyze.ts";
import { speedInCurve } from "../core/cornering.ts";
import { pedals } from "../core/design/load.ts";
import { type Load, SIDES, type Side } from "../core/design/types.ts";
import { type Better, mergePaired, type PairedTold, tellPaired } from "../core/doubt/paired.ts";
import { CAUTIONS } from "../view/cautions.ts";
import { type Difference, differences, leaves } from "../view/differences.ts";
import { sampledChanceWords } from "../view/doubt-words.ts";
import { triedWords } from "../view/sampling-words.ts";
import { chooseRadius } from "./analyze.ts";
import { motionRows, partRows } from "./budget.ts";
import { cautionsText } from "./cautions.ts";
import { type Answer, BRAKE, type Command, JOBS, LATERAL, type RunHelp, THROTTLE } from "./command.ts";
import type { LoadedScenario } from "./files.ts";
import { firstWords, limitWords, used } from "./limit-table.ts";
import { chooseLoad, loadWords, noSteadyPosition } from "./load.ts";
import { EXIT, Refusal } from "./refusal.ts";
import { BANDS, chanceAnswer, drawn, kmhBand, SAMPLES, SEED } from "./sure.ts";
import { block, num, plainSigns, signed, table } from "./table.ts";
import { runTasks, sampleShares, usefulJobs } from "./tasks.ts";

export const compareCommand: Command = {
  name: "compare",
  about: "two designs under the same load, side by side: B minus A",
  files: 2,
  numbers: [LATERAL, THROTTLE, BRAKE, SAMPLES, SEED, JOBS],
  flags: [{ ...BANDS, about: "also the chance that B is better: the same cars tried in both, what they have alike being the same part" }],
  help: "Without --lateral both are loaded with the first load case of the first file.",
  run: ([a, b], values, more) => runCompare(a!, b!, values, more),
};

/** What is set against each other at each wheel. */
const MEASURES = [
  ["camberDeg", "lean (camber), °, + = top outwards", 2],
  ["verticalLoadN", "load on the road (vertical), N", 1],
  ["lateralLoadN", "side force (lateral), N, + = to the right", 1],
  ["wheelTravelMm", "wheel travel, mm, + = up (bump)", 2],
  ["springForceN", "spring force, N", 1],
] as const;

function solved({ file, scenario }: LoadedScenario, load: Load, radiusM: number): AxleReport {
  const r = analyze(scenario, load, { radiusM });
  if (!r.ok) throw noSteadyPosition(file, r.reason);
  return r.report;
}

/** The wheel that lifts may be another one in the other design. */
const keyOf = (l: LimitResult): string => (l.name === "wheelLift" ? l.name : `${l.name} ${l.wheel}`);

/** The limits that both have, by name and wheel, in the order of the worse of the two. */
function limitPairs(a: AxleReport, b: AxleReport): [LimitResult, LimitResult][] {
  const ofB = new Map(b.limits.map((l) => [keyOf(l), l]));
  const pairs = a.limits.flatMap((l): [LimitResult, LimitResult][] => {
    const other = ofB.get(keyOf(l));
    return other ? [[l, other]] : [];
  });
  const worse = (p: [LimitResult, LimitResult]): number => Math.max(p[0].utilization, p[1].utilization);
  return pairs.sort((x, y) => worse(y) - worse(x));
}

async function runCompare(a: LoadedScenario, b: LoadedScenario, values: Readonly<Record<string, number>>, more: RunHelp): Promise<Answer> {
  const chosen = chooseLoad(a.scenario, values);
  const { radiusM } = chooseRadius(a.scenario);
  const one = solved(a, chosen.load, radiusM);
  const two = solved(b, chosen.load, radiusM);
  const sure = more.flags.has("bands") ? await sureOf(a, b, chosen.load, radiusM, values, more) : null;
  const side = (s: Side): Record<string, number> => Object.fromEntries(MEASURES.map(([key]) => [key, two[s][key] - one[s][key]]));
  const difference = {
    rollDeg: two.rollDeg - one.rollDeg,
    heaveMm: two.heaveMm - one.heaveMm,
    left: side("left"),
    right: side("right"),
    utilization: limitPairs(one, two).map(([x, y]) => ({ name: x.name, wheel: x.wheel, a: x.utilization, b: y.utilization })),
  };
  return {
    json: {
      command: "compare",
      loadCase: chosen.caseName,
      ...chosen.load,
      ...pedals(chosen.load),
      radiusM,
      a: { file: a.file, scenario: a.scenario.name, ...one },
      b: { file: b.file, scenario: b.scenario.name, ...two },
      bMinusA: difference,
      ...(sure ? { sure: sureAnswer(sure, values) } : {}),
      differences: differences(a.scenario, b.scenario),
      cautions: CAUTIONS,
    },
    text: () =>
      [
        `A: ${a.scenario.name} (${a.file})\nB: ${b.scenario.name} (${b.file})\n${loadWords(chosen)}\n`,
        block("What gives first", `A: ${firstWords(one.firstToGive)}\nB: ${firstWords(two.firstToGive)}`),
        block("Lean and loads", measureTable(one, two)),
        block("Why they lean, by part, largest first, °", partTable(one, two)),
        block("Why they lean, by motion, °", motionTable(one, two)),
        block("Limits, worst first", limitTable(one, two)),
        ...(sure ? [block("How sure: the chance that B is better", plainSigns(sureWords(sure)))] : []),
        block("What differs", differenceTable(differences(a.scenario, b.scenario).flatMap(leaves))),
        `${cautionsText()}\n`,
      ].join("\n"),
  };
}

const differenceTable = (apart: readonly Difference[]): string =>
  apart.length === 0
    ? "Nothing."
    : table(
        ["value", "A", "B"],
        apart.map((d) => [d.name, d.aWords, d.bWords]),
      );

function measureTable(a: AxleReport, b: AxleReport): string {
  const rows = SIDES.flatMap((s) =>
    MEASURES.map(([key, words, digits]) => [`${s}: ${words}`, signed(a[s][key], digits), signed(b[s][key], digits), signed(b[s][key] - a[s][key], digits)]),
  );
  rows.push(["body leans (roll), °, + = left side up", signed(a.rollDeg, 2), signed(b.rollDeg, 2), signed(b.rollDeg - a.rollDeg, 2)]);
  return table(["", "A", "B", "B - A"], rows);
}

const HEAD = ["", "left A", "left B", "right A", "right B"];
/** A row that rounds to zero everywhere says nothing. */
const says = (row: readonly string[]): boolean => row.slice(1).some((cell) => Number(cell) !== 0);
const four = (a: { left: number; right: number }, b: { left: number; right: number }): string[] => [a.left, b.left, a.right, b.right].map((v) => signed(v, 2));

function partTable(a: AxleReport, b: AxleReport): string {
  const ofB = new Map(partRows(b).map((r) => [r.words, r]));
  const at = (r: AxleReport, key: "atRest" | "unassigned") => ({ left: r.left.camberBudgetDeg.byPart[key], right: r.right.camberBudgetDeg.byPart[key] });
  return table(HEAD, [
    ["at rest on a level road", ...four(at(a, "atRest"), at(b, "atRest"))],
    ...partRows(a)
      .map((r) => [r.words, ...four(r, ofB.get(r.words)!)])
      .filter(says),
    ["small parts together", ...four(at(a, "unassigned"), at(b, "unassigned"))],
  ]);
}

function motionTable(a: AxleReport, b: AxleReport): string {
  const ofB = motionRows(b);
  return table(
    HEAD,
    motionRows(a)
      .map((r, i) => [r.words, ...four(r, ofB[i]!)])
      .filter(says),
  );
}

/** What B uses more, in percent; the distance it has more, in mm. */
const apart = (x: LimitResult, y: LimitResult): string =>
  x.place && y.place ? `${signed(y.place.distanceMm - x.place.distanceMm, 1)} mm` : `${num(100 * (y.utilization - x.utilization), 0)} %`;

function limitTable(a: AxleReport, b: AxleReport): string {
  return table(
    ["limit", "wheel", "A used", "B used", "B - A"],
    limitPairs(a, b).map(([x, y]) => [limitWords(x), x.wheel, used(x), used(y), apart(x, y)]),
  );
}

/** Both designs in the same cars, on the curve in the hand of the load and at the load itself. */
async function sureOf(a: LoadedScenario, b: LoadedScenario, load: Load, radiusM: number, values: Values, more: RunHelp): Promise<PairedTold> {
  const { lateralG, ...rest } = load;
  const curve = { radiusM, overM: null, options: { ...rest, hand: lateralG < 0 ? ("right" as const) : ("left" as const) } };
  const question = { a: a.scenario, b: b.scenario, ...drawn(values), curve, at: { load, speedMps: speedInCurve(lateralG, radiusM), shock: 1 } };
  const shares = sampleShares(usefulJobs(values["jobs"]));
  const parts = await runTasks(
    shares.map((share) => ({ kind: "paired" as const, question, share })),
    shares.length,
    (share) => more.progress.at(share, "of the cars"),
  );
  const whole = parts.filter((p) => p !== null);
  const told = whole.length === parts.length ? tellPaired(mergePaired(whole)) : null;
  if (!told) throw new Refusal("One of the two cars finds no steady position at rest, so no chance can be told.", EXIT.noEquilibrium);
  return told;
}

type Values = Readonly<Record<string, number>>;

const betterAnswer = ({ better, alike }: Better) => ({ better: chanceAnswer(better), alike: chanceAnswer(alike) });

const sureAnswer = (t: PairedTold, values: Values) => ({
  ...drawn(values),
  inputs: { shared: t.shared, onlyA: t.ownA, onlyB: t.ownB },
  safeSpeed: t.safe && { ...betterAnswer(t.safe), differenceKmh: kmhBand(t.safe.differenceMps) },
  atLoad: t.at && { ...betterAnswer(t.at), limits: t.at.limits.map(({ limit, ...l }) => ({ limit, ...betterAnswer(l) })) },
});

function sureWords(t: PairedTold): string {
  const alike = (b: Better): string => (b.alike.chance > 0 ? `, alike in ${sampledChanceWords(b.alike)}` : "");
  const safe = t.safe && {
    words: `B is faster through the curve in ${sampledChanceWords(t.safe.better)} of the cars${alike(t.safe)}`,
    band: kmhBand(t.safe.differenceMps),
  };
  return [
    `${triedWords(t.worlds)}: ${t.shared} of the numbers are the same part in both, ${t.ownA} are A's alone and ${t.ownB} B's.`,
    ...(safe
      ? [
          `${safe.words}; B less A ${signed(safe.band.value, 1)} km/h as designed, ${signed(safe.band.low, 1)} to ${signed(safe.band.high, 1)} km/h in 90 % of them.`,
        ]
      : []),
    ...(t.at ? [`At the load what is worst is used less in B in ${sampledChanceWords(t.at.better)} of the cars${alike(t.at)}.`] : []),
  ].join("\n");
}
