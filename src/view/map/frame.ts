import { lateralGAt, speedInCurve } from "../../core/cornering.ts";
import type { Scenario } from "../../core/design/types.ts";
import { reachableSpeedMps } from "../../core/drive/drive-report.ts";
import { kmhToMps, mpsToKmh } from "../../core/units.ts";

/** Radii and speeds that a map shows. */
export interface MapRange {
  radiusM: readonly [number, number];
  kmh: number;
}

/** The plot on its sheet, px, y down; radii run logarithmically to the right, speeds upwards. */
export interface MapFrame {
  left: number;
  top: number;
  right: number;
  bottom: number;
  range: MapRange;
}

const LEAST_RADIUS_M = 2;
const MOST_RADIUS_M = 20;
const LEAST_KMH = 36;
const MOST_KMH = 120;
const KMH_STEP = 6;

/** Wide enough for all of the design's curves and for what its drive reaches. */
export function mapRange(s: Scenario): MapRange {
  const radii = s.tracks.map((t) => t.radiusM);
  const low = Math.min(LEAST_RADIUS_M, ...radii.map((r) => r * 0.85));
  const high = Math.max(MOST_RADIUS_M, ...radii.map((r) => r * 1.2));
  const reach = mpsToKmh(reachableSpeedMps(s)) * 1.1;
  const top = Number.isFinite(reach) ? Math.max(LEAST_KMH, Math.ceil(reach / KMH_STEP) * KMH_STEP) : LEAST_KMH;
  return { radiusM: [round(low), round(high)], kmh: Math.min(MOST_KMH, top) };
}

const round = (v: number): number => Number(v.toPrecision(2));

const acrossOf = (range: MapRange, radiusM: number): number => Math.log(radiusM / range.radiusM[0]) / Math.log(range.radiusM[1] / range.radiusM[0]);
export const radiusAt = (range: MapRange, across: number): number => range.radiusM[0] * (range.radiusM[1] / range.radiusM[0]) ** across;

export const xOf = (f: MapFrame, radiusM: number): number => f.left + (f.right - f.left) * acrossOf(f.range, radiusM);
export const yOf = (f: MapFrame, kmh: number): number => f.bottom - (f.bottom - f.top) * (kmh / f.range.kmh);

const clamp = (v: number, a: number, b: number): number => Math.max(a, Math.min(b, v));

/** Radius and speed under a point of the sheet, kept inside the plot. */
export function pointAt(f: MapFrame, x: number, y: number): { radiusM: number; kmh: number } {
  const across = clamp((x - f.left) / Math.max(1, f.right - f.left), 0, 1);
  const up = clamp((f.bottom - y) / Math.max(1, f.bottom - f.top), 0, 1);
  return { radiusM: radiusAt(f.range, across), kmh: up * f.range.kmh };
}

/** Cornering that a speed on a curve asks for, g. */
export const gAt = (radiusM: number, kmh: number): number => lateralGAt(kmhToMps(kmh), radiusM);
export const kmhAt = (radiusM: number, g: number): number => mpsToKmh(speedInCurve(g, radiusM));

/** Radii with a tick and a number on a logarithmic axis. */
export function radiusTicks(range: MapRange): number[] {
  const out: number[] = [];
  for (let decade = 10 ** Math.floor(Math.log10(range.radiusM[0])); decade <= range.radiusM[1]; decade *= 10)
    for (const m of [1, 1.2, 1.5, 2, 3, 4, 5, 6, 8]) {
      const r = Number((m * decade).toPrecision(3));
      if (r >= range.radiusM[0] - 1e-9 && r <= range.radiusM[1] + 1e-9) out.push(r);
    }
  return out;
}

export function kmhTicks(range: MapRange): number[] {
  const step = range.kmh > 72 ? 12 : KMH_STEP;
  return Array.from({ length: Math.floor(range.kmh / step) + 1 }, (_, i) => i * step);
}

/** The radius itself, or that of a track's mark close by on the sheet. */
export function nearTrack(f: MapFrame, radiusM: number, tracks: readonly { radiusM: number }[], withinPx: number): number {
  let best = radiusM;
  let least = withinPx;
  for (const t of tracks) {
    const d = Math.abs(xOf(f, t.radiusM) - xOf(f, radiusM));
    if (d <= least) [best, least] = [t.radiusM, d];
  }
  return best;
}
