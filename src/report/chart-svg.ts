import type { ChartModel, Series } from "../view/curves.ts";
import { fixed } from "../view/format.ts";
import { at, el, say } from "./markup.ts";
import { measureText } from "./measure.ts";
import { toneOf } from "./tones.ts";

export const CHART_PX = { width: 340, height: 200 } as const;
/** the title stands low enough for a face with tall letters and marks above them */
const TITLE_Y = 17;
const BOX = { left: 40, right: 12, top: 48, bottom: 24 } as const;
const TEXT = 12.5;

/** One chart as the drawer has it: A solid, B dashed, limits as rules with their words, the present load as an upright line. */
export function chartSvg(m: ChartModel): string {
  const { width, height } = CHART_PX;
  const x = (v: number): number => BOX.left + ((v - m.x.min) / (m.x.max - m.x.min)) * (width - BOX.left - BOX.right);
  const y = (v: number): number => height - BOX.bottom - ((v - m.y.min) / (m.y.max - m.y.min)) * (height - BOX.top - BOX.bottom);
  const right = width - BOX.right;
  const text = (px: number, py: number, words: string, anchor: string, tone: string, strong = false): string =>
    say(
      "text",
      { x: at(px), y: at(py), "text-anchor": anchor, "font-size": TEXT, "font-weight": strong ? 700 : null, fill: toneOf(tone), class: "halo-sheet" },
      words,
    );
  const rule = (v: number, tone: string, lineWidth: number): string =>
    el("path", { d: `M${BOX.left} ${at(y(v))}H${right}`, stroke: toneOf(tone), "stroke-width": lineWidth });
  const inY = (v: number): boolean => v >= m.y.min - 1e-9 && v <= m.y.max + 1e-9;
  const parts: string[] = [
    say("text", { x: 0, y: TITLE_Y, "font-size": 14, "font-weight": 700, fill: toneOf("ink") }, m.title),
    say("text", { x: 0, y: TITLE_Y + 16, "font-size": TEXT, fill: toneOf("ink-3") }, m.term),
    ...m.y.ticks.map((t) => rule(t, t === 0 ? "edge" : "rule", t === 0 ? 1 : 0.75)),
    ...m.y.ticks.map((t) => text(BOX.left - 6, y(t) + 4, tickWords(t), "end", "ink-3")),
    ...m.x.ticks.map((t, i) =>
      text(x(t), height - 7, `${tickWords(t)}${i === m.x.ticks.length - 1 ? ` ${m.xUnit}` : ""}`, i === m.x.ticks.length - 1 ? "end" : "middle", "ink-3"),
    ),
    ...m.rules.filter((r) => inY(r.y)).map((r) => rule(r.y, "u-3-text", 1) + text(BOX.left + 6, y(r.y) - 4, r.words, "start", "u-3-text")),
    ...m.series.map((s) => curve(s, x, y)),
  ];
  const now = m.now !== null && m.now >= m.x.min && m.now <= m.x.max ? x(m.now) : null;
  if (now !== null) {
    parts.push(el("path", { d: `M${at(now)} ${BOX.top - 4}V${height - BOX.bottom}`, stroke: toneOf("ink"), "stroke-width": 1 }));
    // two designs with the same value share a label; else the lower one is told below
    const told = m.dots.filter((d) => d.design === "a" || !m.dots.some((o) => o.design === "a" && o.words === d.words));
    const lowest = Math.min(...told.map((d) => d.y));
    for (const d of m.dots) {
      const left = x(d.x) + 10 + measureText(d.words, TEXT, true) > width;
      const low = told.length > 1 && d.y === lowest;
      const ty = Math.max(BOX.top + 8, Math.min(height - BOX.bottom - 3, y(d.y) + (low ? 15 : -6)));
      const tone = d.design === "b" ? "design-b" : "ink";
      parts.push(el("circle", { cx: at(x(d.x)), cy: at(y(d.y)), r: 3.5, fill: toneOf(tone) }));
      if (told.includes(d)) parts.push(text(x(d.x) + (left ? -7 : 7), ty, `${d.words}${d.design === "b" ? " B" : ""}`, left ? "end" : "start", tone, true));
    }
  }
  for (const s of m.series) {
    const middle = s.points[Math.floor(s.points.length * 0.42)];
    if (s.design === "a" && s.name && middle) parts.push(text(x(middle[0]), nameY(s, y(middle[1])), s.name, "middle", "ink-2"));
  }
  return el("svg", { class: "chart", viewBox: `0 0 ${width} ${height}`, role: "img", "aria-label": `${m.title}, ${m.term}, against ${m.xName}` }, ...parts);
}

/** A thin curve is named below it, where there is room. */
const nameY = (s: Series, y: number): number => (s.thin && y + 19 < CHART_PX.height - BOX.bottom ? y + 15 : y - 7);

const tickWords = (v: number): string => fixed(v, Math.abs(v - Math.round(v)) > 0.01 ? (Math.abs(v * 10 - Math.round(v * 10)) > 0.01 ? 2 : 1) : 0);

function curve(s: Series, x: (v: number) => number, y: (v: number) => number): string {
  let d = "";
  let pen = false;
  for (const [px, py] of s.points) {
    if (!Number.isFinite(py)) {
      pen = false;
      continue;
    }
    d += `${pen ? "L" : "M"}${at(x(px))} ${at(y(py))}`;
    pen = true;
  }
  const b = s.design === "b";
  return el("path", {
    d,
    fill: "none",
    stroke: toneOf(b ? "design-b-line" : "design-a"),
    "stroke-width": s.thin ? 1.25 : b ? 2 : 2.25,
    "stroke-dasharray": b ? "7 4" : null,
    "stroke-linejoin": "round",
  });
}
