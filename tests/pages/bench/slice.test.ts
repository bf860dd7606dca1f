import { describe, expect, it } from "vitest";
import { freshRun } from "../../../src/pages/bench/state/run-edits.ts";
import { benchSlice } from "../../../src/pages/bench/state/slice.ts";
import { INITIAL_VIEW, readView } from "../../../src/state/document.ts";

const kept = (bench: unknown) => benchSlice.of(readView(JSON.parse(JSON.stringify({ ...INITIAL_VIEW, pages: { bench } }))));

describe("what the page keeps of itself", () => {
  it("comes back: the part, the test that is open, and a run that is told just now", () => {
    const view = { part: "runs", kind: "springPress", test: 3, run: "draft", draft: { run: freshRun("2026-11-26", 6, "right"), paced: false } } as const;
    expect(kept(view)).toEqual(view);
  });

  it.each([
    ["a part that is none", { part: "walls" }],
    ["a kind that is none", { kind: "armHangs" }],
    ["a place that is none", { test: -1, run: 1.5 }],
    ["a run that is none", { draft: { run: { radiusM: 0 }, paced: true } }],
    ["words", "bench"],
  ])("%s stands at its default", (_, raw) => {
    expect(kept(raw)).toEqual({ part: "tests", kind: null, test: null, run: null, draft: null });
  });
});
