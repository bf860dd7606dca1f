import "./css/origin.css";
import "./css/small-field.css";
import type { Origin } from "../core/design/types.ts";
import { HOWS, type How, howOf, type Known, MARK_SIGNS, originWords } from "../view/origin-words.ts";
import { h, setAttr, setText } from "./dom.ts";
import { term } from "./help.ts";
import { typedNumber } from "./typed-number.ts";

/** The mark of a row: a shape for each way to know a value, and a press that opens where it is told. */
export interface OriginMark {
  el: HTMLButtonElement;
  update(known: Known | null, open: boolean): void;
}

export function createOriginMark(name: string, press: () => void): OriginMark {
  const el = h("button", { type: "button", class: "origin-mark", onclick: press });
  return {
    el,
    update(known, open) {
      el.hidden = known === null;
      if (!known) return;
      setAttr(el, "data-how", known.how);
      setText(el, MARK_SIGNS[known.how]);
      const words = `${originWords(known.path, known.origin)}${known.differ ? "; the other side is known otherwise" : ""}`;
      setAttr(el, "title", words);
      setAttr(el, "aria-label", `known as ${words}; ${name}`);
      setAttr(el, "aria-expanded", String(open));
    },
  };
}

interface OriginModel {
  known: Known;
  /** of the number; the most that a ± may be, in the file's measure, and shown value per stored value */
  unit: string;
  most: number;
  times: number;
  /** what is assumed while no ± is told, as it is shown, and in words with its reason; null: nothing is */
  assumed: { amount: string; words: string } | null;
  /** for those who cannot see the row */
  name: string;
}

export interface OriginHooks {
  /** @param typed one of several quick changes of the same */
  set(origin: Origin | null, typed: boolean): void;
  /** today, as 2026-11-26 */
  today(): string;
}

export interface OriginEditor {
  el: HTMLElement;
  update(model: OriginModel): void;
}

const NOTE_MOST = 120;

/** Under a row: whether its value is a guess, entered or measured, how sure it is, when and how it was measured. */
export function createOriginEditor(hooks: OriginHooks): OriginEditor {
  let model: OriginModel | null = null;
  const now = (): Origin | undefined => model?.known.origin;
  /** what is told next goes on from it, also before the next frame; what may not stand goes back with that one */
  const tell = (origin: Origin | null, typed: boolean): void => {
    if (model) model = { ...model, known: { ...model.known, origin: origin ?? undefined, how: howOf(origin ?? undefined) } };
    hooks.set(origin, typed);
  };
  const put = (patch: Partial<Origin>): void => {
    const next: Origin = { how: "entered", ...now(), ...patch };
    for (const key of ["plusMinus", "date", "note"] as const) if (next[key] === undefined || next[key] === "") delete next[key];
    // an entered value of which nothing else is told needs no entry
    tell(next.how === "entered" && Object.keys(next).length === 1 ? null : next, true);
  };
  const turn = (how: How): void => {
    if (how === howOf(now())) return;
    tell(how === "entered" ? null : how === "measured" ? { how, date: hooks.today() } : { how }, false);
  };
  const ways = HOWS.map((how) =>
    h(
      "button",
      { type: "button", class: "word-switch", "data-how": how, onclick: () => turn(how) },
      h("span", { class: "origin-sign", "aria-hidden": "true" }, MARK_SIGNS[how]),
      how,
    ),
  );
  const choice = h("div", { class: "origin-ways", role: "group" }, ...ways);
  const sure = h("input", { type: "text", inputmode: "decimal", autocomplete: "off" });
  const typed = typedNumber(
    sure,
    () => ({ unit: model?.unit ?? "", min: 0, max: (model?.most ?? 0) * (model?.times ?? 1), whole: false }),
    () => {
      const amount = now()?.plusMinus;
      return amount === undefined ? Number.NaN : amount * (model?.times ?? 1);
    },
    (v) => put({ plusMinus: v / (model?.times ?? 1) }),
  );
  const unit = h("span", { class: "param-unit" });
  const none = h("button", { type: "button", class: "link small", onclick: () => put({ plusMinus: undefined }) }, "no ±");
  const sureRow = h("div", { class: "origin-row" }, h("span", { class: "param-words" }, term("plusMinus", "sure to ±")), sure, unit, none, typed.fault);
  const assumed = h("p", { class: "origin-meaning origin-assumed" });
  const day = h("input", { type: "date", onchange: () => put({ date: day.value }) });
  const dayRow = h("label", { class: "origin-row" }, h("span", { class: "param-words" }, "on"), day);
  const note = h("input", { type: "text", maxlength: NOTE_MOST, autocomplete: "off", onchange: () => put({ note: note.value.trim() }) });
  const noteWords = h("span", { class: "param-words" });
  const noteRow = h("label", { class: "origin-row" }, noteWords, note);
  const meaning = h("p", { class: "origin-meaning" });
  const el = h("div", { class: "origin-editor", role: "group" }, choice, sureRow, assumed, dayRow, noteRow, meaning);
  let explained: How | null = null;
  return {
    el,
    update(next) {
      model = next;
      const { known } = next;
      setAttr(el, "aria-label", `how it is known; ${next.name}`);
      for (const b of ways) setAttr(b, "aria-pressed", String(b.getAttribute("data-how") === known.how));
      if (explained !== known.how) {
        explained = known.how;
        meaning.replaceChildren(term(known.how, `what ${known.how} means`));
      }
      sureRow.hidden = !known.isNumber;
      dayRow.hidden = known.how !== "measured";
      noteRow.hidden = known.how === "entered";
      none.hidden = known.origin?.plusMinus === undefined;
      const waits = known.isNumber && known.origin?.plusMinus === undefined ? next.assumed : null;
      setAttr(sure, "placeholder", waits?.amount ?? "");
      assumed.hidden = waits === null;
      setText(assumed, waits?.words ?? "");
      setText(unit, next.unit);
      setAttr(sure, "aria-label", `sure to plus or minus${next.unit ? `, ${next.unit}` : ""}; ${next.name}`);
      setText(noteWords, known.how === "measured" ? "how" : "from");
      setAttr(note, "aria-label", `${known.how === "measured" ? "how it was measured" : "where the guess is from"}; ${next.name}`);
      if (!typed.typing) typed.clear();
      if (document.activeElement !== day) day.value = known.origin?.date ?? "";
      if (document.activeElement !== note) note.value = known.origin?.note ?? "";
    },
  };
}
