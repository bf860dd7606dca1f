import type { Hand } from "../../../core/studies/curve-options.ts";
import { flagOr, oneOf, wordOr } from "../../../state/read.ts";
import { defineSlice } from "../../../state/slice.ts";

/** How the speed map is looked at. */
export interface MapView {
  /** which way the curve goes while there is no cornering that tells it */
  hand: Hand;
  /** the drive is unfolded */
  drive: boolean;
  /** what the changes are ranked by: "speed", "lean" or the name of a limit */
  aim: string;
  /** the way here was to what to change first: to be brought into sight once */
  toChanges: boolean;
}

export const mapSlice = defineSlice<MapView>("map", { hand: "left", drive: false, aim: "speed", toChanges: false }, (raw) => ({
  hand: oneOf(raw.hand, ["left", "right"] as const, "left"),
  drive: flagOr(raw.drive, false),
  aim: wordOr(raw.aim, "speed"),
  toChanges: flagOr(raw.toChanges, false),
}));
