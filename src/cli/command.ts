import { rangeOf } from "../scenario/ranges.ts";
import type { LoadedScenario } from "./files.ts";

/** An option with a number; its range is that of the scenario's field of the same meaning. */
export interface NumberOption {
  flag: string;
  /** stands for the number in the usage line */
  placeholder: string;
  min: number;
  max: number;
  unit: string;
  about: string;
}

export interface Answer {
  /** what --json prints */
  json: object;
  /** what a person reads */
  text: () => string;
}

export interface Command {
  name: string;
  about: string;
  /** how many scenario files it takes */
  files: 1 | 2;
  numbers: readonly NumberOption[];
  /** further lines of its help */
  help: string;
  run: (files: readonly LoadedScenario[], values: Readonly<Record<string, number>>) => Answer;
}

function option(flag: string, placeholder: string, field: string, about: string): NumberOption {
  const range = rangeOf(field);
  if (!range) throw new Error(`no number stands at ${field}`);
  return { flag, placeholder, min: range.min, max: range.max, unit: range.unit, about };
}

export const LATERAL = option(
  "lateral",
  "G",
  "loadCases[0].lateralG",
  "cornering (lateral acceleration) in g; positive: left-hand curve, the right wheel is the outer one",
);
export const BUMP_LEFT = option("bump-left", "MM", "loadCases[0].bumpLeftMm", "road height under the left wheel in mm, positive up");
export const BUMP_RIGHT = option("bump-right", "MM", "loadCases[0].bumpRightMm", "road height under the right wheel in mm, positive up");
export const RADIUS = option("radius", "M", "tracks[0].radiusM", "radius of the curve in m, for the speed that goes with the cornering");
