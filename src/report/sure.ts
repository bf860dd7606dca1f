import { buildBench } from "../core/analyze.ts";
import { speedInCurve } from "../core/cornering.ts";
import { pedals } from "../core/design/load.ts";
import { type Ranges, uncertainInputs } from "../core/doubt/inputs.ts";
import { type MeasureNext, measureNext } from "../core/doubt/measure-next.ts";
import { safeDerivatives } from "../core/doubt/safe-order.ts";
import { inputOptions, type SampleQuestion, type Samples, sampleWorlds } from "../core/doubt/sample.ts";
import { ACCEPTED_CHANCE, type SampleTold, tellSamples } from "../core/doubt/told.ts";
import { USUAL_DRAW } from "../core/doubt/usual.ts";
import { toldAs, toTheEnd } from "../core/steps.ts";
import { mpsToKmh } from "../core/units.ts";
import { atMostError, chanceWords, rangeWords, sampledChanceWords, sdWords } from "../view/doubt-words.ts";
import { withUnit } from "../view/format.ts";
import { mapWords } from "../view/map/names.ts";
import { outerSide } from "../view/poses.ts";
import { triedWords } from "../view/sampling-words.ts";
import type { ReportData, ReportRequest } from "./data.ts";
import { paragraph, table } from "./markup.ts";
import { section } from "./sections.ts";
import { curveWords } from "./words.ts";

/** How sure the report's answers are: sampled cars, in a few lines. */

/** What is sampled for a report: its curve and its load. */
export const sureTask = (r: ReportRequest): SampleQuestion => ({
  scenario: r.scenario,
  ...(r.draw ?? USUAL_DRAW),
  curve: {
    radiusM: r.radiusM,
    overM: null,
    options: {
      hand: r.load.lateralG < 0 ? "right" : "left",
      shock: r.shock,
      bumpLeftMm: r.load.bumpLeftMm,
      bumpRightMm: r.load.bumpRightMm,
      ...pedals(r.load),
    },
  },
  at: { load: r.load, speedMps: speedInCurve(r.load.lateralG, r.radiusM), shock: 1 },
});

/** Samples for a report, telling how far it is as a share; null where the car does not stand. */
export function* sampleForReport(r: ReportRequest, ranges: Ranges): Generator<number, SampleTold | null> {
  const task = sureTask(r);
  const samples = yield* toldAs(sampleWorlds(task, ranges), (_, worlds) => worlds / task.samples);
  return samples && sureTold(r, samples);
}

/** What is worth measuring before the next drive on the report's curve; null where its safe speed has no slope to tell it by. */
export function measureForReport(r: ReportRequest, ranges: Ranges): MeasureNext | null {
  const bench = buildBench(r.scenario);
  const task = sureTask(r);
  if (!bench.rest.ok || !task.curve) return null;
  const inputs = uncertainInputs(r.scenario, ranges, inputOptions(task));
  const by = toTheEnd(safeDerivatives(bench, inputs, r.radiusM, task.curve.options))?.by;
  return by ? measureNext(inputs, by) : null;
}

/** What a sample says for a report. */
export const sureTold = (r: ReportRequest, s: Samples): SampleTold | null => tellSamples(s, { chance: r.chance ?? ACCEPTED_CHANCE });

/** a chance below this is told together with the others */
const TOLD_FROM = 0.001;

/** "Drive at most 20.4 km/h on 6 m …"; empty where nothing was sampled. */
export function atMostLine(d: ReportData): string {
  const safe = d.sure?.safe;
  if (!safe) return "";
  const { speedMps, lowMps, highMps, chance } = safe.atMost;
  const error = atMostError({ low: mpsToKmh(lowMps), high: mpsToKmh(highMps) });
  return `Drive at most ${withUnit(mpsToKmh(speedMps), 1, "km/h")}${error && ` (${error})`} on ${curveWords(d)} for a chance of ${chanceWords(chance)} that something gives.`;
}

/** The section of the report; nothing where nobody sampled. */
export function sureSection(d: ReportData): string {
  const { sure } = d;
  if (!sure) return "";
  const side = outerSide(d.request.load.lateralG);
  const inner = side === "right" ? "left" : "right";
  const bands = sure.at?.bands ?? {};
  const rows = (
    [
      ["outer lean", bands[`camberDeg.${side}`], 1, "°"],
      ["inner lean", bands[`camberDeg.${inner}`], 1, "°"],
      ["outer wheel's load", bands[`verticalLoadN.${side}`], 1, "N"],
      ["inner wheel's load", bands[`verticalLoadN.${inner}`], 1, "N"],
      ["body roll", bands.rollDeg, 1, "°"],
    ] as const
  ).flatMap(([name, band, digits, unit]) =>
    band ? [[name, withUnit(band.value, digits, unit), sdWords(band.sd, digits, unit), rangeWords(band, digits, unit)]] : [],
  );
  const safe = sure.safe?.band;
  if (safe) {
    const kmh = { value: mpsToKmh(safe.value), sd: mpsToKmh(safe.sd), low: mpsToKmh(safe.low), high: mpsToKmh(safe.high) };
    rows.push([`safe speed on ${curveWords(d)}`, withUnit(kmh.value, 1, "km/h"), sdWords(kmh.sd, 1, "km/h"), rangeWords(kmh, 1, "km/h")]);
  }
  return section(
    "How sure it is",
    null,
    table({ caption: "Numbers with how far off they may be", head: ["", "value", "±", "90 % range"], rows, words: [0] }),
    paragraph(atMostLine(d)),
    paragraph(chancesLine(d)),
    paragraph(`From ${triedWords(sure.worlds)} (seed ${sure.seed}).`),
  );
}

function chancesLine({ sure, a }: ReportData): string {
  const at = sure?.at;
  if (!at) return "";
  const told = at.passed
    .filter((p) => !p.caution && p.chance.chance >= TOLD_FROM)
    .sort((x, y) => y.chance.chance - x.chance.chance)
    .map((p) => {
      const w = mapWords(p.limit, a.corners.right);
      return `${w.the} ${w.does}: ${sampledChanceWords(p.chance)}`;
    });
  const none = at.noPosition.chance >= TOLD_FROM ? [`the axle finds no hold: ${sampledChanceWords(at.noPosition)}`] : [];
  const each = [...told, ...none];
  return `Under the load of this report the chance that anything gives is ${sampledChanceWords(at.any)}${each.length > 0 ? `: ${each.join("; ")}` : ""}.`;
}
