import { describe, expect, it } from "vitest";
import { buildBench } from "../../../src/core/analyze.ts";
import { splitPath, withValueAt } from "../../../src/core/design/field-path.ts";
import { withOrigins } from "../../../src/core/design/origins.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import { uncertainInputs, valueAtScore } from "../../../src/core/doubt/inputs.ts";
import { mergePaired, type PairedQuestion, pairedInputs, samplePaired, tellPaired } from "../../../src/core/doubt/paired.ts";
import type { Samples } from "../../../src/core/doubt/sample.ts";
import { tellSamples } from "../../../src/core/doubt/told.ts";
import { designOf, drawWorlds } from "../../../src/core/doubt/worlds.ts";
import { normalCdf } from "../../../src/core/numerics/distributions.ts";
import { toTheEnd } from "../../../src/core/steps.ts";
import { safeSpeedOf } from "../../../src/core/studies/safe-speed.ts";
import { rangeOf } from "../../../src/scenario/ranges.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { guessed } from "../../support/guessed.ts";
import { plainInputs } from "../../support/plain-inputs.ts";
import { shipped } from "../../support/shipped.ts";

const set = (s: Scenario, path: string, value: number): Scenario => withValueAt(s, splitPath(path), value);
const path = "corner.hub.retention.capacityN";
/** how hard its lip holds was measured, nothing else */
const a = withOrigins(guessed(shipped("heavy-straight.json")), { [path]: { how: "measured", plusMinus: 1 } });
/** a lip that holds 6 N more: what that is worth is far within the doubt of either speed */
const b = withOrigins(set(a, path, 91), { [path]: { how: "measured", plusMinus: 1 } });
const question = (o: Partial<PairedQuestion> = {}): PairedQuestion => ({
  a,
  b,
  samples: 24,
  seed: 5,
  curve: { radiusM: 6, overM: null, options: {} },
  at: { load: { lateralG: 0.4, bumpLeftMm: 0, bumpRightMm: 0 }, speedMps: 4.85, shock: 1 },
  ...o,
});
const inputsOf = (s: Scenario) => uncertainInputs(s, rangeOf, { drive: false });

describe("inputs of two designs", () => {
  it("are shared where the same value is known in the same way", () => {
    const { shared, both, placeOfB } = pairedInputs(inputsOf(a), inputsOf(b));
    const keys = inputsOf(a).list.map((u) => u.key);
    expect(shared).toBe(keys.length - 1);
    expect(both.list.length).toBe(keys.length + 1);
    expect(both.list.at(-1)!.key).toBe(path);
    expect(placeOfB.filter((at, i) => at !== i)).toEqual([keys.length]);
  });

  it("are not where only the note tells two parts apart", () => {
    const of = (note: string): Scenario => withOrigins(a, { [path]: { how: "measured", plusMinus: 1, note } });
    expect(pairedInputs(inputsOf(of("old")), inputsOf(of("old"))).shared).toBe(inputsOf(a).list.length);
    expect(pairedInputs(inputsOf(of("old")), inputsOf(of("new"))).shared).toBe(inputsOf(a).list.length - 1);
  });

  it("give the chance that B is better as the closed form has it", () => {
    // A = x + y, B = x + z: x ± 3 is shared, y 10 ± 1 and z 10.7 ± 1.2 are not; B - A is normal with mean 0.7 and deviation √(1 + 1.44)
    const one = plainInputs([
      { value: 5, sd: 3 },
      { value: 10, sd: 1 },
    ]);
    const two = plainInputs([
      { value: 5, sd: 3 },
      { value: 10.7, sd: 1.2 },
    ]);
    const paired = pairedInputs(one, two);
    expect(paired.shared).toBe(1);
    const worlds = drawWorlds(paired.both, 2048, 1);
    let better = 0;
    for (let w = 0; w < 2048; w++) {
      const scores = worlds.scores(w);
      const sumA = one.list.reduce((sum, u, i) => sum + valueAtScore(u, scores[i]!), 0);
      const sumB = two.list.reduce((sum, u, i) => sum + valueAtScore(u, scores[paired.placeOfB[i]!]!), 0);
      if (sumB > sumA) better++;
    }
    expectAbs(better / 2048, normalCdf(0.7 / Math.sqrt(2.44)), 0.01, "chance");
  });
});

describe("two designs in the same worlds", () => {
  const whole = toTheEnd(samplePaired(question(), rangeOf))!;
  const told = tellPaired(whole)!;

  it("are those that solving both by themselves tells, world by world", () => {
    const [ia, ib] = [inputsOf(a), inputsOf(b)];
    const paired = pairedInputs(ia, ib);
    const worlds = drawWorlds(paired.both, 24, 5);
    for (let w = 0; w < 5; w++) {
      const scores = worlds.scores(w);
      const carA = designOf(ia, scores.subarray(0, ia.list.length)).scenario;
      const carB = designOf(
        ib,
        Float64Array.from(paired.placeOfB, (i) => scores[i]!),
      ).scenario;
      // the parts that both share are the same parts
      expect([carB.corner.spring, carB.corner.tyre, carB.body]).toEqual([carA.corner.spring, carA.corner.tyre, carA.body]);
      expect(carB.corner.hub.retention).not.toEqual(carA.corner.hub.retention);
      expectAbs(whole.a.worlds.lateralG[w]!, safeSpeedOf(buildBench(carA), 6).lateralG, 1e-3, "A, g");
      expectAbs(whole.b.worlds.lateralG[w]!, safeSpeedOf(buildBench(carB), 6).lateralG, 1e-3, "B, g");
    }
    const faster = [...Array(24).keys()].filter((w) => whole.b.worlds.lateralG[w]! > whole.a.worlds.lateralG[w]! + 1e-3).length;
    expectAbs(told.safe!.better.chance, faster / 24, 1 / 24, "chance that B is faster");
  });

  it("show a small gain that each by itself would drown in doubt", () => {
    const { safe } = told;
    // six newtons more, each known to one: 6/√2 deviations
    expect(safe!.better.chance).toBeGreaterThan(0.9);
    const alone = tellSamples(whole.a)!.safe!.band;
    expect(safe!.differenceMps.median).toBeLessThan(alone.sd);
    expect(safe!.differenceMps.sd).toBeLessThan(alone.sd / 4);
    expect(told.at!.limits.find((l) => l.limit === "hubRetention")!.better.chance).toBeGreaterThan(0.9);
    expect(told.at!.better.chance).toBeGreaterThan(0.9);
  });

  it("are alike where they are one design", () => {
    const same = tellPaired(toTheEnd(samplePaired(question({ b: a, samples: 4 }), rangeOf))!)!;
    expect([same.safe!.alike.chance, same.safe!.better.chance, same.at!.alike.chance]).toEqual([1, 0, 1]);
    expect([same.ownA, same.ownB]).toEqual([0, 0]);
  });

  it("are the same however the work is parted", () => {
    const parts = [0, 1, 2].map((index) => toTheEnd(samplePaired(question({ samples: 6 }), rangeOf, { index, of: 3 }))!);
    expect(tellPaired(mergePaired(parts))).toEqual(tellPaired(toTheEnd(samplePaired(question({ samples: 6 }), rangeOf))!));
  });

  it("change sides with the designs", () => {
    const back = tellPaired(toTheEnd(samplePaired(question({ a: b, b: a, samples: 12 }), rangeOf))!)!;
    expectRel(back.safe!.differenceMps.value, -told.safe!.differenceMps.value, 1e-6, "difference of the designs, m/s");
    expect(back.safe!.better.chance).toBeLessThan(0.1);
  });
});

describe("telling which is better", () => {
  const samples = (levels: readonly number[]): Samples => {
    const some = (values: readonly number[]) => ({
      lateralG: Float64Array.from(values),
      limit: new Uint8Array(values.length),
      values: new Float64Array(0),
      state: new Uint8Array(values.length),
    });
    const [design = 0, ...worlds] = levels;
    return {
      count: worlds.length,
      seed: 1,
      design: some([design]),
      done: new Uint8Array(worlds.length).fill(1),
      worlds: some(worlds),
      drawnNearer: 0,
      radiiM: [10],
      keys: [],
      failures: [],
    };
  };

  it("speeds within a thousandth are alike, neither better: 1.0005 g is 0.025 % faster than 1 g, 1.01 g is 0.5 %", () => {
    const told = tellPaired({ a: samples([1, 1, 1, 1, 1]), b: samples([1, 1.0005, 1.01, 0.99, 1]), shared: 0, ownA: 1, ownB: 1 })!;
    expect([told.safe!.better.chance, told.safe!.alike.chance]).toEqual([0.25, 0.5]);
    // by hand: 9.902853 m/s times -, 0, 0.000249969 and 0.004987562; 95 % of four lie 0.85 on from the third, 0.0024754, to the fourth, 0.0493911
    expectAbs(told.safe!.differenceMps.high, 0.0423537, 1e-6, "upper end, m/s");
  });

  it("a design against itself is never better, and alike in all", () => {
    const told = tellPaired({ a: samples([1, 0.9, 1.1]), b: samples([1, 0.9, 1.1]), shared: 1, ownA: 0, ownB: 0 })!;
    expect([told.safe!.better.chance, told.safe!.alike.chance]).toEqual([0, 1]);
  });
});
