import type GUI from "lil-gui";
import type { Scenario } from "../../../core/design/types.ts";
import { h, setText } from "../../../ui/dom.ts";
import { type NumberRule, type TypedNumber, typedNumber } from "../../../ui/typed-number.ts";
import type { ActControl, ChoiceControl, Control, NumberControl, TextControl } from "../state/control.ts";
import { letScroll } from "./slider-touch.ts";

/** One row of the parts panel. */
export interface ParamRow {
  el: HTMLElement;
  /** @param differ what left and right have, where they differ */
  update(value: number | string, differ: string): void;
}

export interface RowPlace {
  gui: GUI;
  /** name for those who cannot see the heading and the part */
  name: string;
  scenario(): Scenario;
  limits(c: NumberControl): { min: number; max: number };
  label(c: Control): Node;
  /** how the value is known: its mark, behind the words */
  mark: Node;
  set(value: number | string, done: boolean): void;
}

const differNote = (): HTMLElement => h("span", { class: "param-differ" });
const unitWords = (c: NumberControl): string => (c.unit ? `, ${c.unit}` : "");

function ruleOf(c: NumberControl, place: RowPlace): NumberRule {
  const s = place.scenario();
  const { min, max } = place.limits(c);
  const times = c.times ?? 1;
  return { unit: c.unit, min: min * times, max: max * times, whole: c.whole ?? false, step: c.step, pitchMm: s.holePitchMm };
}

export function rowOf(c: Control, place: RowPlace, first: number | string): ParamRow {
  switch (c.kind) {
    case "number":
      return c.place ? placeRow(c, place) : sliderRow(c, place, Number(first));
    case "choice":
      return choiceRow(c, place);
    case "text":
      return textRow(c, place);
    case "act":
      return actRow(c, place);
  }
}

/** A slider with its number, which is typed like every number of the page; the slider's own field drops what stands behind a comma. */
function sliderRow(c: NumberControl, place: RowPlace, first: number): ParamRow {
  const scratch = { value: first };
  const rule = ruleOf(c, place);
  const low = Math.max(Math.min(c.min, first), rule.min);
  const high = Math.min(Math.max(c.max, first), rule.max);
  const controller = place.gui.add(scratch, "value", low, high, c.step).name("");
  controller.$name.append(place.label(c), place.mark);
  if (c.hint) controller.domElement.title = c.hint;
  const times = c.times ?? 1;
  let typed: TypedNumber | null = null;
  controller.onChange(() => {
    typed?.clear();
    place.set(scratch.value / times, false);
  });
  controller.onFinishChange(() => place.set(scratch.value / times, true));
  // a slider needs its name and value for those who cannot see it
  const slider = controller.domElement.querySelector<HTMLElement>(".lil-slider");
  slider?.setAttribute("aria-hidden", "true");
  if (slider) letScroll(slider);
  const input = h("input", {
    type: "text",
    inputmode: c.whole ? "numeric" : "decimal",
    autocomplete: "off",
    "aria-label": `${c.words}${unitWords(c)}; ${place.name}`,
  });
  controller.domElement.querySelector("input")?.replaceWith(input);
  typed = typedNumber(
    input,
    () => ruleOf(c, place),
    () => scratch.value,
    (v) => {
      scratch.value = v;
      place.set(v / times, true);
    },
  );
  const note = differNote();
  controller.domElement.append(note, typed.fault);
  typed.clear();
  return {
    el: controller.domElement,
    update(value, differ) {
      setText(note, differ);
      if (scratch.value === value) return;
      scratch.value = Number(value);
      controller.updateDisplay();
      if (!typed?.typing) typed?.clear();
    },
  };
}

const row = (className: string, ...children: (Node | string)[]): HTMLElement => h("div", { class: `param-row ${className}` }, ...children);

/** A place: in holes and in mm, each can be typed. */
function placeRow(c: NumberControl, place: RowPlace): ParamRow {
  let mm = Number.NaN;
  const field = (unit: "holes" | "mm"): { input: HTMLInputElement; typed: TypedNumber } => {
    const per = (): number => (unit === "holes" ? place.scenario().holePitchMm : 1);
    const input = h("input", { type: "text", inputmode: "decimal", autocomplete: "off", "aria-label": `${c.words}, ${unit}; ${place.name}` });
    const typed = typedNumber(
      input,
      () => {
        const { min, max, pitchMm } = ruleOf(c, place);
        return { unit, min: min / per(), max: max / per(), whole: false, step: 0.5, ...(pitchMm === undefined ? {} : { pitchMm }) };
      },
      () => mm / per(),
      (v) => place.set(Math.round(v * per() * 1e4) / 1e4, true),
    );
    return { input, typed };
  };
  const inHoles = field("holes");
  const inMm = field("mm");
  const note = differNote();
  const el = row(
    "place-row",
    h("span", { class: "param-words" }, place.label(c), place.mark),
    inHoles.input,
    h("span", { class: "param-unit" }, "holes"),
    inMm.input,
    h("span", { class: "param-unit" }, "mm"),
    note,
    inHoles.typed.fault,
    inMm.typed.fault,
  );
  place.gui.$children.append(el);
  return {
    el,
    update(value, differ) {
      setText(note, differ);
      if (value === mm) return;
      mm = Number(value);
      for (const f of [inHoles, inMm]) if (!f.typed.typing) f.typed.clear();
    },
  };
}

function choiceRow(c: ChoiceControl, place: RowPlace): ParamRow {
  const select = h(
    "select",
    { "aria-label": `${c.words}; ${place.name}`, onchange: () => place.set(select.value, true) },
    ...Object.entries(c.options).map(([words, key]) => h("option", { value: key }, words)),
  );
  const note = differNote();
  const el = row("choice-row", h("span", { class: "param-words" }, place.label(c), place.mark), select, note);
  place.gui.$children.append(el);
  return {
    el,
    update(value, differ) {
      setText(note, differ);
      // a choice that is refused goes back to what stands
      if (select.value !== value) select.value = String(value);
    },
  };
}

function textRow(c: TextControl, place: RowPlace): ParamRow {
  let now = "";
  const input = h("input", {
    type: "text",
    maxlength: c.longest,
    autocomplete: "off",
    "aria-label": `${c.words}; ${place.name}`,
    onchange: () => {
      const wanted = input.value.trim();
      if (wanted === "" && !c.empty) input.value = now;
      else if (wanted !== now) place.set(wanted, true);
    },
  });
  const note = differNote();
  const el = row("text-row", h("span", { class: "param-words" }, place.label(c), place.mark), input, note);
  place.gui.$children.append(el);
  return {
    el,
    update(value, differ) {
      setText(note, differ);
      now = String(value);
      if (document.activeElement !== input && input.value !== now) input.value = now;
    },
  };
}

function actRow(c: ActControl, place: RowPlace): ParamRow {
  const el = row("act-row", h("button", { type: "button", class: "link", onclick: () => place.set("", true) }, c.words));
  place.gui.$children.append(el);
  return { el, update: () => {} };
}
