import { tracksOf } from "../core/cornering.ts";
import type { Scenario, Track } from "../core/design/types.ts";
import { fieldsOf, numberOr } from "./read.ts";

/** The curve and the road that speeds are told for; every page means the same one. */
export interface RoadView {
  /** which of the design's tracks */
  track: number;
  /** a curve of its own in place of the track's, m; null: the track's */
  radiusM: number | null;
  /** peak of the road's force over its steady value */
  shock: number;
  /** the factor that the last motion run handed on; null: none yet */
  motionShock: number | null;
}

export const INITIAL_ROAD: RoadView = { track: 1, radiusM: null, shock: 1, motionShock: null };

const RADIUS_MOST_M = 1000;
const SHOCK_MOST = 100;

export function readRoad(raw: unknown): RoadView {
  const r = fieldsOf(raw);
  const track = numberOr(r.track, INITIAL_ROAD.track, 0, Number.MAX_SAFE_INTEGER);
  return {
    track: Number.isInteger(track) ? track : INITIAL_ROAD.track,
    radiusM: numberOr(r.radiusM, null, Number.MIN_VALUE, RADIUS_MOST_M),
    shock: numberOr(r.shock, INITIAL_ROAD.shock, 1, SHOCK_MOST),
    motionShock: numberOr(r.motionShock, null, 1, SHOCK_MOST),
  };
}

/** The curve that every page tells speeds for: the chosen radius, else the chosen track's. */
export function chosenTrack(s: Pick<Scenario, "tracks">, road: Pick<RoadView, "track" | "radiusM">): Readonly<Track> {
  const tracks = tracksOf(s);
  const { radiusM } = road;
  if (radiusM === null) return tracks[road.track % tracks.length]!;
  return tracks.find((t) => t.radiusM === radiusM) ?? { name: "your curve", radiusM };
}
