import type { V2 } from "../core/vec.ts";

export interface LabelLine {
  text: string;
  /** px */
  size: number;
  strong: boolean;
  tone: string;
}

export type Spot = "left" | "right" | "above" | "below" | "upperLeft" | "upperRight" | "lowerLeft" | "lowerRight";
type LabelLook = "plain" | "gives" | "value";

/** A label that wants a place beside a thing. */
export interface LabelWish {
  key: string;
  /** the thing it belongs to, px */
  at: V2;
  lines: LabelLine[];
  /** 1 is placed first */
  priority: number;
  /** places in the order they are wanted */
  spots: readonly Spot[];
  /** distance from the thing, px */
  gap: number;
  look?: LabelLook;
  /** a straight line back to the thing */
  leader?: boolean;
  /** shown even where no place is free */
  must?: boolean;
}

export interface Box {
  x: number;
  y: number;
  w: number;
  h: number;
}

export interface PlacedLabel extends Box {
  key: string;
  lines: LabelLine[];
  look: LabelLook;
  align: "start" | "middle" | "end";
  leader: [V2, V2] | null;
  spot: Spot;
}

export type Measure = (text: string, size: number, strong: boolean) => number;

const LINE = 1.22;
const PAD: Record<LabelLook, [number, number]> = { plain: [2, 1], gives: [18, 8], value: [10, 8] };

/** A thing this far off the sheet has no label any more, px. */
const GONE_PX = 30;
const onSheet = (p: V2, s: Box): boolean => p[0] > s.x - GONE_PX && p[0] < s.x + s.w + GONE_PX && p[1] > s.y - GONE_PX && p[1] < s.y + s.h + GONE_PX;

const meets = (a: Box, b: Box): boolean => a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h;

function sizeOf(wish: LabelWish, measure: Measure): { w: number; h: number } {
  const [px, py] = PAD[wish.look ?? "plain"];
  let w = 0;
  let h = 0;
  for (const line of wish.lines) {
    w = Math.max(w, measure(line.text, line.size, line.strong));
    h += line.size * LINE;
  }
  return { w: w + 2 * px, h: h + 2 * py };
}

function boxAt(wish: LabelWish, spot: Spot, size: { w: number; h: number }, stretch: number): Box {
  const g = wish.gap * stretch;
  const [x, y] = wish.at;
  switch (spot) {
    case "left":
      return { x: x - g - size.w, y: y - size.h / 2, ...size };
    case "right":
      return { x: x + g, y: y - size.h / 2, ...size };
    case "above":
      return { x: x - size.w / 2, y: y - g - size.h, ...size };
    case "below":
      return { x: x - size.w / 2, y: y + g, ...size };
    case "upperLeft":
      return { x: x - g - size.w, y: y - g - size.h, ...size };
    case "upperRight":
      return { x: x + g, y: y - g - size.h, ...size };
    case "lowerLeft":
      return { x: x - g - size.w, y: y + g, ...size };
    case "lowerRight":
      return { x: x + g, y: y + g, ...size };
  }
}

const STRETCHES = [1, 1.3, 1.6, 1.8, 2, 2.6, 3.6];

/**
 * Labels in order of priority, each at the first place that is free of obstacles, of the sheet's edge and of
 * the labels before it; the place it had last time is tried first, so that labels keep still. One that must be
 * shown and finds no such place stands over the obstacles, free of the labels before it where that can be.
 */
export function placeLabels(
  wishes: readonly LabelWish[],
  obstacles: readonly Box[],
  sheet: Box,
  measure: Measure,
  last: ReadonlyMap<string, Spot>,
): PlacedLabel[] {
  const taken: Box[] = [...obstacles];
  const out: PlacedLabel[] = [];
  const inSheet = (b: Box): boolean => b.x >= sheet.x && b.y >= sheet.y && b.x + b.w <= sheet.x + sheet.w && b.y + b.h <= sheet.y + sheet.h;
  for (const wish of [...wishes].sort((a, b) => a.priority - b.priority)) {
    const size = sizeOf(wish, measure);
    const before = last.get(wish.key);
    const order = before && wish.spots.includes(before) ? [before, ...wish.spots.filter((s) => s !== before)] : wish.spots;
    const freeOf = (others: readonly Box[]): { box: Box; spot: Spot } | null => {
      for (const stretch of STRETCHES)
        for (const spot of order) {
          const box = boxAt(wish, spot, size, stretch);
          if (inSheet(box) && !others.some((t) => meets(t, box))) return { box, spot };
        }
      return null;
    };
    const must = wish.must && onSheet(wish.at, sheet);
    // over a part it can still be read, over other words it cannot
    let found = freeOf(taken) ?? (must ? freeOf(out) : null);
    if (!found && must) {
      const spot = order[0] ?? "right";
      const box = boxAt(wish, spot, size, 1);
      found = {
        box: { ...box, x: Math.max(sheet.x, Math.min(box.x, sheet.x + sheet.w - box.w)), y: Math.max(sheet.y, Math.min(box.y, sheet.y + sheet.h - box.h)) },
        spot,
      };
    }
    if (!found) continue;
    const { box, spot } = found;
    taken.push(box);
    const align = spot === "left" || spot.endsWith("Left") ? "end" : spot === "right" || spot.endsWith("Right") ? "start" : "middle";
    // the leader ends on the point of the box that is nearest to the thing
    const edge: V2 = [
      Math.max(box.x, Math.min(wish.at[0], box.x + box.w)),
      spot === "left" || spot === "right" ? box.y + box.h / 2 : Math.max(box.y, Math.min(wish.at[1], box.y + box.h)),
    ];
    out.push({ key: wish.key, lines: wish.lines, look: wish.look ?? "plain", align, spot, leader: wish.leader ? [wish.at, edge] : null, ...box });
  }
  return out;
}
