import type { Hand } from "../core/studies/cornering-table.ts";

/** How the speed map is looked at. */
export interface MapView {
  /** curve that the car stands on; null: the chosen track's, m */
  radiusM: number | null;
  /** peak of the road's force over its steady value */
  shock: number;
  /** the factor that the last motion run handed on; null: none yet */
  motionShock?: number | null;
  /** which way the curve goes while there is no cornering that tells it */
  hand: Hand;
  /** the drive is unfolded */
  drive: boolean;
  /** what the changes are ranked by: "speed", "lean" or the name of a limit */
  aim: string;
  /** the way here was to what to change first: to be brought into sight once */
  toChanges: boolean;
}

export const INITIAL_MAP_VIEW: MapView = { radiusM: null, shock: 1, hand: "left", drive: false, aim: "speed", toChanges: false };
