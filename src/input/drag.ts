import type { V2 } from "../core/vec.ts";
import type { HandleId } from "../view/handles.ts";

/** Modifier keys that matter while dragging. */
interface Modifiers {
  shift: boolean;
  alt: boolean;
}

export type Drag =
  | { phase: "idle" }
  | { phase: "pressed"; id: HandleId; from: V2; at: number; touch: boolean }
  | { phase: "dragging"; id: HandleId; from: V2; slow: boolean };

export type DragEvent =
  | { kind: "press"; id: HandleId; px: V2; at: number; touch: boolean }
  | { kind: "move"; px: V2; at: number; mods: Modifiers }
  | { kind: "release" }
  | { kind: "escape" };

export type Command =
  | { kind: "begin"; id: HandleId }
  /** whole way since the press, px on screen */
  | { kind: "move"; id: HandleId; way: V2; mods: Modifiers }
  | { kind: "commit"; id: HandleId }
  | { kind: "cancel"; id: HandleId }
  | { kind: "tap"; id: HandleId };

/** a hand that trembles this little is a tap, px */
const SLOP_PX = 3;
/** a finger that rests this long moves the point at half speed, ms */
const LONG_PRESS_MS = 450;
const SLOW = 0.5;

export const IDLE: Drag = { phase: "idle" };

/** One step of a drag: press, move past the slop, move, release; Escape puts everything back. */
export function dragStep(drag: Drag, event: DragEvent): { drag: Drag; commands: Command[] } {
  switch (event.kind) {
    case "press":
      return { drag: { phase: "pressed", id: event.id, from: event.px, at: event.at, touch: event.touch }, commands: [] };
    case "move": {
      if (drag.phase === "idle") return { drag, commands: [] };
      const way: V2 = [event.px[0] - drag.from[0], event.px[1] - drag.from[1]];
      if (drag.phase === "pressed") {
        if (Math.abs(way[0]) < SLOP_PX && Math.abs(way[1]) < SLOP_PX) return { drag, commands: [] };
        const slow = drag.touch && event.at - drag.at >= LONG_PRESS_MS;
        const k = slow ? SLOW : 1;
        return {
          drag: { phase: "dragging", id: drag.id, from: drag.from, slow },
          commands: [
            { kind: "begin", id: drag.id },
            { kind: "move", id: drag.id, way: [way[0] * k, way[1] * k], mods: event.mods },
          ],
        };
      }
      const k = drag.slow ? SLOW : 1;
      return { drag, commands: [{ kind: "move", id: drag.id, way: [way[0] * k, way[1] * k], mods: event.mods }] };
    }
    case "release":
      if (drag.phase === "dragging") return { drag: IDLE, commands: [{ kind: "commit", id: drag.id }] };
      if (drag.phase === "pressed") return { drag: IDLE, commands: [{ kind: "tap", id: drag.id }] };
      return { drag: IDLE, commands: [] };
    case "escape":
      return drag.phase === "dragging" ? { drag: IDLE, commands: [{ kind: "cancel", id: drag.id }] } : { drag: IDLE, commands: [] };
  }
}

/** Two fingers: how far their middle went and how much they spread since last time. */
export function pinch(before: readonly [V2, V2], after: readonly [V2, V2]): { middle: V2; pan: V2; factor: number } {
  const mid = ([a, b]: readonly [V2, V2]): V2 => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  const span = ([a, b]: readonly [V2, V2]): number => Math.sqrt((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2);
  const m0 = mid(before);
  const m1 = mid(after);
  return { middle: m1, pan: [m1[0] - m0[0], m1[1] - m0[1]], factor: span(before) > 1 ? span(after) / span(before) : 1 };
}
