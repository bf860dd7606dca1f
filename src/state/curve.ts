import { tracksOf } from "../core/cornering.ts";
import type { Scenario, Track } from "../core/design/types.ts";
import type { ViewState } from "./document.ts";

/** The curve that every page tells speeds for: the radius chosen on the speed map, else the chosen one of the design's tracks. */
export function curveStoodOn(s: Scenario, view: Pick<ViewState, "track" | "map">): Readonly<Track> {
  const tracks = tracksOf(s);
  const { radiusM } = view.map;
  if (radiusM === null) return tracks[view.track % tracks.length]!;
  return tracks.find((t) => t.radiusM === radiusM) ?? { name: "your curve", radiusM };
}
