import type { V2 } from "../../../core/vec.ts";
import { createFinger } from "../../../input/finger.ts";
import { h, setAttr } from "../../../ui/dom.ts";

export interface Mods {
  shift: boolean;
  alt: boolean;
}

export interface GripHooks {
  start(touch: boolean): void;
  /** whole way since the press, px */
  move(way: V2, mods: Mods): void;
  end(): void;
  cancel(): void;
  key(e: KeyboardEvent): void;
}

interface GripState {
  at: V2;
  name: string;
  words: string;
  now: number;
  min: number;
  max: number;
  axis: "across" | "up";
}

export interface Grip {
  el: HTMLButtonElement;
  update(state: GripState): void;
}

/** a hand that trembles this little has not begun to drag, px */
const SLOP_PX = 3;
/** a finger that rests this long moves at half its speed, ms */
const LONG_PRESS_MS = 450;
const SLOW = 0.5;

/** One thing to take in hand, by mouse, touch, pen or keys; told as a slider with name and value. */
export function createGrip(className: string, hooks: GripHooks): Grip {
  const el = h("button", { type: "button", class: `arm-grip ${className}`, role: "slider" });
  let held: { id: number; from: V2; since: number; touch: boolean; dragging: boolean; speed: number } | null = null;
  const finger = createFinger(el);
  let sideways = false;
  const way = (e: PointerEvent): V2 => (held ? [(e.clientX - held.from[0]) * held.speed, (e.clientY - held.from[1]) * held.speed] : [0, 0]);
  el.addEventListener("pointerdown", (e) => {
    if (e.button !== 0 || held) return;
    held = { id: e.pointerId, from: [e.clientX, e.clientY], since: e.timeStamp, touch: e.pointerType === "touch", dragging: false, speed: 1 };
    el.setPointerCapture(e.pointerId);
    // a finger that only scrolls past takes no focus; one that rests sees what it holds
    const hold = (): void => el.focus({ preventScroll: true });
    if (finger.press(e, sideways, hold) === "control") hold();
    e.preventDefault();
  });
  el.addEventListener("pointermove", (e) => {
    if (held?.id !== e.pointerId) return;
    const meant = finger.means(e);
    if (meant === "page") stop(false);
    if (meant !== "control" || !held) return;
    if (!held.dragging) {
      const [dx, dy] = way(e);
      if (Math.abs(dx) < SLOP_PX && Math.abs(dy) < SLOP_PX) return;
      held.dragging = true;
      held.speed = held.touch && e.timeStamp - held.since >= LONG_PRESS_MS ? SLOW : 1;
      el.classList.add("active");
      el.focus({ preventScroll: true });
      hooks.start(held.touch);
    }
    hooks.move(way(e), { shift: e.shiftKey, alt: e.altKey || e.ctrlKey });
  });
  const stop = (commit: boolean): void => {
    const was = held;
    held = null;
    finger.end();
    el.classList.remove("active");
    if (was?.dragging) commit ? hooks.end() : hooks.cancel();
  };
  el.addEventListener("pointerup", (e) => {
    if (held?.id !== e.pointerId) return;
    el.focus({ preventScroll: true });
    stop(true);
  });
  el.addEventListener("pointercancel", (e) => {
    if (held?.id === e.pointerId) stop(false);
  });
  el.addEventListener("keydown", (e) => {
    if (e.key === "Escape" && held?.dragging) {
      e.preventDefault();
      stop(false);
    } else hooks.key(e);
  });
  return {
    el,
    update(s) {
      sideways = s.axis === "across";
      el.style.transform = `translate(${s.at[0].toFixed(1)}px, ${s.at[1].toFixed(1)}px)`;
      setAttr(el, "aria-label", s.name);
      setAttr(el, "aria-valuenow", Math.round(s.now * 100) / 100);
      setAttr(el, "aria-valuemin", Math.round(s.min * 100) / 100);
      setAttr(el, "aria-valuemax", Math.round(s.max * 100) / 100);
      setAttr(el, "aria-valuetext", s.words);
      setAttr(el, "aria-orientation", s.axis === "up" ? "vertical" : "horizontal");
    },
  };
}

export type ArmKey = { way: 1 | -1; far: boolean } | "least" | "none" | null;

/** What a key asks of a slider: one step either way, five, or an end. */
export function keyOf(e: KeyboardEvent): ArmKey {
  switch (e.key) {
    case "ArrowRight":
    case "ArrowUp":
      return { way: 1, far: false };
    case "ArrowLeft":
    case "ArrowDown":
      return { way: -1, far: false };
    case "PageUp":
      return { way: 1, far: true };
    case "PageDown":
      return { way: -1, far: true };
    case "Home":
      return "least";
    default:
      return null;
  }
}
