import type { Scenario } from "../../../core/design/types.ts";
import { rangeOf } from "../../../scenario/ranges.ts";
import { h, setText } from "../../../ui/dom.ts";
import { createKnownSign } from "../../../ui/known-sign.ts";
import { createNumber, type NumberField } from "../../../ui/number-field.ts";
import { type FitHandleId, fitPart } from "../../../view/parts/fit.ts";
import { BOX_EDGES, type BoxEdge, FIT_NUMBERS, type FitNumber, fitWordsOf } from "../state/fit-edits.ts";

export interface FitPanelModel {
  open: boolean;
  scenario: Scenario;
  chosen: FitHandleId | null;
  /** the tightest place in words; empty where nothing is drawn */
  tightest: string;
}

export interface FitPanelHooks {
  addOutline(): void;
  addBox(): void;
  addPoint(): void;
  removePoint(): void;
  removeWhole(): void;
  number(key: FitNumber, mm: number): void;
  /** a coordinate of the chosen point */
  point(key: "sMm" | "zMm", mm: number): void;
  /** an edge of the chosen box */
  edge(edge: BoxEdge, mm: number): void;
  /** of the chosen outline or box as a whole */
  whole(patch: { name?: string; bothSides?: boolean; closed?: boolean }, words: string): void;
  mustHold(on: boolean): void;
}

const EDGE_WORDS: Readonly<Record<BoxEdge, string>> = { fromSMm: "inner", toSMm: "outer", fromZMm: "lower", toZMm: "upper edge" };

/** The row that edits the body's outlines: shown while the fit is. */
export function createFitPanel(hooks: FitPanelHooks): { el: HTMLElement; update(m: FitPanelModel): void } {
  const act = (key: string, words: string, run: () => void): HTMLButtonElement =>
    h("button", { type: "button", class: "link", "data-fit": key, onclick: run }, words);
  const numberOf = (words: string, path: string, onSet: (v: number) => void): NumberField => {
    const range = rangeOf(path);
    return createNumber({ words, unit: "mm", min: range?.min ?? 0, max: range?.max ?? 100, whole: false, onSet });
  };
  const numbers = FIT_NUMBERS.map((key) => ({ key, field: numberOf(fitWordsOf(key), `fit.${key}`, (v) => hooks.number(key, v)) }));
  const signs = numbers.map(({ key, field }) => {
    const sign = createKnownSign();
    field.el.querySelector(".number-words")?.append(sign.el);
    return { key, sign };
  });
  const coordinates = (["sMm", "zMm"] as const).map((key) => ({
    key,
    field: numberOf(key === "sMm" ? "out" : "up", `fit.outlines[0].points[0].${key}`, (v) => hooks.point(key, v)),
  }));
  const edges = BOX_EDGES.map((key) => ({ key, field: numberOf(EDGE_WORDS[key], `fit.keepOut[0].${key}`, (v) => hooks.edge(key, v)) }));
  const name = h("input", {
    type: "text",
    maxlength: 80,
    autocomplete: "off",
    "aria-label": "name",
    onchange: () => hooks.whole({ name: name.value.trim() }, `called ${name.value.trim() || "nothing"}`),
  });
  const tick = (words: string, run: (on: boolean) => void): { el: HTMLElement; input: HTMLInputElement } => {
    const input = h("input", { type: "checkbox", onchange: () => run(input.checked) });
    return { el: h("label", { class: "fit-tick" }, input, words), input };
  };
  const bothSides = tick("on both sides", (on) => hooks.whole({ bothSides: on }, on ? "on both sides" : "on one side"));
  const closed = tick("last point joins the first", (on) => hooks.whole({ closed: on }, on ? "closed" : "open"));
  const must = h("input", { type: "checkbox", "data-fit": "must-hold" });
  must.addEventListener("change", () => hooks.mustHold(must.checked));
  const chosen = h("b", { class: "fit-chosen" });
  const addPoint = act("add-point", "add a point after it", () => hooks.addPoint());
  const removePoint = act("remove-point", "remove the point", () => hooks.removePoint());
  const removeWhole = act("remove", "remove it", () => hooks.removeWhole());
  const own = h(
    "div",
    { class: "fit-own" },
    h("label", { class: "fit-name" }, "name", name),
    chosen,
    ...[...coordinates, ...edges].map((f) => f.field.el),
    bothSides.el,
    closed.el,
    addPoint,
    removePoint,
    removeWhole,
  );
  const none = h("span", { class: "aside-term" }, "take a point of an outline or a corner of a box");
  const tight = h("p", { class: "fit-tight" });
  const el = h(
    "div",
    { class: "fit-panel", role: "group", "aria-label": "outlines and boxes of the body" },
    h(
      "span",
      { class: "fit-adds" },
      act("add-outline", "add an outline", () => hooks.addOutline()),
      act("add-box", "add a box that stays free", () => hooks.addBox()),
    ),
    ...numbers.map((n) => n.field.el),
    h("label", { class: "fit-must", title: "otherwise coming nearer is a caution" }, must, "must hold: counts for the safe speed"),
    own,
    none,
    tight,
  );
  return {
    el,
    update(m) {
      el.hidden = !m.open;
      if (!m.open) return;
      for (const n of numbers) n.field.update(m.scenario.fit[n.key]);
      for (const { key, sign } of signs) sign.show(`fit.${key}`, m.scenario.origins[`fit.${key}`]);
      must.checked = m.scenario.fit.mustHold;
      setText(tight, m.tightest);
      const part = m.chosen ? fitPart(m.chosen) : null;
      const outline = part?.kind === "outline" ? m.scenario.fit.outlines[part.index] : undefined;
      const box = part?.kind === "box" ? m.scenario.fit.keepOut[part.index] : undefined;
      const there = Boolean(outline?.points[part?.point ?? -1] ?? box);
      own.hidden = !there;
      none.hidden = there;
      if (!there || !part) return;
      const point = outline?.points[part.point];
      for (const c of coordinates) {
        c.field.el.hidden = !point;
        if (point) c.field.update(point[c.key]);
      }
      for (const e of edges) {
        e.field.el.hidden = !box;
        if (box) e.field.update(box[e.key]);
      }
      const whole = outline ?? box;
      if (whole && document.activeElement !== name && name.value !== whole.name) name.value = whole.name;
      bothSides.input.checked = whole?.bothSides ?? false;
      closed.el.hidden = !outline;
      closed.input.checked = outline?.closed ?? false;
      setText(chosen, outline ? `point ${part.point + 1}` : "");
      chosen.hidden = !outline;
      addPoint.hidden = !outline;
      removePoint.hidden = !outline || outline.points.length <= 2;
      setText(removeWhole, outline ? `remove ${outline.name}` : `remove ${box?.name ?? "it"}`);
    },
  };
}
