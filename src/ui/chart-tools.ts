import { h, setText } from "./dom.ts";

/** A chart's numbers for those who cannot see it. */
export interface TableModel {
  caption: string;
  head: readonly string[];
  /** the first cell names its row */
  rows: readonly (readonly string[])[];
}

export interface ChartTable {
  el: HTMLDetailsElement;
  /** writes the numbers anew while it is unfolded */
  update(): void;
}

/** The numbers of a chart, folded to the word "table". `read` is asked only while it is unfolded. */
export function createChartTable(title: string, read: () => TableModel): ChartTable {
  const caption = h("caption");
  const head = h("tr");
  const body = h("tbody");
  const el = h(
    "details",
    { class: "chart-table" },
    h("summary", { "aria-label": `table: ${title}` }, "table"),
    h("table", {}, caption, h("thead", {}, head), body),
  );
  let shown: TableModel | null = null;
  const update = (): void => {
    if (!el.open) return;
    const m = read();
    if (m === shown) return;
    shown = m;
    setText(caption, m.caption);
    head.replaceChildren(...m.head.map((words) => h("th", { scope: "col" }, words)));
    body.replaceChildren(...m.rows.map((row) => h("tr", {}, ...row.map((text, i) => (i === 0 ? h("th", { scope: "row" }, text) : h("td", {}, text))))));
  };
  el.addEventListener("toggle", update);
  return { el, update };
}

export type SaveKind = "svg" | "png" | "csv";

/** One small button for each form in which a chart can be kept. */
export function saveButtons(title: string, kinds: readonly SaveKind[], save: (kind: SaveKind) => void): HTMLElement {
  return h(
    "span",
    { class: "chart-saves" },
    ...kinds.map((kind) =>
      h(
        "button",
        { type: "button", class: "link small", "aria-label": `save ${title} as ${kind.toUpperCase()}`, onclick: () => save(kind) },
        kind.toUpperCase(),
      ),
    ),
  );
}
