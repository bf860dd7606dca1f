import { describe, expect, it } from "vitest";
import type { V2 } from "../../src/core/vec.ts";
import { type Command, type Drag, type DragEvent, dragStep, IDLE, pinch } from "../../src/input/drag.ts";

const MODS = { shift: false, alt: false };

/** Plays a pointer: each step is an event, the commands that come out are collected. */
function play(events: readonly DragEvent[]): Command[] {
  let drag: Drag = IDLE;
  const out: Command[] = [];
  for (const e of events) {
    const step = dragStep(drag, e);
    drag = step.drag;
    out.push(...step.commands);
  }
  return out;
}
const press = (px: V2, touch = false): DragEvent => ({ kind: "press", id: "gravity", px, at: 0, touch });
const move = (px: V2, at = 100): DragEvent => ({ kind: "move", px, at, mods: MODS });

describe("a drag", () => {
  it("begins once the hand has left the slop, tells the whole way since the press, and ends as one change", () => {
    expect(play([press([10, 10]), move([11, 11]), move([20, 10]), move([30, 15]), { kind: "release" }])).toEqual([
      { kind: "begin", id: "gravity" },
      { kind: "move", id: "gravity", way: [10, 0], mods: MODS },
      { kind: "move", id: "gravity", way: [20, 5], mods: MODS },
      { kind: "commit", id: "gravity" },
    ]);
  });

  it("that does not move is a tap", () => {
    expect(play([press([10, 10]), move([11, 9]), { kind: "release" }])).toEqual([{ kind: "tap", id: "gravity" }]);
  });

  it("is put back by Escape, and the release after it does nothing", () => {
    const out = play([press([10, 10]), move([40, 10]), { kind: "escape" }, move([60, 10]), { kind: "release" }]);
    expect(out.map((c) => c.kind)).toEqual(["begin", "move", "cancel"]);
  });

  it("follows a finger at half its speed after a long press, a mouse at full", () => {
    const way = (c: Command[]): V2 | undefined => (c[1]?.kind === "move" ? c[1].way : undefined);
    expect(way(play([press([0, 0], true), move([40, 0], 600)]))).toEqual([20, 0]);
    expect(way(play([press([0, 0], true), move([40, 0], 100)]))).toEqual([40, 0]);
    expect(way(play([press([0, 0], false), move([40, 0], 600)]))).toEqual([40, 0]);
  });

  it("without a press is nothing", () => {
    expect(play([move([40, 0]), { kind: "release" }, { kind: "escape" }])).toEqual([]);
  });
});

describe("a pinch", () => {
  it("zooms by the spread of the fingers about their middle and pans by its way", () => {
    const g = pinch(
      [
        [0, 0],
        [10, 0],
      ],
      [
        [5, 5],
        [25, 5],
      ],
    );
    expect(g.factor).toBe(2);
    expect(g.middle).toEqual([15, 5]);
    expect(g.pan).toEqual([10, 5]);
  });
});
