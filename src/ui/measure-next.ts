import { capital } from "../core/capital.ts";
import "./css/measure-next.css";
import type { BenchKind } from "../core/design/tried.ts";
import type { Side } from "../core/design/types.ts";
import type { MeasureTold } from "../view/measure-words.ts";
import { h, keyed, setAttr, setText } from "./dom.ts";
import { term } from "./help.ts";

export interface MeasureNextPanel {
  el: HTMLElement;
  /** null: being worked out. `why`: said where nothing can be told */
  update(told: MeasureTold | null, why: string): void;
}

/** Which bench test makes the safe speed's band narrower by how much, each a press away; and what was measured has bought. */
export function createMeasureNext(hooks: { open(test: BenchKind, side: Side | "both"): void }, heading: "h2" | "h3" = "h2"): MeasureNextPanel {
  const lead = h("p", { class: "measure-lead" });
  const list = h("ol", { class: "measure-list" });
  const beyond = h("p", { class: "measure-rest" });
  const boughtHead = h("p", { class: "measure-lead" }, "What was measured has bought:");
  const bought = h("ul", { class: "measure-bought" });
  const el = h("section", { class: "measure-next" }, h(heading, {}, term("measureNext", "What to measure next")), lead, list, beyond, boughtHead, bought);
  return {
    el,
    update(told, why) {
      setAttr(el, "aria-busy", String(told === null && why === ""));
      setText(
        lead,
        why ||
          (!told
            ? "Working out which test tells most."
            : told.lines.length > 0
              ? `By the quick estimate (first order) the safe speed is known to ${told.now}. These tests make that narrower:`
              : `By the quick estimate (first order) the safe speed is known to ${told.now}; no bench test makes that much narrower.`),
      );
      keyed(
        list,
        why ? [] : (told?.lines ?? []),
        (l) => l.key,
        () =>
          h(
            "li",
            {},
            h("button", { type: "button", class: "link" }),
            h("b", { class: "measure-minutes" }),
            h("span", { class: "measure-narrower" }),
            h("span", { class: "measure-bar", "aria-hidden": "true" }, h("span")),
            h("span", { class: "measure-inputs" }),
          ),
        (li, l) => {
          const [name, minutes, narrower, bar, inputs] = li.children as unknown as [HTMLButtonElement, Element, Element, Element, Element];
          setAttr(name, "data-to-test", l.test);
          name.onclick = () => hooks.open(l.test, l.side);
          setText(name, capital(l.name));
          setText(minutes, l.minutes);
          setText(narrower, l.narrower);
          (bar.firstElementChild as HTMLElement).style.width = `${(100 * Math.min(1, l.share)).toFixed(1)}%`;
          setText(inputs, l.inputs);
        },
      );
      setText(beyond, why ? "" : (told?.beyond ?? ""));
      beyond.hidden = beyond.textContent === "";
      const got = why ? [] : (told?.bought ?? []);
      boughtHead.hidden = got.length === 0;
      keyed(
        bought,
        got,
        (b) => b.key,
        () => h("li"),
        (li, b) => setText(li, b.words),
      );
    },
  };
}
