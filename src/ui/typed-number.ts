import { readQuantity } from "../core/quantity.ts";
import { rangeWords } from "../view/number-range.ts";
import { h, setText } from "./dom.ts";

/** What a typed number may be, and what it means. */
export interface NumberRule {
  unit: string;
  /** hole pitch, where a length may be typed in holes, mm */
  pitchMm?: number;
  /** kind of unit, where the unit does not tell it */
  kind?: string;
  min: number;
  max: number;
  whole: boolean;
  /** what an arrow key adds; without it about a twentieth of the value */
  step?: number;
}

export interface TypedNumber {
  /** says why what was typed is not taken, and what stays */
  fault: HTMLElement;
  /** reads what stands in the field; gives the number to `onSet`, or says why not */
  take(): void;
  clear(): void;
  /** something was typed that is not taken yet */
  readonly typing: boolean;
}

let count = 0;

/**
 * Makes a text field one for numbers as people type them: comma or point, with or without a unit. The one way to type a number in the
 * page. What is out of range or no number is refused with what is allowed, and the old value stays.
 */
export function typedNumber(input: HTMLInputElement, rule: () => NumberRule, now: () => number, onSet: (value: number) => void): TypedNumber {
  const id = `number-fault-${++count}`;
  const fault = h("span", { class: "number-fault", role: "alert", id });
  let typing = false;
  const say = (text: string): void => {
    setText(fault, text);
    if (text) {
      input.setAttribute("aria-invalid", "true");
      input.setAttribute("aria-describedby", id);
    } else {
      input.removeAttribute("aria-invalid");
      input.removeAttribute("aria-describedby");
    }
  };
  const show = (): void => {
    typing = false;
    const value = now();
    input.value = Number.isFinite(value) ? String(Math.round(value * 1e4) / 1e4) : "";
  };
  const take = (): void => {
    if (!typing) return;
    const { unit, kind, pitchMm, min, max, whole } = rule();
    const read = readQuantity(input.value, unit, kind, pitchMm ?? null);
    const allowed = `${whole ? "a whole number, " : ""}${rangeWords(min, max, unit)}`;
    const fits = read.ok && read.value >= min - 1e-9 && read.value <= max + 1e-9 && (!whole || Number.isInteger(read.value));
    if (read.ok && fits) {
      say("");
      const value = Math.min(max, Math.max(min, read.value));
      typing = false;
      if (value !== now()) onSet(value);
    } else say(`${read.ok ? `allowed: ${allowed}` : read.message}; it stays ${Number.isFinite(now()) ? Math.round(now() * 1e4) / 1e4 : "empty"}`);
    // a refused number does not stay behind as if it counted
    show();
  };
  input.addEventListener("input", () => {
    typing = true;
  });
  input.addEventListener("change", take);
  input.addEventListener("blur", take);
  input.addEventListener("keydown", (e) => {
    if (e.key === "Enter") take();
    if (e.key === "Escape") {
      say("");
      show();
    }
    const way = { ArrowUp: 1, ArrowDown: -1 }[e.key];
    const value = now();
    if (way === undefined || !Number.isFinite(value)) return;
    e.preventDefault();
    const { min, max, whole, step = stepOf(value) } = rule();
    const by = whole ? 1 : e.shiftKey ? step / 10 : step;
    const next = Math.min(max, Math.max(min, Math.round((value + way * by) * 1e6) / 1e6));
    if (next !== value) onSet(next);
    say("");
    show();
  });
  return {
    fault,
    take,
    clear() {
      say("");
      show();
    },
    get typing() {
      return typing && document.activeElement === input;
    },
  };
}

/** About a twentieth of the value, as a round number. */
function stepOf(value: number): number {
  const size = Math.max(1e-3, Math.abs(value) / 20);
  const ten = 10 ** Math.floor(Math.log10(size));
  return size / ten >= 5 ? 5 * ten : size / ten >= 2 ? 2 * ten : ten;
}
