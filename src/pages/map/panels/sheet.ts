import type { Hand } from "../../../core/studies/curve-options.ts";
import { h, keyed, s, setAttr, setText } from "../../../ui/dom.ts";
import { fixed } from "../../../view/format.ts";
import type { TableRow } from "../../../view/map/words.ts";
import { radiusWords } from "../../../view/map/words.ts";
import type { Column } from "./column.ts";
import type { Picture } from "./picture.ts";

interface MapSheetModel {
  hand: Hand;
  shock: number;
  /** "full throttle"; empty where the car rolls along */
  driven: string;
  /** the road is raised or sunk under a wheel */
  bumps: boolean;
  progress: { share: number; words: string } | null;
  rows: readonly TableRow[];
  spare: boolean;
  /** why the axle finds no hold beyond some load; empty where sliding is the end */
  end: string;
}

export interface MapSheetHooks {
  hand(hand: Hand): void;
  stop(): void;
}

export interface MapSheet {
  el: HTMLElement;
  /** below the map, for what folds out there */
  foot: HTMLElement;
  update(model: MapSheetModel): void;
}

const STEPS = [
  { key: "0", words: "easy", from: "" },
  { key: "1", words: "working", from: ", 0.60" },
  { key: "2", words: "close", from: ", 0.85" },
  { key: "3", words: "gives", from: ", 1.00" },
];

/** The map's sheet: heading with the hand of the curve, key of the colours, picture, table, and the column beside it; `stopped` says why the map stays away. */
export function createMapSheet(picture: Picture, column: Column, stopped: HTMLElement, hooks: MapSheetHooks): MapSheet {
  const handRows = (["left", "right"] as const).map((side) =>
    h("button", { type: "button", class: "word-switch", "data-hand": side, onclick: () => hooks.hand(side) }, `${side}-hand`),
  );
  const rest = h("span");
  const legend = h(
    "ul",
    { class: "map-legend", "aria-label": "how close to failing" },
    ...STEPS.map((st) =>
      h(
        "li",
        {},
        s(
          "svg",
          { width: 34, height: 14, "aria-hidden": "true" },
          s("rect", { class: `map-${st.key}`, x: 0.5, y: 0.5, width: 33, height: 13 }),
          s("rect", { class: `map-hatch-${st.key}`, x: 0.5, y: 0.5, width: 33, height: 13 }),
        ),
        st.words,
        h("span", { class: "legend-from" }, st.from),
      ),
    ),
    h(
      "li",
      { class: "legend-sure", title: "something gives in 1, 10, 50 % of the cars that are like this one" },
      s(
        "svg",
        { width: 34, height: 14, "aria-hidden": "true" },
        s("rect", { class: "map-band", x: 0, y: 2, width: 34, height: 10 }),
        s("path", { class: "map-chance", d: "M0 11H34" }),
        s("path", { class: "map-chance c-10", d: "M0 7H34" }),
        s("path", { class: "map-chance c-50", d: "M0 3H34" }),
      ),
      h("span", {}, h("span", { class: "legend-gives" }, "gives in "), "1, 10, 50 %"),
    ),
  );
  const line = h("span", { class: "map-line" });
  const words = h("span");
  const stop = h("button", { type: "button", class: "link", "data-act": "stop-map", onclick: () => hooks.stop() }, "stop");
  const progress = h("p", { class: "map-progress map-top-progress" }, words, " ", stop, line);
  const end = h("p", { class: "map-end" });
  const head = h(
    "header",
    { class: "map-head" },
    h("div", {}, h("h1", { class: "h2" }, "How fast through which curve"), h("p", { class: "map-sub" }, ...handRows, rest)),
    legend,
  );
  const body = h("tbody");
  const table = h(
    "table",
    {},
    h("caption", { class: "sr" }, "safe speed on each curve"),
    h(
      "thead",
      {},
      h(
        "tr",
        {},
        h("th", { scope: "col" }, "curve"),
        h("th", { scope: "col" }, "safe below, km/h"),
        h("th", { scope: "col" }, "what gives first"),
        h("th", { scope: "col" }, "your drive gets there"),
        h("th", { scope: "col", class: "b" }, "B, km/h"),
      ),
    ),
    body,
  );
  const details = h("details", { class: "map-table" }, h("summary", {}, "the map as a table"), table);
  const foot = h("div", { class: "map-foot" }, details);
  const left = h("div", { class: "map-left" }, head, progress, stopped, picture.el, end, foot);
  const el = h("div", { class: "map-view" }, left, column.el);
  return {
    el,
    foot,
    update(m) {
      for (const b of handRows) setAttr(b, "aria-pressed", String(b.dataset.hand === m.hand));
      setText(
        rest,
        ` curves, ${m.bumps ? "road raised as on the axle" : "flat road"}${m.driven && `, ${m.driven}`}, road shock ×${fixed(m.shock, 1)}${m.spare ? "" : "; in the crossed area something gives"}`,
      );
      progress.classList.toggle("off", m.progress === null);
      setText(words, m.progress?.words ?? "");
      stop.disabled = m.progress === null;
      line.style.width = `${(100 * (m.progress?.share ?? 0)).toFixed(1)}%`;
      setText(end, m.end);
      end.hidden = m.end === "";
      keyed(
        body,
        m.rows,
        (r) => String(r.radiusM),
        () => h("tr", {}, h("th", { scope: "row" }), h("td"), h("td"), h("td"), h("td", { class: "b" })),
        (tr, r) => {
          const [curve, a, gives, reached, b] = tr.children as unknown as [Element, Element, Element, Element, Element];
          setText(curve, `${radiusWords(r.radiusM)} m${r.name ? `, ${r.name}` : ""}`);
          setText(a, r.a);
          setText(gives, r.gives);
          setText(reached, r.reached ? "yes" : "no");
          setText(b, r.b);
        },
      );
    },
  };
}
