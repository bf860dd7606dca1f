/** How a stroke of a drawing of a set-up looks. */
type Look =
  | "part"
  | "thin-part"
  | "hub"
  | "wash"
  | "ink"
  | "hair"
  | "build"
  | "held"
  | "hatch"
  | "load"
  | "load-head"
  | "read"
  | "cord"
  | "weight"
  | "scale"
  | "gives"
  | "paper";
export type Stroke = readonly [Look, string];

export interface Label {
  x: number;
  y: number;
  words: string;
  anchor: "start" | "middle" | "end";
  /** of what is pulled, or of what is read */
  tone: "plain" | "load" | "read";
}

/** One set-up: its strokes and words on a sheet of 360 by 220, and from where it is seen. */
export interface SetUpSketch {
  view: string;
  strokes: readonly Stroke[];
  labels: readonly Label[];
}

export const SHEET = { width: 360, height: 220 } as const;

type XY = readonly [number, number];
const n = (v: number): string => String(Math.round(v * 10) / 10);

export const circle = (x: number, y: number, r: number): string => `M${n(x - r)} ${n(y)}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0Z`;
export const box = (x: number, y: number, w: number, h: number): string => `M${n(x)} ${n(y)}h${n(w)}v${n(h)}h${n(-w)}Z`;
export const polygon = (points: readonly XY[], closed = true): string => `M${points.map(([x, y]) => `${n(x)} ${n(y)}`).join("L")}${closed ? "Z" : ""}`;

/** Points turned about one of them, clockwise as seen, degrees. */
export function turned(points: readonly XY[], [cx, cy]: XY, degrees: number): XY[] {
  const a = (degrees * Math.PI) / 180;
  const [c, s] = [Math.cos(a), Math.sin(a)];
  return points.map(([x, y]) => [cx + c * (x - cx) - s * (y - cy), cy + s * (x - cx) + c * (y - cy)]);
}
export const corners = (x: number, y: number, w: number, h: number): XY[] => [
  [x, y],
  [x + w, y],
  [x + w, y + h],
  [x, y + h],
];

/** What cannot move: a block with slanted lines. */
export function held(x: number, y: number, w: number, h: number): Stroke[] {
  let d = "";
  for (let k = 10; k < w + h; k += 10) d += `M${n(x + Math.max(0, k - h))} ${n(y + Math.min(h, k))}L${n(x + Math.min(w, k))} ${n(y + Math.max(0, k - w))}`;
  return [
    ["held", box(x, y, w, h)],
    ["hatch", d],
  ];
}

/** A pull or a push, with a solid head at its end. */
export function pull(from: XY, to: XY): Stroke[] {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const l = Math.hypot(dx, dy);
  const [ux, uy] = [dx / l, dy / l];
  const foot: XY = [to[0] - 11 * ux, to[1] - 11 * uy];
  return [
    ["load", polygon([from, foot], false)],
    ["load-head", polygon([to, [foot[0] - 5.5 * uy, foot[1] + 5.5 * ux], [foot[0] + 5.5 * uy, foot[1] - 5.5 * ux]])],
  ];
}

/** A cord with a scale in it, pulled. */
export function cordScale(from: XY, to: XY): Stroke[] {
  const at = (f: number): XY => [from[0] + f * (to[0] - from[0]), from[1] + f * (to[1] - from[1])];
  const [x, y] = at(0.4);
  return [["cord", polygon([from, at(0.55)], false)], ...pull(at(0.5), to), ["scale", circle(x, y, 10)], ["ink", `M${n(x)} ${n(y)}L${n(x + 5)} ${n(y - 6)}`]];
}

/** A measure that is read, with a foot at each end; or, as a hair, one that is told beforehand. */
export function measure(from: XY, to: XY, look: "read" | "hair" = "read"): Stroke {
  const upright = from[0] === to[0];
  const foot = ([x, y]: XY): string => (upright ? `M${n(x - 5)} ${n(y)}h10` : `M${n(x)} ${n(y - 5)}v10`);
  return [look, `${polygon([from, to], false)}${foot(from)}${foot(to)}`];
}

export function ruler(x: number, from: number, to: number): Stroke[] {
  let ticks = "";
  for (let y = from + 6; y < to; y += 6) ticks += `M${n(x)} ${n(y)}h${(y - from) % 30 === 0 ? 9 : 5}`;
  return [
    ["paper", box(x, from, 14, to - from)],
    ["hair", ticks],
  ];
}

/** A pail on a cord. */
export const pail = (x: number, from: number, to: number): Stroke[] => [
  ["cord", `M${n(x)} ${n(from)}V${n(to - 10)}M${n(x - 13)} ${n(to)}L${n(x)} ${n(to - 10)}L${n(x + 13)} ${n(to)}`],
  [
    "weight",
    polygon([
      [x - 14, to],
      [x + 14, to],
      [x + 10, to + 28],
      [x - 10, to + 28],
    ]),
  ],
];

/** A kitchen scale with its plate at `y`. */
export const scale = (x: number, y: number, w: number): Stroke[] => [
  ["scale", box(x, y, w, 6)],
  [
    "scale",
    polygon([
      [x + 8, y + 6],
      [x + w - 8, y + 6],
      [x + w, y + 26],
      [x, y + 26],
    ]),
  ],
  ["paper", box(x + w / 2 - 18, y + 10, 36, 12)],
];

/** A coil between two heights. */
export function coil(x: number, from: number, to: number, half: number, turns: number): Stroke {
  const step = (to - from - 10) / (2 * turns);
  const points: XY[] = [
    [x, from],
    [x, from + 5],
  ];
  for (let k = 0; k < 2 * turns; k++) points.push([x + (k % 2 ? -half : half), from + 5 + step * (k + 0.5)]);
  return ["ink", polygon([...points, [x, to - 5], [x, to]], false)];
}

/** A phone that lies against something. */
export const phone = (points: readonly XY[]): Stroke[] => [["paper", polygon(points)]];

export const ground = (y: number): Stroke => ["hair", `M8 ${n(y)}H352`];

export const label = (x: number, y: number, words: string, anchor: Label["anchor"] = "start", tone: Label["tone"] = "plain"): Label => ({
  x,
  y,
  words,
  anchor,
  tone,
});
