import type { LimitName } from "../../../core/analysis.ts";
import { h, setAttr } from "../../../ui/dom.ts";
import type { LimitWhy } from "../../../view/load-path.ts";
import type { LimitRow } from "../../../view/reading.ts";

const shown = new WeakMap<Element, { why: LimitWhy; el: HTMLElement }>();

/** Opens or shuts what stands under a limit's row: why, from which numbers, and the way to what helps this car. */
export function showWhy(li: HTMLLIElement, row: LimitRow, why: LimitWhy | null, toHelp: (limit: LimitName) => void): void {
  const fig = li.querySelector(".limit-fig") as Element;
  setAttr(fig, "aria-expanded", String(why !== null));
  setAttr(fig, "aria-label", `${row.words}, ${row.where}: ${row.demand}. ${why ? "hide" : "show"} the way of the load`);
  li.classList.toggle("open", why !== null);
  const old = shown.get(li);
  if (old?.why === why || (!old && !why)) return;
  old?.el.remove();
  shown.delete(li);
  if (!why) return;
  const el = h(
    "div",
    { class: "limit-why" },
    h("p", {}, h("b", {}, `${why.title.charAt(0).toUpperCase()}${why.title.slice(1)}`), " ", h("span", { class: "aside-term" }, why.term)),
    h("p", {}, why.plain),
    h("p", { class: "why-formula" }, why.formula),
    why.numbers.length > 0 ? h("dl", { class: "why-numbers" }, ...why.numbers.map((n) => h("div", {}, h("dt", {}, n.name), h("dd", {}, n.value)))) : null,
    h("p", {}, h("b", {}, "goes in"), ` ${why.inputs.join("; ")}`),
    h("p", {}, h("button", { type: "button", class: "link", "data-change-for": why.key, onclick: () => toHelp(why.key) }, "what helps this car")),
  );
  li.append(el);
  shown.set(li, { why, el });
}
