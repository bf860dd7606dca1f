import type { V2 } from "../core/vec.ts";

/** What a finger that went down on a control turned out to mean; "open": not to be told yet. */
export type Meant = "open" | "control" | "page";

/** a finger that rests this long on a control means it, ms */
const HOLD_MS = 250;
/** a finger that went less than this has gone nowhere yet, px */
const STILL_PX = 6;

/**
 * Whether a finger means the control it went down on or the page under it. `way`: whole way since then, px; `restedMs`: time until it left its place;
 * `sideways`: the control's own way lies across the page. The page scrolls up and down only, so a way mainly across can be the control's alone.
 */
export function fingerMeans(way: V2, restedMs: number, sideways: boolean): Meant {
  if (restedMs >= HOLD_MS) return "control";
  const [dx, dy] = [Math.abs(way[0]), Math.abs(way[1])];
  if (dx < STILL_PX && dy < STILL_PX) return "open";
  return sideways && dx > dy ? "control" : "page";
}

export interface Finger {
  /** A press on the control; a mouse means it at once, a finger by and by. `held` is told when the finger has rested long enough. */
  press(e: PointerEvent, sideways: boolean, held?: () => void): Meant;
  /** what the press means by now */
  means(e: PointerEvent): Meant;
  /** the press is over */
  end(): void;
}

/**
 * Lets the page scroll under a finger until the finger means the control, then keeps it from scrolling. The control needs `touch-action: pan-y`.
 * `el` hears the moves of every touch that began on it or inside it.
 */
export function createFinger(el: Element): Finger {
  let now: { from: V2; at: number; sideways: boolean; meant: Meant; timer: number } | null = null;
  const judge = (x: number, y: number, at: number): Meant => {
    if (!now) return "page";
    if (now.meant === "open") {
      now.meant = fingerMeans([x - now.from[0], y - now.from[1]], at - now.at, now.sideways);
      if (now.meant !== "open") window.clearTimeout(now.timer);
    }
    return now.meant;
  };
  const end = (): void => {
    window.clearTimeout(now?.timer);
    now = null;
  };
  // only a listener that is not passive may keep the page where it is
  el.addEventListener(
    "touchmove",
    (event) => {
      const e = event as TouchEvent;
      const touch = e.touches[0];
      if (!now || !touch) return;
      if (judge(touch.clientX, touch.clientY, e.timeStamp) === "control" && e.cancelable) e.preventDefault();
    },
    { passive: false },
  );
  return {
    end,
    press(e, sideways, held) {
      end();
      const finger = e.pointerType === "touch";
      now = { from: [e.clientX, e.clientY], at: e.timeStamp, sideways, meant: finger ? "open" : "control", timer: 0 };
      if (finger)
        now.timer = window.setTimeout(() => {
          if (now?.meant !== "open") return;
          now.meant = "control";
          held?.();
        }, HOLD_MS);
      return now.meant;
    },
    means: (e) => judge(e.clientX, e.clientY, e.timeStamp),
  };
}
