import { describe, expect, it } from "vitest";
import { fuzzCommands } from "./commands.ts";
import { fuzzEdits } from "./edits.ts";
import { fuzzFiles } from "./files.ts";
import { claim, claimLine, fuzz } from "./fuzzer.ts";
import { fuzzLinks } from "./links.ts";
import { fuzzSensible } from "./sensible.ts";

const SEED = Number(process.env["SEED"] ?? 1);

describe("whatever is opened is read or refused in a few short lines", () => {
  it.each([
    ["files", fuzzFiles, 600],
    ["links", fuzzLinks, 200],
    ["commands", fuzzCommands, 300],
  ] as const)("%s", async (_, fuzzer, count) => {
    const r = await fuzzer(SEED, count);
    expect(r.faults).toEqual([]);
    // cases that all end alike try nothing
    expect(Object.keys(r.ends).length).toBeGreaterThan(2);
    expect(Object.values(r.ends).reduce((a, b) => a + b)).toBe(count);
  });
});

describe("whatever is edited stands, can be undone, and comes back from the browser's store", () => {
  it("edits", async () => {
    const r = await fuzzEdits(SEED, 8);
    expect(r.faults).toEqual([]);
    for (const end of ["passed", "refused", "undone or redone"]) expect(r.ends[end], end).toBeGreaterThan(20);
  });
});

describe("sensible cars", () => {
  it("nearly all stand under loads up to their limits; of the others it is told what gives way", async () => {
    const count = 300;
    const r = await fuzzSensible(SEED, count);
    expect(r.faults).toEqual([]);
    expect(Object.values(r.ends).reduce((a, b) => a + b)).toBe(count);
    // a search that gives up early would show here
    expect(r.ends["solved"]).toBeGreaterThan(0.92 * count);
    expect(r.ends["slides"]).toBeGreaterThan(0.04 * count);
  });
});

describe("the frame of the fuzzers", () => {
  it("tells the seed that makes a broken claim again, and counts those beyond the first", async () => {
    const broken = {
      make: (random: { next(): number }): number => random.next(),
      check: (made: number): string => {
        claim(made < 0.5, "too large");
        return "well";
      },
    };
    const r = await fuzz("chance", 7, 200, broken);
    expect(r.faults).toHaveLength(20);
    expect((r.ends["well"] ?? 0) + r.faults.length + r.more).toBe(200);
    const seed = Number(/seed (\d+)/.exec(r.faults[0]!)![1]);
    expect((await fuzz("chance", seed, 1, broken)).faults).toHaveLength(1);
  });

  it("minds long lines, control letters and words of the program", () => {
    for (const bad of ["x".repeat(2000), "a line with \u001b[2J in it", "car.json: it is undefined; allowed 3", "short"])
      expect(() => claimLine(bad)).toThrow();
    expect(() => claimLine('car.json: name is "undefined"; allowed a text.')).not.toThrow();
  });
});
