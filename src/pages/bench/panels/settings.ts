import type { BenchTest } from "../../../core/design/tried.ts";
import { h, keyed, setAttr, setText } from "../../../ui/dom.ts";
import { typedNumber } from "../../../ui/typed-number.ts";
import type { SettingNow } from "../state/edits.ts";
import { createNote } from "./note.ts";

export interface SettingsModel {
  kind: string;
  test: BenchTest;
  settings: readonly SettingNow[];
  pitchMm: number;
  /** the kind of part is there on either side */
  sides: boolean;
}

export interface SettingsHooks {
  set(key: string, value: number | string, words: string): void;
  side(side: BenchTest["side"]): void;
  date(date: string | null): void;
  note(note: string): void;
}

const SIDE_WORDS: Readonly<Record<BenchTest["side"], string>> = { both: "stands for both sides", left: "from the left side", right: "from the right side" };

interface Row {
  el: HTMLElement;
  update(s: SettingNow): void;
}

/** How a test was set up: what the design says, until the builder tells it otherwise. */
export function createSettings(hooks: SettingsHooks): { el: HTMLElement; update(m: SettingsModel): void } {
  const list = h("div", { class: "bench-settings" });
  const side = h(
    "select",
    { "data-setting": "side", onchange: () => hooks.side(side.value as BenchTest["side"]) },
    ...Object.entries(SIDE_WORDS).map(([value, words]) => h("option", { value }, words)),
  );
  const date = h("input", { type: "date", "data-setting": "date", max: "9999-12-31", onchange: () => hooks.date(date.value || null) });
  const note = createNote({ "data-setting": "note" }, (text) => hooks.note(text));
  const field = (words: string, control: HTMLElement): HTMLElement => h("label", { class: "bench-field" }, h("span", {}, words), control);
  const about = h("div", { class: "bench-about" }, field("part", side), field("day", date), note.el);
  const sideField = about.firstElementChild as HTMLElement;
  const el = h("section", { class: "bench-set-up", "aria-label": "how it was set up" }, h("h3", {}, "How you set it up"), about, list);
  let pitchMm = 8;

  /** Says that a setting is as preset, or leads back there. */
  const createFrom = ({ key, words }: SettingNow): { el: HTMLElement; update(s: SettingNow): void } => {
    let preset: number | string = "";
    const asPreset = h("span", { class: "bench-preset" }, "preset");
    const back = h("button", { type: "button", class: "link small", onclick: () => hooks.set(key, preset, words) });
    return {
      el: h("span", { class: "bench-setting-preset" }, asPreset, back),
      update(s) {
        preset = s.preset;
        asPreset.hidden = s.now !== s.preset;
        back.hidden = s.now === s.preset;
        const told = s.options?.[String(s.preset)] ?? `${s.preset}${s.unit ? `\u2009${s.unit}` : ""}`;
        setText(back, s.options ? "back" : `back to ${told}`);
        setAttr(back, "aria-label", `back to ${told}, ${words}`);
      },
    };
  };

  const numberRow = (first: SettingNow): Row => {
    let now = Number.NaN;
    const { key, words, unit } = first;
    const input = h("input", {
      type: "text",
      inputmode: "decimal",
      autocomplete: "off",
      "data-setting": key,
      "aria-label": `${words}${unit ? `, ${unit}` : ""}`,
    });
    const typed = typedNumber(
      input,
      () => ({ unit, pitchMm, min: first.min ?? -1e6, max: first.max ?? 1e6, whole: false }),
      () => now,
      (v) => hooks.set(key, v, words),
    );
    const from = createFrom(first);
    return {
      el: h(
        "div",
        { class: "bench-setting" },
        h("span", { class: "bench-setting-words" }, h("b", {}, words), h("small", {}, first.why)),
        h("span", { class: "bench-setting-value" }, input, h("span", { class: "number-unit" }, unit)),
        from.el,
        typed.fault,
      ),
      update(s) {
        const next = Number(s.now);
        const changed = !Object.is(next, now);
        now = next;
        if (changed && !typed.typing) typed.clear();
        from.update(s);
      },
    };
  };
  const choiceRow = (first: SettingNow): Row => {
    const { key, words } = first;
    const select = h(
      "select",
      { "data-setting": key, "aria-label": words, onchange: () => hooks.set(key, select.value, words) },
      ...Object.entries(first.options ?? {}).map(([value, text]) => h("option", { value }, text)),
    );
    const from = createFrom(first);
    return {
      el: h(
        "div",
        { class: "bench-setting choice" },
        h("span", { class: "bench-setting-words" }, h("b", {}, words), h("small", {}, first.why)),
        select,
        from.el,
      ),
      update(s) {
        if (select.value !== String(s.now)) select.value = String(s.now);
        from.update(s);
      },
    };
  };
  const rows = new Map<string, Row>();
  const rowOf = (kind: string, s: SettingNow): Row => {
    const key = `${kind}.${s.key}`;
    let row = rows.get(key);
    if (!row) {
      row = s.options ? choiceRow(s) : numberRow(s);
      rows.set(key, row);
    }
    return row;
  };

  return {
    el,
    update(m) {
      pitchMm = m.pitchMm;
      sideField.hidden = !m.sides;
      if (side.value !== m.test.side) side.value = m.test.side;
      if (document.activeElement !== date && date.value !== (m.test.date ?? "")) date.value = m.test.date ?? "";
      note.update(m.test.note);
      setAttr(list, "data-kind", m.kind);
      keyed(
        list,
        m.settings,
        (s) => `${m.kind}.${s.key}`,
        (s) => rowOf(m.kind, s).el,
        (_el, s) => rowOf(m.kind, s).update(s),
      );
    },
  };
}
