import "../styles/arm.css";
import "../styles/figures.css";
import "../styles/column.css";
import "../styles/narrow.css";
import { SHAPE_WORDS } from "../../../core/design/section-shapes.ts";
import type { ArmLayout, ArmName, Origin, Section, Side } from "../../../core/design/types.ts";
import type { LoadPhase } from "../../../state/load-end.ts";
import { h, keyed, setAttr, setText } from "../../../ui/dom.ts";
import { term } from "../../../ui/help.ts";
import { createKnownSign, type KnownSign } from "../../../ui/known-sign.ts";
import { createNotice, type NoticeModel } from "../../../ui/notice.ts";
import { createRuler } from "../../../ui/ruler.ts";
import { typedNumber } from "../../../ui/typed-number.ts";
import type { ArmHandle, ArmHandleId } from "../picture/handles.ts";
import { KEEP_WORDS, KEEPS, type Keep, type Take } from "../state/edits.ts";
import { type BehindModel, createBehind, pressTip } from "./behind.ts";
import { type ColumnModel, createColumn } from "./column.ts";
import { createGrip, type Grip, type GripHooks } from "./grip.ts";
import { createLesson, type LessonHooks, type LessonModel } from "./lesson.ts";
import { createPlan, type PlanModel } from "./plan.ts";
import { createRose, type RoseModel } from "./rose.ts";

export type GripId = ArmHandleId | "push" | "press";

export interface ArmSheetModel {
  name: ArmName;
  side: Side | null;
  sidesDiffer: boolean;
  layout: ArmLayout;
  shape: Section["shape"];
  material: string | null;
  materialName: string;
  materials: readonly { key: string; words: string }[];
  /** how the values behind the choices are known */
  known: Record<"layout" | "fork" | "section" | "material", [path: string, origin: Origin | undefined]>;
  plan: PlanModel;
  behind: BehindModel;
  behindTitle: string;
  behindSub: string;
  bend: 1 | 3 | 10;
  lateralG: number;
  roses: [RoseModel, RoseModel];
  lesson: LessonModel;
  column: ColumnModel;
  /** value or refusal beside what is held */
  tag: { id: GripId; lines: readonly string[]; refused: boolean; touch: boolean } | null;
  notice: NoticeModel | null;
}

export interface ArmSheetHooks extends LessonHooks {
  grip(id: GripId): GripHooks;
  arm(name: ArmName): void;
  side(side: Side | null): void;
  alike(): void;
  layout(l: ArmLayout, keep: Keep): void;
  /** from the inner pins to the fork point, mm */
  fork(mm: number): void;
  shape(s: Section["shape"]): void;
  material(m: string): void;
  bend(n: 1 | 3 | 10): void;
  cornering(g: number, phase: LoadPhase): void;
  take(t: Take | Keep): void;
  resized(): void;
}

export interface ArmSheet {
  plan: HTMLElement;
  behind: HTMLElement;
  update(m: ArmSheetModel): void;
  /** mm of a measure per px of the hand, as drawn now */
  mmPerPx(id: ArmHandleId): number | null;
}

const G_MOST = 1.2;
const LAYOUTS: Record<ArmLayout, string> = { straight: "straight", split: "fork", A: "A shape", twin: "twin" };

function choice(
  words: string,
  options: readonly (readonly [string, string])[],
  change: (v: string) => void,
): { el: HTMLElement; select: HTMLSelectElement; sign: KnownSign } {
  const select = h(
    "select",
    { class: "part-choice", "aria-label": `${words} of the arm`, onchange: (e: Event) => change((e.target as HTMLSelectElement).value) },
    ...options.map(([key, text]) => h("option", { value: key }, text)),
  );
  const sign = createKnownSign();
  return { el: h("label", { class: "arm-choice" }, words, select, sign.el), select, sign };
}

const switches = <T extends string | number>(
  label: string,
  options: readonly (readonly [T, string])[],
  pick: (v: T) => void,
): { el: HTMLElement; show(v: T): void } => {
  const buttons = options.map(([key, words]) => h("button", { type: "button", class: "word-switch", onclick: () => pick(key) }, words));
  return {
    el: h("span", { class: "arm-switch", role: "group", "aria-label": label }, ...buttons),
    show: (v) => {
      for (const [i, b] of buttons.entries()) setAttr(b, "aria-pressed", String(options[i]![0] === v));
    },
  };
};

/** The arm sheet: plan with its rival, stiffness roses, the same arm from behind, the lesson and the reading column. */
export function createArmSheet(region: HTMLElement, stopped: HTMLElement, hooks: ArmSheetHooks): ArmSheet {
  const title = h("h1", { class: "h2" });
  const names = switches<ArmName>(
    "which arm",
    [
      ["lower", "lower"],
      ["upper", "upper"],
    ],
    hooks.arm,
  );
  const sides = switches<string>(
    "which side is changed",
    [
      ["", "both sides"],
      ["left", "left"],
      ["right", "right"],
    ],
    (v) => hooks.side(v === "" ? null : (v as Side)),
  );
  const alike = h("button", { type: "button", class: "link small", onclick: () => hooks.alike() }, "make both sides alike");
  const layout = choice("shape", [], (v) => {
    const [l, keep] = v.split(" ") as [ArmLayout, Keep];
    if (keep) hooks.layout(l, keep);
  });
  /** the layout at hand, and the others by what is kept */
  const showLayouts = (now: ArmLayout): void => {
    const words = Object.entries(LAYOUTS);
    const otherShapes = (keep: Keep): Node[] => words.filter(([l]) => l !== now).map(([l, text]) => h("option", { value: `${l} ${keep}` }, text));
    layout.select.replaceChildren(
      h("option", { value: now }, LAYOUTS[now]),
      ...KEEPS.map((keep) => h("optgroup", { label: KEEP_WORDS[keep] }, ...otherShapes(keep))),
    );
  };
  const shape = choice("section", Object.entries(SHAPE_WORDS), (v) => hooks.shape(v as Section["shape"]));
  const material = choice("material", [], hooks.material);
  const forkInput = h("input", { type: "text", inputmode: "decimal", autocomplete: "off", "aria-label": "fork point, mm from the inner pins" });
  let fork = { now: 0, min: 0, max: 0, pitchMm: 0 };
  const forkTyped = typedNumber(
    forkInput,
    () => ({ unit: "mm", pitchMm: fork.pitchMm, min: fork.min, max: fork.max, whole: false, step: fork.pitchMm / 2 }),
    () => fork.now,
    (mm) => hooks.fork(mm),
  );
  const forkSign = createKnownSign();
  const forkField = h("label", { class: "arm-choice arm-fork" }, "fork point", forkInput, "mm", forkSign.el, forkTyped.fault);
  const showFork = (handle: ArmHandle | undefined, pitchMm: number): void => {
    forkField.hidden = !handle;
    if (!handle) return;
    const now = Math.round(handle.mm * 10) / 10;
    const moved = now !== fork.now;
    fork = { now, min: Math.ceil(handle.min * 10) / 10, max: handle.max, pitchMm };
    if (moved && !forkTyped.typing) forkTyped.clear();
  };
  const plan = createPlan();
  const grips = h("div", { class: "arm-grips", role: "group", "aria-label": "places and measures of the arm that you can move" });
  const tag = h("div", { class: "arm-tag", hidden: true });
  const planBox = h(
    "section",
    { class: "arm-plan-box", "aria-label": "the arm from above" },
    plan.svg,
    grips,
    h(
      "div",
      { class: "arm-plan-head" },
      h("div", {}, title, h("p", { class: "aside-term" }, "forward is up, the wheel is on the right; ", term("fork", "fork and spread"))),
      h("p", { class: "arm-which" }, names.el, sides.el, alike),
    ),
    h("div", { class: "arm-choices" }, layout.el, forkField, shape.el, material.el),
    tag,
  );

  const above = createRose(term("rose", "Stiffness seen from above"), "N/mm at the ball joint, log scale");
  const rear = createRose(term("rose", "Stiffness seen from behind"), "same scale, spring seat held");
  const roses = h("div", { class: "arm-roses" }, above.el, rear.el);

  const behind = createBehind();
  const behindTitle = h("h2");
  const behindSub = h("p", { class: "aside-term" });
  const bend = switches<1 | 3 | 10>(
    "bend drawn larger",
    [
      [1, "×1"],
      [3, "×3"],
      [10, "×10"],
    ],
    hooks.bend,
  );
  let direction = 1;
  const ruler = createRuler({
    name: "cornering in g",
    term: "",
    min: 0,
    max: G_MOST,
    every: 0.2,
    between: 2,
    digits: 2,
    unit: "g",
    step: 0.05,
    fine: 0.01,
    small: true,
    onChange: (v, phase) => hooks.cornering(direction * v, phase),
  });
  const rulerValue = h("b");
  const pressGrips = h("div", { class: "arm-grips", role: "group", "aria-label": "hand on the ball joint" });
  const behindFig = h("div", { class: "arm-behind-fig" }, behind.svg, pressGrips);
  const behindBox = h(
    "section",
    { class: "arm-behind-box", "aria-label": "the arm from behind" },
    h(
      "div",
      { class: "arm-behind-head" },
      h("div", {}, behindTitle, behindSub),
      h(
        "div",
        { class: "arm-load" },
        h("p", { class: "arm-cornering" }, term("cornering", "cornering"), ruler.el, rulerValue),
        h("p", { class: "arm-bend" }, "bend drawn", bend.el),
      ),
    ),
    behindFig,
  );

  const lesson = createLesson(hooks);
  const column = createColumn(stopped, { take: (t) => hooks.take(t) });
  const noticeBox = h("div", { class: "notice", role: "status", hidden: true });
  const showNotice = createNotice(noticeBox);
  region.append(h("div", { class: "arm-sheet" }, planBox, roses, behindBox, lesson.el, column.el, h("div", { class: "arm-notice" }, noticeBox)));
  new ResizeObserver(() => hooks.resized()).observe(planBox);
  new ResizeObserver(() => hooks.resized()).observe(behindFig);

  const made = new Map<GripId, Grip>();
  const gripOf = (id: GripId): Grip => {
    const known = made.get(id);
    if (known) return known;
    const grip = createGrip(`arm-grip-${id}`, hooks.grip(id));
    grip.el.dataset.grip = id;
    made.set(id, grip);
    return grip;
  };
  const showGrips = (host: HTMLElement, list: readonly { id: GripId; state: Parameters<Grip["update"]>[0] }[]): void =>
    keyed(
      host,
      list,
      (g) => g.id,
      (g) => gripOf(g.id).el,
      (_el, g) => gripOf(g.id).update(g.state),
    );
  const handState = (at: readonly [number, number], newton: number, axis: string): Parameters<Grip["update"]>[0] => ({
    at: [at[0], at[1]],
    name: `hand on the ball joint, ${axis}`,
    now: newton,
    min: -10,
    max: 10,
    words: `${newton.toFixed(0)} newtons`,
    axis: "up",
  });

  let materialKeys = "";
  let handles: ArmHandle[] = [];
  return {
    mmPerPx: (id) => handles.find((g) => g.id === id)?.mmPerPx ?? null,
    plan: planBox,
    behind: behindFig,
    update(m) {
      setText(title, `The ${m.name} arm from above`);
      names.show(m.name);
      sides.show(m.side ?? "");
      alike.hidden = !m.sidesDiffer;
      if (layout.select.options[0]?.value !== m.layout) showLayouts(m.layout);
      if (layout.select.value !== m.layout) layout.select.value = m.layout;
      if (shape.select.value !== m.shape) shape.select.value = m.shape;
      const keys = m.materials.map((x) => x.key).join() + (m.material === null ? m.materialName : "");
      if (keys !== materialKeys) {
        materialKeys = keys;
        material.select.replaceChildren(
          ...(m.material === null ? [h("option", { value: "" }, m.materialName)] : []),
          ...m.materials.map((x) => h("option", { value: x.key }, x.words)),
        );
      }
      if (material.select.value !== (m.material ?? "")) material.select.value = m.material ?? "";

      layout.sign.show(...m.known.layout);
      forkSign.show(...m.known.fork);
      shape.sign.show(...m.known.section);
      material.sign.show(...m.known.material);
      handles = plan.update(m.plan);
      showFork(
        handles.find((g) => g.id === "fork"),
        m.plan.pitchMm,
      );
      const list = handles.map((g) => ({
        id: g.id as GripId,
        state: { at: g.at, name: g.name, now: g.mm, min: g.min, max: g.max, words: g.words, axis: g.axis },
      }));
      if (m.plan.push) list.push({ id: "push", state: handState(m.plan.push.tipAt, m.plan.push.newton, "along the road") });
      showGrips(grips, list);
      behind.update(m.behind);
      showGrips(pressGrips, m.behind.press ? [{ id: "press", state: handState(pressTip(m.behind), m.behind.press.newton, "up and down") }] : []);
      setText(behindTitle, m.behindTitle);
      setText(behindSub, m.behindSub);
      bend.show(m.bend);
      direction = m.lateralG < 0 ? -1 : 1;
      ruler.update({ value: Math.abs(m.lateralG), posts: [], givesFrom: null, hollowAt: null, valueWords: `${Math.abs(m.lateralG).toFixed(2)}\u2009g` });
      setText(rulerValue, `${Math.abs(m.lateralG).toFixed(2)}\u2009g`);
      above.update(m.roses[0]);
      rear.update(m.roses[1]);
      lesson.update(m.lesson);
      column.update(m.column);
      const held = m.tag ? list.find((g) => g.id === m.tag?.id) : undefined;
      tag.hidden = !m.tag || !held;
      if (m.tag && held) {
        tag.classList.toggle("refused", m.tag.refused);
        keyed(
          tag,
          m.tag.lines.map((t, i) => ({ t, i })),
          (x) => String(x.i),
          () => h("p"),
          (el, x) => setText(el, x.t),
        );
        const w = planBox.clientWidth;
        tag.style.left = `${Math.max(8, Math.min(w - 220, held.state.at[0] + (m.tag.touch ? -60 : 18)))}px`;
        tag.style.top = `${Math.max(4, held.state.at[1] - (m.tag.touch ? 100 : 62))}px`;
      }
      showNotice(m.notice);
    },
  };
}
