import GUI from "lil-gui";
import "../../../../node_modules/lil-gui/dist/lil-gui.css";
import type { Sides } from "../../../core/design/edit-corners.ts";
import { valueWords } from "../../../core/design/field-words.ts";
import { type Corner, type Origin, type Scenario, SIDES, type Side } from "../../../core/design/types.ts";
import type { ShelfKind } from "../../../scenario/shelf-kinds.ts";
import { h, setAttr, setText } from "../../../ui/dom.ts";
import { termOr } from "../../../ui/help.ts";
import { createOriginEditor, createOriginMark, type OriginMark } from "../../../ui/origin-editor.ts";
import type { ShelfPlace } from "../../../ui/shelf-hand.ts";
import { assumedWords } from "../../../view/doubt-words.ts";
import type { Known } from "../../../view/origin-words.ts";
import { PARTS, type PartName } from "../../../view/pick.ts";
import { termOfField } from "../../../view/terms.ts";
import { type Control, controlId, type NumberControl } from "../state/control.ts";
import { knownOf, pathsOf } from "../state/known-edits.ts";
import { differs, rawOf, shared, shownOf } from "../state/part-edits.ts";
import { controlsOf, PART_WORDS } from "./fields.ts";
import { type ParamRow, rowOf } from "./param-rows.ts";

/** Parts of the shelf that belong to a part of the car. */
const SHELVES: Readonly<Partial<Record<PartName, readonly ShelfKind[]>>> = {
  lowerArm: ["bar", "material"],
  upperArm: ["bar", "material"],
  spring: ["spring"],
  hub: ["hub", "hold"],
  tyre: ["tyre"],
  pins: ["pin"],
};
const NO_SHELF: readonly ShelfKind[] = [];

interface ParamsModel {
  part: PartName | null;
  scenario: Scenario;
  corners: Record<Side, Corner>;
}

export interface ParamsHooks {
  select(part: PartName | null): void;
  /** `done`: the slider was let go */
  set(control: Control, sides: Sides, value: number | string, done: boolean): void;
  /** how a row's value is known; null: entered. `typed`: one of several quick changes */
  known(control: Control, sides: Sides, origin: Origin | null, typed: boolean): void;
  /** the day that it is, as 2026-11-26 */
  today(): string;
  /** the shelf of parts, below the rows */
  shelf: { el: HTMLElement; update(place: ShelfPlace): void };
  /** the panel became larger or smaller */
  resized(): void;
  /** allowed values of a field, from the scenario's own rules */
  limits(control: NumberControl, scenario: Scenario): { min: number; max: number };
}

export interface Params {
  update(model: ParamsModel): void;
  /** opens, with the next update, where it is told how the value at a path is known */
  reveal(path: string): void;
}

const CHOICE: readonly Sides[] = ["both", "left", "right"];

/** A choice of what holds the wheel is explained by its kind. */
const tagOf = (c: Control): string => (c.path === "hub.retention" ? "hub.retention.kind" : c.path);

/** A row's words; its unit does not break. */
function labelOf(c: Control): Node {
  const words = h("span", {}, c.words);
  if (c.kind === "number" && c.unit && !c.place) words.append(", ", h("span", { class: "unit" }, c.unit));
  return termOr(termOfField(tagOf(c)), words);
}

/** Rows of the selected part, those that matter first; nothing selected: folded to the word "parts". */
export function createParams(root: HTMLElement, hooks: ParamsHooks): Params {
  const choice = h(
    "select",
    { class: "part-choice", "aria-label": "part", onchange: (e: Event) => hooks.select((e.target as HTMLSelectElement).value as PartName) },
    ...PARTS.map((p) => h("option", { value: p }, PART_WORDS[p])),
  );
  const sideButtons = CHOICE.map((s) => h("button", { type: "button", class: "word-switch", "data-sides": s, onclick: () => turnTo(s) }, s));
  const sideRow = h("div", { class: "side-choice", role: "group", "aria-label": "which side is changed" }, ...sideButtons);
  const fold = h("button", { type: "button", class: "fold", "aria-label": "fold the parameters away", onclick: () => hooks.select(null) }, "×");
  const open = h("button", { type: "button", class: "open-params", onclick: () => hooks.select("lowerArm") }, "parts");
  const head = h("div", { class: "params-head" }, choice, fold);
  const apart = h("p", { class: "param-apart", hidden: true }, "Left and right are of another kind here: choose a side for the rest.");
  const box = h("div", { class: "params-box" });
  const more = h("button", { type: "button", class: "link small more", onclick: () => turnMore() });
  root.append(head, sideRow, box, apart, more, hooks.shelf.el, open);
  let all = false;
  const turnMore = (): void => {
    all = !all;
    built = "";
    if (last) update(last);
    hooks.resized();
  };
  let gui: GUI | null = null;
  let built = "";
  let part: PartName | null = null;
  let sides: Sides = "both";
  let last: ParamsModel | null = null;
  let live: { control: Control; row: ParamRow; mark: OriginMark }[] = [];
  /** the row whose origin is told */
  let opened: string | null = null;
  let wanted: string | null = null;
  const origins = createOriginEditor({
    set: (origin, typed) => {
      const of = live.find((l) => controlId(l.control) === opened);
      if (of) hooks.known(of.control, sides, origin, typed);
    },
    today: hooks.today,
  });
  const turnOrigins = (id: string): void => {
    opened = opened === id ? null : id;
    if (last) show(last.scenario);
    hooks.resized();
  };

  const turnTo = (next: Sides): void => {
    sides = next;
    if (last) update(last);
  };
  const shownSide = (): Side => (sides === "left" ? "left" : "right");
  /** of the kinds that stand on the side that is seen */
  const ofSide = (s: Scenario): Scenario => ({ ...s, corner: last?.corners[shownSide()] ?? s.corner });
  const differWords = (s: Scenario, c: Control): string => {
    if (c.kind === "act" || sides !== "both" || !differs(s, c)) return "";
    const told = (side: Side): string =>
      c.kind === "choice" && c.now
        ? (Object.entries(c.options).find(([, key]) => key === c.now?.(rawOf(s, c, side)))?.[0] ?? "")
        : valueWords(`corner.${c.path}`, rawOf(s, c, side));
    const [left, right] = [told("left"), told("right")];
    return left === right ? "" : `left ${left}, right ${right}`;
  };

  const build = (p: PartName, s: Scenario, controls: readonly Control[]): void => {
    gui?.destroy();
    gui = new GUI({ container: box, injectStyles: false, title: "", width: 220 });
    gui.$title.remove();
    let group: string | undefined;
    live = controls.map((control) => {
      const g = gui as GUI;
      if (control.group !== group && control.group !== undefined) g.$children.append(h("p", { class: "param-group" }, control.group));
      group = control.group;
      const id = controlId(control);
      const mark = createOriginMark(`${control.words}; ${PART_WORDS[p]}`, () => turnOrigins(id));
      const row = rowOf(
        control,
        {
          gui: g,
          name: control.group ? `${PART_WORDS[p]}, ${control.group}` : PART_WORDS[p],
          scenario: () => last?.scenario ?? s,
          limits: (c) => hooks.limits(c, ofSide(last?.scenario ?? s)),
          label: labelOf,
          mark: mark.el,
          // what is refused goes back to what stands with the next frame
          set: (value, done) => hooks.set(control, sides, value, done),
        },
        shownOf(s, control, shownSide()),
      );
      return { control, row, mark };
    });
  };
  const show = (s: Scenario): void => {
    let shown = false;
    for (const l of live) {
      l.row.update(l.control.kind === "act" ? "" : shownOf(s, l.control, shownSide()), differWords(s, l.control));
      const known = knownOf(s, l.control, sides);
      const isOpen = known !== null && controlId(l.control) === opened;
      l.mark.update(known, isOpen);
      if (!isOpen) continue;
      shown = true;
      if (l.row.el.nextSibling !== origins.el) l.row.el.after(origins.el);
      tellOrigin(s, l.control, known);
    }
    if (!shown) origins.el.remove();
  };
  const tellOrigin = (s: Scenario, c: Control, known: Known): void => {
    const number = c.kind === "number" ? c : null;
    const limits = number && hooks.limits(number, ofSide(s));
    origins.update({
      known,
      unit: number?.unit ?? "",
      most: limits ? limits.max - limits.min : 0,
      times: number?.times ?? 1,
      assumed: known.isNumber ? assumedWords(s, known.path) : null,
      name: `${c.words}; ${part ? PART_WORDS[part] : ""}`,
    });
  };

  const update = (m: ParamsModel): void => {
    last = m;
    root.classList.toggle("folded", m.part === null);
    for (const el of [head, box]) el.hidden = m.part === null;
    open.hidden = m.part !== null;
    for (const el of [more, sideRow, apart]) el.hidden = true;
    hooks.shelf.el.hidden = true;
    if (m.part === null) {
      part = null;
      return;
    }
    const of = (side: Side): Control[] => controlsOf(m.part as PartName, m.corners[side], m.scenario);
    const both = shared(of("left"), of("right"));
    const hasSides = both.some((c) => !c.root);
    // a part whose sides differ is not made alike by the first touch
    if (m.part !== part) {
      all = false;
      opened = null;
    }
    if (m.part !== part) sides = hasSides && both.some((c) => differs(m.scenario, c)) ? "right" : "both";
    part = m.part;
    const side = SIDES.find((one) => wanted?.startsWith(`${one}.`));
    if (side) sides = side;
    const every = sides === "both" ? both : of(sides);
    if (wanted !== null) {
      const path = wanted;
      const found = every.find((c) => pathsOf(m.scenario, c, sides).includes(path));
      wanted = null;
      if (found?.more) all = true;
      if (found) opened = controlId(found);
    }
    const first = every.filter((c) => !c.more);
    const controls = all ? every : first;
    sideRow.hidden = !hasSides;
    for (const b of sideButtons) setAttr(b, "aria-pressed", String(b.getAttribute("data-sides") === sides));
    apart.hidden = sides !== "both" || both.length === of("right").length;
    more.hidden = first.length === every.length;
    setText(more, all ? "fewer" : `${every.length - first.length} more`);
    setAttr(more, "aria-expanded", String(all));
    if (choice.value !== part) choice.value = part;
    const signature = `${part}|${sides}|${controls.map((c) => `${controlId(c)}${c.words}`).join()}`;
    if (signature !== built) {
      built = signature;
      build(part, m.scenario, controls);
    }
    show(m.scenario);
    const kinds = SHELVES[part] ?? NO_SHELF;
    hooks.shelf.el.hidden = kinds.length === 0;
    hooks.shelf.update({ kinds, sides, ...(part === "lowerArm" || part === "upperArm" ? { place: part } : {}) });
  };
  return {
    update,
    reveal(path) {
      wanted = path;
    },
  };
}
