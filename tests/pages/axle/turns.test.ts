import { describe, expect, it } from "vitest";
import { createTurns, type Panel } from "../../../src/pages/axle/turns.ts";

describe("panels that take turns", () => {
  const written: string[] = [];
  const panel = (key: string, cause: number, overdue = false): Panel => ({ key, causes: [cause], overdue, write: () => written.push(`${key}${cause}`) });

  it("are all written at rest, and none without a cause", () => {
    const turns = createTurns();
    written.length = 0;
    expect(turns([panel("a", 1), panel("b", 1)], false)).toBe(false);
    expect(turns([panel("a", 1), panel("b", 1)], false)).toBe(false);
    expect(written).toEqual(["a1", "b1"]);
  });

  it("are written one in a frame while something is dragged, the one that waited longest", () => {
    const turns = createTurns();
    written.length = 0;
    turns([panel("a", 0), panel("b", 0)], false);
    written.length = 0;
    const waits = [1, 2, 3, 4].map((i) => turns([panel("a", i), panel("b", i)], true));
    waits.push(turns([panel("a", 4), panel("b", 4)], true));
    expect(written).toEqual(["a1", "b2", "a3", "b4", "a4"]);
    expect(waits).toEqual([true, true, true, true, false]);
  });

  it("do not wait when they are overdue", () => {
    const turns = createTurns();
    written.length = 0;
    expect(turns([panel("a", 1), panel("b", 1, true)], true)).toBe(false);
    expect(written).toEqual(["a1", "b1"]);
  });
});
