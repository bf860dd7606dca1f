import { describe, expect, it } from "vitest";
import type { Run } from "../../../src/core/design/tried.ts";
import type { Contradiction } from "../../../src/core/runs/contradictions.ts";
import { withRuns } from "../../../src/core/runs/take.ts";
import { runsTold } from "../../../src/core/runs/told.ts";
import { runsToldWords } from "../../../src/pages/bench/picture/runs-told.ts";
import { freshRun, withGiven } from "../../../src/pages/bench/state/run-edits.ts";
import { rangeOf } from "../../../src/scenario/ranges.ts";
import { numberWords } from "../../../src/view/runs/words.ts";
import { shipped } from "../../support/shipped.ts";

const run = (kmh: number): Run => ({ ...freshRun("2026-11-26", 6, "left"), pace: { by: "speed", kmh } });
const s = { ...shipped("heavy-forked.json"), runs: [run(20), withGiven(run(26), "hubRetention", true, { side: "right" })] };
const told = runsTold(s);
const words = runsToldWords(s, told, []);
const hub = words.rows.find((r) => r.path.includes("hub.retention"))!;

describe("what runs tell, on the page", () => {
  it("names each number that moved, with what is known of it without and with the runs", () => {
    expect(words.rows.map((r) => r.path)).toEqual(told.strengths.filter((t) => t.worth).map((t) => t.strength.path));
    expect(hub.by).toBe("held in run 1 of 2026-11-26, gave in run 2 of 2026-11-26");
    expect(hub.after).not.toBe(hub.before);
    expect(words.canTake).toBe(true);
    expect(words.note).toBe("No run contradicts the model.");
  });

  it("draws both on one scale, the one with the runs narrower, each run at what it told", () => {
    const { before, after } = hub.bands;
    for (const b of [before, after]) {
      expect(b.low).toBeGreaterThan(0);
      expect(b.high).toBeLessThan(1);
      expect(b.low).toBeLessThan(b.at);
      expect(b.at).toBeLessThan(b.high);
    }
    // one end of each lies at the same small way from an end of the scale
    expect(Math.min(before.low, after.low)).toBeCloseTo(1 - Math.max(before.high, after.high), 6);
    expect(after.high - after.low).toBeLessThan(before.high - before.low);
    const [held, gave] = hub.marks;
    expect([held!.kind, gave!.kind]).toEqual(["held", "gave"]);
    expect(held!.at).toBeLessThan(gave!.at);
  });

  it("names what was asked of too little, and runs against the model with what would explain them", () => {
    const little = told.strengths.filter((t) => t.told.length > 0 && !t.worth).map((t) => numberWords(t.strength.path));
    expect(words.known).toEqual([]);
    // a hub that is known to hold 60 N and gave far beyond: nothing was asked too little of it
    const dull = { ...told, strengths: told.strengths.map((t) => (t.strength.path.includes("hub.retention") ? { ...t, worth: false } : t)) };
    expect(runsToldWords(s, dull, [])).toMatchObject({ known: [numberWords(hub.path)], others: little });
    expect(little.length).toBeGreaterThan(0);
    expect(words.others).toEqual(little);
    const about = { limit: "wheelLift", at: null, sides: ["left"] } as const;
    const against = [{ run: 1, kind: "gave", about, strength: null, noHold: null, explanations: [] }] as const;
    const [one, ...more] = runsToldWords(s, told, against as unknown as readonly Contradiction[]).against;
    expect(more).toEqual([]);
    expect(one?.said).toContain("run 2 of 2026-11-26");
    expect(one?.explained).toHaveLength(1);
    expect(runsToldWords(s, told, against as unknown as readonly Contradiction[]).note).toBe("");
    // one of two was taken: the other still tells something
    const half = { ...s, runs: [{ ...s.runs[0]!, taken: true }, s.runs[1]!] };
    expect(runsToldWords(half, runsTold(half), []).note).not.toBe("What these runs told stands in the design.");
  });

  it("says what goes on, and when all of it stands in the design", () => {
    expect(runsToldWords(s, null, null)).toMatchObject({ rows: [], canTake: false, note: "Working out what they tell …" });
    expect(runsToldWords(s, told, null).note).toBe("Looking for contradictions …");
    const taken = withRuns(s, told, "2026-11-27", rangeOf);
    expect(runsToldWords(taken, runsTold(taken), [])).toMatchObject({ rows: [], canTake: false, note: "What these runs told stands in the design." });
  });
});
