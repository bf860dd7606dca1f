import type { Corner, Scenario } from "../core/design/types.ts";
import type { SpeedMap } from "../core/studies/speed-map.ts";
import type { V2 } from "../core/vec.ts";
import { fixed } from "../view/format.ts";
import { mapAreas, type Rings } from "../view/map/areas.ts";
import { kmhTicks, type MapFrame, type MapRange, radiusTicks, xOf, yOf } from "../view/map/frame.ts";
import { bobTagBox, MAP_TEXT, type MapLabel, type MapTag, mapLayout, onSheet } from "../view/map/layout.ts";
import { pointWords } from "../view/map/words.ts";
import { at, el, say } from "./markup.ts";
import { measureText } from "./measure.ts";
import { toneOf } from "./tones.ts";

export const MAP_PX = { width: 700, height: 468 } as const;
const TEXT = 12.5;

export interface MapPicture {
  map: SpeedMap;
  /** design B on the same range: its safe line */
  b: SpeedMap | null;
  scenario: Scenario;
  corner: Corner;
  range: MapRange;
  /** where the report's load lies, null: straight on */
  place: { radiusM: number; kmh: number } | null;
  /** tells apart the hatches of several maps in one document */
  id: string;
  name: string;
}

/** The speed map with a hatch for every colour step, so that it reads in grey too. */
export function mapSvg(p: MapPicture): string {
  const f: MapFrame = { left: 34, top: 24, right: MAP_PX.width - 12, bottom: MAP_PX.height - 72, range: p.range };
  const areas = mapAreas(p.map);
  const bob = p.place ?? { radiusM: p.range.radiusM[0], kmh: 0 };
  const out = mapLayout({ map: p.map, areas, b: p.b, corner: p.corner, frame: f, bob, spare: false }, measureText);
  const place = onSheet(f);
  const rings = (r: Rings): string => r.map((ring) => line(ring.map(place)) + "Z").join("");
  const lines = (runs: Rings, tone: string, width: number): string =>
    el("path", { d: runs.map((run) => line(run.map(place))).join(""), fill: "none", stroke: toneOf(tone), "stroke-width": width });
  const step = (i: 1 | 2 | 3, r: Rings): string => {
    const d = rings(r);
    const fill = i === 3 ? toneOf("sheet") : toneOf(`u-${i}`);
    return el("path", { d, fill, "fill-rule": "evenodd" }) + el("path", { d, fill: `url(#${p.id}-u${i})`, "fill-rule": "evenodd" });
  };
  const parts = [
    el(
      "defs",
      {},
      hatch(`${p.id}-u1`, "M0 14L14 0", 14, "u-1-line"),
      hatch(`${p.id}-u2`, "M0 7L7 0", 7, "u-2-line"),
      hatch(`${p.id}-u3`, "M0 0L12 12M12 0L0 12", 12, "u-3-text", 0.45),
    ),
    el("rect", { x: f.left, y: f.top, width: at(f.right - f.left), height: at(f.bottom - f.top), fill: toneOf("u-0") }),
    ...areas.steps.map((r, i) => step((i + 1) as 1 | 2 | 3, r)),
    ...areas.leans.map((l) => lines(l.runs, "ink-2", 0.75)),
    ...out.limits.map((l) => lines(l.runs, "u-3-text", 1.25)),
    out.driveY === null
      ? ""
      : el("path", { d: `M${f.left} ${at(out.driveY)}H${f.right}`, stroke: toneOf("ink"), "stroke-width": 1.5, "stroke-dasharray": "2 3" }),
    out.safe.length > 1 ? el("path", { d: line(out.safe), fill: "none", stroke: toneOf("ink"), "stroke-width": 3.5 }) : "",
    out.safeB.length > 1 ? bandedB(out.safeB) : "",
    ...axes(f, p.scenario),
    p.place ? placeLines(f, p.place) : "",
    ...out.labels.map(labelSvg),
    ...out.tags.map(tagSvg),
    p.place ? placeSvg(f, p.place, pointWords(p.map, p.corner, p.place.radiusM, p.place.kmh)) : "",
  ];
  return el("svg", { class: "map", viewBox: `0 0 ${MAP_PX.width} ${MAP_PX.height}`, role: "img", "aria-label": p.name }, ...parts);
}

const line = (points: readonly V2[]): string => points.map((q, i) => `${i === 0 ? "M" : "L"}${at(q[0])} ${at(q[1])}`).join("");

function hatch(id: string, d: string, size: number, tone: string, opacity = 1): string {
  return el(
    "pattern",
    { id, width: size, height: size, patternUnits: "userSpaceOnUse" },
    el("path", { d, stroke: toneOf(tone), "stroke-width": 1, "stroke-opacity": opacity }),
  );
}

/** B's safe line: dashed, on a light band so that it stands off every hatch. */
const bandedB = (points: readonly V2[]): string =>
  el("path", { d: line(points), fill: "none", stroke: toneOf("sheet"), "stroke-width": 5 }) +
  el("path", { d: line(points), fill: "none", stroke: toneOf("design-b-line"), "stroke-width": 2.5, "stroke-dasharray": "7 4" });

function text(x: number, y: number, words: string, anchor: string, tone: string, strong = false, size: number = TEXT): string {
  return say("text", { x: at(x), y: at(y), "text-anchor": anchor, "font-size": size, "font-weight": strong ? 700 : null, fill: toneOf(tone) }, words);
}

function axes(f: MapFrame, s: Scenario): string[] {
  const parts: string[] = [text(0, f.top - 10, "km/h", "start", "ink-3")];
  for (const v of kmhTicks(f.range)) {
    parts.push(el("path", { d: `M${f.left - 5} ${at(yOf(f, v))}H${f.left}`, stroke: toneOf("ink"), "stroke-width": 1 }));
    parts.push(text(f.left - 8, yOf(f, v) + 4, String(v), "end", "ink-2"));
  }
  let last = Number.NEGATIVE_INFINITY;
  for (const r of radiusTicks(f.range)) {
    const x = xOf(f, r);
    parts.push(el("path", { d: `M${at(x)} ${at(f.bottom)}v5`, stroke: toneOf("ink"), "stroke-width": 1 }));
    const words = fixed(r, Number.isInteger(r) ? 0 : 1);
    const half = measureText(words, TEXT, false) / 2;
    if (x - half < last) continue;
    last = x + half + 8;
    parts.push(text(x, f.bottom + 19, words, "middle", "ink-2"));
  }
  let taken = Number.NEGATIVE_INFINITY;
  for (const t of [...s.tracks].sort((a, b) => a.radiusM - b.radiusM)) {
    const x = xOf(f, t.radiusM);
    if (x < f.left - 1 || x > f.right + 1) continue;
    parts.push(el("path", { d: `M${at(x)} ${at(f.bottom + 26)}l-5 9h10Z`, fill: toneOf("ink") }));
    const end = x + 9 + measureText(t.name, TEXT, true);
    if (x < taken || end > MAP_PX.width) continue;
    taken = end + 12;
    parts.push(text(x + 9, f.bottom + 36, t.name, "start", "ink", true));
  }
  parts.push(text(f.right, f.bottom + 56, AXIS, "end", "ink-3"));
  return parts;
}
const AXIS = "curve radius, m (logarithmic)";

const LABEL_TONE: Readonly<Record<MapLabel["look"], string>> = { gives: "u-3-text", lean: "ink-2", drive: "ink", safe: "ink" };

function labelSvg(l: MapLabel): string {
  const turn = l.deg === 0 ? null : `rotate(${at(l.deg)} ${at(l.at[0])} ${at(l.at[1])})`;
  return say(
    "text",
    {
      x: at(l.at[0]),
      y: at(l.at[1] + MAP_TEXT.label * 0.35),
      transform: turn,
      "text-anchor": "middle",
      "font-size": MAP_TEXT.label,
      "font-weight": l.look === "lean" ? null : 700,
      fill: toneOf(LABEL_TONE[l.look]),
      class: "halo-sheet",
    },
    l.text,
  );
}

function tagSvg(t: MapTag): string {
  const tone = t.look === "gives" ? "u-3-text" : t.look === "b" ? "design-b" : "ink";
  const size = t.look === "b" ? MAP_TEXT.label : MAP_TEXT.title;
  const x = t.box.x + t.box.w / 2;
  const [first, second] = t.lines;
  const top = t.look === "b" ? t.box.y + t.box.h / 2 + size * 0.35 : t.box.y + 8 + size * 0.95;
  return (
    (t.look === "easy" ? "" : el("rect", { x: at(t.box.x), y: at(t.box.y), width: at(t.box.w), height: at(t.box.h), fill: toneOf("lift") })) +
    text(x, top, first as string, "middle", tone, true, size) +
    (second ? text(x, top + MAP_TEXT.sub * 1.4, second, "middle", tone, false, MAP_TEXT.sub) : "")
  );
}

/** Fine dots from the car's place to both axes. */
function placeLines(f: MapFrame, place: { radiusM: number; kmh: number }): string {
  if (place.kmh > f.range.kmh) return "";
  const d = `M${f.left} ${at(yOf(f, place.kmh))}H${at(xOf(f, place.radiusM))}V${at(f.bottom)}`;
  return el("path", { d, fill: "none", stroke: toneOf("ink"), "stroke-width": 1.25, "stroke-dasharray": "2 4" });
}

/** The car's own place: a ring with the plumb bob, and what is used there. */
function placeSvg(f: MapFrame, place: { radiusM: number; kmh: number }, words: readonly [string, string]): string {
  if (place.kmh > f.range.kmh) return "";
  const x = xOf(f, place.radiusM);
  const y = yOf(f, place.kmh);
  const box = bobTagBox(f, x, y, false);
  return (
    el("circle", { cx: at(x), cy: at(y), r: 10, fill: toneOf("lift"), stroke: toneOf("ink"), "stroke-width": 2 }) +
    el("path", { d: `M${at(x)} ${at(y + 6)}l-4 -8a4 4 0 0 1 8 0Z`, fill: toneOf("ink") }) +
    el("rect", { x: at(box.x), y: at(box.y), width: box.w, height: box.h, fill: toneOf("lift") }) +
    text(box.x + 10, box.y + 20, `here: ${words[0]}`, "start", "ink", true, MAP_TEXT.label) +
    text(box.x + 10, box.y + 38, words[1], "start", "ink-2")
  );
}
