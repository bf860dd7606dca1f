import { LIMIT_NAMES } from "../core/analysis.ts";
import { buildBench, solveLoad } from "../core/analyze.ts";
import { speedInCurve } from "../core/cornering.ts";
import { BENCH_WORDS } from "../core/design/bench-words.ts";
import { type Band, bandAbout, bandsOf, type Spread, spreadOf } from "../core/doubt/bands.ts";
import { type Derivatives, derivatives } from "../core/doubt/first-order.ts";
import { type UncertainInputs, uncertainInputs } from "../core/doubt/inputs.ts";
import { type MeasureNext, measureNext } from "../core/doubt/measure-next.ts";
import type { OutputKey } from "../core/doubt/outputs.ts";
import { type SafeDerivatives, safeDerivatives } from "../core/doubt/safe-order.ts";
import { inputOptions, type SampleQuestion, type Samples } from "../core/doubt/sample.ts";
import { notStraight, reasonsAtLoad, reasonsOfSafe } from "../core/doubt/straight.ts";
import { type SampleTold, tellSamples, worseWheel } from "../core/doubt/told.ts";
import { isDistance, LIMITS } from "../core/limits/records.ts";
import { toTheEnd } from "../core/steps.ts";
import { mpsToKmh } from "../core/units.ts";
import { rangeOf } from "../scenario/ranges.ts";
import { CAUTIONS } from "../view/cautions.ts";
import { differWords, inputName, inputSdWords, sampledChanceWords } from "../view/doubt-words.ts";
import { triedWords } from "../view/sampling-words.ts";
import { SIDE_WORDS } from "../view/words.ts";
import { chooseRadius } from "./analyze.ts";
import { cautionsText } from "./cautions.ts";
import { type Answer, BRAKE, BUMP_LEFT, BUMP_RIGHT, type Command, JOBS, LATERAL, RADIUS, type RunHelp, SHOCK, THROTTLE } from "./command.ts";
import type { LoadedScenario } from "./files.ts";
import { farLimits, MEASURES } from "./first-order.ts";
import { type ChosenLoad, chooseLoad, loadWords, noSteadyPosition } from "./load.ts";
import { EXIT, Refusal } from "./refusal.ts";
import { acceptedChance, CHANCE, chanceAnswer, drawn, kmhBand, SAMPLES, SEED, safeAnswer, sampleCars } from "./sure.ts";
import { block, num, plainSigns, signed, table } from "./table.ts";

export const doubtCommand: Command = {
  name: "doubt",
  about: "how sure the answer is: bands, the chance that something gives, the speed to drive at most, what to measure next",
  files: 1,
  numbers: [LATERAL, BUMP_LEFT, BUMP_RIGHT, THROTTLE, BRAKE, RADIUS, SHOCK, SAMPLES, SEED, CHANCE, JOBS],
  help: "Every number of the file is off by its own \u00b1: what it was measured to, what such parts scatter by where it is a guess, else what it was rounded by.\nWithout --lateral and the others of a load: the first load case of the file. The hand of the curve is that of the load.",
  run: ([loaded], values, more) => runDoubt(loaded!, values, more),
};

/** Inputs that are told one by one, and the least part of the variance of one that is. */
const INPUTS_TOLD = 12;
const LEAST_SHARE = 0.005;
const TESTS_TOLD = 6;

interface Doubt {
  inputs: UncertainInputs;
  told: SampleTold;
  samples: Samples;
  first: { d: Derivatives; bands: Map<OutputKey, Band> } | null;
  safe: { d: SafeDerivatives; spread: Spread | null; band: Band | null; next: MeasureNext | null } | null;
}

async function runDoubt({ file, scenario }: LoadedScenario, values: Readonly<Record<string, number>>, more: RunHelp): Promise<Answer> {
  const chosen = chooseLoad(scenario, values);
  const { load } = chosen;
  const curve = chooseRadius(scenario, values["radius"]);
  const speedMps = speedInCurve(load.lateralG, curve.radiusM);
  const shock = values["shock"] ?? 1;
  const { lateralG, ...rest } = load;
  const options = { ...rest, hand: lateralG < 0 ? ("right" as const) : ("left" as const), shock };
  const question: SampleQuestion = { scenario, ...drawn(values), curve: { radiusM: curve.radiusM, overM: null, options }, at: { load, speedMps, shock } };
  const bench = buildBench(scenario);
  if (!bench.rest.ok) throw noSteadyPosition(file, bench.rest.reason);
  const at = solveLoad(bench, load);
  if (!at.ok) throw noSteadyPosition(file, at.reason);
  const inputs = uncertainInputs(scenario, rangeOf, inputOptions(question));
  const d = toTheEnd(derivatives({ bench, load, q: at.q, speedMps, shock, leaveOut: farLimits(bench, at.state, speedMps) }, inputs));
  const safe = toTheEnd(safeDerivatives(bench, inputs, curve.radiusM, options));
  const samples = await sampleCars(question, values, (share) => more.progress.at(share, "of the cars"));
  const told = samples && tellSamples(samples, { chance: acceptedChance(values) });
  if (!samples || !told) throw new Refusal(`${file}: the car finds no steady position at rest, so nothing can be said about it.`, EXIT.noEquilibrium);
  const doubt: Doubt = { inputs, told, samples, first: d && { d, bands: bandsOf(inputs, d) }, safe: safe && safeDoubt(inputs, safe) };
  return {
    json: {
      command: "doubt",
      file,
      scenario: scenario.name,
      loadCase: chosen.caseName,
      ...load,
      radiusM: curve.radiusM,
      speedKmh: mpsToKmh(speedMps),
      shock,
      samples: question.samples,
      seed: question.seed,
      ...doubtAnswer(doubt),
      cautions: CAUTIONS,
    },
    text: () => doubtText(scenario.name, chosen, curve, doubt),
  };
}

function safeDoubt(inputs: UncertainInputs, d: SafeDerivatives): NonNullable<Doubt["safe"]> {
  const { by } = d;
  if (!by) return { d, spread: null, band: null, next: null };
  const spread = spreadOf(inputs, (i) => by[i] ?? null);
  return { d, spread, band: bandAbout(mpsToKmh(d.safe.speedMps), mpsToKmh(spread.sd)), next: measureNext(inputs, by) };
}

function doubtAnswer({ inputs, told, samples, first, safe }: Doubt) {
  const of = (spread: Spread | null | undefined, i: number): number | null => spread?.shares[i] ?? null;
  const lean = (side: "left" | "right"): Spread | null => {
    const k = first?.d.keys.indexOf(`camberDeg.${side}`) ?? -1;
    return first && k >= 0 ? spreadOf(inputs, (i) => first.d.by[i]?.[k] ?? null) : null;
  };
  const [left, right] = [lean("left"), lean("right")];
  return {
    safe: told.safe && safeAnswer(told.safe),
    at: told.at && {
      any: chanceAnswer(told.at.any),
      noPosition: chanceAnswer(told.at.noPosition),
      limits: told.at.passed.map(({ limit, caution, chance }) => ({ limit, caution, ...chanceAnswer(chance) })),
      bands: told.at.bands,
    },
    drawnNearer: told.drawnNearer,
    firstOrder: {
      bands: first && Object.fromEntries(first.bands),
      safeSpeedKmh: safe?.band ?? null,
      noSlope: safe?.d.why || null,
      differs: {
        safe: safe?.band && told.safe ? notStraight(safe.band, kmhBand(told.safe!.band), reasonsOfSafe(samples)) : null,
        at: first && told.at ? atDiffers(first.bands, told, samples) : {},
      },
    },
    inputs: inputs.list.map((u, i) => ({
      path: u.key,
      value: u.value,
      plusMinus: u.sd,
      unit: u.unit,
      how: u.how,
      why: u.why,
      law: u.law,
      share: { safeSpeed: of(safe?.spread, i), leanLeft: of(left, i), leanRight: of(right, i) },
    })),
    measureNext: safe?.next && {
      bandSdKmh: mpsToKmh(safe.next.bandSd),
      tests: safe.next.rows.map(({ bandSd, inputs: each, ...row }) => ({
        ...row,
        bandSdKmh: mpsToKmh(bandSd),
        inputs: each.map(({ bandSdAlone, ...u }) => ({ ...u, bandSdAloneKmh: mpsToKmh(bandSdAlone) })),
      })),
      beyondTests: safe.next.beyondTests,
      bought: safe.next.bought.map(({ bandSdBefore, bandSdNow, ...row }) => ({
        ...row,
        bandSdBeforeKmh: mpsToKmh(bandSdBefore),
        bandSdNowKmh: mpsToKmh(bandSdNow),
      })),
    },
  };
}

function atDiffers(bands: ReadonlyMap<OutputKey, Band>, told: SampleTold, samples: Samples) {
  const reasons = reasonsAtLoad(samples);
  const each = [...bands].flatMap(([key, band]) => {
    const sampled = told.at!.bands[key];
    const differs = sampled && notStraight(band, sampled, reasons);
    return differs ? [[key, differs] as const] : [];
  });
  return Object.fromEntries(each);
}

function doubtText(name: string, chosen: ChosenLoad, curve: { radiusM: number; from: string }, doubt: Doubt): string {
  const { told, inputs, safe } = doubt;
  const cars = `${triedWords(told.worlds)} (seed ${told.seed})`;
  return [
    `${name}\n${loadWords(chosen)}\nCurve of ${num(curve.radiusM, 2)} m radius (${curve.from}). ${cars}.\n`,
    block("How fast through the curve", plainSigns(safeText(doubt))),
    block("At the load: the chance that each limit is passed", plainSigns(chanceTable(told))),
    block("At the load: what is told, and how sure", bandTable(doubt)),
    block("What makes the safe speed unsure, most first", safe?.spread ? inputTable(inputs, safe.spread) : "The safe speed has no slope there to tell it by."),
    block("What to measure next", safe?.next ? measureText(safe.next) : "The safe speed has no slope there to tell it by."),
    "\u00b1 is one standard deviation. 90 % of the cars lie in the range told, 5 % below it and 5 % above. A range in brackets behind a chance is its own error, from so many cars.\n",
    `${cautionsText()}\n`,
  ].join("\n");
}

function safeText({ told, safe, samples }: Doubt): string {
  const s = told.safe;
  if (!s) return "The car finds no safe speed.";
  const kmh = (mps: number): string => num(mpsToKmh(mps), 1);
  const { atMost, band } = s;
  const most = `Drive at most ${kmh(atMost.speedMps)} km/h for a chance of ${num(100 * atMost.chance, 1)} % that something gives (from so many cars: ${kmh(atMost.lowMps)} to ${kmh(atMost.highMps)} km/h).`;
  const lines = s.lines.map((l) => `${num(100 * l.chance, 0)} %: ${kmh(l.points.find((p) => p.radiusM === s.radiusM)?.speedMps ?? 0)} km/h`).join(", ");
  const first = s.first.map(({ limit, chance }) => `${limit ? LIMITS[limit].words.row : "no steady position beyond"} ${sampledChanceWords(chance)}`).join("; ");
  const differs = differWords("The safe speed", safe?.band ?? null, kmhBand(band), reasonsOfSafe(samples), 1, "km/h");
  return [
    `As it is designed nothing gives up to ${kmh(s.speedMps)} km/h; over all cars ${kmh(band.low)} to ${kmh(band.high)} km/h (90 %), the middle one ${kmh(band.median)} km/h.`,
    most,
    `Something gives below, in so many of the cars: ${lines}.`,
    `What gives first: ${first}.`,
    ...(differs ? [differs] : []),
  ].join("\n");
}

function chanceTable(told: SampleTold): string {
  const { at } = told;
  if (!at) return "The car finds no steady position there.";
  const rows = [...at.passed]
    .sort((a, b) => b.chance.chance - a.chance.chance || LIMIT_NAMES.indexOf(a.limit) - LIMIT_NAMES.indexOf(b.limit))
    .map(({ limit, caution, chance }) => {
      const wheel = worseWheel(at, limit);
      const band = wheel && at.bands[`limit.${limit}.${wheel}.utilization`];
      const used = band && !isDistance(limit) ? `${num(100 * band.value, 0)} % (${num(100 * band.low, 0)} to ${num(100 * band.high, 0)} %)` : "";
      return [`${LIMITS[limit].words.row}${caution ? ", a caution only" : ""}`, wheel ? SIDE_WORDS[wheel] : "", sampledChanceWords(chance), used];
    });
  const none = at.noPosition.chance > 0 ? [`No steady position is left there: ${sampledChanceWords(at.noPosition)}.`] : [];
  return [table(["limit", "worse", "chance", "used (90 % of the cars)"], rows, 2), `Any that counts: ${sampledChanceWords(at.any)}.`, ...none].join("\n");
}

function bandTable({ told, first }: Doubt): string {
  const rows = MEASURES.flatMap(([key, words, digits]) => {
    const sampled = told.at?.bands[key];
    const band = first?.bands.get(key);
    if (!sampled) return [];
    return [
      [
        words,
        signed(sampled.value, digits),
        `\u00b1 ${num(sampled.sd, digits)}`,
        `${signed(sampled.low, digits)} to ${signed(sampled.high, digits)}`,
        band ? `\u00b1 ${num(band.sd, digits)}` : "",
      ],
    ];
  });
  return table(["", "as designed", "\u00b1", "90 % of the cars", "first order"], rows);
}

function inputTable(inputs: UncertainInputs, { shares }: Spread): string {
  const rows = [...inputs.list.entries()]
    .filter(([i]) => Math.abs(shares[i]!) >= LEAST_SHARE)
    .sort(([i], [j]) => shares[j]! - shares[i]!)
    .slice(0, INPUTS_TOLD)
    .map(([i, u]) => [inputName(u.key), `${num(100 * shares[i]!, 1)} %`, plainSigns(inputSdWords(u.key, u.sd, u.unit)), u.how, u.why]);
  return table(["", "of the variance", "\u00b1", "known as", "why so far"], rows);
}

function measureText(next: MeasureNext): string {
  const kmh = (mps: number): string => num(mpsToKmh(mps), 2);
  const rows = next.rows
    .filter((r) => num(100 * r.narrower, 0) !== "0")
    .slice(0, TESTS_TOLD)
    .map((r) => [
      BENCH_WORDS[r.test],
      r.side === "both" ? "" : SIDE_WORDS[r.side],
      `${num(100 * r.narrower, 0)} %`,
      kmh(r.bandSd),
      num(r.minutes, 0),
      r.inputs.map((u) => inputName(u.key)).join(", "),
    ]);
  const none = "No bench test makes the band of the safe speed noticeably narrower.";
  const bought = next.bought
    .filter((b) => kmh(b.bandSdBefore) !== kmh(b.bandSdNow))
    .slice(0, TESTS_TOLD)
    .map(
      (b) =>
        `Measured: ${inputName(b.key)}; with a guess in its place the safe speed would be \u00b1 ${kmh(b.bandSdBefore)} km/h instead of \u00b1 ${kmh(b.bandSdNow)}.`,
    );
  return [
    `The safe speed is \u00b1 ${kmh(next.bandSd)} km/h to first order.`,
    rows.length > 0 ? table(["bench test", "", "narrower by", "leaves \u00b1 km/h", "minutes", "it measures"], rows, 2) : none,
    ...bought,
  ].join("\n");
}
