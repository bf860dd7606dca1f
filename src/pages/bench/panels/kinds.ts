import type { BenchKind } from "../../../core/design/tried.ts";
import { h, keyed, setAttr, setText } from "../../../ui/dom.ts";
import { MARK_SIGNS } from "../../../view/origin-words.ts";
import type { KindFacts } from "../picture/test-words.ts";

export interface KindsModel {
  rows: readonly KindFacts[];
  kind: BenchKind | null;
  test: number | null;
}

export interface KindsHooks {
  choose(kind: BenchKind | null, test: number | null): void;
}

/** The kinds of tests there are, what each costs, and those that are kept. */
export function createKinds(hooks: KindsHooks): { el: HTMLElement; update(m: KindsModel): void } {
  const start = h(
    "button",
    { type: "button", class: "bench-kind-open", "data-kind": "", onclick: () => hooks.choose(null, null) },
    h("b", {}, "Where to begin"),
  );
  const list = h("ol", { class: "bench-kinds" });
  const el = h("nav", { class: "bench-list", "aria-label": "bench tests" }, start, list);
  return {
    el,
    update({ rows, kind, test }) {
      setAttr(start, "aria-current", kind === null ? "true" : null);
      keyed(
        list,
        rows,
        (r) => r.kind,
        (r) =>
          h(
            "li",
            {},
            h(
              "button",
              { type: "button", class: "bench-kind-open", "data-kind": r.kind },
              h("b", {}, r.words),
              h("small", {}, h("span", {}), h("span", { class: "origin-sign", "aria-hidden": "true" }), h("span", {})),
            ),
            h("ul", { class: "bench-kept" }),
          ),
        (li, r) => {
          const [open, kept] = li.children as unknown as [HTMLButtonElement, HTMLElement];
          open.onclick = () => hooks.choose(r.kind, r.kept.at(-1)?.at ?? null);
          setAttr(open, "aria-current", r.kind === kind && (test === null || r.kept.length < 2) ? "true" : null);
          const [minutes, sign, known] = open.lastElementChild!.children as unknown as [Element, HTMLElement, Element];
          setText(minutes, `${r.minutes} min`);
          sign.hidden = r.how === null || r.how === "entered";
          setAttr(sign, "data-how", r.how);
          setText(sign, r.how ? MARK_SIGNS[r.how] : "");
          setText(known, r.known);
          kept.hidden = r.kept.length === 0;
          keyed(
            kept,
            r.kept,
            (k) => String(k.at),
            (k) => h("li", {}, h("button", { type: "button", class: "bench-kept-open", "data-test": k.at })),
            (item, k) => {
              const button = item.firstElementChild as HTMLButtonElement;
              button.onclick = () => hooks.choose(r.kind, k.at);
              setText(button, k.words);
              setAttr(button, "aria-current", r.kind === kind && k.at === test ? "true" : null);
            },
          );
        },
      );
    },
  };
}
