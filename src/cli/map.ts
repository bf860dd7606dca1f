import { LIMIT_NAMES, type LimitName } from "../core/analysis.ts";
import type { Scenario } from "../core/design/types.ts";
import { LINE_CHANCES, lineAt, type SafeLine, tellSamples } from "../core/doubt/told.ts";
import { LIMITS } from "../core/limits/records.ts";
import type { CurveOptions, Hand } from "../core/studies/curve-options.ts";
import { DRIVINGS, type Driving, drivenAlike, pedalsOf, worstDriving } from "../core/studies/driving.ts";
import { safeSpeedAt } from "../core/studies/map-levels.ts";
import { byRatio, evenly, NONE, type SpeedMap } from "../core/studies/speed-map.ts";
import { kmhToMps, mpsToKmh } from "../core/units.ts";
import { CAUTIONS } from "../view/cautions.ts";
import { mapRange } from "../view/map/frame.ts";
import { triedWords } from "../view/sampling-words.ts";
import { cautionsText } from "./cautions.ts";
import { type Answer, BUMP_LEFT, BUMP_RIGHT, type Command, HANDS, JOBS, type NumberOption, RADIUS, type RunHelp, SHOCK, type TextOption } from "./command.ts";
import type { LoadedScenario } from "./files.ts";
import { acceptedChance, BANDS, CHANCE, drawn, SAMPLES, SEED, sampleCars } from "./sure.ts";
import { block, num, table } from "./table.ts";
import { runTasks, usefulJobs } from "./tasks.ts";

const POINTS: NumberOption = {
  flag: "points",
  valueName: "N",
  min: 5,
  max: 400,
  unit: "points",
  about: "points of the map in each direction in the JSON; without it 50",
  whole: true,
};
const DEFAULT_POINTS = 50;

/** How each way of driving is called on the command line and in words. */
const FLAGS: Readonly<Record<Driving, string>> = { coasting: "coasting", fullThrottle: "full-throttle", hardBraking: "hard-braking" };
const WAYS: Readonly<Record<Driving, string>> = { coasting: "coasting", fullThrottle: "full throttle", hardBraking: "braking as hard as the tyres hold" };
const DRIVING: TextOption = {
  flag: "driving",
  valueName: "WAY",
  about: "how the curves are driven; without it coasting. The three are set side by side besides",
  oneOf: Object.values(FLAGS),
};

export const mapCommand: Command = {
  name: "map",
  about: "speed against curve radius, left-hand and right-hand: how far each limit is used and what gives first",
  files: 1,
  numbers: [
    { ...RADIUS, about: "a curve radius in m that is told besides the file's own tracks" },
    SHOCK,
    BUMP_LEFT,
    BUMP_RIGHT,
    POINTS,
    SAMPLES,
    SEED,
    CHANCE,
    JOBS,
  ],
  texts: [DRIVING],
  flags: [{ ...BANDS, about: `${BANDS.about}; --json always tells it` }],
  help: "One sweep over the cornering level for each hand; the speeds at which something gives are right to the error that is told.",
  run: ([loaded], values, more) => runMap(loaded!, values, more),
};

/** Radii that every table shows, m. */
const TABLE_RADII_M = [2, 3, 4, 6, 8, 12, 20];
/** Speeds of the coarse picture, km/h. */
const PICTURE_STEPS = 9;

async function runMap({ file, scenario }: LoadedScenario, values: Readonly<Record<string, number>>, more: RunHelp): Promise<Answer> {
  const shock = values["shock"] ?? 1;
  const count = values["points"] ?? DEFAULT_POINTS;
  const driving = (Object.keys(FLAGS) as Driving[]).find((d) => FLAGS[d] === more.texts["driving"]) ?? "coasting";
  const range = mapRange(scenario);
  const radii = tableRadii(scenario, values["radius"]);
  const options = {
    shock,
    bumpLeftMm: values["bump-left"] ?? 0,
    bumpRightMm: values["bump-right"] ?? 0,
    radiiM: byRatio(Math.min(range.radiusM[0], ...radii), Math.max(range.radiusM[1], ...radii), count),
    speedsMps: evenly(0, kmhToMps(range.kmh), count),
  };
  const task = (hand: Hand, way: Driving) => ({ kind: "map" as const, scenario, options: { ...options, ...pedalsOf(scenario, way), hand } });
  const ways = [driving, ...DRIVINGS.filter((d) => d !== driving)];
  const maps = (await runTasks(
    ways.flatMap((way) => HANDS.map((hand) => task(hand, way))),
    usefulJobs(values["jobs"]),
    (share) => more.progress.at(share, "of the speed maps"),
  )) as SpeedMap[];
  const [left, right] = maps as [SpeedMap, SpeedMap];
  const lines = more.flags.has("bands") || more.json ? await sureLines(scenario, options, pedalsOf(scenario, driving), values, more) : null;
  const curves = radii.map((radiusM) => curveAnswer(scenario, left, right, radiusM, lines));
  const drivings = radii.map((radiusM) =>
    drivingAnswer(Object.fromEntries(ways.map((way, i) => [way, maps.slice(2 * i, 2 * i + 2)])) as Record<Driving, SpeedMap[]>, radiusM),
  );
  return {
    json: {
      command: "map",
      file,
      scenario: scenario.name,
      shock,
      bumpLeftMm: options.bumpLeftMm,
      bumpRightMm: options.bumpRightMm,
      drive: { reachesMps: left.reachableMps, reachesKmh: mpsToKmh(left.reachableMps), driven: left.driven },
      driving,
      ...(lines ? { sure: { ...drawn(values), chance: acceptedChance(values), worlds: lines.worlds } } : {}),
      curves,
      drivings,
      radiiM: [...left.radiiM],
      speedsMps: [...left.speedsMps],
      /** rows: speeds; columns: radii */
      left: handAnswer(left),
      right: handAnswer(right),
      cautions: CAUTIONS,
    },
    text: () =>
      [
        `${scenario.name}\nHow fast through which curve; road shock x ${num(shock, 2)}, ${roadWords(options)}, ${WAYS[driving]}\n`,
        block("Highest speed at which nothing gives, and what gives beyond it", safeTable(curves)),
        driveWords(left, curves),
        ...(lines ? [block(`How sure: ${triedWords(lines.worlds)} (seed ${drawn(values).seed}), km/h`, sureTable(curves, acceptedChance(values)))] : []),
        block("The same by how the curve is driven, the worse hand, km/h", drivingTable(drivings)),
        block("Left-hand curves: how much of the worst limit is used, %", picture(left, radii)),
        block("Right-hand curves: how much of the worst limit is used, %", picture(right, radii)),
        NOTES(left),
        `${cautionsText()}\n`,
      ].join("\n"),
  };
}

function tableRadii(s: Scenario, given?: number): number[] {
  const all = [...TABLE_RADII_M, ...s.tracks.map((t) => t.radiusM), ...(given === undefined ? [] : [given])];
  return [...new Set(all)].sort((a, b) => a - b);
}

const roadWords = (o: { bumpLeftMm: number; bumpRightMm: number }): string =>
  o.bumpLeftMm === 0 && o.bumpRightMm === 0 ? "level road" : `road ${num(o.bumpLeftMm, 1)} mm up on the left, ${num(o.bumpRightMm, 1)} mm on the right`;

interface SafeAnswer {
  speedKmh: number;
  speedMps: number;
  lateralG: number;
  gives: LimitName | null;
  /** up to this speed nothing gives but with the chance that is accepted, km/h; absent: not asked */
  driveAtMostKmh?: number;
  /** speeds below which something gives in so many of the cars, km/h */
  linesKmh?: { chance: number; speedKmh: number }[];
}

interface CurveAnswer {
  radiusM: number;
  track: string | null;
  left: SafeAnswer;
  right: SafeAnswer;
  /** something gives below what the drive reaches */
  driveReachesIt: boolean;
}

function curveAnswer(s: Scenario, left: SpeedMap, right: SpeedMap, radiusM: number, lines: SureLines | null): CurveAnswer {
  const of = (map: SpeedMap, hand: Hand): SafeAnswer => {
    const p = safeSpeedAt(map, radiusM);
    const [most, ...others] = lines?.[hand] ?? [];
    const kmh = (line: SafeLine): number => mpsToKmh(lineAt(line, radiusM));
    const sure = most ? { driveAtMostKmh: kmh(most), linesKmh: others.map((line) => ({ chance: line.chance, speedKmh: kmh(line) })) } : {};
    return { speedKmh: mpsToKmh(p.speedMps), speedMps: p.speedMps, lateralG: p.lateralG, gives: p.limit, ...sure };
  };
  const answer = { radiusM, track: s.tracks.find((t) => t.radiusM === radiusM)?.name ?? null, left: of(left, "left"), right: of(right, "right") };
  return { ...answer, driveReachesIt: Math.min(answer.left.speedMps, answer.right.speedMps) < left.reachableMps };
}

/** Lines over the radius by hand: that of the accepted chance first, then those that are always told. */
type SureLines = Record<Hand, SafeLine[]> & { worlds: number };

/** The curve on which cars are drawn; the others follow from it where nothing hangs on the speed itself, m. */
const SURE_RADIUS_M = 6;

async function sureLines(
  scenario: Scenario,
  options: { shock: number; bumpLeftMm: number; bumpRightMm: number; radiiM: readonly number[] },
  pedals: Pick<CurveOptions, "throttle" | "brakeG">,
  values: Readonly<Record<string, number>>,
  more: RunHelp,
): Promise<SureLines | null> {
  const { radiiM, ...road } = options;
  const out: SureLines = { left: [], right: [], worlds: 0 };
  for (const [i, hand] of HANDS.entries()) {
    const curve = { radiusM: SURE_RADIUS_M, overM: [radiiM[0]!, radiiM.at(-1)!] as const, options: { ...road, ...pedals, hand } };
    const samples = await sampleCars({ scenario, ...drawn(values), curve, at: null }, values, (share) => more.progress.at((i + share) / 2, "of the cars"));
    const told = samples && tellSamples(samples, { lines: [acceptedChance(values), ...LINE_CHANCES] });
    if (!told?.safe) return null;
    out[hand] = told.safe.lines;
    out.worlds = told.worlds;
  }
  return out;
}

function sureTable(curves: readonly CurveAnswer[], chance: number): string {
  const cells = (a: SafeAnswer): string[] => [num(a.speedKmh, 1), num(a.driveAtMostKmh ?? 0, 1), ...(a.linesKmh ?? []).map((l) => num(l.speedKmh, 1))];
  const heads = (hand: string): string[] => [
    `${hand}: as designed`,
    `drive at most (${num(100 * chance, 1)} %)`,
    ...LINE_CHANCES.map((c) => `${num(100 * c, 0)} %`),
  ];
  const rows = curves.map((c) => [num(c.radiusM, 2), ...cells(c.left), ...cells(c.right)]);
  return `${table(["radius, m", ...heads("left-hand"), ...heads("right-hand")], rows)}\nBelow the speed under a chance something gives in so many of the cars.`;
}

interface DrivingAnswer {
  radiusM: number;
  each: Record<Driving, SafeAnswer>;
  worst: Driving;
}

function drivingAnswer(maps: Record<Driving, SpeedMap[]>, radiusM: number): DrivingAnswer {
  const of = (way: Driving): SafeAnswer => {
    const p = maps[way].map((m) => safeSpeedAt(m, radiusM)).reduce((w, x) => (x.speedMps < w.speedMps ? x : w));
    return { speedKmh: mpsToKmh(p.speedMps), speedMps: p.speedMps, lateralG: p.lateralG, gives: p.limit };
  };
  const each = { coasting: of("coasting"), fullThrottle: of("fullThrottle"), hardBraking: of("hardBraking") };
  return { radiusM, each, worst: worstDriving(each) };
}

const drivingTable = (rows: readonly DrivingAnswer[]): string =>
  table(
    ["radius, m", ...DRIVINGS.flatMap((d) => [WAYS[d], "gives first"]), "worst"],
    rows.map((r) => [
      num(r.radiusM, 2),
      ...DRIVINGS.flatMap((d) => [num(r.each[d].speedKmh, 1), givesWords(r.each[d].gives)]),
      drivenAlike(r.each) ? "alike" : WAYS[r.worst],
    ]),
    1,
  );

function handAnswer(map: SpeedMap) {
  const grid = (values: Float64Array | Uint8Array): number[][] => {
    const n = map.radiiM.length;
    return Array.from(map.speedsMps, (_, row) => Array.from(values.subarray(row * n, (row + 1) * n)));
  };
  return {
    worst: grid(map.worst),
    first: grid(map.first).map((row) => row.map((i) => (i === NONE ? null : (LIMIT_NAMES[i] ?? null)))),
    leanDeg: grid(map.leanDeg),
    utilization: Object.fromEntries(map.limits.map((name) => [name, grid(map.utilization[name])])),
    end: map.end,
    error: map.error,
    solves: map.solves,
  };
}

const givesWords = (name: LimitName | null): string => (name === null ? "no steady position beyond" : LIMITS[name].words.row);

function safeTable(curves: readonly CurveAnswer[]): string {
  const cells = (a: SafeAnswer): string[] => [num(a.speedKmh, 1), num(a.lateralG, 3), givesWords(a.gives)];
  return table(
    ["radius, m", "track", "left-hand: km/h", "g", "gives first", "right-hand: km/h", "g", "gives first", "the car gets there"],
    curves.map((c) => [num(c.radiusM, 2), c.track ?? "", ...cells(c.left), ...cells(c.right), c.driveReachesIt ? "yes" : "no"]),
    2,
  );
}

function driveWords(map: SpeedMap, curves: readonly CurveAnswer[]): string {
  const kmh = num(mpsToKmh(map.reachableMps), 1);
  const reach = map.driven ? `Top speed driven (measured) ${kmh} km/h` : `The drive reaches ${kmh} km/h on a flat straight road`;
  const wide = curves.find((c) => !c.driveReachesIt && curves.filter((o) => o.radiusM > c.radiusM).every((o) => !o.driveReachesIt));
  return wide
    ? `${reach}: on curves of ${num(wide.radiusM, 2)} m and wider nothing gives.\n`
    : `${reach}: on every curve of this table something gives before that.\n`;
}

/** Percent of the worst limit at some speeds and radii; `off` where there is no steady position. */
function picture(map: SpeedMap, radii: readonly number[]): string {
  const n = map.radiiM.length;
  const top = map.speedsMps.length - 1;
  const column = (radiusM: number): number => {
    let best = 0;
    map.radiiM.forEach((r, i) => {
      if (Math.abs(Math.log(r / radiusM)) < Math.abs(Math.log(map.radiiM[best]! / radiusM))) best = i;
    });
    return best;
  };
  const rows = Array.from({ length: PICTURE_STEPS }, (_, i) => Math.round((top * (PICTURE_STEPS - i)) / PICTURE_STEPS));
  return table(
    ["km/h", ...radii.map((r) => `${num(map.radiiM[column(r)]!, 1)} m`)],
    rows.map((row) => [
      num(mpsToKmh(map.speedsMps[row]!), 1),
      ...radii.map((r) => {
        const i = row * n + column(r);
        return map.beyond[i] ? "off" : num(100 * map.worst[i]!, 0);
      }),
    ]),
  );
}

const cautionWords = (map: SpeedMap): string =>
  map.limits
    .filter((n) => !map.levels.failures.includes(n))
    .map((n) => LIMITS[n].words.row.toLowerCase())
    .join(", ");

const NOTES = (map: SpeedMap): string =>
  [
    "100 and more: something gives. off: there is no steady position (slides, tips, buckles).",
    `A share is right to ${num(100 * map.error.utilization, 1)} % of the limit, a jump to ${num(map.error.lateralG, 4)} g. Cautions do not count: ${cautionWords(map)}.\n`,
  ].join("\n");
