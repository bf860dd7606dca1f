import type { V2 } from "../../../core/vec.ts";
import { h, keyed, s, setAttr, setPlace, setSize, setText } from "../../../ui/dom.ts";
import { pointButton } from "../../../ui/point-button.ts";
import { isNarrow } from "../../../ui/widths.ts";
import { spreadTargets, type Target } from "../../../view/targets.ts";
import type { Grip, PictureModel } from "../picture/model.ts";

export interface Mods {
  /** whole holes */
  coarse: boolean;
  /** tenths of a mm */
  fine: boolean;
}

export interface PictureHooks {
  start(id: string): void;
  /** way from where the grip was taken, px */
  move(way: V2, mods: Mods): void;
  end(): void;
  cancel(): void;
  /** one step of an arrow key: right and up count positive */
  key(id: string, way: V2, mods: Mods): void;
  focus(id: string | null): void;
  tap(at: V2): void;
  pan(way: V2): void;
  zoom(factor: number, at: V2): void;
  fit(): void;
  resized(): void;
}

/** places to press, px */
const FINGER_PX = 44;
const MOUSE_PX = 28;
const TOUCH_REACH_PX = 30;
const MOUSE_REACH_PX = 12;
const TAP_PX = 6;
const ARROWS: Readonly<Record<string, V2>> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

const modsOf = (e: { shiftKey: boolean; altKey: boolean; ctrlKey: boolean }): Mods => ({ coarse: e.shiftKey, fine: e.altKey || e.ctrlKey });
const far = (a: V2, b: V2): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** The picture of the car, a photo under it, and the points to take in hand, by mouse, finger and keys. */
export function createPicture(
  canvas: HTMLCanvasElement,
  hooks: PictureHooks,
): { el: HTMLElement; stage: HTMLElement; focus(id: string): void; update(m: PictureModel): void } {
  const drawing = s("svg", { class: "own-drawing", "aria-hidden": "true" });
  const rules = s("g", { class: "own-rules" });
  const shapes = s("g");
  const rings = s("g");
  drawing.append(shapes, rules, rings);
  const gripBox = h("div", { class: "own-grips", role: "group", "aria-label": "points of the picture that you can move" });
  const stage = h("div", { class: "own-stage" }, canvas, drawing, gripBox);
  const note = h("p", { class: "own-note" });
  const middle = (): V2 => [stage.clientWidth / 2, stage.clientHeight / 2];
  const tools = h(
    "div",
    { class: "own-tools", role: "group", "aria-label": "view of the picture" },
    h("button", { type: "button", "aria-label": "nearer", onclick: () => hooks.zoom(1.5, middle()) }, "+"),
    h("button", { type: "button", "aria-label": "farther", onclick: () => hooks.zoom(1 / 1.5, middle()) }, "\u2212"),
    h("button", { type: "button", "aria-label": "fit all of it", onclick: () => hooks.fit() }, "fit"),
  );
  const el = h("section", { class: "own-picture", "aria-label": "picture of the car, seen from behind" }, stage, note, tools);
  let shown: PictureModel | null = null;
  const buttons = new Map<string, HTMLButtonElement>();

  const at = (e: MouseEvent): V2 => {
    const box = stage.getBoundingClientRect();
    return [e.clientX - box.left, e.clientY - box.top];
  };
  const nearest = (p: V2, reach: number): Grip | null => {
    let best: Grip | null = null;
    for (const g of shown?.grips ?? []) if (far(g.at, p) <= reach && (!best || far(g.at, p) < far(best.at, p))) best = g;
    return best;
  };
  const fingers = new Map<number, V2>();
  let held: { pointer: number; from: V2 } | null = null;
  let loose: { pointer: number; from: V2; last: V2; still: boolean } | null = null;

  stage.addEventListener("pointerdown", (e) => {
    if (e.pointerType === "mouse" && e.button !== 0) return;
    const p = at(e);
    const touch = e.pointerType === "touch";
    if (touch) fingers.set(e.pointerId, p);
    if (fingers.size === 2) {
      if (held) hooks.cancel();
      held = null;
      loose = null;
      return;
    }
    const grip = nearest(p, touch ? TOUCH_REACH_PX : MOUSE_REACH_PX);
    stage.setPointerCapture(e.pointerId);
    if (!grip) {
      loose = { pointer: e.pointerId, from: p, last: p, still: true };
      return;
    }
    e.preventDefault();
    buttons.get(grip.id)?.focus({ preventScroll: true });
    held = { pointer: e.pointerId, from: p };
    hooks.start(grip.id);
  });
  stage.addEventListener("pointermove", (e) => {
    const p = at(e);
    const before = fingers.get(e.pointerId);
    if (before && fingers.size === 2) {
      const other = [...fingers].find(([id]) => id !== e.pointerId)?.[1] as V2;
      fingers.set(e.pointerId, p);
      hooks.pan([(p[0] - before[0]) / 2, (p[1] - before[1]) / 2]);
      hooks.zoom(far(p, other) / Math.max(1, far(before, other)), [(p[0] + other[0]) / 2, (p[1] + other[1]) / 2]);
      return;
    }
    if (before) fingers.set(e.pointerId, p);
    if (held?.pointer === e.pointerId) hooks.move([p[0] - held.from[0], p[1] - held.from[1]], modsOf(e));
    else if (loose?.pointer === e.pointerId) {
      if (far(p, loose.from) > TAP_PX) loose.still = false;
      if (!loose.still && (e.pointerType !== "touch" || shown?.zoomed)) hooks.pan([p[0] - loose.last[0], p[1] - loose.last[1]]);
      loose.last = p;
    }
  });
  const up = (e: PointerEvent): void => {
    fingers.delete(e.pointerId);
    if (held?.pointer === e.pointerId) {
      held = null;
      hooks.end();
    } else if (loose?.pointer === e.pointerId) {
      const { still } = loose;
      loose = null;
      if (still) hooks.tap(at(e));
    }
  };
  const lost = (e: PointerEvent): void => {
    fingers.delete(e.pointerId);
    if (held?.pointer === e.pointerId) hooks.cancel();
    held = null;
    loose = null;
  };
  stage.addEventListener("pointerup", up);
  stage.addEventListener("pointercancel", lost);
  stage.addEventListener(
    "wheel",
    (e) => {
      e.preventDefault();
      hooks.zoom(Math.exp(-Math.max(-120, Math.min(120, e.deltaY)) * 0.0016), at(e));
    },
    { passive: false },
  );
  new ResizeObserver(() => hooks.resized()).observe(stage);

  const onKey = (id: string, e: KeyboardEvent): void => {
    if (e.key === "Escape" && held) {
      held = null;
      hooks.cancel();
      return;
    }
    const way = ARROWS[e.key];
    if (!way || held) return;
    e.preventDefault();
    hooks.key(id, way, modsOf(e));
  };

  return {
    el,
    stage,
    focus: (id) => buttons.get(id)?.focus({ preventScroll: true }),
    update(m) {
      shown = m;
      keyed(
        shapes,
        m.shapes,
        (x) => x.key,
        () => s("path"),
        (path, x) => {
          setAttr(path, "class", `own-${x.look}${x.guess ? " guess" : ""}`);
          setAttr(path, "d", x.d);
        },
      );
      keyed(
        rules,
        m.rules,
        (x) => x.key,
        (x) => s("path", { class: `own-rule own-rule-${x.key}` }),
        (path, x) => setAttr(path, "d", x.d),
      );
      const finger = isNarrow();
      const side = finger ? FINGER_PX : MOUSE_PX;
      const targets = spreadTargets(
        m.grips.map((g): Target => ({ at: g.at, size: [side, side] })),
        !finger,
      );
      keyed(
        rings,
        m.grips,
        (g) => g.id,
        () => s("path"),
        (path, g) => {
          const [x, y] = [g.at[0].toFixed(1), g.at[1].toFixed(1)];
          setAttr(path, "class", `own-ring ${g.look}${g.id === m.active ? " active" : ""}`);
          setAttr(path, "d", g.look === "mark" ? `M${x} ${y}m-9 0l9 -9l9 9l-9 9zm8.5 0h1` : `M${x} ${y}m-9 0a9 9 0 1 0 18 0a9 9 0 1 0 -18 0z`);
        },
      );
      keyed(
        gripBox,
        m.grips,
        (g) => g.id,
        (g) => {
          const b = pointButton("data-grip", g.id, onKey, hooks.focus);
          buttons.set(g.id, b);
          return b;
        },
        (b, g, i) => {
          const { at, size } = targets[i] as Target;
          setPlace(b, at[0] - size[0] / 2, at[1] - size[1] / 2);
          setSize(b, size[0], size[1]);
          setAttr(b, "class", "own-grip");
          setAttr(b, "aria-label", `${g.name}, ${g.value}`);
        },
      );
      for (const id of buttons.keys()) if (!m.grips.some((g) => g.id === id)) buttons.delete(id);
      canvas.hidden = m.photo === null;
      if (m.photo) {
        const [a, b, c, d, e, f, g, i, j] = m.photo.h as [number, number, number, number, number, number, number, number, number];
        canvas.style.transform = `matrix3d(${[a, d, 0, g, b, e, 0, i, 0, 0, 1, 0, c, f, 0, j].join(",")})`;
        canvas.style.opacity = String(m.photo.strength);
      }
      stage.classList.toggle("pointing", m.pointing);
      stage.classList.toggle("zoomed", m.zoomed);
      setText(note, m.note);
    },
  };
}
