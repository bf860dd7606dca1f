import { h, keyed, s, setAttr, setText } from "../../../ui/dom.ts";

export interface RunChoice {
  key: string;
  title: string;
  summary: string;
  teaches: string;
}

/** One number of the chosen run. */
export interface NumberRow {
  key: string;
  words: string;
  min: number;
  max: number;
  step: number;
  value: number;
  /** value with unit as shown */
  shown: string;
  /** a choice instead of a scale: values 0, 1, 2, ... in words */
  options: readonly string[] | null;
}

export interface RunsModel {
  choices: readonly RunChoice[];
  chosen: string;
  rows: readonly NumberRow[];
  /** what stands below the numbers of the chosen run */
  action: { words: string } | null;
}

export interface RunsHooks {
  choose(key: string): void;
  /** while a scale is dragged, and at its end */
  set(key: string, value: number): void;
  action(): void;
}

const tick = (): SVGSVGElement =>
  s("svg", { class: "run-tick", viewBox: "0 0 12 12", width: 12, height: 12, "aria-hidden": "true" }, s("path", { d: "M1 7L4.5 10.5L11 1.5" }));

/** The runs there are, each in one line; the numbers of the chosen one stand below its line. */
export function createRuns(hooks: RunsHooks): { el: HTMLElement; update(model: RunsModel): void } {
  const list = h("ul", { class: "run-list" });
  const settings = h("div", { class: "run-settings", role: "group", "aria-label": "numbers of this run" });
  const teaches = h("p", { class: "run-teaches" });
  const rows = h("div", { class: "run-rows" });
  const action = h("button", { type: "button", class: "link run-action", onclick: () => hooks.action() });
  settings.append(teaches, rows, action);
  const el = h("section", { class: "runs" }, h("div", { class: "head-row" }, h("h2", {}, "Try another run")), list);

  return {
    el,
    update(m) {
      keyed(
        list,
        m.choices,
        (c) => c.key,
        (c) => {
          const button = h(
            "button",
            { type: "button", class: "run-choice", "data-run": c.key, onclick: () => hooks.choose(c.key) },
            tick(),
            h("span", { class: "run-title" }),
            h("span", { class: "run-summary" }),
          );
          return h("li", {}, button);
        },
        (li, c) => {
          const button = li.firstElementChild as HTMLButtonElement;
          setAttr(button, "aria-pressed", String(c.key === m.chosen));
          setText(button.children[1] as Element, c.title);
          setText(button.children[2] as Element, c.summary);
          if (c.key === m.chosen && settings.parentElement !== li) li.append(settings);
          if (c.key === m.chosen) setText(teaches, c.teaches);
        },
      );
      keyed(
        rows,
        m.rows,
        (r) => `${m.chosen}.${r.key}`,
        (r) => (r.options ? choiceRow(r, hooks) : scaleRow(r, hooks)),
        (row, r) => (r.options ? updateChoice(row, r) : updateScale(row, r)),
      );
      action.hidden = !m.action;
      setText(action, m.action?.words ?? "");
    },
  };
}

function scaleRow(r: NumberRow, hooks: RunsHooks): HTMLElement {
  const input = h("input", {
    type: "range",
    min: r.min,
    max: r.max,
    step: r.step,
    "aria-label": r.words,
    "data-number": r.key,
    oninput: () => hooks.set(r.key, Number(input.value)),
  });
  return h("div", { class: "run-row" }, h("span", { class: "run-name", "aria-hidden": "true" }, r.words), input, h("b", { class: "run-value" }));
}

function updateScale(row: HTMLElement, r: NumberRow): void {
  const input = row.children[1] as HTMLInputElement;
  if (Number(input.value) !== r.value) input.value = String(r.value);
  setAttr(input, "aria-valuetext", r.shown);
  const share = (r.value - r.min) / (r.max - r.min || 1);
  const from = Math.max(0, Math.min(1, -r.min / (r.max - r.min || 1)));
  input.style.setProperty("--from", `${(100 * Math.min(from, share)).toFixed(1)}%`);
  input.style.setProperty("--to", `${(100 * Math.max(from, share)).toFixed(1)}%`);
  setText(row.children[2] as Element, r.shown);
}

function choiceRow(r: NumberRow, hooks: RunsHooks): HTMLElement {
  return h(
    "div",
    { class: "run-row", role: "group", "aria-label": r.words },
    h("span", { class: "run-name", "aria-hidden": "true" }, r.words),
    h(
      "span",
      { class: "run-options" },
      ...(r.options ?? []).map((o, i) => h("button", { type: "button", class: "word-switch", onclick: () => hooks.set(r.key, i) }, o)),
    ),
  );
}

function updateChoice(row: HTMLElement, r: NumberRow): void {
  [...(row.children[1] as Element).children].forEach((b, i) => {
    setAttr(b, "aria-pressed", String(i === Math.round(r.value)));
  });
}
