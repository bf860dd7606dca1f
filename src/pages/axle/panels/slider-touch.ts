import { listenRail } from "../../../input/rail.ts";

/** A finger scrolls past a slider of the parameters and pulls it across only; the slider itself would answer the first touch. */
export function letScroll(slider: HTMLElement): void {
  slider.addEventListener("touchstart", (e) => e.stopImmediatePropagation(), { capture: true, passive: true });
  const asMouse = (type: string, to: EventTarget, clientX: number): boolean =>
    to.dispatchEvent(new MouseEvent(type, { bubbles: true, cancelable: true, clientX, clientY: slider.getBoundingClientRect().top }));
  let down = false;
  listenRail(slider, {
    open: (e) => e.pointerType === "touch",
    start: () => {
      down = false;
    },
    to(x, phase) {
      if (phase !== "move") asMouse("mouseup", window, x);
      else if (down) asMouse("mousemove", window, x);
      else down = asMouse("mousedown", slider, x) || true;
    },
  });
}
