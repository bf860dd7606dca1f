import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { buildBench } from "../../src/core/analyze.ts";
import { uncertainInputs } from "../../src/core/doubt/inputs.ts";
import { samplePaired, tellPaired } from "../../src/core/doubt/paired.ts";
import { sampleWorlds } from "../../src/core/doubt/sample.ts";
import { tellSamples } from "../../src/core/doubt/told.ts";
import { toTheEnd } from "../../src/core/steps.ts";
import { safeSpeedOf } from "../../src/core/studies/safe-speed.ts";
import { rangeOf } from "../../src/scenario/ranges.ts";
import { type Folder, jsonOf, scratchFolder, startWheelstay, wheelstay } from "../support/cli.ts";
import { expectAbs, expectRel } from "../support/close.ts";
import { guessed } from "../support/guessed.ts";
import { shipped } from "../support/shipped.ts";

const FORKED = "scenarios/heavy-forked.json";
let folder: Folder;
/** the same car, all of it guessed */
let guess: string;
const car = guessed(shipped("heavy-forked.json"));
beforeAll(() => {
  folder = scratchFolder();
  guess = folder.write("guess.json", "heavy-forked.json", (d) => {
    d.origins = car.origins;
  });
});
afterAll(() => folder.remove());

interface Chances {
  chance: number;
  low: number;
  high: number;
}
interface DoubtJson {
  seed: number;
  samples: number;
  safe: { speedKmh: number; bandKmh: { low: number; high: number; sd: number }; driveAtMost: { chance: number; speedKmh: number } };
  at: { any: Chances; limits: ({ limit: string } & Chances)[]; bands: Record<string, { value: number; low: number; high: number; sd: number }> };
  firstOrder: { safeSpeedKmh: { sd: number }; bands: Record<string, { sd: number }> };
  inputs: { path: string; plusMinus: number; how: string; share: { safeSpeed: number } }[];
  measureNext: { tests: { test: string; narrower: number; minutes: number }[] };
}

describe("doubt", () => {
  it("tells what the core tells for the same seed, on one core and on two", async () => {
    const args = ["doubt", guess, "--lateral", "0.4", "--radius", "6", "--samples", "8", "--seed", "3"];
    const one = await jsonOf<DoubtJson>(args);
    const question = {
      scenario: car,
      samples: 8,
      seed: 3,
      curve: { radiusM: 6, overM: null, options: { bumpLeftMm: 0, bumpRightMm: 0 } },
      at: { load: { lateralG: 0.4, bumpLeftMm: 0, bumpRightMm: 0 }, speedMps: Math.sqrt(0.4 * 9.80665 * 6), shock: 1 },
    };
    const told = tellSamples(toTheEnd(sampleWorlds(question, rangeOf))!)!;
    expectRel(one.safe.driveAtMost.speedKmh, 3.6 * told.safe!.atMost.speedMps, 1e-12, "to drive at most, km/h");
    expectRel(one.safe.speedKmh, 3.6 * safeSpeedOf(buildBench(car), 6).speedMps, 1e-12, "as designed, km/h");
    expect(one.at.any.chance).toBe(told.at!.any.chance);
    expectRel(one.at.bands["camberDeg.right"]!.sd, told.at!.bands["camberDeg.right"]!.sd, 1e-9, "lean, °");
    expect([one.seed, one.samples]).toEqual([3, 8]);
    const two = await startWheelstay([...args, "--jobs", "2", "--json"]);
    expect(JSON.parse(two.out)).toEqual(JSON.parse(JSON.stringify(one)));
  });

  it("tells every uncertain input, and what to measure first", async () => {
    const r = await jsonOf<DoubtJson>(["doubt", guess, "--lateral", "0.4", "--samples", "8"]);
    expect(r.inputs.map((u) => u.path)).toEqual(uncertainInputs(car, rangeOf, { drive: false }).list.map((u) => u.key));
    expectAbs(
      r.inputs.reduce((sum, u) => sum + u.share.safeSpeed, 0),
      1,
      1e-9,
      "parts of the variance",
    );
    expect(r.measureNext.tests[0]!.test).toBe("hubPullOff");
    expect(r.measureNext.tests[0]!.minutes).toBeGreaterThan(0);
  });

  it("accepts more where more is accepted", async () => {
    const at = async (chance: string): Promise<number> =>
      (await jsonOf<DoubtJson>(["doubt", guess, "--lateral", "0.4", "--samples", "12", "--chance", chance])).safe.driveAtMost.speedKmh;
    expect(await at("40")).toBeGreaterThan(await at("3"));
  });

  it("says in plain words what is sure and what is not", async () => {
    const { out, code } = await wheelstay(["doubt", guess, "--lateral", "0.4", "--samples", "16"]);
    expect(code).toBe(0);
    for (const words of [
      "HOW FAST THROUGH THE CURVE",
      "As it is designed nothing gives up to",
      "Drive at most",
      "for a chance of 5.0 % that something gives",
      "Any that counts:",
      "WHAT TO MEASURE NEXT",
      "wheel pulled off its hub",
      "16 cars tried, their values drawn within what is known of them (seed 1)",
    ])
      expect(out).toContain(words);
  });

  it("names what it cannot do", async () => {
    const few = await wheelstay(["doubt", FORKED, "--samples", "3"]);
    expect([few.code, few.err]).toEqual([1, expect.stringContaining("--samples is 3 cars; allowed 8 to 65536 cars")]);
    const over = await wheelstay(["doubt", FORKED, "--lateral", "2", "--samples", "8"]);
    expect([over.code, over.err]).toEqual([2, expect.stringContaining("no steady position (slides)")]);
  });
});

describe("bands beside other answers", () => {
  it("stand in analyze where they are asked for, to first order", async () => {
    const plain = await jsonOf<{ bands?: object }>(["analyze", FORKED, "--lateral", "0.4"]);
    expect(plain.bands).toBeUndefined();
    const r = await jsonOf<{ left: { camberDeg: number }; bands: Record<string, { value: number; sd: number; low: number; high: number }> }>([
      "analyze",
      FORKED,
      "--lateral",
      "0.4",
      "--bands",
    ]);
    const band = r.bands["camberDeg.left"]!;
    expectAbs(band.value, r.left.camberDeg, 1e-6, "lean, °");
    // 5 % and 95 % of a normal distribution
    expectAbs(band.high, band.value + 1.644854 * band.sd, 1e-5, "95 %, °");
    const { out } = await wheelstay(["analyze", FORKED, "--lateral", "0.4", "--bands"]);
    expect(out).toContain("HOW SURE: ONE STANDARD DEVIATION");
  });

  it("stand in map: the speed to drive at most beside the plain one, for both hands", async () => {
    interface Hand {
      speedKmh: number;
      driveAtMostKmh: number;
      linesKmh: { chance: number; speedKmh: number }[];
    }
    const args = ["map", guess, "--points", "8", "--samples", "12", "--seed", "2"];
    const r = await jsonOf<{ sure: { worlds: number }; curves: { radiusM: number; left: Hand; right: Hand }[] }>(args);
    expect(r.sure.worlds).toBe(12);
    for (const c of r.curves)
      for (const hand of [c.left, c.right]) {
        expect(hand.driveAtMostKmh).toBeLessThan(hand.speedKmh);
        const speeds = hand.linesKmh.map((l) => l.speedKmh);
        expect(speeds).toEqual([...speeds].sort((a, b) => a - b));
      }
    const six = r.curves.find((c) => c.radiusM === 6)!.left;
    const question = { scenario: car, samples: 12, seed: 2, curve: { radiusM: 6, overM: null, options: {} }, at: null };
    const told = tellSamples(toTheEnd(sampleWorlds(question, rangeOf))!)!;
    expectRel(six.driveAtMostKmh, 3.6 * told.safe!.atMost.speedMps, 1e-9, "at 6 m, km/h");
    // the tables leave it out unless it is asked for
    const short = ["map", guess, "--points", "5", "--samples", "12"];
    expect((await wheelstay(short)).out).not.toContain("HOW SURE");
    expect((await wheelstay([...short, "--bands"])).out).toContain("HOW SURE");
  });

  it("stand in compare: the chance that B is better", async () => {
    const firmer = folder.write("firmer.json", "heavy-forked.json", (d) => {
      d.origins = car.origins;
      d.corner.hub.retention.capacityN = 120;
    });
    const r = await jsonOf<{ sure: { safeSpeed: { better: Chances }; inputs: { shared: number; onlyA: number } } }>([
      "compare",
      guess,
      firmer,
      "--lateral",
      "0.4",
      "--bands",
      "--samples",
      "16",
    ]);
    const b = { ...car, corner: { ...car.corner, hub: { ...car.corner.hub, retention: { ...car.corner.hub.retention, capacityN: 120 } } } } as typeof car;
    const speedMps = Math.sqrt(0.4 * 9.80665 * 4);
    const load = { lateralG: 0.4, bumpLeftMm: 0, bumpRightMm: 0 };
    const question = { a: car, b, samples: 16, seed: 1, curve: { radiusM: 4, overM: null, options: {} }, at: { load, speedMps, shock: 1 } };
    const told = tellPaired(toTheEnd(samplePaired(question, rangeOf))!)!;
    expect(r.sure.safeSpeed.better.chance).toBe(told.safe!.better.chance);
    expect(r.sure.inputs).toEqual({ shared: told.shared, onlyA: 1, onlyB: 1 });
    const { out } = await wheelstay(["compare", guess, firmer, "--lateral", "0.4", "--bands", "--samples", "8"]);
    expect(out).toContain("B is faster through the curve in");
  });
});
