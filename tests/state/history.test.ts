import { describe, expect, it } from "vitest";
import { emptyHistory, type History, recorded, redone, undone } from "../../src/state/history.ts";

/** Documents 0, 1, 2, ...: each change adds one. */
function changes(count: number): History<number> {
  let h = emptyHistory<number>();
  for (let i = 0; i < count; i++) h = recorded(h, { name: `to ${i + 1}`, before: i, after: i + 1 });
  return h;
}
function undoAll(h: History<number>): { docs: number[]; names: string[]; history: History<number> } {
  const docs: number[] = [];
  const names: string[] = [];
  for (let step = undone(h); step; step = undone(h)) {
    docs.push(step.doc);
    names.push(step.name);
    h = step.history;
  }
  return { docs, names, history: h };
}

describe("the history", () => {
  it("keeps the last 200 changes and lets the oldest go", () => {
    const { docs, names } = undoAll(changes(203));
    expect(docs).toHaveLength(200);
    expect([docs[0], docs.at(-1)]).toEqual([202, 3]);
    expect([names[0], names.at(-1)]).toEqual(["to 203", "to 4"]);
    expect(undoAll(changes(200)).docs.at(-1)).toBe(0);
  });

  it("redoes what was undone in the order in which it was made", () => {
    let { history: h } = undoAll(changes(3));
    const docs: number[] = [];
    for (let step = redone(h); step; step = redone(h)) {
      docs.push(step.doc);
      h = step.history;
    }
    expect(docs).toEqual([1, 2, 3]);
    expect(undoAll(h).docs).toEqual([2, 1, 0]);
  });

  it("forgets what was undone when something else is done, and nothing when nothing changed", () => {
    const step = undone(changes(3))!;
    expect(recorded(step.history, { name: "none", before: 2, after: 2 })).toBe(step.history);
    const other = recorded(step.history, { name: "to 9", before: 2, after: 9 });
    expect(redone(other)).toBeNull();
    expect(undoAll(other).docs).toEqual([2, 1, 0]);
  });
});
