import { h, keyed, setText } from "../../../ui/dom.ts";
import { setLines } from "../../../ui/lines.ts";
import { setRunsAgainst } from "../../../ui/runs-against.ts";
import type { RunsModel } from "../picture/runs-model.ts";

export interface RunsBox {
  el: HTMLElement;
  /** null: the design has no runs */
  update(model: RunsModel | null): void;
}

/** Below the safe speed: what the runs tell of it, where they contradict the model, and the press that takes it into the design. */
export function createRunsBox(take: () => void): RunsBox {
  const count = h("span", { class: "aside-term" });
  const safe = h("p", { class: "map-sentence" });
  const values = h("ul", { class: "run-values" });
  const against = h("ul", { class: "run-against", "aria-label": "runs against the model" });
  const note = h("p", { class: "map-note" });
  const button = h("button", { type: "button", class: "link", "data-act": "take-runs", onclick: () => take() }, "take what the runs tell");
  const list = h("ol", { class: "run-list" });
  const el = h(
    "section",
    { class: "map-runs", "aria-label": "your runs", hidden: true },
    h("div", { class: "head-row" }, h("h2", {}, "Your runs"), count),
    safe,
    values,
    against,
    note,
    button,
    h("p", { class: "map-note" }, "On the map a ring is a run in which all held, a cross one in which something gave; pale ones were taken."),
    h("details", {}, h("summary", {}, "the runs one by one"), list),
  );
  return {
    el,
    update(m) {
      el.hidden = m === null;
      if (!m) return;
      setText(count, m.count);
      setText(safe, m.safe);
      safe.hidden = m.safe === "";
      keyed(
        values,
        m.values,
        (v) => v.name,
        () => h("li", {}, h("span"), h("b"), h("span")),
        (li, v) => {
          const [name, value, range] = li.children as unknown as [Element, Element, Element];
          setText(name, v.name);
          setText(value, v.now);
          setText(range, v.range);
        },
      );
      setRunsAgainst(against, m.against);
      setText(note, m.note);
      note.hidden = m.note === "";
      button.hidden = !m.canTake;
      setLines(list, m.list);
    },
  };
}
