import type { BenchFit } from "../../../core/bench/fit.ts";
import type { Origin } from "../../../core/design/types.ts";
import { h, keyed, setAttr, setText } from "../../../ui/dom.ts";
import { createKnownSign, type KnownSign } from "../../../ui/known-sign.ts";
import { withUnit } from "../../../view/format.ts";
import { plainText, sdText, spanText, valueText } from "../picture/number-words.ts";
import { originAt } from "../picture/test-words.ts";

export interface ResultsModel {
  fit: BenchFit;
  origins: Readonly<Record<string, Origin>>;
  /** what is measured stands in the design already */
  stands: boolean;
}

const unitOf = (unit: string): string => (unit === "" || unit === "°" ? unit : `\u2009${unit}`);

/** What the test says of the parts, how sure that is, and what stands in the design. */
export function createResults(hooks: { put(): void }): { el: HTMLElement; update(m: ResultsModel): void } {
  const body = h("tbody");
  const head = ["", "measured", "95 % range", "in the design now"].map((words, i) =>
    h("th", { scope: "col" }, i === 0 ? h("span", { class: "sr" }, "what") : words),
  );
  const table = h("table", { class: "bench-results-table" }, h("caption", { class: "sr" }, "what the test says"), h("thead", {}, h("tr", {}, ...head)), body);
  const facts = h("ul", { class: "bench-facts" });
  const advice = h("p", { class: "bench-advice" });
  const notes = h("ul", { class: "bench-notes" });
  const put = h("button", {
    type: "button",
    class: "bench-turn",
    "data-act": "put-in",
    onclick: () => put.getAttribute("aria-disabled") !== "true" && hooks.put(),
  });
  const why = h("span", { class: "bench-why" });
  const el = h(
    "section",
    { class: "bench-results", "aria-label": "what the test says" },
    h("h3", {}, "What it says"),
    table,
    facts,
    advice,
    notes,
    h("p", { class: "bench-put" }, put, why),
  );
  const signs = new WeakMap<Element, KnownSign>();
  return {
    el,
    update({ fit, origins, stands }) {
      table.hidden = fit.results.length === 0;
      keyed(
        body,
        fit.results.map((r, i) => ({ ...r, i })),
        (r) => `${r.i}.${r.path ?? r.words}`,
        () => {
          const sign = createKnownSign();
          const tr = h("tr", {}, h("th", { scope: "row" }), h("td", { class: "bench-value" }, h("b"), h("span")), h("td"), h("td", {}, sign.el, h("span")));
          signs.set(tr, sign);
          return tr;
        },
        (tr, r) => {
          const [name, value, span, was] = tr.children as unknown as [Element, Element, Element, Element];
          setText(name, r.words);
          setText(value.children[0]!, `${valueText(r.value, r.sd)}`);
          setText(value.children[1]!, ` ± ${sdText(r.value, r.sd)}${unitOf(r.unit)}`);
          setText(span, `${spanText(r.range95, r.sd)}${Number.isFinite(r.range95[0]) ? unitOf(r.unit) : ""}`);
          const sign = signs.get(tr)!;
          if (r.path !== null && r.was !== null) sign.show(r.path, originAt(origins, r.path));
          else sign.el.hidden = true;
          setText(was.children[1]!, r.was === null ? (r.path === null ? "told only" : "none") : `${plainText(r.was, r.sd)}${unitOf(r.unit)}`);
          setAttr(tr, "data-result", r.path ?? "");
        },
      );
      const told = [
        ...(fit.loop ? [`${fit.loop.words}: ${withUnit(fit.loop.value, decimals(fit.loop.value), fit.loop.unit)}`] : []),
        ...(fit.samples
          ? [
              `${fit.samples.n} samples: mean ${withUnit(fit.samples.mean, 1, "N")}, spread ± ${withUnit(fit.samples.sd, 1, "N")}; what 95 of 100 such parts surely hold (characteristic value, EN 1990): ${withUnit(fit.samples.characteristic, 1, "N")}`,
            ]
          : []),
      ];
      list(facts, told);
      list(notes, fit.notes);
      advice.hidden = fit.advice === null;
      setText(advice, fit.advice ?? "");
      put.hidden = !fit.results.some((r) => r.path !== null);
      setText(put, stands ? "It stands in the design" : "Put into the design");
      setAttr(put, "aria-disabled", stands ? "true" : null);
      setText(why, put.hidden || stands ? "" : "as measured, with its ± and the day");
    },
  };
}

/** two figures */
const decimals = (v: number): number => Math.min(4, Math.max(0, 1 - Math.floor(Math.log10(Math.abs(v) || 1))));

function list(ul: Element, lines: readonly string[]): void {
  (ul as HTMLElement).hidden = lines.length === 0;
  keyed(
    ul,
    lines.map((words, i) => ({ words, i })),
    (l) => String(l.i),
    () => h("li"),
    (li, l) => setText(li, l.words),
  );
}
