import type { Scenario } from "../core/design/types.ts";
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

export interface Track {
  name: string;
  radiusM: number;
}

/** stands in where a design has no track of its own */
const FALLBACK_TRACK: Track = { name: "curve", radiusM: 6 };

/** A design's tracks; never none. */
export const tracksOf = (s: Scenario): readonly Track[] => (s.tracks.length > 0 ? s.tracks : [FALLBACK_TRACK]);

/** The curve that speeds are told for: the chosen radius, else the chosen track's. */
export function chosenTrack(s: Scenario, road: RoadView): Track {
  const tracks = tracksOf(s);
  const track = tracks[road.track % tracks.length] as Track;
  if (road.radiusM === null) return track;
  return { name: tracks.find((t) => t.radiusM === road.radiusM)?.name ?? FALLBACK_TRACK.name, radiusM: road.radiusM };
}
