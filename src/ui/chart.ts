import { scaleLinear } from "d3-scale";
import { line } from "d3-shape";
import { type ChartModel, valueAt } from "../view/curves.ts";
import { fixed } from "../view/format.ts";
import { createChartTable, type TableModel } from "./chart-tools.ts";
import { h, keyed, s, setAttr, setText } from "./dom.ts";

/** Decimals that tell neighbouring ticks apart. */
function tickDigits(ticks: readonly number[]): number {
  const off = (digits: number): boolean => ticks.some((v) => Math.abs(v - Number(v.toFixed(digits))) > 1e-6);
  return off(0) ? (off(1) ? 2 : 1) : 0;
}

/** About so many rows of a chart's table. */
const TABLE_ROWS = 8;

function tableOf(m: ChartModel): TableModel {
  const cols = [...m.series].reverse();
  const xs = (cols[0]?.points ?? []).filter((_, i, all) => i % Math.max(1, Math.round(all.length / TABLE_ROWS)) === 0).map((p) => p[0]);
  return {
    caption: `${m.title}, ${m.term}, against ${m.xName} in ${m.xUnit}`,
    head: [`${m.xName}, ${m.xUnit}`, ...cols.map((c) => `${c.design.toUpperCase()}${c.name ? ` ${c.name}` : ""}`)],
    rows: xs.map((v) => [
      fixed(v, 2),
      ...cols.map((c) => {
        const value = valueAt(c.points, v);
        return value === null ? "–" : fixed(value, m.digits);
      }),
    ]),
  };
}

export interface Chart {
  el: HTMLElement;
  svg: SVGSVGElement;
  update(model: ChartModel): void;
}

/** left of the plot: room for the numbers of its axis, px */
const LEFT_LEAST = 34;
const NUMBER_PX = 6.4;
const RIGHT = 10;
const TOP = 40;
const BOTTOM = 22;
/** between a curve's name and the number beside the present place */
const NAME_CLEAR_PX = 48;

/** One small chart of the drawer: A solid, B dashed, limits as rules, a line at the present load; hover reads values. */
export function createChart(first: ChartModel): Chart {
  const titleId = `chart-${first.key}`;
  const svg = s("svg", { class: "chart", role: "img", "aria-labelledby": titleId });
  const heading = s("text", { class: "chart-title", x: 0, y: 12, id: titleId });
  const term = s("text", { class: "chart-term", x: 0, y: 27 });
  const unit = s("text", { class: "chart-term", y: 27, "text-anchor": "end" });
  const grid = s("path", { class: "chart-grid" });
  const zero = s("path", { class: "chart-zero" });
  const rules = s("g", { class: "chart-rules" });
  const curves = s("g", { class: "chart-curves" });
  const now = s("path", { class: "chart-now" });
  const dots = s("g", { class: "chart-dots" });
  const ticks = s("g", { class: "chart-ticks" });
  const reader = s("path", { class: "chart-reader" });
  const readerText = s("text", { class: "chart-read" });
  svg.append(heading, term, unit, grid, zero, rules, curves, now, dots, ticks, reader, readerText);
  const table = createChartTable(first.title, () => tableOf(model));
  const el = h("figure", { class: "chart-box", "data-chart": first.key }, svg, table.el);
  let model = first;
  let hoverX: number | null = null;
  let width = 0;
  let height = 0;
  let left = LEFT_LEAST;
  /** size and ranges that the axes stand for */
  let axes = "";
  const drawn = new WeakMap<Element, readonly [number, number][]>();

  /** What stays while the curves move: grid, zero and numbers. */
  const drawAxes = (x: (v: number) => number, y: (v: number) => number, yDigits: number): void => {
    setAttr(svg, "viewBox", `0 0 ${width} ${height}`);
    setText(unit, model.xUnit);
    setAttr(unit, "x", width - RIGHT);
    setAttr(grid, "d", model.y.ticks.map((t) => `M${left} ${y(t).toFixed(1)}H${width - RIGHT}`).join(""));
    setAttr(zero, "d", model.y.min <= 0 && model.y.max >= 0 ? `M${left} ${y(0).toFixed(1)}H${width - RIGHT}` : "");
    const xDigits = tickDigits(model.x.ticks);
    const labels = [
      ...model.x.ticks.map((v) => ({ k: `x${v}`, x: x(v), y: height - 6, anchor: "middle", text: v === 0 ? "0" : fixed(v, xDigits) })),
      ...model.y.ticks.map((v) => ({ k: `y${v}`, x: left - 6, y: y(v) + 4, anchor: "end", text: v === 0 ? "0" : fixed(v, yDigits) })),
    ];
    keyed(
      ticks,
      labels,
      (l) => l.k,
      () => s("text"),
      (t, l) => {
        const half = l.anchor === "middle" ? (NUMBER_PX * l.text.length) / 2 : 0;
        setAttr(t, "x", Math.max(half, Math.min(l.x, width - Math.max(8, half))).toFixed(1));
        setAttr(t, "y", l.y.toFixed(1));
        setAttr(t, "text-anchor", l.anchor);
        setText(t, l.text);
      },
    );
  };

  const draw = (): void => {
    if (width < 60 || height < 60) return;
    const yDigits = tickDigits(model.y.ticks);
    left = Math.max(LEFT_LEAST, 10 + NUMBER_PX * Math.max(...model.y.ticks.map((v) => fixed(v, yDigits).length)));
    const x = scaleLinear()
      .domain([model.x.min, model.x.max])
      .range([left, width - RIGHT]);
    const y = scaleLinear()
      .domain([model.y.min, model.y.max])
      .range([height - BOTTOM, TOP]);
    const key = [width, height, model.x.min, model.x.max, model.y.min, model.y.max].join();
    const sameAxes = key === axes;
    axes = key;
    setText(heading, model.title);
    setText(term, model.term);
    if (!sameAxes) drawAxes(x, y, yDigits);
    const path = line<[number, number]>(
      (p) => x(p[0]),
      (p) => y(p[1]),
    )
      .digits(1)
      .defined((p) => Number.isFinite(p[1]));
    keyed(
      curves,
      model.series,
      (c) => c.key,
      () => s("g", {}, s("path"), s("text")),
      (g, c) => {
        const t = g.lastElementChild as Element;
        const away = model.now === null ? Number.POSITIVE_INFINITY : x(model.now);
        // the name stands clear of the number at the present place
        const mid = [0.25, 0.7]
          .map((f) => c.points[Math.floor(c.points.length * f)])
          .find((p, k) => p && (k === 1 || Math.abs(x(p[0]) - away) > NAME_CLEAR_PX));
        setText(t, c.design === "a" && mid ? c.name : "");
        if (mid) {
          setAttr(t, "x", x(mid[0]).toFixed(1));
          setAttr(t, "y", (y(mid[1]) + (c.thin ? 15 : -8)).toFixed(1));
        }
        // while one design is dragged the other one's curve stays
        if (sameAxes && drawn.get(g) === c.points) return;
        drawn.set(g, c.points);
        setAttr(g, "class", `curve ${c.design}${c.thin ? " thin" : ""}`);
        setAttr(g.firstElementChild as Element, "d", path(c.points) ?? "");
      },
    );
    keyed(
      rules,
      model.rules,
      (r) => r.words,
      () => s("g", {}, s("path"), s("text")),
      (g, r) => {
        setAttr(g.firstElementChild as Element, "d", `M${left} ${y(r.y).toFixed(1)}H${width - RIGHT}`);
        setAttr(g.lastElementChild as Element, "x", left + 6);
        setAttr(g.lastElementChild as Element, "y", (y(r.y) - 4).toFixed(1));
        setText(g.lastElementChild as Element, r.words);
      },
    );
    const at = model.now === null ? null : x(model.now);
    const shown = at !== null && at >= left - 0.5 && at <= width - RIGHT + 0.5;
    setAttr(now, "d", shown ? `M${at.toFixed(1)} ${TOP - 4}V${height - BOTTOM}` : "");
    keyed(
      dots,
      shown ? model.dots : [],
      (d) => d.design,
      () => s("g", {}, s("circle", { r: 4 }), s("text")),
      (g, d) => {
        setAttr(g, "class", `dot ${d.design}`);
        const c = g.firstElementChild as Element;
        const t = g.lastElementChild as Element;
        const before = x(d.x) > width - 52;
        const low = model.dots.length > 1 && d.y <= Math.min(...model.dots.map((o) => o.y));
        setAttr(c, "cx", x(d.x).toFixed(1));
        setAttr(c, "cy", y(d.y).toFixed(1));
        setAttr(t, "x", (x(d.x) + (before ? -7 : 7)).toFixed(1));
        setAttr(t, "y", Math.max(TOP + 6, Math.min(height - BOTTOM - 3, y(d.y) + (low ? 15 : -6))).toFixed(1));
        setAttr(t, "text-anchor", before ? "end" : "start");
        setText(t, d.words);
      },
    );
    if (hoverX === null) {
      setAttr(reader, "d", "");
      setText(readerText, "");
      return;
    }
    const v = x.invert(hoverX);
    setAttr(reader, "d", `M${hoverX.toFixed(1)} ${TOP}V${height - BOTTOM}`);
    const parts = [...model.series].reverse().flatMap((c) => {
      const value = valueAt(c.points, v);
      return value === null ? [] : [`${c.design.toUpperCase()}${c.name ? ` ${c.name}` : ""} ${fixed(value, model.digits)}`];
    });
    const words = `${fixed(v, 2)} ${model.xUnit}: ${parts.join(", ")}`;
    setText(readerText, words);
    setAttr(readerText, "x", Math.max(0, Math.min(left, width - NUMBER_PX * words.length)).toFixed(1));
    setAttr(readerText, "y", TOP - 1);
  };

  svg.addEventListener("pointermove", (e) => {
    const x = ((e.clientX - svg.getBoundingClientRect().left) / Math.max(1, svg.clientWidth)) * width;
    hoverX = x >= left && x <= width - RIGHT ? x : null;
    draw();
  });
  svg.addEventListener("pointerleave", () => {
    hoverX = null;
    draw();
  });

  new ResizeObserver(() => {
    width = svg.clientWidth;
    height = svg.clientHeight;
    draw();
  }).observe(svg);

  return {
    el,
    svg,
    update(next) {
      model = next;
      draw();
      table.update();
    },
  };
}
