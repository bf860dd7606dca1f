import { fieldName } from "../../../core/design/field-words.ts";
import type { Origin, Scenario } from "../../../core/design/types.ts";
import type { AnswerKey, NumberKey } from "../../../scenario/own-car/answers.ts";
import { answerOf, isTold, pathsOf, timesOf } from "../../../scenario/own-car/own-car.ts";
import { h, keyed, setAttr, setText } from "../../../ui/dom.ts";
import { type NumberRule, typedNumber } from "../../../ui/typed-number.ts";
import { originWords } from "../../../view/origin-words.ts";
import { answerRange, isAsked, isChoiceQuestion, type Question, STEPS } from "../state/questions.ts";
import { sketchOf } from "./sketches.ts";

export interface QuestionsHooks {
  tell(q: Question, value: number | string): void;
  leaveOut(q: Question): void;
  step(key: string): void;
  places(unit: "mm" | "holes"): void;
  name(text: string): void;
  sunk(massKg: number, mm: number): void;
}

export interface QuestionsModel {
  scenario: Scenario;
  step: string;
  places: "mm" | "holes";
  /** what is still wanted */
  missing: readonly NumberKey[];
}

interface Row {
  el: HTMLElement;
  update(m: QuestionsModel): void;
}

const short = (v: number): string => String(Math.round(v * 1e3) / 1e3).replace("-", "\u2212");
const isPlace = (key: AnswerKey): boolean => /(Inner|Outer|springTop)\.(out|up)$/.test(key);

/** How a told answer is known, in a word or two. */
function knownWords(s: Scenario, key: NumberKey, origin: Origin | undefined, per: number): string {
  if (!origin) return "told";
  const plusMinus = origin.plusMinus === undefined ? "" : ` \u00b1${short(origin.plusMinus / timesOf(s, key) / per)}`;
  return `${origin.note?.split(",")[0] ?? "measured"}${plusMinus}`;
}

/** The questions, one step at a time, each with its small drawing; what is not told shows its guess, marked as one. */
export function createQuestions(hooks: QuestionsHooks): { el: HTMLElement; extra: HTMLElement; shelf: HTMLElement; update(m: QuestionsModel): void } {
  const tabs = h("ol", { class: "own-steps" });
  const title = h("h2", { class: "own-title" });
  const lead = h("p", { class: "own-lead" });
  const list = h("div", { class: "own-list" });
  const extra = h("div", { class: "own-extra" });
  const shelf = h("div", { class: "own-shelf" });
  const back = h("button", { type: "button", class: "own-turn" }, "Back");
  const next = h("button", { type: "button", class: "own-turn strong" });
  const turns = h("div", { class: "own-turns" }, back, next);
  const at = (): number => STEPS.findIndex((s) => s.key === model?.step);
  back.addEventListener("click", () => hooks.step(STEPS[at() - 1]?.key ?? STEPS[0]!.key));
  next.addEventListener("click", () => hooks.step(STEPS[at() + 1]?.key ?? "done"));
  const nameInput = h("input", {
    type: "text",
    class: "own-name",
    maxlength: 80,
    autocomplete: "off",
    onchange: (e: Event) => hooks.name((e.target as HTMLInputElement).value),
  });
  const nameRow = h("label", { class: "own-q own-name-row" }, h("span", { class: "own-words" }, "Its name"), nameInput);
  const unitButtons = (["mm", "holes"] as const).map((u) => h("button", { type: "button", class: "word-switch", onclick: () => hooks.places(u) }, u));
  const units = h("p", { class: "own-units", role: "group", "aria-label": "places in" }, "places in ", ...unitButtons);
  const sink = createSink(hooks.sunk);
  const el = h("section", { class: "own-questions", "aria-label": "questions" }, tabs, title, lead, nameRow, extra, units, list, sink, shelf, turns);
  let model: QuestionsModel | null = null;

  const words = (q: Question): HTMLElement => h("span", { class: "own-words" }, q.words, ...(q.how ? [h("small", {}, q.how)] : []));
  const known = (q: Question): { el: HTMLButtonElement; update(m: QuestionsModel): void } => {
    const button = h("button", { type: "button", class: "own-known", onclick: () => hooks.leaveOut(q) });
    return {
      el: button,
      update(m) {
        const told = isTold(m.scenario, q.key);
        const per = m.places === "holes" && isPlace(q.key) ? m.scenario.holePitchMm : 1;
        const path = pathsOf(m.scenario, q.key)[0];
        const origin = m.scenario.origins[path];
        const how = told ? (isChoiceQuestion(q) ? "told" : knownWords(m.scenario, q.key as NumberKey, origin, per)) : "guess";
        setText(button, how);
        setAttr(button, "class", `own-known ${told ? "is-told" : "is-guess"}`);
        setAttr(button, "aria-label", told ? `${how}: leave out ${q.words}` : `${q.words} is a guess`);
        setAttr(button, "title", `${originWords(path, origin)}${told ? "; press to leave it out: it is guessed again" : ""}`);
        button.disabled = !told;
      },
    };
  };
  const numberRow = (q: Question): Row => {
    const input = h("input", { type: "text", inputmode: "decimal", autocomplete: "off", "data-answer": q.key });
    const unit = h("span", { class: "number-unit" }, q.unit);
    const per = (): number => (model?.places === "holes" && isPlace(q.key) ? model.scenario.holePitchMm : 1);
    const unitNow = (): string => (per() !== 1 ? "holes" : q.unit);
    const rule = (): NumberRule => {
      const s = (model as QuestionsModel).scenario;
      const r = answerRange(s, q.key as NumberKey);
      return { unit: unitNow(), pitchMm: s.holePitchMm, min: r.min / per(), max: r.max / per(), whole: r.whole };
    };
    const value = (): number => {
      const s = (model as QuestionsModel).scenario;
      return isTold(s, q.key) ? (answerOf(s, q.key) as number) / per() : Number.NaN;
    };
    const typed = typedNumber(input, rule, value, (v) => hooks.tell(q, v * per()));
    const state = known(q);
    const el = h(
      "div",
      { class: "own-q", "data-question": q.key },
      q.sketch ? (sketchOf(q.sketch) ?? "") : "",
      words(q),
      h("span", { class: "own-value" }, input, unit),
      state.el,
      typed.fault,
    );
    let shown = "";
    return {
      el,
      update(m) {
        const guess = answerOf(m.scenario, q.key) as number;
        setAttr(input, "aria-label", `${q.words}${unitNow() ? `, ${unitNow()}` : ""}`);
        setAttr(input, "placeholder", isTold(m.scenario, q.key) ? "" : `\u2248 ${short(guess / per())}`);
        setText(unit, unitNow());
        state.update(m);
        const now = `${value()} ${unitNow()}`;
        if (now !== shown && !typed.typing) typed.clear();
        shown = now;
      },
    };
  };
  const choiceRow = (q: Question & { key: AnswerKey }): Row => {
    const select = h("select", { "data-answer": q.key, "aria-label": q.words, onchange: () => hooks.tell(q, select.value) });
    const state = known(q);
    const el = h("div", { class: "own-q own-choice", "data-question": q.key }, q.sketch ? (sketchOf(q.sketch) ?? "") : "", words(q), select, state.el);
    return {
      el,
      update(m) {
        const values = fieldName(pathsOf(m.scenario, q.key)[0])?.values ?? {};
        if (select.childElementCount === 0) select.append(...Object.entries(values).map(([value, text]) => h("option", { value }, text)));
        const now = String(answerOf(m.scenario, q.key));
        if (select.value !== now) select.value = now;
        select.classList.toggle("is-guess", !isTold(m.scenario, q.key));
        state.update(m);
      },
    };
  };
  const rows = new Map<string, Row>();
  const rowOf = (q: Question): Row => {
    let row = rows.get(q.key);
    if (!row) {
      row = isChoiceQuestion(q) ? choiceRow(q) : numberRow(q);
      rows.set(q.key, row);
    }
    return row;
  };
  const tabWords = (i: number, m: QuestionsModel): string => {
    const step = STEPS[i]!;
    const asked = step.questions.filter((q) => isAsked(q, m.scenario));
    return `${asked.filter((q) => isTold(m.scenario, q.key)).length} of ${asked.length} told`;
  };

  return {
    el,
    extra,
    shelf,
    update(m) {
      const turned = m.step !== model?.step;
      model = m;
      const i = at();
      const step = STEPS[i] ?? STEPS[0]!;
      keyed(
        tabs,
        STEPS,
        (s) => s.key,
        (s) => h("li", {}, h("button", { type: "button", "data-step": s.key, onclick: () => hooks.step(s.key) }, h("b"), h("small"))),
        (li, s, n) => {
          const button = li.firstElementChild as HTMLElement;
          setText(button.children[0]!, `${n + 1} ${s.words}`);
          setText(button.children[1]!, tabWords(n, m));
          setAttr(button, "aria-current", s.key === step.key ? "step" : null);
          const wanted = s.questions.some((q) => (m.missing as readonly string[]).includes(q.key));
          setAttr(button, "class", wanted ? "wanted" : "");
          if (turned && s.key === step.key) button.scrollIntoView?.({ block: "nearest", inline: "nearest" });
        },
      );
      setText(title, `${step.words}${step.key === "size" || step.key === "pins" ? " (needed)" : ""}`);
      setText(lead, step.lead);
      nameRow.hidden = step.key !== "size";
      if (document.activeElement !== nameInput) nameInput.value = m.scenario.name;
      units.hidden = step.key !== "pins";
      for (const [k, b] of unitButtons.entries()) setAttr(b, "aria-pressed", String((k === 0 ? "mm" : "holes") === m.places));
      sink.hidden = step.key !== "springs";
      extra.hidden = !["wheels", "pins", "springs"].includes(step.key);
      keyed(
        list,
        step.questions.filter((q) => isAsked(q, m.scenario)),
        (q) => q.key,
        (q) => rowOf(q).el,
        (_el, q) => rowOf(q).update(m),
      );
      shelf.hidden = !["arms", "springs", "hub", "drive"].includes(step.key);
      back.disabled = i <= 0;
      setText(next, i === STEPS.length - 1 ? "See it on the axle's sheet" : `Next: ${STEPS[i + 1]!.words.toLowerCase()}`);
    },
  };
}

/** "Put a weight on it and read how far it sinks": two numbers that make a rate. */
function createSink(sunk: (massKg: number, mm: number) => void): HTMLElement {
  const values = { mass: Number.NaN, mm: Number.NaN };
  const field = (key: "mass" | "mm", words: string, rule: NumberRule): HTMLElement => {
    const input = h("input", { type: "text", inputmode: "decimal", autocomplete: "off", "data-sink": key, "aria-label": `${words}, ${rule.unit}` });
    const typed = typedNumber(
      input,
      () => rule,
      () => values[key],
      (v) => {
        values[key] = v;
        typed.clear();
        if (Number.isFinite(values.mass) && Number.isFinite(values.mm)) sunk(values.mass, values.mm);
      },
    );
    return h("label", { class: "own-sink-field" }, words, input, h("span", { class: "number-unit" }, rule.unit), typed.fault);
  };
  return h(
    "fieldset",
    { class: "own-sink" },
    h("legend", {}, "No rate on the bag? Stand one spring upright, put a weight on it and read how far it sinks."),
    sketchOf("sink") ?? "",
    field("mass", "weight", { unit: "kg", min: 0.01, max: 50, whole: false }),
    field("mm", "sinks by", { unit: "mm", min: 0.1, max: 200, whole: false }),
  );
}
