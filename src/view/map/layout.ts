import { lateralGAt } from "../../core/cornering.ts";
import type { Corner } from "../../core/design/types.ts";
import type { SpeedMap } from "../../core/studies/speed-map.ts";
import { mpsToKmh } from "../../core/units.ts";
import type { V2 } from "../../core/vec.ts";
import { fixed } from "../format.ts";
import type { Box, Measure } from "../labels.ts";
import type { MapAreas, MapLine } from "./areas.ts";
import { kmhAt, type MapFrame, xOf, yOf } from "./frame.ts";
import { givesFirst, mapWords, SHORT } from "./names.ts";
import { alongLine, freeBox, isFree, type OnLine, overlaps, turnedBoxes } from "./place.ts";
import { regionsOf } from "./regions.ts";

/** A text on the map. */
export interface MapLabel extends OnLine {
  key: string;
  text: string;
  look: "gives" | "lean" | "drive" | "safe";
}

/** A named region: two lines on a lifted box. */
export interface MapTag {
  key: string;
  box: Box;
  lines: string[];
  look: "gives" | "easy" | "b" | "known";
}

export interface MapLayout {
  labels: MapLabel[];
  tags: MapTag[];
  /** speed that the drive reaches, px; null: off the map */
  driveY: number | null;
  safe: V2[];
  safeB: V2[];
  /** with what the runs tell */
  safeKnown: V2[];
  /** lines of limits that are drawn: each has its name beside it, or is the safe line itself */
  limits: MapLine[];
}

export const MAP_TEXT = { label: 14, narrow: 12, title: 20, titleNarrow: 14, sub: 13 } as const;
const PAD = { x: 14, y: 8 } as const;
const SHARES = [0.2, 0.12, 0.28, 0.36, 0.44, 0.52, 0.6, 0.7, 0.8];
/** for what must find a place */
const SHARES_FINE = [...SHARES, 0.16, 0.24, 0.32, 0.4, 0.48, 0.56, 0.65, 0.75, 0.85, 0.9, 0.07];
const SHARES_LATE = [0.85, 0.78, 0.7, 0.62, 0.54, 0.46, 0.38];

/** The safe line of a map on the sheet. */
export function safeLine(map: SpeedMap, f: MapFrame): V2[] {
  const out: V2[] = [];
  for (const p of map.safe) {
    const kmh = mpsToKmh(p.speedMps);
    if (p.radiusM < f.range.radiusM[0] || p.radiusM > f.range.radiusM[1]) continue;
    if (kmh > f.range.kmh) break;
    out.push([xOf(f, p.radiusM), yOf(f, kmh)]);
  }
  const last = map.safe[out.length];
  // up to the upper edge, where the line leaves the map
  if (out.length > 0 && last && mpsToKmh(last.speedMps) > f.range.kmh) {
    const [x0, y0] = out[out.length - 1] as V2;
    const x1 = xOf(f, last.radiusM);
    const y1 = yOf(f, mpsToKmh(last.speedMps));
    const t = (f.top - y0) / (y1 - y0);
    out.push([x0 + (x1 - x0) * t, f.top]);
  }
  return out;
}

const figures0 = (v: number): string => fixed(v, Number.isInteger(v) ? 0 : Number.isInteger(v * 2) ? 1 : 2);

export const onSheet =
  (f: MapFrame) =>
  (p: V2): V2 => [f.left + p[0] * (f.right - f.left), f.bottom - p[1] * (f.bottom - f.top)];

export interface MapLayoutInput {
  map: SpeedMap;
  areas: MapAreas;
  b: SpeedMap | null;
  /** the design with what its runs tell, until that is taken; null: they tell nothing new */
  known?: SpeedMap | null;
  corner: Corner;
  frame: MapFrame;
  /** where the car stands */
  bob: { radiusM: number; kmh: number };
  spare: boolean;
}

/** Places for everything that is written on a map; what finds no room is left out. */
export function mapLayout(input: MapLayoutInput, measure: Measure): MapLayout {
  const { map, areas, b, corner, frame, spare } = input;
  const sheet: Box = { x: frame.left + 2, y: frame.top + 2, w: frame.right - frame.left - 4, h: frame.bottom - frame.top - 4 };
  const size = spare ? MAP_TEXT.narrow : MAP_TEXT.label;
  const title = spare ? MAP_TEXT.titleNarrow : MAP_TEXT.title;
  const sub = spare ? MAP_TEXT.narrow : MAP_TEXT.sub;
  const bx = xOf(frame, input.bob.radiusM);
  const by = yOf(frame, input.bob.kmh);
  const taken: Box[] = [{ x: bx - 18, y: by - 18, w: 36, h: 36 }, bobTagBox(frame, bx, by, spare)];
  const tags: MapTag[] = [];
  const labels: MapLabel[] = [];
  const tag = (key: string, lines: string[], look: MapTag["look"], across: number[], top: number, bottom: number): void => {
    const w = Math.max(measure(lines[0] as string, title, true), lines[1] ? measure(lines[1], sub, false) : 0) + 2 * PAD.x;
    const h = title * 1.2 + (lines[1] ? sub * 1.3 : 0) + 2 * PAD.y;
    const box = freeBox(w, h, across, top, bottom, taken, sheet);
    if (!box) return;
    taken.push(box);
    tags.push({ key, box, lines, look });
  };
  const place = onSheet(frame);
  const reach = mpsToKmh(map.reachableMps);
  const driveY = reach > 0 && reach <= frame.range.kmh ? yOf(frame, reach) : null;
  if (driveY !== null) {
    const kmh = fixed(reach, reach < 10 || map.driven ? 1 : 0);
    const text = map.driven
      ? `${spare ? "driven" : "top speed driven"}: ${kmh} km/h`
      : spare
        ? `drive: ${fixed(reach, 0)} km/h`
        : `your drive tops out at ${kmh} km/h`;
    const w = measure(text, size, true);
    // clear of the line that leads to the bob, and of what the bob says
    const lead: Box = { x: frame.left, y: by - 2, w: bx - frame.left, h: 4 };
    const spots = [frame.left + 10 + w / 2, frame.right - 10 - w / 2].flatMap((x) =>
      [-0.75, 0.85].map((up) => ({ at: [x, driveY + up * size] as V2, deg: 0 })),
    );
    const on = spots.find((p) => turnedBoxes(p, w, size).every((q) => ![lead, ...taken].some((t) => overlaps(q, t)))) ?? spots[0]!;
    labels.push({ key: "drive", text, look: "drive", ...on });
    taken.push(...turnedBoxes(on, w + 8, size * 1.1), { x: frame.left, y: driveY - 3, w: frame.right - frame.left, h: 6 });
  }
  const safe = safeLine(map, frame);
  for (const r of regionsOf(map)) {
    const then = r.next.map((n) => SHORT[n]);
    const x0 = place([r.from, 0])[0];
    const x1 = place([r.to, 0])[0];
    const shares = [0.25, 0.18, 0.33, 0.42, 0.5, 0.6, 0.7];
    const y = place([0, r.givesAt])[1];
    const lines = [givesFirst(r.limit, corner)];
    if (then.length > 0) lines.push(`then ${then.join(", then ")}`);
    tag(
      `region.${r.from.toFixed(3)}`,
      lines,
      "gives",
      shares.map((s) => x0 + s * (x1 - x0)),
      frame.top + (spare ? 8 : 0.12 * (frame.bottom - frame.top)),
      Math.max(y, frame.top + 0.6 * (frame.bottom - frame.top)),
    );
  }
  const text = (key: string, words: string, look: MapLabel["look"], lines: readonly (readonly V2[])[], shift: number, shares: readonly number[]): boolean => {
    const strong = look !== "lean";
    const w = measure(words, size, strong) + 6;
    const on = alongLine(lines, w, size * 1.15, shift, taken, sheet, shares);
    if (!on) return false;
    taken.push(...turnedBoxes(on, w, size * 1.15));
    labels.push({ key, text: words, look, ...on });
    return true;
  };
  const first = map.safe[0]?.limit ?? null;
  const drawn = areas.limits.map((l) => ({ ...l, runs: l.runs.map((run) => run.map(place)) }));
  if (safe.length > 1 && first) text("safe", mapWords(first, corner).line, "safe", [safe], size * 1.1, SHARES);
  // a line that finds no room for its name would only puzzle: the region's tag names what comes next
  const named = drawn.filter((l) => {
    if (!l.limit) return false;
    if (l.limit === first) return true;
    const words = mapWords(l.limit, corner).line;
    return [-0.75, 0.85].some((shift) => text(l.key, words, "gives", l.runs, shift * size, SHARES_FINE));
  });
  /** the name of a second safe line, on a box beside it */
  const beside = (key: "b" | "known", line: readonly V2[], words: string): void => {
    if (line.length < 2) return;
    const w = measure(words, size, true) + 14;
    const h = size * 1.2 + 8;
    for (const share of SHARES_LATE) {
      const p = line[Math.round(share * (line.length - 1))] as V2;
      const box = [6, -h - 6]
        .map((dy): Box => ({ x: Math.min(p[0] - w / 3, frame.right - w - 4), y: p[1] + dy + (dy > 0 ? 10 : -10), w, h }))
        .find((x) => isFree(x, taken, sheet));
      if (!box) continue;
      taken.push(box);
      tags.push({ key, box, lines: [words], look: key });
      break;
    }
  };
  const safeB = b ? safeLine(b, frame) : [];
  beside("b", safeB, spare ? "B safe below" : "B is safe below this");
  const safeKnown = input.known ? safeLine(input.known, frame) : [];
  beside("known", safeKnown, spare ? "with the runs" : "safe below this with the runs");
  for (const l of areas.leans)
    text(
      l.key,
      `lean ${figures0(l.leanDeg as number)}°`,
      "lean",
      l.runs.map((run) => run.map(place)),
      0,
      SHARES_LATE,
    );
  const easyTop = yOf(frame, kmhAt(frame.range.radiusM[1], easyG(map)));
  tag(
    "easy",
    ["drives easily", "under 60 % of every limit"],
    "easy",
    [0.72, 0.64, 0.8, 0.56].map((s) => frame.left + s * (frame.right - frame.left)),
    Math.max(easyTop, frame.top + 0.6 * (frame.bottom - frame.top)),
    frame.bottom - 10,
  );
  return { labels, tags, driveY, safe, safeB, safeKnown, limits: areas.limits.filter((l) => named.some((n) => n.key === l.key)) };
}

/** Cornering below which every limit is under 0.6, at the widest curve of a map, g. */
function easyG(map: SpeedMap): number {
  const columns = map.radiiM.length;
  let g = 0;
  for (let row = 0; row < map.speedsMps.length; row++) {
    const i = row * columns + columns - 1;
    if ((map.worst[i] as number) >= 0.6) break;
    g = lateralGAt(map.speedsMps[row] as number, map.radiiM[columns - 1] as number);
  }
  return g;
}

const BOB_TAG = { w: 214, h: 50, narrowW: 172, narrowH: 40 } as const;

/** The tag of the car's place: below and right of the bob, on the other side where there is no room. */
export function bobTagBox(f: MapFrame, x: number, y: number, spare: boolean): Box {
  const w = spare ? BOB_TAG.narrowW : BOB_TAG.w;
  const h = spare ? BOB_TAG.narrowH : BOB_TAG.h;
  const left = x + 22 + w > f.right ? x - 22 - w : x + 22;
  const top = y + 16 + h > f.bottom ? y - 16 - h : y + 16;
  return { x: Math.max(f.left, left), y: Math.max(f.top, top), w, h };
}
