import { h } from "./dom.ts";
import { termOr } from "./help.ts";
import { type NumberRule, typedNumber } from "./typed-number.ts";

export interface NumberSpec extends NumberRule {
  words: string;
  /** explains the words where they stand */
  term?: string | null;
  onSet(value: number): void;
}

export interface NumberField {
  el: HTMLElement;
  update(value: number): void;
}

/** A number with its words and unit, typed or stepped by the arrow keys. */
export function createNumber(spec: NumberSpec): NumberField {
  let value = Number.NaN;
  const input = h("input", {
    type: "text",
    inputmode: spec.whole ? "numeric" : "decimal",
    autocomplete: "off",
    "aria-label": `${spec.words}${spec.unit ? `, ${spec.unit}` : ""}`,
    // until its number is there: what was typed before would be lost when it comes
    disabled: true,
  });
  const typed = typedNumber(
    input,
    () => spec,
    () => value,
    (next) => spec.onSet(next),
  );
  // a word that explains itself is pressed by itself and does not lead into the field
  const el = h(
    spec.term ? "div" : "label",
    { class: "number-row" },
    h("span", { class: "number-words" }, termOr(spec.term ?? null, document.createTextNode(spec.words))),
    input,
    h("span", { class: "number-unit" }, spec.unit),
    typed.fault,
  );
  return {
    el,
    update(next) {
      input.disabled = false;
      const changed = !Object.is(next, value);
      value = next;
      if (changed && !typed.typing) typed.clear();
    },
  };
}
