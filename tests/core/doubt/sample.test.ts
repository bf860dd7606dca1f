import { describe, expect, it } from "vitest";
import { LIMIT_NAMES } from "../../../src/core/analysis.ts";
import { analyze, buildBench, solveLoad } from "../../../src/core/analyze.ts";
import { speedInCurve } from "../../../src/core/cornering.ts";
import { withOrigins } from "../../../src/core/design/origins.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import { bandAbout, bandsOf, spreadOf } from "../../../src/core/doubt/bands.ts";
import { derivatives } from "../../../src/core/doubt/first-order.ts";
import { uncertainInputs } from "../../../src/core/doubt/inputs.ts";
import type { OutputKey } from "../../../src/core/doubt/outputs.ts";
import { safeDerivatives } from "../../../src/core/doubt/safe-order.ts";
import { inputOptions, mergeSamples, NO_LIMIT, type SampleQuestion, type Samples, sampleWorlds, WORLD } from "../../../src/core/doubt/sample.ts";
import { notStraight, reasonsAtLoad, reasonsOfSafe } from "../../../src/core/doubt/straight.ts";
import { lineAt, tellSamples } from "../../../src/core/doubt/told.ts";
import { designOf, drawWorlds } from "../../../src/core/doubt/worlds.ts";
import { toTheEnd } from "../../../src/core/steps.ts";
import type { CurveOptions } from "../../../src/core/studies/curve-options.ts";
import { safeSpeedOf } from "../../../src/core/studies/safe-speed.ts";
import { rangeOf } from "../../../src/scenario/ranges.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { guessed } from "../../support/guessed.ts";
import { shipped } from "../../support/shipped.ts";

const entered = shipped("heavy-forked.json");
const car = guessed(entered);
const load = { lateralG: 0.4, bumpLeftMm: 0, bumpRightMm: 0 };
const speedMps = speedInCurve(0.4, 6);
const question = (o: Partial<SampleQuestion> = {}): SampleQuestion => ({
  scenario: car,
  samples: 64,
  seed: 3,
  curve: { radiusM: 6, overM: null, options: {} },
  at: { load, speedMps, shock: 1 },
  ...o,
});
const sampleOf = (q: SampleQuestion, share?: { index: number; of: number }): Samples => toTheEnd(sampleWorlds(q, rangeOf, share))!;

const q = question();
const whole = sampleOf(q);

describe("a sample of worlds", () => {
  it("is the same for the same seed however the work is parted, and another one for another seed", () => {
    const halves = [0, 1].map((index) => sampleOf(q, { index, of: 2 }));
    expect(halves.map((h) => h.done.reduce((a, b) => a + b, 0))).toEqual([32, 32]);
    expect(mergeSamples(halves)).toEqual(whole);
    expect(tellSamples(mergeSamples([halves[1]!, halves[0]!]))).toEqual(tellSamples(whole));
    expect(sampleOf(question({ seed: 4, samples: 4 })).worlds.lateralG).not.toEqual(whole.worlds.lateralG.slice(0, 4));
  });

  it("begins as a longer one does", () => {
    const short = sampleOf(question({ samples: 16 }));
    expect(short.worlds.lateralG).toEqual(whole.worlds.lateralG.slice(0, 16));
  });

  it("holds in each world what that car does when it is solved by itself", () => {
    const inputs = uncertainInputs(car, rangeOf, { drive: false });
    const worlds = drawWorlds(inputs, q.samples, q.seed);
    for (let w = 0; w < 8; w++) {
      const { scenario } = designOf(inputs, worlds.scores(w));
      const safe = safeSpeedOf(buildBench(scenario), 6);
      expectAbs(whole.worlds.lateralG[w]!, safe.lateralG, 5e-4, `safe level of world ${w}, g`);
      const limit = whole.worlds.limit[w]!;
      expect(limit === NO_LIMIT ? null : LIMIT_NAMES[limit]).toBe(safe.limit?.name ?? safe.end?.limit ?? null);
      const answer = analyze(scenario, load, { bands: false, stiffer: false, byPart: false });
      const camber = whole.worlds.values[w * whole.keys.length + whole.keys.indexOf("camberDeg.right")]!;
      if (answer.ok) expectAbs(camber, answer.report.right.camberDeg, 1e-5, `lean in world ${w}, °`);
      else expect(camber).toBeNaN();
    }
  });

  it("comes up from below, as the load does, where a part falls over in its play: two positions hold there, a few hundredths apart", () => {
    for (const file of ["heavy-cross-pinned.json", "worn-joints.json", "light-same-hub.json"]) {
      const loose = guessed(shipped(file));
      const inputs = uncertainInputs(loose, rangeOf, { drive: false });
      const s = sampleOf({ scenario: loose, samples: 8, seed: 11, curve: { radiusM: 6, overM: null, options: {} }, at: null });
      const worlds = drawWorlds(inputs, 8, 11);
      const off = [0, 1, 2, 3].map((w) => {
        const full = safeSpeedOf(buildBench(designOf(inputs, worlds.scores(w)).scenario), 6).lateralG;
        return Math.abs(s.worlds.lateralG[w]! - full) / Math.max(full, 0.1);
      });
      expect(Math.max(...off), file).toBeLessThan(0.02);
    }
  });

  it.each([
    ["asymmetric.json", { hand: "right", shock: 1.2 }, null],
    ["heavy-straight.json", { throttle: 0.7, bumpLeftMm: 2 }, [2.5, 12]],
    ["twin-tube-hub-spring.json", { brakeG: 0.4 }, null],
  ] as [string, Partial<CurveOptions>, [number, number] | null][])("holds what each car does however the curve is driven: %s, %o", (file, options, overM) => {
    const drivenCar = guessed(shipped(file));
    const asked = { scenario: drivenCar, samples: 4, seed: 9, curve: { radiusM: 6, overM, options }, at: null };
    const s = sampleOf(asked);
    const inputs = uncertainInputs(drivenCar, rangeOf, inputOptions(asked));
    const worlds = drawWorlds(inputs, 4, 9);
    expect(s.radiiM.length).toBe(overM ? 6 : 1);
    for (let w = 0; w < 4; w++) {
      const b = buildBench(designOf(inputs, worlds.scores(w)).scenario);
      for (const r of overM ? [0, 2, 5] : [0])
        expectAbs(s.worlds.lateralG[w * s.radiiM.length + r]!, safeSpeedOf(b, s.radiiM[r]!, options).lateralG, 2e-3, `world ${w} at ${s.radiiM[r]} m, g`);
    }
  });

  it("has the car as it is designed beside it, to the last digit", () => {
    const safe = safeSpeedOf(buildBench(car), 6);
    expect(tellSamples(whole)!.safe!.speedMps).toBe(safe.speedMps);
    const answer = analyze(car, load);
    if (!answer.ok) throw new Error(answer.reason.message);
    expectAbs(tellSamples(whole)!.at!.bands["camberDeg.right"]!.value, answer.report.right.camberDeg, 1e-6, "lean, °");
  });

  it("tells a picture from the first worlds on", () => {
    const run = sampleWorlds(question({ samples: 8 }), rangeOf);
    const first = run.next();
    if (first.done) throw new Error("ended at once");
    const told = tellSamples(first.value)!;
    expect([told.worlds, told.of]).toEqual([1, 8]);
    expect(told.safe!.band.median).toBe(told.safe!.band.low);
  });

  it("is none of a car that does not stand", () => {
    const fallen: Scenario = { ...car, body: { ...car.body, cgHeightMm: 2000 } };
    if (buildBench(fallen).rest.ok) throw new Error("the car stands after all");
    expect(toTheEnd(sampleWorlds(question({ scenario: fallen, samples: 2 }), rangeOf))).toBeNull();
  });
});

describe("what a sample tells", () => {
  const told = tellSamples(whole)!;

  it("counts the worlds that pass a limit, and any", () => {
    const rows = [...Array(whole.count).keys()];
    const used = (w: number, key: OutputKey): number => whole.worlds.values[w * whole.keys.length + whole.keys.indexOf(key)]!;
    const hub = rows.filter((w) => used(w, "limit.hubRetention.left.utilization") >= 1 || used(w, "limit.hubRetention.right.utilization") >= 1).length;
    const passed = told.at!.passed.find((p) => p.limit === "hubRetention")!;
    expectRel(passed.chance.chance, hub / 64, 1e-12, "chance of the hub");
    expect(hub).toBeGreaterThan(3);
    expect(told.at!.any.chance).toBeGreaterThanOrEqual(passed.chance.chance);
    // what gives at the load is what is safe below it: the same worlds, asked twice
    const slower = rows.filter((w) => whole.worlds.lateralG[w]! < load.lateralG).length;
    expectAbs(told.at!.any.chance, slower / 64, 1 / 64, "chance of any");
  });

  it("has no more than the accepted chance below the speed to drive at most", () => {
    const speeds = [...whole.worlds.lateralG].map((a) => speedInCurve(a, 6));
    for (const chance of [0.02, 0.05, 0.3]) {
      const most = tellSamples(whole, { chance })!.safe!.atMost;
      expect(speeds.filter((v) => v < most.speedMps).length / 64).toBeLessThanOrEqual(chance);
      expect(speeds.filter((v) => v <= most.speedMps).length / 64).toBeGreaterThan(chance);
    }
  });

  it("has lines that go with the root of the radius where the level alone counts", () => {
    const [line] = told.safe!.lines;
    expectRel(lineAt(line!, 24), 2 * lineAt(line!, 6), 1e-12, "m/s");
  });

  it("tells each radius where the tyre leaves its rim at speed", () => {
    const loose: Scenario = withOrigins(car, {});
    const weak: Scenario = {
      ...loose,
      corner: { ...loose.corner, tyre: { ...loose.corner.tyre, seat: { ...loose.corner.tyre.seat, bandTensionN: 12, bandMassGPerMm: 0.2 } } },
    };
    const s = sampleOf({ scenario: weak, samples: 6, seed: 1, curve: { radiusM: 6, overM: [2, 20], options: {} }, at: null });
    expect(s.radiiM.length).toBeGreaterThan(3);
    const inputs = uncertainInputs(weak, rangeOf, { drive: false });
    const worlds = drawWorlds(inputs, 6, 1);
    for (let w = 0; w < 6; w++) {
      const b = buildBench(designOf(inputs, worlds.scores(w)).scenario);
      for (const [r, radiusM] of s.radiiM.entries())
        expectAbs(s.worlds.lateralG[w * s.radiiM.length + r]!, safeSpeedOf(b, radiusM).lateralG, 1e-3, `world ${w} at ${radiusM} m, g`);
    }
    expect([...s.worlds.limit].map((i) => LIMIT_NAMES[i])).toContain("tyreOffRim");
  });
});

describe("first order beside sampling", () => {
  const inputs = uncertainInputs(entered, rangeOf, { drive: false });
  const narrow = sampleOf(question({ scenario: withOrigins(entered, {}), samples: 256 }));

  it("has the same band where the car is nearly straight", () => {
    const bench = buildBench(entered);
    const d = toTheEnd(safeDerivatives(bench, inputs, 6))!;
    const spread = spreadOf(inputs, (i) => d.by![i]!);
    const { band } = tellSamples(narrow)!.safe!;
    // of 256 worlds: the deviation to some per cent
    expectRel(band.sd, spread.sd, 0.05, "deviation of the safe speed, m/s");
    const first = bandAbout(d.safe.speedMps, spread.sd);
    expect(notStraight(first, band, reasonsOfSafe(narrow))).toBeNull();
  });

  it("has the same bands at a load", () => {
    const bands = bandsOf(inputs, toTheEnd(derivatives(solvedPoint(buildBench(entered)), inputs))!);
    const told = tellSamples(narrow)!.at!;
    for (const key of [
      "camberDeg.left",
      "camberDeg.right",
      "verticalLoadN.left",
      "verticalLoadN.right",
      "rollDeg",
      "limit.hubRetention.left.utilization",
    ] as const)
      expectRel(told.bands[key]!.sd, bands.get(key)!.sd, 0.06, key);
  });

  it("differs in a car that is only guessed, and says that it is", () => {
    const wide = uncertainInputs(car, rangeOf, { drive: false });
    const d = toTheEnd(safeDerivatives(buildBench(car), wide, 6))!;
    const first = bandAbout(d.safe.speedMps, spreadOf(wide, (i) => d.by![i]!).sd);
    const differs = notStraight(first, tellSamples(whole)!.safe!.band, reasonsOfSafe(whole));
    expect(differs).not.toBeNull();
    expect(differs!.reasons.length).toBeGreaterThan(0);
  });

  it("names what takes over, what ends and what lifts", () => {
    const s: Samples = { ...whole, worlds: { ...whole.worlds, limit: whole.worlds.limit.slice(), state: whole.worlds.state.slice() } };
    s.design = { ...s.design, state: Uint8Array.of(0), limit: Uint8Array.of(LIMIT_NAMES.indexOf("hubRetention")) };
    s.worlds.limit.fill(LIMIT_NAMES.indexOf("hubRetention"));
    s.worlds.state.fill(0);
    for (let w = 0; w < 16; w++) s.worlds.limit[w] = LIMIT_NAMES.indexOf("armYield");
    for (let w = 0; w < 8; w++) s.worlds.state[w] = WORLD.leftLifted;
    for (let w = 60; w < 64; w++) s.worlds.state[w] = WORLD.noPosition;
    expect(reasonsOfSafe(s).map((r) => ("limit" in r ? [r.kind, r.limit, r.chance.chance] : [r.kind]))).toEqual([["takesOver", "armYield", 0.25]]);
    expect(reasonsAtLoad(s).map((r) => ("chance" in r ? [r.kind, r.chance.chance] : [r.kind]))).toEqual([
      ["ends", 4 / 64],
      ["lifts", 8 / 64],
    ]);
  });
});

function solvedPoint(b: ReturnType<typeof buildBench>) {
  if (!b.rest.ok) throw new Error(b.rest.reason.message);
  const r = solveLoad(b, load);
  if (!r.ok) throw new Error(r.reason.message);
  return { bench: b, load, q: r.q, speedMps, shock: 1, leaveOut: ["armBuckling" as const, "fit" as const] };
}

describe("the chance that anything gives", () => {
  it("counts a car without a steady position, and one that passes a limit that counts; a caution alone does not", () => {
    const keys = ["limit.hubRetention.right.utilization", "limit.armSet.right.utilization"] as const;
    const some = (values: readonly number[], state: readonly number[]) => ({
      lateralG: new Float64Array(0),
      limit: new Uint8Array(0),
      values: Float64Array.from(values),
      state: Uint8Array.from(state),
    });
    const none = Number.NaN;
    const told = tellSamples({
      count: 4,
      seed: 1,
      design: some([0.5, 0.5], [0]),
      done: new Uint8Array(4).fill(1),
      // no position; the hub gives; a caution only; nothing
      worlds: some([none, none, 1, 0.5, 0.9, 1.2, 0.4, 0.4], [WORLD.noPosition, 0, 0, 0]),
      drawnNearer: 0,
      radiiM: [],
      keys,
      failures: ["hubRetention"],
    })!.at!;
    expect([told.any.chance, told.noPosition.chance]).toEqual([0.5, 0.25]);
    expect(told.passed.map((p) => [p.limit, p.caution, p.chance.chance])).toEqual([
      ["hubRetention", false, 0.25],
      ["armSet", true, 0.25],
    ]);
  });
});
