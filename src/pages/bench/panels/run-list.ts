import { h, keyed, setAttr, setText } from "../../../ui/dom.ts";

interface RunRow {
  at: number;
  day: string;
  words: string;
  /** what gave, or that all held */
  outcome: string;
  broke: boolean;
  /** what it told stands in the design */
  taken: boolean;
}

export interface RunListModel {
  rows: readonly RunRow[];
  run: number | null;
  drafting: boolean;
}

/** The days of driving; a run that broke something carries the torn edge of the bars. */
export function createRunList(hooks: { choose(at: number): void; add(): void }): { el: HTMLElement; update(m: RunListModel): void } {
  const add = h("button", { type: "button", class: "bench-act strong", "data-act": "new-run", onclick: () => hooks.add() }, "Tell of a run");
  const none = h("p", { class: "aside-term" }, "No run is kept yet.");
  const list = h("ol", { class: "bench-runs" });
  const el = h("nav", { class: "bench-list", "aria-label": "runs" }, add, none, list);
  return {
    el,
    update({ rows, run, drafting }) {
      none.hidden = rows.length > 0;
      setAttr(add, "aria-current", drafting ? "true" : null);
      keyed(
        list,
        rows,
        (r) => String(r.at),
        (r) =>
          h(
            "li",
            {},
            h(
              "button",
              { type: "button", class: "bench-run-open", "data-run": r.at, onclick: () => hooks.choose(r.at) },
              h("b"),
              h("span"),
              h("span", { class: "bench-gave" }),
            ),
          ),
        (li, r) => {
          const button = li.firstElementChild as HTMLElement;
          const [day, words, gave] = button.children as unknown as [Element, Element, Element];
          setText(day, r.day);
          setText(words, r.words);
          setText(gave, `${r.outcome}${r.taken ? "; taken into the design" : ""}`);
          setAttr(button, "class", `bench-run-open${r.broke ? " broke" : ""}`);
          setAttr(button, "aria-current", r.at === run ? "true" : null);
        },
      );
    },
  };
}
