import GUI, { type Controller } from "lil-gui";
import "../../../../node_modules/lil-gui/dist/lil-gui.css";
import type { Corner, Scenario, Side } from "../../../core/design/types.ts";
import { h, setAttr, setText } from "../../../ui/dom.ts";
import { type NumberRule, type TypedNumber, typedNumber } from "../../../ui/typed-number.ts";
import { PARTS, type PartName } from "../../../view/pick.ts";
import { type Control, controlsOf, type NumberControl, PART_WORDS } from "./fields.ts";
import { letScroll } from "./slider-touch.ts";

interface ParamsModel {
  part: PartName | null;
  scenario: Scenario;
  corners: Record<Side, Corner>;
  materials: readonly string[];
}

export interface ParamsHooks {
  select(part: PartName | null): void;
  /** `done`: the slider was let go */
  set(control: Control, side: Side | null, value: number | string, done: boolean): void;
  /** allowed values of a field, from the scenario's own rules */
  /** the panel became larger or smaller */
  resized(): void;
  limits(control: NumberControl, scenario: Scenario): { min: number; max: number };
}

export interface Params {
  update(model: ParamsModel): void;
}

/** rows shown before "more": what a builder changes first, and what keeps the panel off the wheel */
const SHOWN_FIRST = 4;

const read = (value: unknown, path: string): unknown =>
  path.split(".").reduce<unknown>((v, k) => (typeof v === "object" && v !== null ? (v as Record<string, unknown>)[k] : undefined), value);

/** Sliders of the selected part; nothing selected: folded to the word "parts". */
export function createParams(root: HTMLElement, hooks: ParamsHooks): Params {
  const choice = h(
    "select",
    { class: "part-choice", "aria-label": "part", onchange: (e: Event) => hooks.select((e.target as HTMLSelectElement).value as PartName) },
    ...PARTS.map((p) => h("option", { value: p }, PART_WORDS[p])),
  );
  const sideNote = h("button", { type: "button", class: "side-note link small", onclick: () => turnSide() });
  const fold = h("button", { type: "button", class: "fold", "aria-label": "fold the parameters away", onclick: () => hooks.select(null) }, "×");
  const open = h("button", { type: "button", class: "open-params", onclick: () => hooks.select("lowerArm") }, "parts");
  const head = h("div", { class: "params-head" }, choice, sideNote, fold);
  const box = h("div", { class: "params-box" });
  const more = h("button", { type: "button", class: "link small more", onclick: () => turnMore() });
  root.append(head, box, more, open);
  let all = false;
  const turnMore = (): void => {
    all = !all;
    built = "";
    if (last) update(last);
    hooks.resized();
  };
  let gui: GUI | null = null;
  let built = "";
  let side: Side = "right";
  let last: ParamsModel | null = null;
  let live: { control: Control; controller: Controller; key: string; typed: TypedNumber | null }[] = [];
  const scratch: Record<string, number | string> = {};

  const ownSides = (m: ParamsModel): boolean =>
    m.part !== null && JSON.stringify([read(m.scenario.left, m.part) ?? null, read(m.scenario.right, m.part) ?? null]) !== "[null,null]";
  const turnSide = (): void => {
    if (!last || !ownSides(last)) return;
    side = side === "right" ? "left" : "right";
    built = "";
    update(last);
  };
  const shownOf = (m: ParamsModel, c: Control): number | string => {
    if (c.kind === "number" && c.reading) return Math.round(c.reading.of(m.scenario) * 1e3) / 1e3;
    const raw = c.root ? read(m.scenario, c.path) : read(m.corners[side], c.path);
    return c.kind === "number" ? Math.round(Number(raw) * (c.times ?? 1) * 1e6) / 1e6 : String(raw);
  };

  const build = (m: ParamsModel, controls: readonly Control[]): void => {
    gui?.destroy();
    gui = new GUI({ container: box, injectStyles: false, title: "", width: 220 });
    gui.$title.remove();
    live = controls.map((control) => {
      const key = control.path;
      scratch[key] = shownOf(m, control);
      const g = gui as GUI;
      let controller: Controller;
      if (control.kind === "choice") controller = g.add(scratch, key, control.options);
      else {
        const allowed = hooks.limits(control, m.scenario);
        const now = Number(scratch[key]);
        const times = control.times ?? 1;
        const low = Math.max(Math.min(control.min, now), allowed.min * times);
        const high = Math.min(Math.max(control.max, now), allowed.max * times);
        controller = g.add(scratch, key, low, high, control.step);
      }
      controller.name(control.kind === "number" && control.unit ? `${control.words}, ${control.unit}` : control.words);
      if (control.kind === "number" && control.hint) controller.domElement.title = control.hint;
      const send = (done: boolean, typed?: number): void => {
        const v = typed ?? (scratch[key] as number | string);
        const shared = last && ownSides(last) ? side : null;
        hooks.set(control, control.root ? null : shared, control.kind === "number" ? Number(v) / (control.times ?? 1) : v, done);
      };
      controller.onChange(() => {
        live.find((l) => l.key === key)?.typed?.clear();
        send(false);
      });
      controller.onFinishChange(() => send(true));
      const typed = control.kind === "number" ? typeInto(controller, control, key, (v) => send(true, v)) : null;
      // a slider needs its name and value for those who cannot see it
      const slider = controller.domElement.querySelector<HTMLElement>(".lil-slider");
      slider?.setAttribute("aria-hidden", "true");
      if (slider) letScroll(slider);
      const input = controller.domElement.querySelector("input, select");
      input?.setAttribute(
        "aria-label",
        `${PART_WORDS[m.part as PartName]}: ${control.words}${control.kind === "number" && control.unit ? ` in ${control.unit}` : ""}`,
      );
      typed?.clear();
      return { control, controller, key, typed };
    });
  };

  /** The slider's number is typed like every number of the page; the slider's own field drops what stands behind a comma. */
  const typeInto = (controller: Controller, control: NumberControl, key: string, set: (v: number) => void): TypedNumber | null => {
    const own = controller.domElement.querySelector("input");
    if (!own) return null;
    const times = control.times ?? 1;
    const input = h("input", { type: "text", inputmode: control.step === 1 ? "numeric" : "decimal", autocomplete: "off" });
    own.replaceWith(input);
    const rule = (): NumberRule => {
      const { scenario } = last as ParamsModel;
      const { min, max } = hooks.limits(control, scenario);
      return { unit: control.unit, min: min * times, max: max * times, whole: control.whole ?? false, step: control.step, pitchMm: scenario.holePitchMm };
    };
    const typed = typedNumber(
      input,
      rule,
      () => Number(scratch[key]),
      (v) => {
        scratch[key] = v;
        set(v);
      },
    );
    controller.domElement.append(typed.fault);
    return typed;
  };

  const update = (m: ParamsModel): void => {
    last = m;
    const part = m.part;
    root.classList.toggle("folded", part === null);
    head.hidden = part === null;
    box.hidden = part === null;
    open.hidden = part !== null;
    more.hidden = true;
    if (part === null) return;
    if (!ownSides(m)) side = "right";
    const every = controlsOf(part, m.corners[side], m.materials);
    const controls = all ? every : every.slice(0, SHOWN_FIRST);
    more.hidden = every.length <= SHOWN_FIRST;
    setText(more, all ? "fewer" : `${every.length - SHOWN_FIRST} more`);
    setAttr(more, "aria-expanded", String(all));
    const signature = `${part}|${side}|${controls.map((c) => c.path).join()}`;
    if (choice.value !== part) choice.value = part;
    setText(sideNote, ownSides(m) ? `${side} only` : "both sides");
    sideNote.disabled = !ownSides(m);
    if (signature !== built) {
      built = signature;
      build(m, controls);
      return;
    }
    for (const l of live) {
      const v = shownOf(m, l.control);
      if (scratch[l.key] === v) continue;
      scratch[l.key] = v;
      l.controller.updateDisplay();
      if (!l.typed?.typing) l.typed?.clear();
    }
  };
  return { update };
}
