import { fixed, withUnit } from "../../../view/format.ts";
import { type Run, runAt, type Track, type TracksModel, timeMarks } from "./tracks.ts";

/** One row of the trace as a table: round times, and every time at which something happens. */
export interface TrackTable {
  caption: string;
  head: string[];
  /** time, values, what happens then */
  rows: string[][];
}

/** moments closer together than this are one, s */
const SAME_S = 5e-4;
const NONE = "–";

function happenings(track: Track, model: TracksModel): { t: number; words: string }[] {
  const peak = track.peak ? [{ t: track.peak.t, words: `peak ${withUnit(track.peak.v, track.digits, track.unit)}${track.pale ? " if all held" : ""}` }] : [];
  return [...model.posts, ...peak].sort((a, b) => a.t - b.t);
}

/** Round times of the axis and the half of each step. */
function roundTimes(endS: number): number[] {
  const { long } = timeMarks(endS);
  const half = long.length > 1 ? (long[1]! - long[0]!) / 2 : endS;
  return Array.from({ length: Math.floor(endS / half + 1e-9) + 1 }, (_, i) => i * half);
}

export function trackTable(track: Track, model: TracksModel): TrackTable {
  const events = happenings(track, model);
  const times = [...events.map((e) => e.t), ...roundTimes(model.endS)].sort((a, b) => a - b).filter((t, i, all) => i === 0 || t - all[i - 1]! > SAME_S);
  const cell = (run: Run | null, t: number, from: number, to: number): string => {
    const v = run && t >= from - SAME_S && t <= to + SAME_S ? runAt(run, t) : null;
    return v === null ? NONE : fixed(v, track.digits);
  };
  const unit = track.unit ? `, ${track.unit}` : "";
  const about = [
    `${track.title}, ${track.term ? `${track.term}, ` : ""}${model.wheel}, over ${model.over}`,
    ...(track.limit === null ? [] : [`limit ${withUnit(track.limit, track.digits, track.unit)}`]),
    ...(track.steady === null ? [] : [`held steady in this ${withUnit(track.steady, track.digits, track.unit)}`]),
  ];
  return {
    caption: about.join("; "),
    head: ["time, s", `A${unit}`, ...(track.pale ? [`A if all held${unit}`] : []), ...(track.rival ? [`B${unit}`] : []), "what happens"],
    rows: times.map((t) => [
      fixed(t, 3),
      cell(track.line, t, 0, track.solidToS),
      ...(track.pale ? [cell(track.pale, t, track.paleFromS, Number.POSITIVE_INFINITY)] : []),
      ...(track.rival ? [cell(track.rival, t, 0, Number.POSITIVE_INFINITY)] : []),
      events
        .filter((e) => Math.abs(e.t - t) <= SAME_S)
        .map((e) => e.words)
        .join(", "),
    ]),
  };
}
