import { describe, expect, it } from "vitest";
import { CAPS } from "../../src/scenario/caps.ts";
import { parseScenario } from "../../src/scenario/parse.ts";
import { formatScenario } from "../../src/scenario/write.ts";
import { shippedText } from "../support/shipped.ts";

const file = (more: object) => ({ ...(JSON.parse(shippedText("heavy-forked.json")) as object), ...more });
const told = (more: object): string[] => {
  const r = parseScenario(file(more), "car.json");
  return r.ok ? [] : r.problems.map((p) => p.message);
};

describe("bench tests and runs in a file", () => {
  it("come back as they were typed, in their order", () => {
    const bench = [
      {
        kind: "springPress",
        date: "2026-11-20",
        note: "new spring",
        side: "both",
        setUp: { restsMm: 10 },
        units: ["g", "mm"],
        rows: [
          ["500", "49,5"],
          ["1 kg", "?"],
        ],
      },
      { kind: "motor", date: null, note: "", side: "left", setUp: {}, units: [], rows: [] },
    ];
    const runs = [
      {
        date: "2026-11-21",
        note: "car park",
        radiusM: 6,
        hand: "right",
        pace: { by: "lap", seconds: 7.2 },
        grip: null,
        bumpMm: 2,
        minutes: 3.5,
        gave: [{ limit: "jointPullOut", side: "left", at: "lowerOuter" }],
        hub: { felt: "warm" },
        airCelsius: 12,
        taken: false,
      },
    ];
    const read = parseScenario(file({ bench, runs }), "car.json");
    if (!read.ok) throw new Error(read.problems[0]!.message);
    expect(read.scenario.bench).toEqual(bench);
    expect(read.scenario.runs).toEqual(runs);
    const again = parseScenario(formatScenario(read.scenario), "car.json");
    expect(again.ok && again.scenario).toEqual(read.scenario);
  });

  it("are none in a file of before", () => {
    const { bench: _, runs: __, ...before } = file({}) as Record<string, unknown>;
    const read = parseScenario(before, "car.json");
    expect(read.ok && [read.scenario.bench, read.scenario.runs]).toEqual([[], []]);
  });

  it.each([
    ["a kind that is none", { bench: [{ kind: "springPres" }] }, /bench\[0\]\.kind is "springPres"; allowed one of armHang, /],
    ["a day that is none", { bench: [{ kind: "motor", date: "2026-02-31" }] }, /bench\[0\]\.date is "2026-02-31"; allowed a day as 2026-11-26\.$/],
    ["a number in the table", { bench: [{ kind: "motor", rows: [[5]] }] }, /bench\[0\]\.rows\[0\]\[0\] is 5; allowed a text/],
    [
      "too many cells",
      { bench: Array.from({ length: 9 }, () => ({ kind: "motor", rows: Array.from({ length: 1000 }, () => ["1"]) })) },
      new RegExp(`bench holds 9000 cells; allowed up to ${CAPS.benchCells} cells in all tables together\\.$`),
    ],
    ["a run without its curve", { runs: [{ pace: { by: "g", g: 0.5 } }] }, /runs\[0\]\.radiusM is missing; allowed 0\.1 to 1000 m\.$/],
    [
      "a run that broke what is no part",
      { runs: [{ radiusM: 4, pace: { by: "g", g: 0.5 }, gave: [{ limit: "hub" }] }] },
      /gave\[0\]\.limit is "hub"; allowed one of /,
    ],
  ])("are refused in a sentence: %s", (_, more, message) => {
    expect(told(more)).toEqual([expect.stringMatching(message)]);
  });
});
