import type { Scenario } from "../../../core/design/types.ts";
import { type AnswerKey, type ChoiceKey, isChoice, type NumberKey, PLACES } from "../../../scenario/own-car/answers.ts";
import { answerOf, pathsOf, timesOf } from "../../../scenario/own-car/own-car.ts";
import { rangeOf } from "../../../scenario/ranges.ts";
import { JOINT_WORDS } from "../../../view/words.ts";

/** What is asked, in the order in which it can be answered with a kitchen scale, a ruler and the car in the hand. */

export interface Question {
  key: AnswerKey;
  words: string;
  /** how it is measured, one line */
  how: string;
  /** name of the small drawing; null: none */
  sketch: string | null;
  unit: string;
  /** it is asked of such a car only */
  when?: (s: Scenario) => boolean;
}

export interface Step {
  key: string;
  words: string;
  /** what this step is about, one line */
  lead: string;
  questions: readonly Question[];
}

const ask = (key: AnswerKey, words: string, how: string, sketch: string | null, unit = "", when?: Question["when"]): Question => ({
  key,
  words,
  how,
  sketch,
  unit,
  ...(when ? { when } : {}),
});

const pins = (["lowerInner", "lowerOuter", "upperInner", "upperOuter"] as const).flatMap((j) =>
  PLACES.map((p) => ask(`${j}.${p}`, `${JOINT_WORDS[j]}, ${p}`, "", p === "out" ? `pin.${j}` : null, "mm")),
);

function armQuestions(arm: "lower" | "upper"): Question[] {
  const of = (s: Scenario) => s.corner[`${arm}Arm`];
  const name = arm === "lower" ? "Lower arm" : "Upper arm";
  return [
    ask(`${arm}Arm.layout`, `${name}, from above`, "How the bars lie when you look down on the arm.", "layout"),
    ask(
      `${arm}Arm.spreadMm`,
      "between its two inner pins",
      "From the middle of the front pin to the middle of the rear one.",
      "spread",
      "mm",
      (s) => of(s).layout !== "straight",
    ),
    ask(`${arm}Arm.material`, "made of", "", null),
    ask(`${arm}Arm.shape`, "its bars are", "", null),
    ask(`${arm}Arm.heightMm`, "thick, up and down", "Across the bar, upright.", "thick", "mm"),
    ask(`${arm}Arm.widthMm`, "wide, front to back", "Across the bar, level.", null, "mm", (s) => !["round", "tube"].includes(of(s).section.shape)),
  ];
}

const held =
  (kind: string) =>
  (s: Scenario): boolean =>
    s.corner.hub.retention.kind === kind;

export const STEPS: readonly Step[] = [
  {
    key: "size",
    words: "Weight",
    lead: "The car on a kitchen scale, ready to run. Loads grow with the cube of the size: a car half as long again weighs more than three times as much.",
    questions: [
      ask("carMassKg", "The whole car weighs", "All wheels on the scale, battery in.", "weigh", "kg"),
      ask("axleMassKg", "on this axle stands", "Only these two wheels on the scale, the others as high beside it.", "weighAxle", "kg"),
      ask("holePitchMm", "hole to hole", "Middle of a hole to the middle of the next one.", "pitch", "mm"),
    ],
  },
  {
    key: "wheels",
    words: "Wheels",
    lead: "A ruler against the standing car. What you leave out is guessed for its size.",
    questions: [
      ask("trackMm", "Wheel to wheel", "From the outer edge of one tyre to the inner edge of the other: that is middle to middle.", "track", "mm"),
      ask("wheelDiameterMm", "the wheel is high", "The whole wheel with its tyre, across the middle: its diameter.", "diameter", "mm"),
      ask("tyreWidthMm", "the tyre is wide", "Only what runs on the road.", "width", "mm"),
      ask("wheelMassKg", "one wheel weighs", "Rim and tyre, taken off.", "wheelWeight", "kg"),
    ],
  },
  {
    key: "pins",
    words: "Pins",
    lead: "Where the arms turn: out from the middle of the car, up from the table. Type it, pull the rings in the picture, or trace a photo.",
    questions: pins,
  },
  {
    key: "arms",
    words: "Arms",
    lead: "What the arms are made of. An upper arm that nothing is told of is taken to be like the lower one.",
    questions: [...armQuestions("lower"), ...armQuestions("upper")],
  },
  {
    key: "springs",
    words: "Springs",
    lead: "Take one spring out, if you can: it tells most.",
    questions: [
      ask("springTop.out", "Spring top, out", "From the middle of the car to the upper eye.", "springTop", "mm"),
      ask("springTop.up", "spring top, up", "From the table to the upper eye.", null, "mm"),
      ask("springOn", "its foot stands on", "", null),
      ask("springSeatPercent", "how far out on the arm", "0 is the inner pin, 100 the outer one.", "seat", "%", (s) => s.corner.spring.seat.on !== "hub"),
      ask("springCount", "springs at this wheel", "", null),
      ask("springRateNPerMm", "one spring, per mm", "Off its bag; or put a weight on it, below.", "sink", "N/mm"),
      ask("springLengthMm", "its length, unloaded", "Eye to eye, lying on the table.", "springLength", "mm"),
    ],
  },
  {
    key: "hub",
    words: "Hub, tyre",
    lead: "What keeps the wheel on, and how much it rattles.",
    questions: [
      ask("wheelHeldBy", "The wheel is held by", "", null),
      ask("lipN", "a straight pull strips it at", "Hang weights on the wheel, its axis upright, until it comes off; once is enough.", "pull", "N", held("lip")),
      ask("crossPinMm", "the pin is thick", "", "crossPin", "mm", held("crossPin")),
      ask("hubPlayDeg", "it rattles, each way", "Tilt the wheel by hand from stop to stop: half of the angle.", "rattle", "°"),
      ask("tyreHeldBy", "the tyre is held by", "", null),
    ],
  },
  {
    key: "drive",
    words: "Motors",
    lead: "For the speeds and for what heats and pulls. Leave it out if only the lean is asked.",
    questions: [
      ask("drivenWheels", "Driven wheels", "", null),
      ask("motorOn", "motor or last gear sits on", "What the last turning part is bolted to: it takes the twist of the push.", null),
      ask("motorsPerWheel", "motors per driven wheel", "One motor for two wheels is 0.5.", null),
      ask("stallTorqueNmm", "one motor, held fast", "Its torque off the bag.", null, "N·mm"),
      ask("noLoadRpm", "one motor, running free", "Its speed off the bag.", null, "rpm"),
      ask("drivingTeeth", "teeth of the gear on the motor", "", "teeth"),
      ask("drivenTeeth", "teeth of the gear it drives", "", null),
    ],
  },
];

/** Smallest and largest answer that its field takes, in the unit of the question. */
export function answerRange(s: Scenario, key: NumberKey): { min: number; max: number; whole: boolean } {
  const times = timesOf(s, key);
  const range = rangeOf(pathsOf(s, key)[0], s);
  const round = (v: number): number => Math.round(v * 1e4) / 1e4;
  return { min: round((range?.min ?? 0) / times), max: round((range?.max ?? 1000) / times), whole: range?.whole ?? false };
}

/** Words for an answer in the history. */
export function answerName(s: Scenario, q: Question): string {
  const value = answerOf(s, q.key);
  const words = q.words.charAt(0).toLowerCase() + q.words.slice(1);
  return isChoice(q.key) ? `${words}: ${value}` : `${words} ${Math.round((value as number) * 1e3) / 1e3}${q.unit ? ` ${q.unit}` : ""}`;
}

export const isAsked = (q: Question, s: Scenario): boolean => (q.when?.(s) ?? true) && answerOf(s, q.key) !== undefined;
export const isChoiceQuestion = (q: Question): q is Question & { key: ChoiceKey } => isChoice(q.key);
