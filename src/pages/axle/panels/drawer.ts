import { type Chart, createChart } from "../../../ui/chart.ts";
import { type SaveKind, saveButtons } from "../../../ui/chart-tools.ts";
import { h, setAttr, setText } from "../../../ui/dom.ts";
import { term } from "../../../ui/help.ts";
import type { ChartModel } from "../../../view/curves.ts";
import type { TermKey } from "../../../view/terms.ts";

export interface Drawer {
  update(models: readonly ChartModel[], open: boolean, heightPx: number): void;
}

/** what a curve shows, explained over its title */
const CHART_TERMS: Readonly<Record<string, TermKey>> = {
  lean: "camber",
  weight: "wheelLoad",
  hub: "prying",
  gain: "camberGain",
  rollCentre: "rollCentre",
  ratio: "motionRatio",
};

const DRAWER_LEAST_PX = 120;
/** one press of an arrow key, px */
const STEP_PX = 24;

/** As tall as wanted, between its least and half of the page. */
const drawerHeight = (wantedPx: number, pagePx: number): number => Math.round(Math.max(DRAWER_LEAST_PX, Math.min(pagePx / 2, wantedPx)));

/** The drawer of curves under the rulers; closes to its edge, and its upper edge is dragged up to half of the page. `stopped` says why curves stay away. */
export function createDrawer(
  root: HTMLElement,
  stopped: HTMLElement,
  hooks: { toggle(): void; height(px: number): void; save(key: string, svg: SVGSVGElement, kind: SaveKind, model: ChartModel): void },
): Drawer {
  const handle = h("button", { type: "button", class: "drawer-handle", "aria-controls": "drawer-charts", onclick: () => hooks.toggle() });
  const edge = h("div", {
    class: "drawer-edge",
    role: "separator",
    tabindex: 0,
    "aria-orientation": "horizontal",
    "aria-label": "height of the curves, px",
    "aria-controls": "drawer-charts",
    "aria-valuemin": DRAWER_LEAST_PX,
  });
  let height = 0;
  let from: { y: number; height: number } | null = null;
  const ask = (px: number): void => hooks.height(drawerHeight(px, window.innerHeight));
  edge.addEventListener("pointerdown", (e) => {
    from = { y: e.clientY, height };
    edge.setPointerCapture(e.pointerId);
    e.preventDefault();
  });
  edge.addEventListener("pointermove", (e) => {
    if (from) ask(from.height + from.y - e.clientY);
  });
  for (const end of ["pointerup", "pointercancel"] as const)
    edge.addEventListener(end, () => {
      from = null;
    });
  edge.addEventListener("keydown", (e) => {
    const next = { ArrowUp: height + STEP_PX, ArrowDown: height - STEP_PX, Home: DRAWER_LEAST_PX, End: window.innerHeight / 2 }[e.key];
    if (next === undefined) return;
    e.preventDefault();
    ask(next);
  });
  const row = h("div", { class: "drawer-row", id: "drawer-charts" });
  root.append(edge, handle, stopped, row);
  const made = new Map<string, { chart: Chart; model: ChartModel }>();
  return {
    update(models, open, heightPx) {
      root.classList.toggle("closed", !open);
      setAttr(handle, "aria-expanded", String(open));
      setText(handle, open ? "close the curves" : "curves");
      edge.hidden = !open;
      const tall = drawerHeight(heightPx, window.innerHeight);
      if (tall !== height) {
        height = tall;
        root.style.setProperty("--drawer-height", `${tall}px`);
        setAttr(edge, "aria-valuenow", tall);
      }
      setAttr(edge, "aria-valuemax", Math.round(window.innerHeight / 2));
      row.hidden = !open;
      if (!open) return;
      for (const m of models) {
        const known = made.get(m.key);
        if (known) {
          known.model = m;
          known.chart.update(m);
          continue;
        }
        const chart = createChart(m);
        const entry = { chart, model: m };
        const about = CHART_TERMS[m.key];
        if (about) chart.el.append(h("span", { class: "chart-about" }, term(about, h("span", { class: "sr" }, m.title))));
        chart.el.append(saveButtons(m.title, ["svg", "png", "csv"], (kind) => hooks.save(m.key, chart.svg, kind, entry.model)));
        made.set(m.key, entry);
        row.append(chart.el);
        chart.update(m);
      }
    },
  };
}
