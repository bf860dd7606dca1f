import type { BenchKind } from "../../../core/design/tried.ts";
import { h, keyed, setText } from "../../../ui/dom.ts";
import type { KindFacts } from "../picture/test-words.ts";

/** What the bench is for, what is worth measuring next, and which guesses it would replace. */
export function createStart(hooks: { choose(kind: BenchKind): void; next: HTMLElement }): { el: HTMLElement; update(m: { rows: readonly KindFacts[] }): void } {
  const head = h("h3");
  const list = h("ul", { class: "bench-guessed" });
  const el = h(
    "section",
    { class: "bench-start", "aria-label": "where to begin" },
    h("h2", {}, "Numbers from your own parts"),
    h(
      "p",
      {},
      "The answer turns on a handful of numbers that no handbook has: how far a bearing tilts under a pull, where a lip lets go, how stiff a printed arm is. With a kitchen scale, a ruler and a phone you measure each in some ten minutes.",
    ),
    h(
      "p",
      {},
      "Choose a test, do it as its drawing shows, and type in what you read. The sums are done while you type, with how sure they are; one press puts the result into the design as measured.",
    ),
    hooks.next,
    head,
    list,
  );
  return {
    el,
    update({ rows }) {
      const guessed = rows.filter((r) => r.how === "guess");
      setText(head, guessed.length > 0 ? "Tests that replace guesses of this car" : "No value that a test measures is a guess in this car");
      keyed(
        list,
        guessed,
        (r) => r.kind,
        (r) => h("li", {}, h("button", { type: "button", class: "link", "data-to-test": r.kind, onclick: () => hooks.choose(r.kind) }, r.words), h("span", {})),
        (li, r) => setText(li.lastElementChild!, `${r.minutes} min`),
      );
    },
  };
}
