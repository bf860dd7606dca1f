import { completeParams, MANOEUVRE_INFO, type ManoeuvreName, WHEELS } from "../../motion/manoeuvres.ts";
import { isPushed } from "../../motion/trace.ts";
import { fixed, withUnit } from "../../view/format.ts";
import type { NumberRow, RunChoice } from "./panels/runs.ts";
import { type MotionView, motionSlice } from "./state/slice.ts";

/** The runs that the page offers, in the words of a builder; numbers and ranges are those of the motion part. */

export const RUNS = ["steeringStep", "slalom", "singleBump", "washboard", "landing", "kerbStrike"] as const satisfies readonly ManoeuvreName[];
export type RunName = (typeof RUNS)[number];
export const FREE = "free";

const TITLES: Record<RunName, string> = {
  steeringStep: "Steer into a curve",
  slalom: "Weave",
  singleBump: "One bump",
  washboard: "Washboard",
  landing: "Landing",
  kerbStrike: "Kerb from the side",
};
export const titleOf = (run: string): string => (run === FREE ? "Free play" : TITLES[runOf(run)]);

export const runOf = (run: string): RunName => RUNS.find((r) => r === run) ?? "singleBump";

interface Look {
  words: string;
  /** range of the page's scale, within the motion part's own, and its step */
  min: number;
  max: number;
  step: number;
  digits: number;
  /** shown value over the number's own, with its unit */
  times?: number;
  unit?: string;
}
const look = (words: string, min: number, max: number, step: number, digits: number, unit = "", times = 1): Look => ({
  words,
  min,
  max,
  step,
  digits,
  unit,
  times,
});

const LOOKS: Record<string, Look> = {
  lateralG: look("cornering", -1.2, 1.2, 0.05, 2, "g"),
  riseS: look("turn in over", 0.02, 1, 0.01, 2, "s"),
  holdS: look("time in the curve", 0.4, 4, 0.1, 1, "s"),
  gateM: look("between gates", 0.5, 12, 0.25, 2, "m"),
  gates: look("gates", 2, 12, 1, 0),
  heightMm: look("height", -12, 20, 0.5, 1, "mm"),
  lengthMm: look("length", 20, 400, 10, 0, "mm"),
  waveMm: look("length of a wave", 40, 800, 10, 0, "mm"),
  apart: look("left behind right", 0, 1, 0.05, 2, "waves"),
  lastsS: look("time on it", 0.4, 4, 0.1, 1, "s"),
  dropMm: look("height", 5, 300, 5, 0, "mm"),
  angleDeg: look("angle to the kerb", 1, 30, 0.5, 1, "°"),
  throttle: look("throttle", 0, 1, 0.05, 0, "%", 100),
  brakeG: look("braking", 0, 1.2, 0.05, 2, "g"),
  speedMps: look("speed", 0.5, 16, 0.5, 1, "km/h", 3.6),
  grip: look("grip of the surface", 0.2, 1.5, 0.05, 2, "×"),
  roughnessMm: look("rough surface", 0, 3, 0.1, 1, "mm"),
};
/** heights of a washboard and of a kerb have no hole side */
const FROM_ZERO: Partial<Record<RunName, number>> = { washboard: 0, kerbStrike: 2 };

const CHOICES: Record<string, readonly string[]> = { wheels: WHEELS, rightSide: ["left", "right"] };
const CHOICE_WORDS: Record<string, string> = { wheels: "wheels", rightSide: "kerb on the" };

/** All numbers of a run: those set, else the page's first ones, else the motion part's own. */
export function numbersOf(view: MotionView, run: RunName): Record<string, number> {
  const known = new Set([...MANOEUVRE_INFO[run].params.map((p) => p.key), "speedMps", "grip", "roughnessMm"]);
  const set = Object.entries({ ...motionSlice.initial.numbers[run], ...view.numbers[run] }).filter(([key, v]) => known.has(key) && Number.isFinite(v));
  try {
    return completeParams(run, Object.fromEntries(set));
  } catch {
    // kept by an older page with other ranges
    return completeParams(run, {});
  }
}

export const corneringWords = (g: number): string =>
  Math.abs(g) < 0.005 ? "straight on" : `${withUnit(Math.abs(g), 2, "g")} to the ${g > 0 ? "left" : "right"}`;

function shownOf(key: string, value: number): string {
  const l = LOOKS[key];
  if (!l) return fixed(value, 1);
  if (key === "grip") return `×${fixed(value, 2)}`;
  if (key === "lateralG") return Math.abs(value) < 0.005 ? withUnit(0, 2, "g") : `${withUnit(Math.abs(value), 2, "g")} ${value > 0 ? "left" : "right"}`;
  return withUnit(value * (l.times ?? 1), l.digits, l.unit ?? "");
}

/** The numbers of a run as rows to set; the surface and the speed come last. */
export function numberRows(run: RunName, numbers: Record<string, number>): NumberRow[] {
  const keys = [...MANOEUVRE_INFO[run].params.map((p) => p.key), "speedMps", "grip", "roughnessMm"];
  return keys.map((key) => {
    const value = numbers[key] ?? 0;
    const options = CHOICES[key];
    if (options)
      return { key, words: CHOICE_WORDS[key] ?? key, min: 0, max: options.length - 1, step: 1, value, shown: options[Math.round(value)] ?? "", options };
    const l = LOOKS[key] ?? look(key, 0, 1, 0.1, 1);
    const min = key === "heightMm" ? (FROM_ZERO[run] ?? l.min) : l.min;
    return { key, words: l.words, min, max: l.max, step: l.step, value, shown: shownOf(key, value), options: null };
  });
}

const wheelsWords = (n: number): string => (Math.round(n) === 0 ? "both wheels" : `${WHEELS[Math.round(n)]} wheel`);
const mm = (v: number): string => withUnit(v, Number.isInteger(v) ? 0 : 1, "mm");

/** The run in a few words, for its line in the list. */
export function summaryOf(run: RunName, n: Record<string, number>): string {
  switch (run) {
    case "steeringStep":
      return withUnit(Math.abs(n["lateralG"]!), 2, "g");
    case "slalom":
      return `${withUnit(Math.abs(n["lateralG"]!), 2, "g")}, gate every ${withUnit(n["gateM"]!, 1, "m")}`;
    case "singleBump":
      return `${mm(n["heightMm"]!)}, ${wheelsWords(n["wheels"]!)}`;
    case "washboard":
      return `${mm(n["heightMm"]!)} every ${mm(n["waveMm"]!)}`;
    case "landing":
      return `from ${mm(n["dropMm"]!)}`;
    case "kerbStrike":
      return withUnit(n["speedMps"]! * Math.sin((n["angleDeg"]! * Math.PI) / 180), 1, "m/s");
  }
}

/** Throttle and brake behind the speed that they begin from; nothing where neither is used. */
function pedalWords(n: Record<string, number>): string {
  const throttle = (n["throttle"] ?? 0) > 0 ? [`throttle ${shownOf("throttle", n["throttle"]!)}`] : [];
  const brake = (n["brakeG"] ?? 0) > 0 ? [`braking ${shownOf("brakeG", n["brakeG"]!)}`] : [];
  const used = [...throttle, ...brake];
  return used.length === 0 ? "" : ` at first, ${used.join(", ")}`;
}

/** The run in two lines, for the head of the drawing. */
export function linesOf(run: RunName, n: Record<string, number>, slow: boolean): string[] {
  const pace = `${withUnit(n["speedMps"]! * 3.6, 1, "km/h")}${pedalWords(n)}${slow ? "; shown at 1/10 speed" : ""}`;
  const g = corneringWords(n["lateralG"] ?? 0);
  switch (run) {
    case "steeringStep":
      return [`${g} within ${withUnit(n["riseS"]!, 2, "s")}`, pace];
    case "slalom":
      return [`${withUnit(Math.abs(n["lateralG"]!), 2, "g")} left and right, a gate every ${withUnit(n["gateM"]!, 1, "m")}`, pace];
    case "singleBump":
      return [`${g}; ${mm(n["heightMm"]!)} under ${Math.round(n["wheels"]!) === 0 ? "both wheels" : `the ${wheelsWords(n["wheels"]!)}`}`, pace];
    case "washboard":
      return [`${g}; ${mm(n["heightMm"]!)} every ${mm(n["waveMm"]!)}`, pace];
    case "landing":
      return [`from ${mm(n["dropMm"]!)} above the road`, pace];
    case "kerbStrike":
      return [`${mm(n["heightMm"]!)} high, met at ${withUnit(n["angleDeg"]!, 1, "°")}`, pace];
  }
}

/** Lines of the list, the free play last. */
export function choicesOf(view: MotionView): RunChoice[] {
  return [
    ...RUNS.map((run) => ({ key: run, title: TITLES[run], summary: summaryOf(run, numbersOf(view, run)), teaches: MANOEUVRE_INFO[run].teaches })),
    {
      key: FREE,
      title: "Free play",
      summary: "your hand on road and body",
      teaches:
        "Drag the road under a wheel, or the body at its centre of gravity, and feel it answer. What you overload comes off. With a point in focus, Space halts the clock and the full stop lets one moment pass.",
    },
  ];
}

export const corneringRow = (g: number): NumberRow => ({
  key: "lateralG",
  words: "cornering",
  min: -1.2,
  max: 1.2,
  step: 0.05,
  value: g,
  shown: shownOf("lateralG", g),
  options: null,
});

/** What stands under a run with these numbers; without numbers it is played by hand. */
export function noteOf(params: Record<string, number>): string {
  const note = "The same run gives the same trace every time. Peaks are estimates: real parts scatter.";
  if (!isPushed({ params })) return note;
  return `${note} Throttle and brakes: no weight goes from one axle to the other, the wheels' own spin is not followed, and the other axle's wheels pass on all that they are asked for.`;
}
