import { createFinger } from "./finger.ts";

export interface RailHooks {
  /** whether this press can take it in hand */
  open?(e: PointerEvent): boolean;
  /** it was taken in hand */
  start(): void;
  /** where the hand is, px across the window */
  to(clientX: number, phase: "move" | "end" | "cancel"): void;
}

/**
 * Something that is pulled across: a press goes there and drags on. A finger drags across, or after a rest, or taps; up and down it scrolls the page.
 * Returns the way to let go of it.
 */
export function listenRail(rail: HTMLElement | SVGElement, hooks: RailHooks): { drop(): void } {
  const line = rail as HTMLElement;
  const finger = createFinger(line);
  let held: { id: number; taken: boolean } | null = null;
  const take = (clientX: number): void => {
    if (!held) return;
    held.taken = true;
    line.setPointerCapture(held.id);
    hooks.start();
    hooks.to(clientX, "move");
  };
  const drop = (): void => {
    held = null;
    finger.end();
  };
  line.addEventListener("pointerdown", (e) => {
    if (e.button !== 0 || held || hooks.open?.(e) === false) return;
    held = { id: e.pointerId, taken: false };
    if (finger.press(e, true, () => take(e.clientX)) === "control") take(e.clientX);
    e.preventDefault();
  });
  line.addEventListener("pointermove", (e) => {
    if (held?.id !== e.pointerId) return;
    const meant = finger.means(e);
    if (meant === "page") drop();
    else if (meant === "control" && held.taken) hooks.to(e.clientX, "move");
    else if (meant === "control") take(e.clientX);
  });
  line.addEventListener("pointerup", (e) => {
    if (held?.id !== e.pointerId) return;
    // a tap goes there too
    if (!held.taken) take(e.clientX);
    drop();
    hooks.to(e.clientX, "end");
  });
  line.addEventListener("pointercancel", (e) => {
    if (held?.id !== e.pointerId) return;
    const { taken } = held;
    drop();
    if (taken) hooks.to(e.clientX, "cancel");
  });
  return { drop };
}
