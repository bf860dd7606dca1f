import type { Scenario } from "../../../core/design/types.ts";
import { rangeOf } from "../../../scenario/ranges.ts";
import { h, setText } from "../../../ui/dom.ts";
import { createNumber } from "../../../ui/number-field.ts";
import { type FitHandleId, fitPart } from "../../../view/parts/fit.ts";

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
  clearance(mm: number): void;
  mustHold(on: boolean): void;
}

/** The row that edits the body's outlines: shown while the fit is. */
export function createFitPanel(hooks: FitPanelHooks): { el: HTMLElement; update(m: FitPanelModel): void } {
  const act = (key: string, words: string, run: () => void): HTMLButtonElement =>
    h("button", { type: "button", class: "link", "data-fit": key, onclick: run }, words);
  const range = rangeOf("fit.clearanceMm");
  const clearance = createNumber({
    words: "keep free",
    unit: "mm",
    min: range?.min ?? 0,
    max: range?.max ?? 100,
    whole: false,
    onSet: (v) => hooks.clearance(v),
  });
  const must = h("input", { type: "checkbox", "data-fit": "must-hold" });
  must.addEventListener("change", () => hooks.mustHold(must.checked));
  const chosen = h("b", { class: "fit-chosen" });
  const addPoint = act("add-point", "add a point after it", () => hooks.addPoint());
  const removePoint = act("remove-point", "remove the point", () => hooks.removePoint());
  const removeWhole = act("remove", "remove it", () => hooks.removeWhole());
  const own = h("span", { class: "fit-own" }, chosen, addPoint, removePoint, removeWhole);
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
    clearance.el,
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
      clearance.update(m.scenario.fit.clearanceMm);
      must.checked = m.scenario.fit.mustHold;
      setText(tight, m.tightest);
      const part = m.chosen ? fitPart(m.chosen) : null;
      const outline = part?.kind === "outline" ? m.scenario.fit.outlines[part.index] : undefined;
      const box = part?.kind === "box" ? m.scenario.fit.keepOut[part.index] : undefined;
      const there = Boolean(outline?.points[part?.point ?? -1] ?? box);
      own.hidden = !there;
      none.hidden = there;
      if (!there || !part) return;
      setText(chosen, outline ? `${outline.name}, point ${part.point + 1}` : (box?.name ?? ""));
      addPoint.hidden = !outline;
      removePoint.hidden = !outline || outline.points.length <= 2;
      setText(removeWhole, outline ? `remove ${outline.name}` : `remove ${box?.name ?? "it"}`);
    },
  };
}
