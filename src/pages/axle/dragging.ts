import { alike } from "../../core/design/alike.ts";
import type { Load } from "../../core/design/types.ts";
import type { V2 } from "../../core/vec.ts";
import type { Command } from "../../input/drag.ts";
import { cannotBuild } from "../../state/cannot-build.ts";
import type { Doc } from "../../state/document.ts";
import type { LoadEnd, WithinHold } from "../../state/load-end.ts";
import type { Store } from "../../state/store.ts";
import { turn } from "../../view/geometry.ts";
import type { HandleId } from "../../view/handles.ts";
import type { Drawn } from "../../view/scene.ts";
import { type Grid, type Move, movedHandle, moveName, type Nudge, nudgeOf } from "./state/handle-edits.ts";

export interface Refusal {
  id: HandleId;
  text: string;
  /** where the hand pulls, px from the press */
  way: V2;
}

export interface DraggingHooks {
  store: Store;
  /** the drawing that stands now */
  drawn(): Drawn | null;
  pxPerMm(): number;
  /** of the cornering arrow */
  pxPerG(): number;
  /** why the axle finds no equilibrium with this document; null when it does */
  noAnswer(doc: Doc): string | null;
  /** a document whose load is stopped at the last one that holds, and what ends it there */
  within: WithinHold;
  ended(end: LoadEnd | null): void;
  /** what the answer to a document says of the lean, in words to be spoken */
  lean(doc: Doc): string;
  active(id: HandleId | null): void;
  refused(r: Refusal | null): void;
  say(text: string): void;
  tap(id: HandleId): void;
  /** a move waits to be worked out */
  request(): void;
}

export interface Dragging {
  command(c: Command): void;
  /** works out the newest move; called once in every frame, however often the hand moved */
  flush(): void;
  key(id: HandleId, e: KeyboardEvent): void;
  /** what is in hand stands here, though the hand has pulled it further */
  stopped(doc: Doc): void;
}

/** keys pressed within this time make one entry of the history, ms */
const NUDGE_MERGE_MS = 900;

interface Held {
  start: Doc;
  /** turn of the body that carries the handle when the drag began, rad */
  angle: number;
  pxPerMm: number;
  gPerPx: number;
  last: Doc;
}

/** Drags and key presses on handles, from a snapshot of the start, pushed back where nothing can be built. */
export function createDragging(hooks: DraggingHooks): Dragging {
  let held: Held | null = null;
  let nudged: { id: HandleId; start: Doc; at: number } | null = null;
  const { store } = hooks;

  const begin = (id: HandleId): void => {
    const drawn = hooks.drawn();
    const start = store.settled();
    held = { start, angle: drawn ? carrierAngle(drawn, id) : 0, pxPerMm: hooks.pxPerMm(), gPerPx: 1 / hooks.pxPerG(), last: start };
    hooks.active(id);
  };

  const moveOf = (h: Held, way: V2): Move => {
    const [right, up] = turn([way[0] / h.pxPerMm, -way[1] / h.pxPerMm], -h.angle);
    return { right, up, g: way[0] * h.gPerPx };
  };

  const gridOf = (doc: Doc, mods: { shift: boolean; alt: boolean }): Grid =>
    mods.alt ? null : mods.shift || !doc.a.halfPitchAllowed ? halfOrWhole(doc, mods.shift) : doc.a.holePitchMm;
  const halfOrWhole = (doc: Doc, shift: boolean): number => (shift && doc.a.halfPitchAllowed ? doc.a.holePitchMm / 2 : doc.a.holePitchMm);

  /** A changed load goes as far as it holds, a changed design only where it can stand. */
  const refusalOf = (before: Doc, next: Doc): string | null => {
    if (next.a === before.a) return null;
    return cannotBuild(next.a) ?? hooks.noAnswer(next);
  };

  let waiting: Extract<Command, { kind: "move" }> | null = null;
  const flush = (): void => {
    const c = waiting;
    waiting = null;
    if (!held || !c) return;
    const wanted = movedHandle(held.start, c.id, moveOf(held, c.way), gridOf(held.start, c.mods));
    const { doc: next, end } = hooks.within(held.start, wanted);
    hooks.ended(end);
    const beyond: Refusal | null = end && { id: c.id, text: end.text, way: wayBetween(next.load, wanted.load, held) };
    if (alike(next, held.last)) {
      hooks.refused(beyond);
      return;
    }
    const text = next === held.start ? null : refusalOf(held.start, next);
    if (text) {
      hooks.refused({ id: c.id, text, way: c.way });
      return;
    }
    hooks.refused(beyond);
    held.last = next;
    store.preview(next);
  };

  return {
    flush,
    stopped(doc) {
      if (held) held.last = doc;
    },
    command(c) {
      if (c.kind === "commit") flush();
      switch (c.kind) {
        case "begin":
          begin(c.id);
          break;
        case "move":
          waiting = c;
          hooks.request();
          break;
        case "commit":
          if (held && held.last !== held.start) {
            const name = moveName(held.start, held.last, c.id);
            store.preview(held.last);
            store.commit(name);
            hooks.say(`${name}. ${hooks.lean(held.last)}`);
          } else store.cancel();
          held = null;
          hooks.refused(null);
          hooks.active(null);
          break;
        case "cancel":
          waiting = null;
          held = null;
          store.cancel();
          hooks.refused(null);
          hooks.active(null);
          hooks.say("put back");
          break;
        case "tap":
          hooks.tap(c.id);
          break;
      }
    },
    key(id, e) {
      const doc = store.settled();
      const size: Nudge = e.altKey || e.ctrlKey || e.metaKey ? "fine" : e.shiftKey ? "half" : "hole";
      const move = nudgeOf(id, e.key, size, doc.a.holePitchMm);
      if (!move) return;
      e.preventDefault();
      const { doc: next, end } = hooks.within(doc, movedHandle(doc, id, move, null));
      hooks.ended(end);
      if (end) hooks.say(end.text);
      if (alike(next, doc)) return;
      const text = refusalOf(doc, next);
      if (text) {
        hooks.refused({ id, text, way: [move.right * 30, -move.up * 30] });
        hooks.say(text);
        return;
      }
      hooks.refused(null);
      const now = e.timeStamp;
      if (!nudged || nudged.id !== id || now - nudged.at > NUDGE_MERGE_MS) nudged = { id, start: doc, at: now };
      nudged.at = now;
      const name = moveName(nudged.start, next, id);
      store.actMerged(`nudge.${id}`, name, () => next);
      hooks.say(`${name}. ${hooks.lean(next)}`);
    },
  };
}

/** How far the hand pulls past the load at which it stopped, px. */
const wayBetween = (at: Load, wanted: Load, held: Held): V2 => [
  (wanted.lateralG - at.lateralG) / held.gPerPx,
  -(wanted.bumpLeftMm + wanted.bumpRightMm - at.bumpLeftMm - at.bumpRightMm) * held.pxPerMm,
];

/** The turn of what carries a handle: the body, a hub, or nothing (road and load). */
function carrierAngle(a: Drawn, id: HandleId): number {
  const [kind, side, joint] = id.split(".") as [string, "left" | "right" | undefined, string | undefined];
  if (kind === "road" || id === "cornering") return 0;
  if (side && (kind === "wheel" || joint?.endsWith("Outer"))) return a.state[side].hub.angleRad;
  return a.state.body.angleRad;
}
