import type { BenchFit } from "../../../core/bench/fit.ts";
import { h, keyed, s, setAttr, setText } from "../../../ui/dom.ts";
import { fitPicture, pointShape } from "../picture/fit-picture.ts";

export interface FitChartModel {
  fit: BenchFit;
  /** the whole of it in words, for those who do not see it */
  told: string;
}

const axisWords = ({ words, unit }: { words: string; unit: string }): string => (unit ? `${words}, ${unit}` : words);

/** What was read as points, the fitted line, and below what is left over between both. */
export function createFitChart(): { el: HTMLElement; update(m: FitChartModel): void } {
  const svg = s("svg", { class: "bench-chart", role: "img" });
  const grid = s("path", { class: "chart-grid" });
  const axes = s("path", { class: "chart-zero" });
  const curves = s("g", { class: "bench-curves" });
  const sticks = s("path", { class: "bench-sticks" });
  const leftOver = s("path", { class: "bench-sticks" });
  const points = s("g", { class: "bench-points" });
  const leftPoints = s("g", { class: "bench-points" });
  const ticks = s("g", { class: "bench-ticks" });
  const yName = s("text", { class: "bench-axis", x: 0, y: 13 });
  const xName = s("text", { class: "bench-axis", "text-anchor": "end" });
  const stripName = s("text", { class: "bench-axis", "text-anchor": "end" }, "left over");
  svg.append(grid, axes, curves, sticks, leftOver, points, leftPoints, ticks, yName, xName, stripName);
  const none = h("p", { class: "bench-no-fit" });
  const key = h("ul", { class: "bench-key" });
  const el = h("figure", { class: "bench-fit" }, svg, none, key);
  let model: FitChartModel | null = null;
  let width = 0;
  let height = 0;

  const draw = (): void => {
    if (!model || width < 80) return;
    const { fit } = model;
    const p = fitPicture(fit, width, height);
    svg.toggleAttribute("hidden", !p);
    none.hidden = p !== null;
    key.hidden = p === null;
    if (!p) {
      setText(none, "As soon as a row is read, its point stands here, and the fitted line with what is left over.");
      return;
    }
    const { plot, strip } = p;
    setAttr(svg, "viewBox", `0 0 ${width} ${height}`);
    setAttr(svg, "aria-label", model.told);
    setText(yName, axisWords(fit.axes.y));
    setText(xName, axisWords(fit.axes.x));
    setAttr(xName, "x", plot.right);
    setAttr(xName, "y", height - 4);
    setAttr(stripName, "x", plot.right);
    setAttr(stripName, "y", strip.top + 2);
    setAttr(grid, "d", p.yTicks.map((t) => `M${plot.left} ${t.at.toFixed(1)}H${plot.right}`).join(""));
    setAttr(axes, "d", `M${plot.left} ${plot.top}V${plot.bottom}H${plot.right}M${plot.left} ${strip.zero.toFixed(1)}H${plot.right}`);
    setAttr(sticks, "d", p.sticks);
    setAttr(leftOver, "d", p.leftOver);
    keyed(
      curves,
      p.curves.map((c, i) => ({ ...c, i })),
      (c) => String(c.i),
      () => s("path"),
      (el, c) => {
        setAttr(el, "d", c.d);
        setAttr(el, "class", `bench-curve n${c.look}`);
      },
    );
    for (const [group, at] of [
      [points, "y"],
      [leftPoints, "at"],
    ] as const)
      keyed(
        group,
        p.points,
        (q) => String(q.row),
        () => s("path"),
        (el, q) => {
          setAttr(el, "d", pointShape(q.x, q[at], q.way));
          setAttr(el, "class", `bench-point ${q.way ?? "one"}`);
          setAttr(el, "data-point", q.row);
        },
      );
    const labels = [
      ...p.xTicks.map((t) => ({ key: `x${t.words}`, x: t.at, y: strip.bottom + 16, anchor: "middle", words: t.words })),
      ...p.yTicks.map((t) => ({ key: `y${t.words}`, x: plot.left - 6, y: t.at + 4, anchor: "end", words: t.words })),
      ...p.stripTicks.map((t, i) => ({ key: `r${i}`, x: plot.left - 6, y: t.at + 4, anchor: "end", words: t.words })),
    ];
    keyed(
      ticks,
      labels,
      (t) => t.key,
      () => s("text"),
      (el, t) => {
        setAttr(el, "x", t.x.toFixed(1));
        setAttr(el, "y", t.y.toFixed(1));
        setAttr(el, "text-anchor", t.anchor);
        setText(el, t.words);
      },
    );
    const ways = new Set(p.points.map((q) => q.way));
    const samples = [
      ...(ways.has(null) ? [{ d: pointShape(8, 8, null), words: "what you read" }] : []),
      ...(ways.has("up") ? [{ d: pointShape(8, 8, "up"), words: "on the way up" }] : []),
      ...(ways.has("down") ? [{ d: pointShape(8, 8, "down"), words: "on the way down" }] : []),
      ...p.curves.filter((c, i, all) => all.findIndex((o) => o.words === c.words) === i).map((c) => ({ d: "M1 8H15", words: c.words, line: c.look })),
    ] as { d: string; words: string; line?: number }[];
    keyed(
      key,
      samples,
      (k) => k.words,
      (k) =>
        h(
          "li",
          {},
          s(
            "svg",
            { viewBox: "0 0 16 16", width: 16, height: 16, "aria-hidden": "true" },
            s("path", { d: k.d, class: k.line === undefined ? `bench-point ${k.words.endsWith("down") ? "down" : "up"}` : `bench-curve n${k.line}` }),
          ),
          k.words,
        ),
      () => {},
    );
  };
  new ResizeObserver(([entry]) => {
    const box = entry?.contentRect;
    if (!box || (Math.abs(box.width - width) < 0.5 && height > 0)) return;
    width = Math.round(box.width);
    height = Math.round(Math.max(250, Math.min(330, box.width * 0.62)));
    svg.style.height = `${height}px`;
    draw();
  }).observe(el);
  return {
    el,
    update(m) {
      model = m;
      draw();
    },
  };
}
