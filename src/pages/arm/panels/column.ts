import { h, keyed, setAttr, setText } from "../../../ui/dom.ts";
import { term } from "../../../ui/help.ts";
import { createKnownHero } from "../../../ui/known-hero.ts";
import { limitRow, updateLimit } from "../../../ui/limit-row.ts";
import type { LimitRow } from "../../../view/reading.ts";
import type { ArmHero, DirectionRow, Sentence } from "../picture/words.ts";
import { KEEP_WORDS, KEEPS, type Keep, type Take } from "../state/edits.ts";

export interface TakeModel {
  take: Take | Keep;
  words: string;
  /** "lean 6.6° → 6.1°", "the same", or why not */
  text: string;
  can: boolean;
}

export interface ColumnModel {
  /** on which the answer rests */
  guesses: number;
  hero: ArmHero;
  sentences: readonly Sentence[];
  rows: readonly DirectionRow[];
  close: readonly LimitRow[];
  closeWhere: string;
  /** what can be taken from B, and the arm as one straight bar */
  takes: readonly TakeModel[];
  bName: string;
  /** what the last change of the layout was compared by; "" none */
  compared: string;
}

/** Reading column of the arm sheet: the one big number, what it means, three directions, how close, what to take; `stopped` says why that stays unknown. */
export function createColumn(stopped: HTMLElement, hooks: { take(t: Take | Keep): void }): { el: HTMLElement; update(m: ColumnModel): void } {
  const title = h("h2", { class: "hero-title" });
  const aside = h("span", { class: "aside-term" });
  const number = h("p", { class: "hero-number" });
  const lines = [h("li"), h("li"), h("li")];
  const known = createKnownHero();
  const hero = h(
    "section",
    { class: "hero arm-hero" },
    h("div", { class: "head-row" }, title, aside),
    h("div", { class: "hero-row" }, number, h("ul", { class: "hero-list" }, ...lines, known.el)),
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
  const straightTitle = h("h2");
  const straightList = h("ul", { class: "take-list" });
  const compared = h("p", { class: "arm-compared", role: "status" });
  const straight = h("section", { class: "arm-straight" }, straightTitle, straightList, compared);
  const showRows = (list: HTMLElement, rows: readonly TakeModel[], words: (t: TakeModel) => readonly string[]): void =>
    keyed(
      list,
      rows,
      (t) => t.take,
      (t) => h("li", {}, h("button", { type: "button", class: "take", "data-take": t.take, onclick: () => hooks.take(t.take) }, h("span"), h("b"))),
      (li, t) => {
        const button = li.firstElementChild as HTMLButtonElement;
        const [first, second] = words(t);
        const span = button.firstElementChild as HTMLElement;
        const key = words(t).join("\n");
        if (span.dataset.words !== key) {
          span.dataset.words = key;
          span.replaceChildren(first ?? "", ...(second ? [h("span", { class: "aside-term" }, second)] : []));
        }
        setText(button.lastElementChild as Element, t.text);
        setAttr(button, "aria-disabled", t.can ? null : "true");
      },
    );
  const isKeep = (t: TakeModel): boolean => KEEPS.some((k) => k === t.take);
  const caution = h(
    "p",
    { class: "caution" },
    "For models only. Printed and moulded parts scatter and age: hang a weight on your arm and enter what you read.",
  );
  const el = h("aside", { class: "reading arm-reading", "aria-label": "reading of the arm" }, hero, says, directions, close, straight, take, caution);
  return {
    el,
    update(m) {
      known.show(m.guesses);
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
      showRows(
        takeList,
        m.takes.filter((t) => !isKeep(t)),
        (t) => [t.words],
      );
      const bars = m.takes.filter(isKeep);
      straight.hidden = bars.length === 0 && m.compared === "";
      setText(straightTitle, m.compared === "" ? "As one straight bar" : "Another shape");
      straightList.hidden = bars.length === 0;
      showRows(straightList, bars, (t) => [KEEP_WORDS[t.take as Keep], t.words]);
      setText(compared, m.compared);
    },
  };
}
