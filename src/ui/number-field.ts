import { fixed } from "../view/format.ts";
import { h } from "./dom.ts";

export interface NumberSpec {
  words: string;
  unit: string;
  min: number;
  max: number;
  whole: boolean;
  onSet(value: number): void;
}

export interface NumberField {
  el: HTMLElement;
  update(value: number): void;
}

/** A number with its words and unit. What is out of range is not taken: the field says what is allowed and keeps the old value. */
export function createNumber(spec: NumberSpec): NumberField {
  let value = Number.NaN;
  const allowed = h("span", { class: "number-fault", role: "alert" });
  const input = h("input", {
    type: "text",
    inputmode: spec.whole ? "numeric" : "decimal",
    autocomplete: "off",
    "aria-label": `${spec.words}${spec.unit ? `, ${spec.unit}` : ""}`,
  });
  /** being typed: what comes from elsewhere must not write over it */
  let typing = false;
  const show = (): void => {
    typing = false;
    input.value = Number.isFinite(value) ? String(Math.round(value * 1e4) / 1e4) : "";
  };
  const say = (text: string): void => {
    allowed.textContent = text;
    input.toggleAttribute("aria-invalid", text !== "");
  };
  const take = (next: number): void => {
    if (!Number.isFinite(next) || next < spec.min || next > spec.max || (spec.whole && !Number.isInteger(next))) {
      say(`${spec.whole ? "whole, " : ""}${fixed(spec.min, 3).replace(/\.?0+$/, "")} to ${fixed(spec.max, 3).replace(/\.?0+$/, "")}`);
      return;
    }
    say("");
    if (next !== value) spec.onSet(next);
    show();
  };
  input.addEventListener("input", () => {
    typing = true;
  });
  input.addEventListener("change", () => take(Number(input.value.trim().replace(",", ".").replace("\u2212", "-"))));
  // a refused number does not stay behind as if it counted
  input.addEventListener("blur", show);
  input.addEventListener("keydown", (e) => {
    if (e.key === "Escape") {
      say("");
      show();
      return;
    }
    const way = { ArrowUp: 1, ArrowDown: -1 }[e.key];
    if (way === undefined || !Number.isFinite(value)) return;
    e.preventDefault();
    const step = spec.whole ? 1 : stepOf(value);
    take(Math.min(spec.max, Math.max(spec.min, Math.round((value + way * step * (e.shiftKey ? 0.1 : 1)) * 1e6) / 1e6)));
  });
  const el = h(
    "label",
    { class: "number-row" },
    h("span", { class: "number-words" }, spec.words),
    input,
    h("span", { class: "number-unit" }, spec.unit),
    allowed,
  );
  return {
    el,
    update(next) {
      const changed = next !== value;
      value = next;
      if (!changed || (typing && document.activeElement === input)) return;
      say("");
      show();
    },
  };
}

/** About a twentieth of the value, as a round number. */
function stepOf(value: number): number {
  const size = Math.max(1e-3, Math.abs(value) / 20);
  const ten = 10 ** Math.floor(Math.log10(size));
  return size / ten >= 5 ? 5 * ten : size / ten >= 2 ? 2 * ten : ten;
}
