import type { AxleReport } from "../../../core/analysis.ts";
import { pedals } from "../../../core/design/load.ts";
import { guesses } from "../../../core/design/origins.ts";
import type { Load, Scenario } from "../../../core/design/types.ts";
import { type Band, bandAbout } from "../../../core/doubt/bands.ts";
import type { OutputKey } from "../../../core/doubt/outputs.ts";
import type { Reason } from "../../../core/doubt/straight.ts";
import type { DriveAtMost, SampleTold } from "../../../core/doubt/told.ts";
import type { CurveOptions } from "../../../core/studies/curve-options.ts";
import { restsOn } from "../../../core/studies/guesses.ts";
import { mpsToKmh } from "../../../core/units.ts";
import type { SureView } from "../../../state/sure.ts";
import { atMostError, type Doubts, differWords, type SampledDoubts, type ShareRow } from "../../../view/doubt-words.ts";
import { withUnit } from "../../../view/format.ts";
import { outerSide } from "../../../view/poses.ts";
import { type SamplingProgress, samplingProgress, triedWords } from "../../../view/sampling-words.ts";
import { choiceWords, type SureInput, type SureNumber, sureInputs, sureNumbers } from "./sure-rows.ts";

/** The panel of doubts as plain data. */

/** What is told to first order. */
export interface FirstOrder {
  sd: ReadonlyMap<OutputKey, number>;
  safe: { speedMps: number; sdMps: number | null; why: "" | "ends" | "jumps" } | null;
  rows: Readonly<Record<"left" | "right" | "safe", readonly ShareRow[]>> | null;
}

/** What sampled cars tell. */
export interface Sampled {
  told: SampleTold;
  atMost: readonly DriveAtMost[];
  reasons: { safe: readonly Reason[]; at: readonly Reason[] };
}

interface Known {
  first: FirstOrder | null;
  sample: Sampled | null;
  doubts: Doubts | null;
}

export interface SureModel {
  guesses: number;
  measured: number;
  numbers: readonly SureNumber[];
  /** how the bands were worked out, and where sampling and first order differ */
  way: string;
  differs: readonly string[];
  /** null: no sample goes on or was stopped */
  progress: SamplingProgress | null;
  chancePercent: number;
  /** the speed to drive at most; empty: not known */
  atMost: string;
  /** how far off that may be, from so many cars; empty: less than is shown */
  atMostOff: string;
  of: "lean" | "safe";
  /** null: they are being worked out */
  inputs: readonly SureInput[] | null;
  /** what is said instead of inputs, or of what has no ± */
  rest: string;
}

export function doubtsOf(first: FirstOrder, sample: Sampled | null, chancePercent: number): Doubts {
  return {
    sd: first.sd,
    safeSdKmh: first.safe?.sdMps == null ? null : mpsToKmh(first.safe.sdMps),
    sampled: sample && sampledOf(sample, chancePercent),
  };
}

function sampledOf({ told, atMost }: Sampled, chancePercent: number): SampledDoubts {
  const most = atMost.find((m) => m.chance === chancePercent / 100);
  return {
    bands: told.at?.bands ?? {},
    safeKmh: told.safe && inKmh(told.safe.band),
    passed: new Map(told.at?.passed.map((p) => [p.limit, p.chance.chance])),
    atMost: most ? { kmh: mpsToKmh(most.speedMps), low: mpsToKmh(most.lowMps), high: mpsToKmh(most.highMps), chance: most.chance } : null,
  };
}

const inKmh = <B extends Band>(b: B): B => ({ ...b, value: mpsToKmh(b.value), sd: mpsToKmh(b.sd), low: mpsToKmh(b.low), high: mpsToKmh(b.high) });

/** why the safe speed has no band of first order */
const NO_SLOPE = {
  ends: "At the safe speed the axle finds no hold any more: first order tells nothing of it.",
  jumps: "At the safe speed a part falls over in its play: first order tells nothing of it.",
} as const;

/** The curve as the load drives it. */
export const curveOf = (load: Load): Partial<CurveOptions> => ({
  hand: load.lateralG < 0 ? "right" : "left",
  bumpLeftMm: load.bumpLeftMm,
  bumpRightMm: load.bumpRightMm,
  ...pedals(load),
});

/** @param safeKmh null: not known yet, or nothing gives */
export function sureModel(
  s: Scenario,
  report: AxleReport,
  safeKmh: number | null,
  { first, sample, doubts }: Known,
  state: Parameters<typeof samplingProgress>[0],
  view: SureView,
): SureModel {
  const { of, chancePercent } = view;
  const side = outerSide(report.lateralG);
  const rows = first?.rows?.[of === "safe" ? "safe" : side] ?? null;
  const most = doubts?.sampled?.atMost ?? null;
  const noSlope = first?.safe?.why && !sample ? NO_SLOPE[first.safe.why] : "";
  return {
    guesses: restsOn(s).length,
    measured: Object.keys(s.origins).length - guesses(s).length,
    numbers: sureNumbers(report, safeKmh, doubts),
    way: !first
      ? "Working out how far each number may be off."
      : sample
        ? `From ${triedWords(sample.told.worlds)}.`
        : "A quick estimate (first order): as if the answer went straight on from here.",
    differs: sample ? differences(report, first, sample) : [],
    progress: samplingProgress(state),
    chancePercent,
    atMost: most ? withUnit(most.kmh, 1, "km/h") : "",
    atMostOff: most ? atMostError(most) : "",
    of,
    inputs: rows && sureInputs(s, rows),
    rest: [noSlope, choiceWords(s)].filter(Boolean).join(" "),
  };
}

function differences(report: AxleReport, first: FirstOrder | null, { told, reasons }: Sampled): string[] {
  const side = outerSide(report.lateralG);
  const lean = told.at?.bands[`camberDeg.${side}`] ?? null;
  const sd = first?.sd.get(`camberDeg.${side}`);
  const safe = told.safe && inKmh(told.safe.band);
  const safeSd = first?.safe?.sdMps;
  return [
    differWords("The lean", lean && sd !== undefined ? bandAbout(lean.value, sd) : null, lean, reasons.at, 1, "°"),
    differWords("The safe speed", safe && safeSd != null ? bandAbout(safe.value, mpsToKmh(safeSd)) : null, safe, reasons.safe, 1, "km/h"),
  ].filter((words) => words !== "");
}
