import { LIMIT_NAMES, type LimitName } from "../../../core/analysis.ts";
import { capital } from "../../../core/capital.ts";
import { ARM_WORDS, JOINT_WORDS } from "../../../core/design/part-words.ts";
import { HUB_FEELS, type Run } from "../../../core/design/tried.ts";
import type { Side } from "../../../core/design/types.ts";
import { h, setAttr, setText } from "../../../ui/dom.ts";
import { createNumber, type NumberField } from "../../../ui/number-field.ts";
import { seenWords } from "../../../view/runs/words.ts";
import type { PaceBy } from "../state/run-edits.ts";
import { paceOf, paceValue, partsOf, toldBy, withGiven } from "../state/run-edits.ts";
import { createNote } from "./note.ts";

export interface RunFormModel {
  /** names the run */
  key: string;
  run: Run;
  /** its pace was told; until then its field is empty */
  paced: boolean;
  /** it is kept in the design; else it waits to be */
  kept: boolean;
  title: string;
  /** what the pace comes to: "28.0 km/h, 0.81 g" */
  paceWords: string;
  /** grip of the design's own tyres */
  ownGrip: number;
}

export interface RunFormHooks {
  /** @param what the field in plain words, by which the change is named */
  set(run: Run, what: string, paced?: boolean): void;
  keep(): void;
  remove(): void;
}

const PACES: Readonly<Record<PaceBy, { words: string; field: string; unit: string; min: number; max: number }>> = {
  speed: { words: "by its speed", field: "speed", unit: "km/h", min: 0.1, max: 300 },
  lap: { words: "by the time for a whole circle", field: "lap time", unit: "s", min: 0.1, max: 3600 },
  g: { words: "by a phone's g", field: "cornering", unit: "g", min: 0, max: 5 },
};
const PART_WORDS: Readonly<Record<NonNullable<Run["gave"][number]["at"]>, string>> = { ...JOINT_WORDS, ...ARM_WORDS };
const HUB_CHOICES: readonly (readonly [string, string])[] = [
  ["none", "nobody felt it"],
  ...HUB_FEELS.map((f) => [f, `${f} to the hand`] as const),
  ["celsius", "measured"],
];

/** One run, told field by field. */
export function createRunForm(hooks: RunFormHooks): { el: HTMLElement; update(m: RunFormModel): void } {
  let model: RunFormModel | null = null;
  const run = (): Run => model!.run;
  /** a choice that waits for its number: nothing is told before */
  let waits = { grip: false, celsius: false };
  const wait = (patch: Partial<typeof waits>): void => {
    waits = { ...waits, ...patch };
    if (model) update(model);
  };
  const set = (patch: Partial<Run>, what: string, paced?: boolean): void => {
    if (model) hooks.set({ ...run(), ...patch }, what, paced);
  };
  const title = h("h2");
  const labelled = (words: string, control: HTMLElement): HTMLElement => h("label", { class: "bench-field" }, h("span", {}, words), control);
  const choice = (key: string, options: readonly (readonly [string, string])[], onSet: (value: string) => void): HTMLSelectElement => {
    const select = h(
      "select",
      { "data-run-field": key, onchange: () => onSet(select.value) },
      ...options.map(([value, words]) => h("option", { value }, words)),
    );
    return select;
  };
  const date = h("input", { type: "date", "data-run-field": "date", max: "9999-12-31", onchange: () => set({ date: date.value || null }, "the day") });
  const radius = createNumber({
    words: "radius of the curve",
    unit: "m",
    min: 0.1,
    max: 1000,
    whole: false,
    onSet: (radiusM) => set({ radiusM }, "radius of the curve"),
  });
  const hand = choice(
    "hand",
    [
      ["left", "left-hand curve"],
      ["right", "right-hand curve"],
    ],
    (v) => set({ hand: v as Side }, "way of the curve"),
  );
  const by = choice(
    "by",
    Object.entries(PACES).map(([value, p]) => [value, p.words] as const),
    (v) => set({ pace: toldBy(run(), v as PaceBy) }, "how its pace is told"),
  );
  const paces = Object.fromEntries(
    Object.entries(PACES).map(([key, p]) => [
      key,
      createNumber({
        words: p.field,
        unit: p.unit,
        min: p.min,
        max: p.max,
        whole: false,
        onSet: (v) => set({ pace: paceOf(key as PaceBy, v) }, p.field, true),
      }),
    ]),
  ) as Record<PaceBy, NumberField>;
  const paceWords = h("p", { class: "bench-pace", role: "status" });
  const surface = choice(
    "surface",
    [
      ["own", ""],
      ["other", "another surface"],
    ],
    (v) => {
      wait({ grip: v === "other" });
      if (v === "own") set({ grip: null }, "grip of the surface");
    },
  );
  const grip = createNumber({ words: "its grip", unit: "", min: 0.05, max: 3, whole: false, onSet: (v) => set({ grip: v }, "grip of the surface") });
  const bump = createNumber({ words: "bumps up to", unit: "mm", min: 0, max: 60, whole: false, onSet: (bumpMm) => set({ bumpMm }, "bumps") });
  const hub = choice("hub", HUB_CHOICES, (v) => {
    wait({ celsius: v === "celsius" });
    if (v !== "celsius") set({ hub: v === "none" ? null : { felt: v as (typeof HUB_FEELS)[number] } }, "warmth of the hub");
  });
  const celsius = createNumber({
    words: "it read",
    unit: "°C",
    min: -40,
    max: 300,
    whole: false,
    onSet: (v) => set({ hub: { celsius: v } }, "warmth of the hub"),
  });
  const minutes = createNumber({
    words: "it went on for",
    unit: "min",
    min: 0.02,
    max: 600,
    whole: false,
    onSet: (v) => set({ minutes: v }, "how long it went on"),
  });
  const noMinutes = h(
    "button",
    { type: "button", class: "link small", "data-act": "no-minutes", onclick: () => set({ minutes: null }, "how long it went on") },
    "how long is not told",
  );
  const air = createNumber({
    words: "the air had",
    unit: "°C",
    min: -30,
    max: 60,
    whole: false,
    onSet: (airCelsius) => set({ airCelsius }, "warmth of the air"),
  });
  const note = createNote({ "data-run-field": "note" }, (text) => set({ note: text }, "note"));

  const gave = LIMIT_NAMES.map((name) => {
    const words = seenWords(name);
    const told = (on: boolean, what: string, where?: Parameters<typeof withGiven>[3]): void => hooks.set(withGiven(run(), name, on, where), what);
    const box = h("input", { type: "checkbox", "data-gave": name, onchange: () => told(box.checked, words) });
    const side = h(
      "select",
      {
        "data-gave-side": name,
        "aria-label": `${words}: side`,
        onchange: () => told(true, `${words}, which side`, { side: side.value === "" ? null : (side.value as Side) }),
      },
      h("option", { value: "" }, "side not told"),
      h("option", { value: "left" }, "left"),
      h("option", { value: "right" }, "right"),
    );
    const parts = partsOf(name);
    const at = h(
      "select",
      {
        "data-gave-at": name,
        "aria-label": `${words}: which part`,
        onchange: () => told(true, `${words}, which part`, { at: parts.find((p) => p === at.value) ?? null }),
      },
      h("option", { value: "" }, "which is not told"),
      ...parts.map((p) => h("option", { value: p }, PART_WORDS[p])),
    );
    return {
      name,
      parts,
      box,
      side,
      at,
      el: h("li", {}, h("label", { class: "bench-tick" }, box, h("span", {}, capital(words))), parts.length > 0 ? at : null, side),
    };
  });
  const taken = h(
    "p",
    { class: "aside-term" },
    "What this run told stands in the design already: it counts no more, and what is changed here changes no part.",
  );
  const held = h("p", { class: "aside-term" });
  const keep = h(
    "button",
    { type: "button", class: "bench-turn strong", "data-act": "keep-run", onclick: () => keep.getAttribute("aria-disabled") !== "true" && hooks.keep() },
    "Keep this run",
  );
  const wanted = h("span", { class: "bench-why" });
  const remove = h("button", { type: "button", class: "bench-act", "data-act": "remove-run", onclick: () => hooks.remove() });

  const el = h(
    "section",
    { class: "bench-run", "aria-label": "a run" },
    title,
    h("div", { class: "bench-about" }, labelled("day", date), note.el),
    taken,
    h(
      "div",
      { class: "bench-run-parts" },
      h(
        "fieldset",
        {},
        h("legend", {}, "Where and how fast"),
        radius.el,
        labelled("way", hand),
        labelled("pace told", by),
        ...Object.values(paces).map((f) => f.el),
        paceWords,
      ),
      h("fieldset", {}, h("legend", {}, "The surface"), labelled("surface", surface), grip.el, bump.el),
      h("fieldset", {}, h("legend", {}, "How long, and the hub after it"), minutes.el, noMinutes, labelled("hub", hub), celsius.el, air.el),
    ),
    h("fieldset", { class: "bench-gave-box" }, h("legend", {}, "What gave"), held, h("ul", { class: "bench-gave-list" }, ...gave.map((g) => g.el))),
    h("p", { class: "bench-put" }, keep, wanted, remove),
  );
  function update(m: RunFormModel): void {
    if (m.key !== model?.key) waits = { grip: false, celsius: false };
    model = m;
    const { run: r } = m;
    setText(title, m.title);
    taken.hidden = !r.taken;
    if (document.activeElement !== date && date.value !== (r.date ?? "")) date.value = r.date ?? "";
    note.update(r.note);
    radius.update(r.radiusM);
    if (hand.value !== r.hand) hand.value = r.hand;
    if (by.value !== r.pace.by) by.value = r.pace.by;
    for (const [key, field] of Object.entries(paces)) {
      field.el.hidden = key !== r.pace.by;
      if (key === r.pace.by) field.update(m.paced ? paceValue(r.pace) : Number.NaN);
    }
    setText(paceWords, m.paced ? m.paceWords : "");
    setText(surface.options[0]!, `grip of the design's tyres, ${m.ownGrip}`);
    const other = r.grip !== null || waits.grip;
    surface.value = other ? "other" : "own";
    grip.el.hidden = !other;
    grip.update(r.grip ?? Number.NaN);
    bump.update(r.bumpMm);
    const read = r.hub && "celsius" in r.hub ? r.hub.celsius : null;
    const measured = read !== null || waits.celsius;
    hub.value = measured ? "celsius" : r.hub && "felt" in r.hub ? r.hub.felt : "none";
    celsius.el.hidden = !measured;
    celsius.update(read ?? Number.NaN);
    minutes.update(r.minutes ?? Number.NaN);
    noMinutes.hidden = r.minutes === null;
    air.update(r.airCelsius);
    setText(held, r.gave.length === 0 ? "Nothing is ticked: all held." : "");
    held.hidden = r.gave.length > 0;
    for (const g of gave) {
      const found = r.gave.find((v) => v.limit === (g.name as LimitName));
      g.box.checked = found !== undefined;
      g.side.hidden = !found;
      g.side.value = found?.side ?? "";
      g.at.hidden = !found;
      g.at.value = found?.at ?? "";
    }
    keep.hidden = m.kept;
    setAttr(keep, "aria-disabled", m.paced ? null : "true");
    wanted.hidden = m.kept || m.paced;
    setText(wanted, m.kept || m.paced ? "" : "how fast it went is still wanted");
    setText(remove, m.kept ? "remove this run" : "do not keep it");
  }
  return { el, update };
}
