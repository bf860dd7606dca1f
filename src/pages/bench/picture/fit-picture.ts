import { type ScaleLinear, scaleLinear } from "d3-scale";
import { line } from "d3-shape";
import type { BenchFit } from "../../../core/bench/fit.ts";
import { fixed } from "../../../view/format.ts";

/** What a fit's drawing is made of, in px. */
export interface FitPicture {
  /** the plot above, and the strip of what is left over below it */
  plot: { left: number; right: number; top: number; bottom: number };
  strip: { top: number; bottom: number; zero: number };
  curves: { d: string; words: string; look: number }[];
  points: { row: number; x: number; y: number; at: number; way: "up" | "down" | null }[];
  /** from each point to the fitted line */
  sticks: string;
  /** the same differences from zero, in the strip */
  leftOver: string;
  xTicks: { at: number; words: string }[];
  yTicks: { at: number; words: string }[];
  stripTicks: { at: number; words: string }[];
}

const LEFT = 46;
const RIGHT = 12;
const TOP = 26;
const STRIP = 56;
const BETWEEN = 14;
const FOOT = 38;

/** Decimals that tell the ticks of a scale apart. */
function digitsOf(ticks: readonly number[]): number {
  const step = ticks.length > 1 ? Math.abs(ticks[1]! - ticks[0]!) : Math.abs(ticks[0] ?? 1);
  return Math.min(6, Math.max(0, -Math.floor(Math.log10(step || 1) + 1e-9)));
}

/** @param counted it counts things: nothing stands between */
const ticksOf = (scale: ScaleLinear<number, number>, count: number, counted = false): { at: number; words: string }[] => {
  const ticks = scale.ticks(count).filter((v) => !counted || Number.isInteger(v));
  const digits = digitsOf(ticks);
  return ticks.map((v) => ({ at: scale(v), words: v === 0 ? "0" : fixed(v, digits) }));
};

/** A range that holds all values with some room, and zero where it is near. */
function rangeOf(values: readonly number[]): [number, number] {
  const low = Math.min(...values);
  const high = Math.max(...values);
  const room = (high - low || Math.abs(high) || 1) * 0.06;
  return [low >= 0 && low < 0.5 * high ? 0 : low - room, high <= 0 && high > 0.5 * low ? 0 : high + room];
}

/** Points, fitted lines and what is left over. Null: there is nothing to draw yet. */
export function fitPicture(fit: Pick<BenchFit, "rows" | "curves" | "axes">, width: number, height: number): FitPicture | null {
  const good = fit.rows.flatMap((r, row) => (r.ok && [r.x, r.y].every(Number.isFinite) ? [{ ...r, row }] : []));
  const lines = fit.curves.map((c) => ({ words: c.words, points: c.points.filter((p) => Number.isFinite(p.x) && Number.isFinite(p.y)) }));
  if (good.length === 0) return null;
  // pieces of one name are one line
  const names = [...new Set(lines.map((c) => c.words))];
  const all = [...good, ...lines.flatMap((c) => c.points)];
  const plot = { left: LEFT, right: width - RIGHT, top: TOP, bottom: height - FOOT - STRIP - BETWEEN };
  const strip = { top: height - FOOT - STRIP, bottom: height - FOOT };
  const x = scaleLinear()
    .domain(rangeOf(all.map((p) => p.x)))
    .range([plot.left, plot.right]);
  const y = scaleLinear()
    .domain(rangeOf(all.map((p) => p.y)))
    .range([plot.bottom, plot.top]);
  const most = Math.max(...good.map((p) => Math.abs(Number.isFinite(p.residual) ? p.residual : 0))) || 1;
  const left = scaleLinear()
    .domain([-most * 1.15, most * 1.15])
    .range([strip.bottom, strip.top]);
  const draw = line<{ x: number; y: number }>(
    (p) => x(p.x),
    (p) => y(p.y),
  ).digits(1);
  const fitted = good.filter((p) => Number.isFinite(p.fitted) && Number.isFinite(p.residual));
  const px = (v: number): string => v.toFixed(1);
  return {
    plot,
    strip: { ...strip, zero: left(0) },
    curves: lines.map((c) => ({ words: c.words, d: draw(c.points) ?? "", look: names.indexOf(c.words) % 3 })),
    points: good.map((p) => ({ row: p.row, x: x(p.x), y: y(p.y), at: left(Number.isFinite(p.residual) ? p.residual : 0), way: p.way })),
    sticks: lines.length > 0 ? fitted.map((p) => `M${px(x(p.x))} ${px(y(p.y))}V${px(y(p.fitted))}`).join("") : "",
    leftOver: fitted.map((p) => `M${px(x(p.x))} ${px(left(0))}V${px(left(p.residual))}`).join(""),
    xTicks: ticksOf(x, Math.max(2, Math.floor(width / 90)), fit.axes.x.unit === ""),
    yTicks: ticksOf(y, 4),
    stripTicks: [most, -most].map((v) => ({ at: left(v), words: signedFigures(v) })),
  };
}

/** Two figures that matter, with their sign. */
function signedFigures(v: number): string {
  const digits = Math.min(6, Math.max(0, 1 - Math.floor(Math.log10(Math.abs(v) || 1))));
  return `${v > 0 ? "+" : ""}${fixed(v, digits)}`;
}

const MARK = 4.5;
/** A point by how it was come to: a disc, or a triangle that points the way the load went. */
export function pointShape(x: number, y: number, way: "up" | "down" | null): string {
  const [a, b] = [x.toFixed(1), y.toFixed(1)];
  if (way === null) return `M${(x - MARK).toFixed(1)} ${b}a${MARK} ${MARK} 0 1 0 ${2 * MARK} 0a${MARK} ${MARK} 0 1 0 ${-2 * MARK} 0Z`;
  const tip = way === "up" ? -1.3 * MARK : 1.3 * MARK;
  return `M${a} ${(y + tip).toFixed(1)}L${(x + 1.15 * MARK).toFixed(1)} ${(y - tip * 0.6).toFixed(1)}H${(x - 1.15 * MARK).toFixed(1)}Z`;
}
