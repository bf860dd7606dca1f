import type { ChartModel } from "../view/curves.ts";
import { type Chart, createChart } from "./chart.ts";
import { h, setAttr, setText } from "./dom.ts";

export interface Drawer {
  update(models: readonly ChartModel[], open: boolean, note: string): void;
}

/** The drawer of curves under the rulers; closes to its edge. */
export function createDrawer(
  root: HTMLElement,
  hooks: { toggle(): void; save(key: string, svg: SVGSVGElement, kind: "svg" | "png" | "csv", model: ChartModel): void },
): Drawer {
  const handle = h("button", { type: "button", class: "drawer-handle", "aria-controls": "drawer-charts", onclick: () => hooks.toggle() });
  const note = h("p", { class: "drawer-note" });
  const row = h("div", { class: "drawer-row", id: "drawer-charts" });
  root.append(handle, row, note);
  const made = new Map<string, { chart: Chart; model: ChartModel }>();
  return {
    update(models, open, words) {
      root.classList.toggle("closed", !open);
      setAttr(handle, "aria-expanded", String(open));
      setText(handle, open ? "close the curves" : "curves");
      setText(note, words);
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
        const saves = h(
          "span",
          { class: "chart-saves" },
          ...(["svg", "png", "csv"] as const).map((kind) =>
            h(
              "button",
              {
                type: "button",
                class: "link small",
                "aria-label": `save ${m.title} as ${kind.toUpperCase()}`,
                onclick: () => hooks.save(m.key, chart.svg, kind, entry.model),
              },
              kind.toUpperCase(),
            ),
          ),
        );
        chart.el.append(saves);
        made.set(m.key, entry);
        row.append(chart.el);
        chart.update(m);
      }
    },
  };
}
