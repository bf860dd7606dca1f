import type { V2 } from "../../../core/vec.ts";
import { createFinger } from "../../../input/finger.ts";
import { type MapFrame, pointAt, xOf, yOf } from "../../../view/map/frame.ts";

export interface MapHand {
  frame(): MapFrame | null;
  bob(): { radiusM: number; kmh: number };
  move(radiusM: number, kmh: number, phase: "move" | "end" | "cancel"): void;
  hover(at: V2 | null): void;
  /** a place is looked at more closely; null: none any more */
  look(at: V2 | null): void;
}

/** a finger that went further than this scrolls the page, px */
const TAP_PX = 8;

/** Mouse, touch and pen on the map. A press or a tap looks at a place and moves nothing; the load is moved by its bob, which a finger rests on first. */
export function listenMap(svg: SVGSVGElement, bob: HTMLElement, hand: MapHand): void {
  let held: { id: number; offset: V2; moved: boolean } | null = null;
  let tap: { id: number; from: V2 } | null = null;
  let looking: number | null = null;

  const finger = createFinger(bob);

  const at = (e: PointerEvent): V2 => {
    const box = svg.getBoundingClientRect();
    return [e.clientX - box.left, e.clientY - box.top];
  };
  const inPlot = (f: MapFrame, p: V2): boolean => p[0] >= f.left - 2 && p[0] <= f.right + 2 && p[1] >= f.top - 2 && p[1] <= f.bottom + 2;
  const send = (p: V2, phase: "move" | "end" | "cancel"): void => {
    const f = hand.frame();
    if (!f) return;
    const q = pointAt(f, p[0], p[1]);
    hand.move(q.radiusM, q.kmh, phase);
  };
  const letGo = (): void => {
    held = null;
    finger.end();
  };

  bob.addEventListener("pointerdown", (e) => {
    const f = hand.frame();
    if (!f || e.button !== 0) return;
    const p = at(e);
    const b = hand.bob();
    // the focus shows a finger that it holds the bob
    finger.press(e, false, () => bob.focus({ preventScroll: true }));
    held = { id: e.pointerId, offset: [xOf(f, b.radiusM) - p[0], yOf(f, Math.min(b.kmh, f.range.kmh)) - p[1]], moved: false };
    bob.setPointerCapture(e.pointerId);
    hand.hover(null);
    hand.look(null);
  });
  svg.addEventListener("pointerdown", (e) => {
    const f = hand.frame();
    const p = at(e);
    if (!f || e.button !== 0) return;
    if (!inPlot(f, p)) {
      hand.look(null);
      return;
    }
    if (e.pointerType === "touch") {
      tap = { id: e.pointerId, from: p };
      return;
    }
    e.preventDefault();
    looking = e.pointerId;
    svg.setPointerCapture(e.pointerId);
    hand.hover(null);
    hand.look(p);
  });
  for (const el of [svg, bob]) {
    el.addEventListener("pointermove", (event) => {
      const e = event as PointerEvent;
      const p = at(e);
      if (held?.id === e.pointerId) {
        if (el === bob) {
          const meant = finger.means(e);
          if (meant === "page") letGo();
          if (meant !== "control") return;
        }
        held.moved = true;
        send([p[0] + held.offset[0], p[1] + held.offset[1]], "move");
      } else if (looking === e.pointerId) {
        const f = hand.frame();
        if (f && inPlot(f, p)) hand.look(p);
      } else if (e.pointerType !== "touch" && el === svg) {
        const f = hand.frame();
        hand.hover(f && inPlot(f, p) ? p : null);
      }
    });
    el.addEventListener("pointerup", (event) => {
      const e = event as PointerEvent;
      const p = at(e);
      if (looking === e.pointerId) looking = null;
      if (held?.id === e.pointerId) {
        const h = held;
        letGo();
        if (h.moved) send([p[0] + h.offset[0], p[1] + h.offset[1]], "end");
      } else if (tap?.id === e.pointerId) {
        const from = tap.from;
        tap = null;
        if (Math.abs(p[0] - from[0]) > TAP_PX || Math.abs(p[1] - from[1]) > TAP_PX) return;
        hand.look(p);
      }
    });
    const lost = (event: Event): void => {
      const e = event as PointerEvent;
      if (held?.id === e.pointerId) {
        letGo();
        hand.move(0, 0, "cancel");
      }
      if (tap?.id === e.pointerId) tap = null;
      if (looking === e.pointerId) looking = null;
    };
    el.addEventListener("pointercancel", lost);
  }
  svg.addEventListener("pointerleave", () => hand.hover(null));
  // the bob has the focus while it is held, so that Escape reaches it
  bob.addEventListener("keydown", (e) => {
    if (e.key === "Escape") hand.look(null);
    if (e.key !== "Escape" || !held) return;
    letGo();
    hand.move(0, 0, "cancel");
  });
}
