import type { V2 } from "../core/vec.ts";
import type { HandleId } from "../view/handles.ts";
import { type Command, type Drag, type DragEvent, dragStep, IDLE, pinch } from "./drag.ts";
import { createFinger } from "./finger.ts";

export interface PointerHooks {
  /** handle under a point of the stage; touches reach further */
  pick(at: V2, touch: boolean): HandleId | null;
  /** whether a handle goes across the page only, so that a finger may pull it there at once */
  sideways(id: HandleId): boolean;
  command(c: Command): void;
  hover(id: HandleId | null): void;
  pan(dx: number, dy: number): void;
  zoom(factor: number, at: V2): void;
  fit(): void;
  /** a press on the sheet that took nothing in hand and went nowhere */
  tap(at: V2): void;
}

/** a press that moved less than this is a tap, px */
const TAP_PX = 5;

/** Mouse, touch and pen on the stage. Returns the way to stop listening. */
export function listenPointers(stage: HTMLElement, hooks: PointerHooks): { cancel(): void; stop(): void } {
  let drag: Drag = IDLE;
  let panning: { id: number; last: V2; from: V2; still: boolean; moves: boolean } | null = null;
  const fingers = new Map<number, V2>();
  let owner: number | null = null;
  const finger = createFinger(stage);

  const at = (e: PointerEvent | WheelEvent | MouseEvent): V2 => {
    const box = stage.getBoundingClientRect();
    return [e.clientX - box.left, e.clientY - box.top];
  };
  const send = (event: DragEvent): void => {
    const step = dragStep(drag, event);
    drag = step.drag;
    for (const c of step.commands) hooks.command(c);
  };

  const drop = (): void => {
    if (owner !== null) hooks.hover(null);
    owner = null;
    drag = IDLE;
    finger.end();
  };
  /** what is under the hand: for a finger the nearest handle within reach, for a mouse the one whose button it is on */
  const under = (e: PointerEvent | MouseEvent, touch: boolean): HandleId | null => {
    const near = (): HandleId | null => hooks.pick(at(e), touch);
    const own = (e.target as Element).closest?.<HTMLElement>("[data-handle]")?.dataset["handle"] as HandleId | undefined;
    return (touch ? (near() ?? own) : (own ?? near())) ?? null;
  };

  const down = (e: PointerEvent): void => {
    if (e.button !== 0 && e.pointerType === "mouse" && e.button !== 1) return;
    const p = at(e);
    if (e.pointerType === "touch") {
      fingers.set(e.pointerId, p);
      if (fingers.size === 2) {
        send({ kind: "escape" });
        drop();
        panning = null;
        return;
      }
    }
    const id = under(e, e.pointerType === "touch");
    if (id) {
      owner = e.pointerId;
      // a finger that rests long enough sees what it has taken
      finger.press(e, hooks.sideways(id), () => hooks.hover(id));
      stage.setPointerCapture(e.pointerId);
      send({ kind: "press", id, px: p, at: e.timeStamp, touch: e.pointerType === "touch" });
    } else if (e.target === stage || (e.target as Element).closest?.("[data-pan]")) {
      // one finger scrolls the page; it takes two to move the sheet
      panning = { id: e.pointerId, last: p, from: p, still: true, moves: e.pointerType !== "touch" };
      if (panning.moves) stage.setPointerCapture(e.pointerId);
    }
  };
  const move = (e: PointerEvent): void => {
    const p = at(e);
    if (fingers.has(e.pointerId)) {
      if (fingers.size === 2) {
        const before = [...fingers.values()] as [V2, V2];
        fingers.set(e.pointerId, p);
        const after = [...fingers.values()] as [V2, V2];
        const g = pinch(before, after);
        hooks.pan(g.pan[0], g.pan[1]);
        hooks.zoom(g.factor, g.middle);
        return;
      }
      fingers.set(e.pointerId, p);
    }
    if (owner === e.pointerId) {
      const meant = finger.means(e);
      if (meant === "page") drop();
      if (meant !== "control") return;
      send({ kind: "move", px: p, at: e.timeStamp, mods: { shift: e.shiftKey, alt: e.altKey || e.ctrlKey } });
    } else if (panning?.id === e.pointerId) {
      if (Math.abs(p[0] - panning.from[0]) > TAP_PX || Math.abs(p[1] - panning.from[1]) > TAP_PX) panning.still = false;
      if (panning.moves && !panning.still) {
        hooks.pan(p[0] - panning.last[0], p[1] - panning.last[1]);
        panning.last = p;
      }
    } else if (e.pointerType !== "touch" && owner === null) hooks.hover(under(e, false));
  };
  const up = (e: PointerEvent): void => {
    fingers.delete(e.pointerId);
    if (owner === e.pointerId) {
      send({ kind: "release" });
      if (e.pointerType === "touch") hooks.hover(null);
      owner = null;
      finger.end();
    }
    if (panning?.id === e.pointerId) {
      if (panning.still) hooks.tap(at(e));
      panning = null;
    }
  };
  const lost = (e: PointerEvent): void => {
    fingers.delete(e.pointerId);
    if (owner === e.pointerId) {
      send({ kind: "escape" });
      drop();
    }
    if (panning?.id === e.pointerId) panning = null;
  };
  const leave = (): void => {
    if (owner === null) hooks.hover(null);
  };
  const wheel = (e: WheelEvent): void => {
    if (!(e.target as Element).closest?.("[data-zoom]")) return;
    e.preventDefault();
    hooks.zoom(Math.exp(-Math.max(-120, Math.min(120, e.deltaY)) * (e.ctrlKey ? 0.006 : 0.0016)), at(e));
  };
  // a press must not take the focus from the control that is being worked with
  const hold = (e: MouseEvent): void => {
    if ((e.target as Element).closest?.("[data-zoom]")) e.preventDefault();
  };
  const twice = (e: MouseEvent): void => {
    if (!under(e, false)) hooks.fit();
  };
  const key = (e: KeyboardEvent): void => {
    if (e.key === "Escape" && drag.phase !== "idle") {
      send({ kind: "escape" });
      drop();
    }
  };
  const list: [string, EventListener, AddEventListenerOptions?][] = [
    // two fingers move the sheet, not the page
    ["touchmove", (e) => fingers.size === 2 && e.cancelable && e.preventDefault(), { passive: false }],
    ["pointerdown", down as EventListener],
    ["pointermove", move as EventListener],
    ["pointerup", up as EventListener],
    ["pointercancel", lost as EventListener],
    ["pointerleave", leave as EventListener],
    ["wheel", wheel as EventListener, { passive: false }],
    ["mousedown", hold as EventListener],
    ["dblclick", twice as EventListener],
  ];
  for (const [name, f, options] of list) stage.addEventListener(name, f, options);
  window.addEventListener("keydown", key);
  return {
    cancel: () => send({ kind: "escape" }),
    stop: () => {
      for (const [name, f] of list) stage.removeEventListener(name, f);
      window.removeEventListener("keydown", key);
    },
  };
}
