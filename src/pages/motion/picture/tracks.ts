import { scaleLinear } from "d3-scale";

/** A value over time, one number per sample. */
export interface Run {
  t: ArrayLike<number>;
  v: ArrayLike<number>;
}

/** One row of the trace: a value of the followed wheel over the run. */
export interface Track {
  key: string;
  title: string;
  term: string;
  unit: string;
  digits: number;
  /** as it went; solid up to `solidToS` */
  line: Run;
  solidToS: number;
  /** as it would have gone on had everything held, from `paleFromS` on */
  pale: Run | null;
  paleFromS: number;
  rival: Run | null;
  /** the answer at rest */
  steady: number | null;
  limit: number | null;
  peak: { t: number; v: number; past: boolean } | null;
  /** a row shows at least so much: what hardly changes stays a flat line */
  leastSpan: number;
}

/** Something that begins, or (loud) comes off. */
export interface TimePost {
  t: number;
  words: string;
  loud: boolean;
}

export interface TracksModel {
  endS: number;
  wheel: string;
  /** what the time axis covers: "the run" */
  over: string;
  /** a whole run is recorded and can be saved */
  whole: boolean;
  /** upright lines: what begins when */
  posts: readonly TimePost[];
  tracks: readonly Track[];
}

/** room between a line and its words, px */
export const POST_GAP_PX = 5;

/** Lowest and highest of everything a row shows, with room above for a word. */
export function rangeOf(track: Track): { min: number; max: number } {
  let min = Number.POSITIVE_INFINITY;
  let max = Number.NEGATIVE_INFINITY;
  const see = (v: number | null | undefined): void => {
    if (v === null || v === undefined || !Number.isFinite(v)) return;
    if (v < min) min = v;
    if (v > max) max = v;
  };
  const run = (r: Run | null, from: number, to: number): void => {
    if (!r) return;
    for (let i = 0; i < r.v.length; i++) if (r.t[i]! >= from - 1e-9 && r.t[i]! <= to + 1e-9) see(r.v[i]);
  };
  run(track.line, 0, track.solidToS);
  run(track.pale, 0, Number.POSITIVE_INFINITY);
  see(track.steady);
  see(track.peak?.v);
  // a limit far beyond what happens would flatten the line
  const reach = Math.max(Math.abs(min), Math.abs(max));
  if (track.limit !== null && Math.abs(track.limit) <= 2.5 * reach) see(track.limit);
  // design B may go off the row, but not the other way round
  if (track.rival) {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < track.rival.v.length; i++) {
      const v = track.rival.v[i]!;
      if (v < low) low = v;
      if (v > high) high = v;
    }
    const span = max - min;
    see(Math.max(low, min - 0.5 * span));
    see(Math.min(high, max + 0.5 * span));
  }
  if (!Number.isFinite(min)) return { min: 0, max: track.leastSpan };
  const missing = track.leastSpan - (max - min);
  return missing > 0 ? { min: min - missing / 2, max: max + missing / 2 } : { min, max };
}

/** Whether a row has room for its limit's line. */
export const limitShown = (track: Track, range: { min: number; max: number }): boolean =>
  track.limit !== null && track.limit >= range.min - 1e-9 && track.limit <= range.max + 1e-9;

/** Value of a run at a time, between the samples by straight lines; null outside. */
export function runAt(run: Run, timeS: number): number | null {
  const n = run.t.length;
  if (n === 0 || timeS < run.t[0]! - 1e-9 || timeS > run.t[n - 1]! + 1e-9) return null;
  let low = 0;
  let high = n - 1;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (run.t[mid]! <= timeS) low = mid;
    else high = mid;
  }
  const span = run.t[high]! - run.t[low]!;
  if (!(span > 0)) return run.v[low]!;
  const share = Math.max(0, Math.min(1, (timeS - run.t[low]!) / span));
  return run.v[low]! + share * (run.v[high]! - run.v[low]!);
}

/** Where design B's line is named, once: the row and time at which it lies furthest from A's, over the row's range; null without a B. */
export function namingPlace(tracks: readonly Track[]): { row: number; t: number; v: number } | null {
  const tries = 12;
  let best: { row: number; t: number; v: number } | null = null;
  let most = -1;
  tracks.forEach((track, row) => {
    const { rival } = track;
    if (!rival || rival.t.length === 0) return;
    const { min, max } = rangeOf(track);
    const end = Math.min(rival.t[rival.t.length - 1]!, track.solidToS);
    for (let i = 1; i < tries; i++) {
      const t = (end * i) / tries;
      const a = runAt(track.line, t);
      const v = runAt(rival, t);
      if (a === null || v === null || v < min || v > max) continue;
      const far = Math.abs(v - a) / (max - min);
      if (far > most) {
        most = far;
        best = { row, t, v };
      }
    }
  });
  return best;
}

/**
 * Posts with the side of their line on which the words stand; null: no room, the line stands alone. The loud ones choose first: best across no
 * other line, else across no loud one. Quiet words never lie across a line.
 */
export function postSides(
  posts: readonly TimePost[],
  x: (t: number) => number,
  widthOf: (words: string) => number,
  from: number,
  to: number,
): ("start" | "end" | null)[] {
  const taken: [number, number][] = [];
  const out: ("start" | "end" | null)[] = posts.map(() => null);
  const order = posts.map((_, i) => i).sort((a, b) => Number(posts[b]!.loud) - Number(posts[a]!.loud) || posts[a]!.t - posts[b]!.t);
  for (const i of order) {
    const p = posts[i]!;
    const at = x(p.t);
    const w = widthOf(p.words) + POST_GAP_PX;
    const spans: { side: "start" | "end"; span: [number, number] }[] = [
      { side: "start", span: [at, at + w] },
      { side: "end", span: [at - w, at] },
    ];
    const roomy = spans.filter(({ span: [a, b] }) => a >= from && b <= to && !taken.some(([c, d]) => a < d && c < b));
    const crosses = ([a, b]: [number, number], loudOnly: boolean): boolean =>
      posts.some((q) => q.t !== p.t && (q.loud || !loudOnly) && x(q.t) > a && x(q.t) < b);
    const found = roomy.find(({ span }) => !crosses(span, false)) ?? (p.loud ? (roomy.find(({ span }) => !crosses(span, true)) ?? roomy[0]) : undefined);
    if (!found) continue;
    taken.push(found.span);
    out[i] = found.side;
  }
  return out;
}

/** Path of a run between two times. Of samples that fall on one px only the lowest and the highest are kept. */
export function pathOf(run: Run, x: (t: number) => number, y: (v: number) => number, fromS: number, toS: number): string {
  let d = "";
  let column = Number.NEGATIVE_INFINITY;
  let low = 0;
  let high = 0;
  let last = 0;
  let any = false;
  const flush = (): void => {
    if (!any) return;
    const at = column.toFixed(1);
    d += `${d ? "L" : "M"}${at} ${low.toFixed(1)}`;
    if (high - low > 0.05) d += `L${at} ${high.toFixed(1)}`;
    if (last !== high && high - low > 0.05) d += `L${at} ${last.toFixed(1)}`;
  };
  for (let i = 0; i < run.t.length; i++) {
    const t = run.t[i]!;
    if (t < fromS - 1e-9 || t > toS + 1e-9) continue;
    const px = x(t);
    const py = y(run.v[i]!);
    if (!Number.isFinite(py)) continue;
    if (px - column >= 1) {
      flush();
      column = px;
      low = py;
      high = py;
      any = true;
    } else {
      if (py < low) low = py;
      if (py > high) high = py;
    }
    last = py;
  }
  flush();
  return d;
}

/** Times on the axis: round ones with a number, short ones between. */
export function timeMarks(endS: number): { long: number[]; short: number[]; digits: number } {
  const scale = scaleLinear().domain([0, Math.max(1e-3, endS)]);
  const long = scale.ticks(6);
  const step = long.length > 1 ? long[1]! - long[0]! : endS;
  const short: number[] = [];
  for (let i = 1; i * (step / 4) <= endS + 1e-9; i++) if (i % 4 !== 0) short.push(i * (step / 4));
  return { long, short, digits: step < 0.099 ? 2 : step < 0.999 ? 1 : 0 };
}
