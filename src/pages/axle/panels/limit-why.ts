import type { LimitName } from "../../../core/analysis.ts";
import { capital } from "../../../core/capital.ts";
import { BENCH_WORDS } from "../../../core/design/bench-words.ts";
import type { BenchKind } from "../../../core/design/tried.ts";
import { LIMIT_BENCH_KIND } from "../../../core/limits/bench-tests.ts";
import { h, setAttr } from "../../../ui/dom.ts";
import type { LimitWhy } from "../../../view/load-path.ts";
import type { LimitRow } from "../../../view/reading.ts";

const shown = new WeakMap<Element, { why: LimitWhy; el: HTMLElement }>();

/** Where a limit leads to: to what helps this car, and to the test that measures what it hangs on. */
export interface LimitWays {
  whatToChange(limit: LimitName): void;
  toBench(kind: BenchKind): void;
}

/** Opens or shuts what stands under a limit's row: why, from which numbers, and the ways on. */
export function showWhy(li: HTMLLIElement, row: LimitRow, why: LimitWhy | null, ways: LimitWays): void {
  const fig = li.querySelector(".limit-fig") as Element;
  setAttr(fig, "aria-expanded", String(why !== null));
  setAttr(fig, "aria-label", `${row.words}, ${row.where}: ${row.demand}. ${why ? "hide" : "show"} the way of the load`);
  li.classList.toggle("open", why !== null);
  const old = shown.get(li);
  if (old?.why === why || (!old && !why)) return;
  old?.el.remove();
  shown.delete(li);
  if (!why) return;
  const bench = LIMIT_BENCH_KIND[row.name];
  const el = h(
    "div",
    { class: "limit-why" },
    h("p", {}, h("b", {}, capital(why.title)), " ", h("span", { class: "aside-term" }, why.term)),
    h("p", {}, why.plain),
    h("p", { class: "why-formula" }, why.formula),
    why.numbers.length > 0 ? h("dl", { class: "why-numbers" }, ...why.numbers.map((n) => h("div", {}, h("dt", {}, n.name), h("dd", {}, n.value)))) : null,
    h("p", {}, h("b", {}, "goes in"), ` ${why.inputs.join("; ")}`),
    h("p", {}, h("button", { type: "button", class: "link", "data-change-for": why.key, onclick: () => ways.whatToChange(why.key) }, "what helps this car")),
    bench &&
      h(
        "p",
        {},
        "on the bench: ",
        h("button", { type: "button", class: "link", "data-bench-for": why.key, onclick: () => ways.toBench(bench) }, BENCH_WORDS[bench]),
      ),
  );
  li.append(el);
  shown.set(li, { why, el });
}
