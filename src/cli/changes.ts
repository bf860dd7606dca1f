import { LIMIT_NAMES, type LimitName } from "../core/analysis.ts";
import type { Scenario } from "../core/design/types.ts";
import { fitDistance } from "../core/limits/fit.ts";
import { failuresOf, LIMITS } from "../core/limits/records.ts";
import { type ChangesReport, mergeChanges } from "../core/studies/changes.ts";
import type { Hand } from "../core/studies/curve-options.ts";
import type { Aim, ChangeResult, Outcome } from "../core/studies/rank-changes.ts";
import { mpsToKmh } from "../core/units.ts";
import { CAUTIONS } from "../view/cautions.ts";
import { differences } from "../view/differences.ts";
import { roomWords } from "../view/format.ts";
import { chooseRadius } from "./analyze.ts";
import { cautionsText } from "./cautions.ts";
import {
  type Answer,
  BRAKE,
  BUMP_LEFT,
  BUMP_RIGHT,
  type Command,
  HAND,
  JOBS,
  LATERAL,
  RADIUS,
  type RunHelp,
  SHOCK,
  type TextOption,
  THROTTLE,
} from "./command.ts";
import type { LoadedScenario } from "./files.ts";
import { chooseLoad, loadWords } from "./load.ts";
import { EXIT, Refusal } from "./refusal.ts";
import { block, num, plainSigns, signed, table } from "./table.ts";
import { changesTasks, runTasks, usefulJobs } from "./tasks.ts";

const AIM: TextOption = {
  flag: "aim",
  valueName: "AIM",
  about: "what is bought: speed on the curve, less lean at the load, or less use of one limit at the load; without it speed",
  oneOf: ["speed", "lean", ...LIMIT_NAMES],
};

export const changesCommand: Command = {
  name: "changes",
  about: "what to change first: every sensible single change solved again and ranked by what it buys",
  files: 1,
  numbers: [RADIUS, LATERAL, BUMP_LEFT, BUMP_RIGHT, THROTTLE, BRAKE, SHOCK, JOBS],
  texts: [AIM, HAND],
  help: "The load sets the lean and the shares that are told, the radius the curve whose speed is told. The hand is that of --lateral where it is given.",
  run: ([loaded], values, more) => runChanges(loaded!, values, more),
};

async function runChanges({ file, scenario }: LoadedScenario, values: Readonly<Record<string, number>>, more: RunHelp): Promise<Answer> {
  const chosen = chooseLoad(scenario, values);
  const curve = chooseRadius(scenario, values["radius"]);
  const hand = (more.texts["hand"] ?? (chosen.load.lateralG < 0 ? "right" : "left")) as Hand;
  const aim = (more.texts["aim"] ?? "speed") as Aim;
  const options = { radiusM: curve.radiusM, hand, shock: values["shock"] ?? 1, load: chosen.load, aim };
  const tasks = changesTasks(scenario, options, usefulJobs(values["jobs"]));
  const parts = await runTasks(tasks, tasks.length, (share) => more.progress.at(share, "of the changes"));
  const whole = parts.filter((p) => p !== null);
  if (whole.length === 0) throw new Refusal(`${file}: the car finds no steady position at rest, so no change can be judged.`, EXIT.noEquilibrium);
  const report = mergeChanges(whole);
  return {
    json: {
      command: "changes",
      file,
      scenario: scenario.name,
      loadCase: chosen.caseName,
      ...options,
      base: outcomeAnswer(report.base),
      changes: report.results.map(({ change, outcome, buys, breaks }) => ({
        id: change.id,
        title: change.title,
        holes: change.move?.holes ?? null,
        cost: { kind: change.costKind, words: change.cost },
        differences: differences(scenario, change.scenario),
        ...outcomeAnswer(outcome),
        buys: { speedKmh: mpsToKmh(buys.speedMps), ...buys },
        breaks,
      })),
      // every number of holes that was tried of a move, the told one among them
      moves: report.solved.flatMap(({ change, outcome, breaks }) =>
        change.move
          ? [
              {
                id: change.id,
                kind: change.move.kind,
                holes: change.move.holes,
                safeSpeedKmh: mpsToKmh(outcome.safeSpeedMps),
                leanDeg: outcome.leanDeg,
                breaks,
              },
            ]
          : [],
      ),
      refused: report.refused.map(({ change, reason }) => ({ id: change.id, title: change.title, reason })),
      cautions: CAUTIONS,
    },
    text: () =>
      [
        `${scenario.name}\n${loadWords(chosen)}\nCurve of ${num(curve.radiusM, 2)} m radius (${curve.from}), ${hand}-hand.\n`,
        block("As it is", outcomeWords(report.base)),
        block(`Single changes, best first for ${aimWords(aim)}`, changeTable(report)),
        ...(report.refused.length > 0 ? [block("Not possible", report.refused.map((r) => `${r.change.title}: ${r.reason}`).join("\n"))] : []),
        "Each change alone, all else as it is; the ride height is trimmed back where a change would raise or lower the car. + buys, - costs; shifts: how far full throttle from standing moves the wheel along the road.\nPins are tried by 1 to 4 holes each way; the number told buys most and makes nothing give at the load that held before.\nWhat makes worse what gives first at the load, or makes something else give there, stands behind all the others.\n",
        `${cautionsText()}\n`,
      ].join("\n"),
  };
}

const outcomeAnswer = (o: Outcome) => ({ ...o, safeSpeedKmh: mpsToKmh(o.safeSpeedMps) });

const aimWords = (aim: Aim): string =>
  aim === "speed" ? "speed on the curve" : aim === "lean" ? "less lean at the load" : `less use of: ${LIMITS[aim].words.row.toLowerCase()}`;

const givesWords = (o: Outcome): string => (o.gives === null ? o.givesPart : `${LIMITS[o.gives].words.row}: ${o.givesPart}`);

function outcomeWords(o: Outcome): string {
  const lean = o.leanDeg === null ? "the load has no steady position" : `the outer wheel leans ${signed(o.leanDeg, 2)} °`;
  return `Nothing gives below ${num(mpsToKmh(o.safeSpeedMps), 1)} km/h (${num(o.safeLateralG, 3)} g) on this curve; then: ${givesWords(o)}.\nAt the load: ${lean}.`;
}

/** The limit that is worst at the load, cautions left out. */
function worstAtLoad(o: Outcome, s: Scenario): { name: LimitName; used: number } | null {
  let worst: { name: LimitName; used: number } | null = null;
  for (const name of failuresOf(s)) {
    const used = o.utilization?.[name];
    if (used === undefined) continue;
    if (!worst || used > worst.used) worst = { name, used };
  }
  return worst;
}

const usedOf = (worst: { name: LimitName; used: number }, s: Scenario): string => {
  if (worst.name !== "fit") return `${num(100 * worst.used, 0)} %`;
  return plainSigns(roomWords(fitDistance(s.fit.clearanceMm, worst.used)));
};

function changeTable(r: ChangesReport): string {
  const row = ({ change, outcome, buys }: ChangeResult): string[] => {
    const worst = worstAtLoad(outcome, change.scenario);
    return [
      change.title,
      change.costKind,
      signed(mpsToKmh(buys.speedMps), 2),
      num(mpsToKmh(outcome.safeSpeedMps), 1),
      outcome.leanDeg === null ? "none" : signed(outcome.leanDeg, 2),
      buys.leanDeg === null ? "none" : signed(buys.leanDeg, 2),
      worst ? usedOf(worst, change.scenario) : "none",
      outcome.gives ? LIMITS[outcome.gives].words.row : "no steady position",
      outcome.fullPush ? num(Math.abs(outcome.fullPush.wheelShiftMm), 1) : "none",
    ];
  };
  return table(
    ["change", "cost", "buys km/h", "safe km/h", "leans, °", "lean less, °", "worst at the load", "gives first then", "shifts, mm"],
    r.results.map(row),
    2,
  );
}
