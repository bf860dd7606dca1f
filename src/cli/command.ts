import { rangeOf } from "../scenario/ranges.ts";
import type { LoadedScenario, LoadedText } from "./files.ts";
import type { Progress } from "./progress.ts";

/** An option with a number; its range is that of the scenario's field of the same meaning. */
export interface NumberOption {
  flag: string;
  /** stands for the number in the usage line */
  valueName: string;
  min: number;
  max: number;
  unit: string;
  about: string;
  /** only whole numbers */
  whole?: boolean;
}

/** An option with words: a file to write, or one of a few names. */
export interface TextOption {
  flag: string;
  valueName: string;
  about: string;
  oneOf?: readonly string[];
}

/** An option that is there or not. */
export interface FlagOption {
  flag: string;
  about: string;
}

export interface Answer {
  /** what --json prints */
  json: object;
  /** what a person reads */
  text: () => string;
  /** what --csv prints, where the command knows it */
  csv?: () => string;
}

export interface Command {
  name: string;
  about: string;
  /** how many scenario files it takes */
  files: 1 | 2;
  /** what a file of another kind is called in the usage line, which may stand before the scenario */
  before?: string;
  numbers: readonly NumberOption[];
  texts?: readonly TextOption[];
  flags?: readonly FlagOption[];
  /** further lines of its help */
  help: string;
  run: (files: readonly LoadedScenario[], values: Readonly<Record<string, number>>, more: RunHelp) => Answer | Promise<Answer>;
}

export interface RunHelp {
  texts: Readonly<Record<string, string>>;
  flags: ReadonlySet<string>;
  /** the file of another kind that stands before the scenario; null: none does */
  before: LoadedText | null;
  /** the answer goes out as JSON */
  json: boolean;
  progress: Progress;
}

function option(flag: string, valueName: string, field: string, about: string): NumberOption {
  const range = rangeOf(field);
  if (!range) throw new Error(`no number stands at ${field}`);
  return { flag, valueName, min: range.min, max: range.max, unit: range.unit, about };
}

export const LATERAL = option(
  "lateral",
  "G",
  "loadCases[0].lateralG",
  "cornering (lateral acceleration) in g; positive: left-hand curve, the right wheel is the outer one",
);
export const BUMP_LEFT = option("bump-left", "MM", "loadCases[0].bumpLeftMm", "road height under the left wheel in mm, positive up");
export const BUMP_RIGHT = option("bump-right", "MM", "loadCases[0].bumpRightMm", "road height under the right wheel in mm, positive up");
export const THROTTLE = option("throttle", "SHARE", "loadCases[0].throttle", "throttle, as a share of what the drive gives at the speed");
export const BRAKE = option("brake", "G", "loadCases[0].brakeG", "slowing down by the brakes in g");
export const RADIUS = option("radius", "M", "tracks[0].radiusM", "radius of the curve in m, for the speed that goes with the cornering");
export const SHOCK: NumberOption = {
  flag: "shock",
  valueName: "X",
  min: 1,
  max: 50,
  unit: "times",
  about: "road shock: the peak of the road's force over its steady value",
};
export const JOBS: NumberOption = {
  flag: "jobs",
  valueName: "N",
  min: 1,
  max: 64,
  unit: "at a time",
  about: "work on several cores: this many parts of the study at a time, no more than there are cores; without it one",
  whole: true,
};
export const HANDS = ["left", "right"] as const;
export const HAND: TextOption = { flag: "hand", valueName: "WAY", about: "left-hand or right-hand curve; without it left", oneOf: HANDS };
