import { lineAt, type SafeLine } from "../../../core/doubt/told.ts";
import { mpsToKmh } from "../../../core/units.ts";
import type { V2 } from "../../../core/vec.ts";
import { type MapFrame, radiusAt, xOf, yOf } from "../../../view/map/frame.ts";

/** Lines of chances on the map, beside the safe line. */

/** Chances whose lines are drawn, and the two between which the band lies. */
export const DRAWN = [0.01, 0.1, 0.5] as const;
export const BAND = [0.05, 0.95] as const;

const STEPS = 40;
/** a line that runs nearer to the safe line than this has no name of its own, px */
const NAMED_PX = 7;
/** where along the radii each line's name stands */
const NAME_AT: Readonly<Record<number, number>> = { 0.01: 0.16, 0.1: 0.3, 0.5: 0.44 };

export interface DrawnLine {
  chance: number;
  points: V2[];
  /** its name, with the slope there, degrees; null: no room */
  name: { text: string; at: V2; deg: number } | null;
}

const speedsOf = (f: MapFrame, kmhAt: (radiusM: number) => number): V2[] =>
  Array.from({ length: STEPS + 1 }, (_, i): V2 => {
    const radiusM = radiusAt(f.range, i / STEPS);
    return [xOf(f, radiusM), yOf(f, kmhAt(radiusM))];
  }).filter(([, y]) => y >= f.top - 1);

/** @param safeKmh the plain safe speed over the radius */
export function chanceLines(f: MapFrame, lines: readonly SafeLine[], safeKmh: (radiusM: number) => number): DrawnLine[] {
  return DRAWN.flatMap((chance): DrawnLine[] => {
    const line = lines.find((l) => l.chance === chance);
    if (!line) return [];
    const kmh = (radiusM: number): number => mpsToKmh(lineAt(line, radiusM));
    const across = NAME_AT[chance]!;
    const [before, at, after] = [-0.02, 0, 0.02].map((d): V2 => {
      const radiusM = radiusAt(f.range, across + d);
      return [xOf(f, radiusM), yOf(f, kmh(radiusM))];
    }) as [V2, V2, V2];
    const apart = Math.abs(at[1] - yOf(f, safeKmh(radiusAt(f.range, across))));
    const fits = apart > NAMED_PX && at[1] > f.top + 10 && at[1] < f.bottom - 10;
    const deg = (Math.atan2(after[1] - before[1], after[0] - before[0]) * 180) / Math.PI;
    return [{ chance, points: speedsOf(f, kmh), name: fits ? { text: `${100 * chance} %`, at, deg } : null }];
  });
}

/** The band as an outline: up one line and back along the other. `low`, `high`: km/h over the radius. */
export function bandOutline(f: MapFrame, low: (radiusM: number) => number, high: (radiusM: number) => number): V2[] {
  const top = Array.from({ length: STEPS + 1 }, (_, i): V2 => {
    const radiusM = radiusAt(f.range, i / STEPS);
    return [xOf(f, radiusM), Math.max(f.top, yOf(f, high(radiusM)))];
  });
  const bottom = Array.from({ length: STEPS + 1 }, (_, i): V2 => {
    const radiusM = radiusAt(f.range, 1 - i / STEPS);
    return [xOf(f, radiusM), Math.max(f.top, yOf(f, Math.max(0, low(radiusM))))];
  });
  return [...top, ...bottom];
}
