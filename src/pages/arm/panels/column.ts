import { h, keyed, setAttr, setText } from "../../../ui/dom.ts";
import { term } from "../../../ui/help.ts";
import { limitRow, updateLimit } from "../../../ui/limit-row.ts";
import type { LimitRow } from "../../../view/reading.ts";
import type { ArmHero, DirectionRow, Sentence } from "../picture/words.ts";
import type { Take } from "../state/edits.ts";

export interface TakeModel {
  take: Take;
  words: string;
  /** "lean 6.6° → 6.1°", "the same", or why not */
  text: string;
  can: boolean;
}

export interface ColumnModel {
  hero: ArmHero;
  sentences: readonly Sentence[];
  rows: readonly DirectionRow[];
  close: readonly LimitRow[];
  closeWhere: string;
  takes: readonly TakeModel[];
  bName: string;
}

/** Reading column of the arm sheet: the one big number, what it means, three directions, how close, what to take; `stopped` says why that stays unknown. */
export function createColumn(stopped: HTMLElement, hooks: { take(t: Take): void }): { el: HTMLElement; update(m: ColumnModel): void } {
  const title = h("h2", { class: "hero-title" });
  const aside = h("span", { class: "aside-term" });
  const number = h("p", { class: "hero-number" });
  const lines = [h("li"), h("li"), h("li")];
  const hero = h(
    "section",
    { class: "hero arm-hero" },
    h("div", { class: "head-row" }, title, aside),
    h("div", { class: "hero-row" }, number, h("ul", { class: "hero-list" }, ...lines)),
  );
  const says = h("p", { class: "arm-says" });
  const body = h("tbody");
  const directions = h(
    "section",
    { class: "compare arm-directions" },
    h(
      "table",
      {},
      h(
        "thead",
        {},
        h(
          "tr",
          {},
          h("th", { scope: "col", class: "table-head" }, h("span", { class: "h2" }, term("stiffness", "Three directions"))),
          h("th", { scope: "col" }, "A"),
          h("th", { scope: "col", class: "b" }, "B"),
          h("th", { scope: "col", class: "aside-term" }, "N/mm"),
        ),
      ),
      body,
    ),
  );
  const limitList = h("ol", { class: "limit-list" });
  const where = h("span", { class: "aside-term" });
  const close = h(
    "section",
    { class: "limits arm-close" },
    h("div", { class: "head-row" }, h("h2", {}, term("utilization", "How close the arm is")), where),
    limitList,
  );
  const takeList = h("ul", { class: "take-list" });
  const takeNote = h("p", { class: "aside-term" });
  const take = h("section", { class: "arm-take" }, h("h2", {}, "Take from B"), takeNote, stopped, takeList);
  const caution = h(
    "p",
    { class: "caution" },
    "For models only. Printed and moulded parts scatter and age: hang a weight on your arm and enter what you read.",
  );
  const el = h("aside", { class: "reading arm-reading", "aria-label": "reading of the arm" }, hero, says, directions, close, take, caution);
  return {
    el,
    update(m) {
      setText(title, m.hero.title);
      setText(aside, m.hero.aside);
      setText(number, m.hero.number);
      for (const [i, li] of lines.entries()) setText(li, m.hero.lines[i] ?? "");
      const words = m.sentences.map((t) => t.text).join(" ");
      if (says.dataset.words !== words) {
        says.dataset.words = words;
        says.replaceChildren(...m.sentences.flatMap((t) => [t.strong ? h("b", {}, t.text) : t.text, " "]));
      }
      keyed(
        body,
        m.rows,
        (r) => r.key,
        () => h("tr", {}, h("th", { scope: "row" }), h("td"), h("td", { class: "b" }), h("td")),
        (tr, r) => {
          const [what, a, b, ratio] = tr.children as unknown as [HTMLElement, Element, Element, Element];
          setText(what, r.words);
          what.title = r.term;
          setText(a, r.a);
          setText(b, r.b);
          setText(ratio, r.ratio);
        },
      );
      setText(where, m.closeWhere);
      keyed(
        limitList,
        m.close,
        (l) => l.key,
        (l) => limitRow(l, { hover: () => undefined }),
        updateLimit,
      );
      setText(takeNote, m.bName);
      keyed(
        takeList,
        m.takes,
        (t) => t.take,
        (t) => h("li", {}, h("button", { type: "button", class: "take", "data-take": t.take, onclick: () => hooks.take(t.take) }, h("span"), h("b"))),
        (li, t) => {
          const button = li.firstElementChild as HTMLButtonElement;
          setText(button.firstElementChild as Element, t.words);
          setText(button.lastElementChild as Element, t.text);
          setAttr(button, "aria-disabled", t.can ? null : "true");
        },
      );
    },
  };
}
