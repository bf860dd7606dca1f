import { describe, expect, it } from "vitest";
import { resolveMaterial } from "../../../src/core/arm/materials.ts";
import { ownMaterial } from "../../../src/core/arm/own-material.ts";
import { joinPath, splitPath, withValueAt } from "../../../src/core/design/field-path.ts";
import { withOrigins } from "../../../src/core/design/origins.ts";
import type { Material, Scenario } from "../../../src/core/design/types.ts";
import { spreadOf } from "../../../src/core/doubt/bands.ts";
import { correlated, correlationOfPairs } from "../../../src/core/doubt/correlation.ts";
import { type Uncertain, uncertainInputs, valueAtScore, withInputs } from "../../../src/core/doubt/inputs.ts";
import { createRandom } from "../../../src/core/numerics/random.ts";
import { strengthsOf } from "../../../src/core/runs/strengths.ts";
import { rangeOf } from "../../../src/scenario/ranges.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";

const car = shipped("heavy-straight.json");
const inputsOf = (s: Scenario) => uncertainInputs(s, rangeOf);
const keysOf = (s: Scenario): string[] => inputsOf(s).list.map((u) => u.key);
const input = (s: Scenario, key: string): Uncertain => {
  const found = inputsOf(s).list.find((u) => u.key === key);
  if (!found) throw new Error(`${key} is no uncertain input`);
  return found;
};
const set = (s: Scenario, path: string, value: unknown): Scenario => withValueAt(s, splitPath(path), value);

describe("what is uncertain", () => {
  it("is what the answer rests on, and not what is asked, counted, drawn or idle", () => {
    const keys = keysOf(car);
    for (const path of ["corner.spring.rateNPerMm", "body.cgHeightMm", "corner.hub.retention.capacityN", "corner.tyre.friction", "drive.stages[0].efficiency"])
      expect(keys).toContain(path);
    const asked =
      /^(limits|loadCases|tracks|fit)\b|holePitchMm$|^holePitch|count$|Teeth$|Wheels$|damping|shoulderRadiusMm|extraHoldN|spreadMm|stemShare|topSpeed/;
    expect(keys.filter((key) => asked.test(key) && !key.includes(".section."))).toEqual([]);
  });

  it("knows the strength of a metal to 8 % by its name, as an own material that is guessed, and before any run (from memory)", () => {
    const named = set(car, "corner.lowerArm.material", "aluminium");
    const { yieldMPa } = resolveMaterial("aluminium");
    expectRel(input(named, "material.aluminium.yieldMPa").sd, 0.08 * yieldMPa, 1e-12, "by its name");
    const path = "corner.lowerArm.material.yieldMPa";
    expectRel(strengthsOf(named).find((t) => t.path === path)!.sd, 0.08 * yieldMPa, 1e-12, "before runs");
    const own = withOrigins(set(car, "corner.lowerArm.material", ownMaterial("aluminium")), { [path]: { how: "guess" } });
    expectRel(input(own, path).sd, 0.08 * yieldMPa, 1e-12, "guessed");
  });

  it("leaves the drive out where nothing is pushed", () => {
    expect(uncertainInputs(car, rangeOf, { drive: false }).list.filter((u) => u.key.startsWith("drive."))).toEqual([]);
  });

  it("leaves out a shared value that both sides have of their own, and has both of theirs", () => {
    const one = set(car, "left.spring.rateNPerMm", 2.1);
    expect(keysOf(one)).toEqual(expect.arrayContaining(["corner.spring.rateNPerMm", "left.spring.rateNPerMm"]));
    const both = set(one, "right.spring.rateNPerMm", 2.2);
    const keys = keysOf(both).filter((key) => key.endsWith("spring.rateNPerMm"));
    expect(keys).toEqual(["left.spring.rateNPerMm", "right.spring.rateNPerMm"]);
  });

  it("counts the room along the road once it was measured", () => {
    expect(keysOf(car)).not.toContain("fit.alongRoadMm");
    expect(keysOf(set(car, "fit.alongRoadMm", 6))).toContain("fit.alongRoadMm");
  });

  it("has stiffness and strength of a material once, whatever is made of it", () => {
    const materials = inputsOf(car).list.filter((u) => u.how === "material");
    // abs: 2200 and 40 N/mm², 15 % and 20 % (the table of steps)
    expect(materials.map((u) => [u.key, u.value, u.sd, u.law])).toEqual([
      ["material.abs.youngMPa", 2200, 330, "normal"],
      ["material.abs.yieldMPa", 40, 8, "logNormal"],
    ]);
    const mixed = inputsOf(set(car, "right.upperArm.material", "aluminium")).list.filter((u) => u.how === "material");
    expect(mixed.map((u) => u.key)).toEqual(["material.abs.youngMPa", "material.abs.yieldMPa", "material.aluminium.youngMPa", "material.aluminium.yieldMPa"]);
  });
});

describe("how far it is off", () => {
  const path = "corner.spring.rateNPerMm";

  it("is its rounding where it was entered, its scatter where it was guessed, its own ± where it has one", () => {
    expectRel(input(car, path).sd, 0.05 / Math.sqrt(3), 1e-12, "entered 2.4 N/mm");
    expect(input(car, path).how).toBe("entered");
    const guess = withOrigins(car, { [path]: { how: "guess" } });
    // a tenth, what springs of one bag scatter by (common practice, no source)
    expectRel(input(guess, path).sd, 0.24, 1e-12, "guessed 2.4 N/mm");
    for (const how of ["guess", "entered", "measured"] as const) {
      const told = withOrigins(car, { [path]: { how, plusMinus: 0.31 } });
      expect([input(told, path).how, input(told, path).sd]).toEqual([how, 0.31]);
    }
  });

  it("is nothing where the ± that was told is nothing", () => {
    expect(keysOf(withOrigins(car, { [path]: { how: "measured", plusMinus: 0 } }))).not.toContain(path);
  });
});

describe("the spread of an input", () => {
  const stiffness = input(withOrigins(car, { "corner.hub.tiltStiffnessNmmPerDeg": { how: "guess" } }), "corner.hub.tiltStiffnessNmmPerDeg");

  it("is log-normal with the mean and the deviation that were told, where it is wide and cannot be negative", () => {
    expect(stiffness.law).toBe("logNormal");
    // moments by Simpson's rule over the scores
    const n = 4000;
    let [sum, squares] = [0, 0];
    for (let i = 0; i <= n; i++) {
      const z = -10 + (20 * i) / n;
      const w = ((i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2) * (20 / n)) / 3;
      const p = (w * Math.exp(-(z * z) / 2)) / Math.sqrt(2 * Math.PI);
      const v = valueAtScore({ ...stiffness, max: Number.MAX_VALUE }, z);
      sum += p * v;
      squares += p * v * v;
    }
    expectRel(sum, stiffness.value, 1e-9, "mean, N·mm/°");
    expectRel(Math.sqrt(squares - sum * sum), stiffness.sd, 1e-6, "standard deviation, N·mm/°");
    expect(valueAtScore(stiffness, -8)).toBeGreaterThan(0);
  });

  it("is normal where it is narrow, and stays within the range of its field", () => {
    const mass = input(withOrigins(car, { "body.carMassKg": { how: "guess" } }), "body.carMassKg");
    expect(mass.law).toBe("normal");
    expectRel(valueAtScore(mass, 1.5), mass.value + 1.5 * mass.sd, 1e-12, "one and a half deviations up, kg");
    const range = rangeOf("body.carMassKg", car)!;
    expect(valueAtScore(mass, 1e6)).toBe(range.max);
    expect(valueAtScore(mass, -1e6)).toBe(range.min);
  });
});

describe("a design at other values of its inputs", () => {
  it("is the design itself with nothing moved, and every input moves what its key says, nothing else", () => {
    for (const file of SHIPPED) {
      const s = shipped(file);
      const inputs = inputsOf(s);
      expect(withInputs(inputs, new Map())).toBe(s);
      for (const [i, u] of inputs.list.entries()) {
        const moved = withInputs(inputs, new Map([[i, u.value * 1.01]]));
        if (u.how === "material") continue;
        expect(moved, u.key).toEqual(set(s, joinPath(splitPath(u.key)), u.value * 1.01));
      }
    }
  });

  it("has another stiffness and strength in every arm of a material, and keeps its shear modulus where that is its own", () => {
    const s = set(set(car, "corner.upperArm.material", "carbonRod"), "left.lowerArm.material", "carbonRod");
    const inputs = inputsOf(s);
    const at = (key: string) => inputs.list.findIndex((u) => u.key === key);
    const moved = withInputs(
      inputs,
      new Map([
        [at("material.carbonRod.youngMPa"), 120_000],
        [at("material.carbonRod.yieldMPa"), 1400],
      ]),
    );
    for (const m of [moved.corner.upperArm.material, moved.left.lowerArm!.material!] as (Material & { shearMPa?: number })[])
      expect([m.youngMPa, m.yieldMPa, m.shearMPa]).toEqual([120_000, 1400, 4400]);
    expect(moved.corner.lowerArm.material).toBe("abs");
  });
});

describe("correlated inputs", () => {
  const [rate, play] = ["corner.hub.tiltStiffnessNmmPerDeg", "corner.hub.tiltPlayDeg"] as const;
  const both = (r: number, back: Record<string, number>): Scenario =>
    withOrigins(car, {
      [rate]: { how: "measured", plusMinus: 20, together: { [play]: r } },
      [play]: { how: "measured", plusMinus: 0.1, together: back },
    });

  it("hold only while both list each other with the same number", () => {
    expect(inputsOf(both(-0.6, { [rate]: -0.6 })).correlation.pairs.map((p) => p.r)).toEqual([-0.6]);
    expect(inputsOf(both(-0.6, {})).correlation.pairs).toEqual([]);
    expect(inputsOf(both(-0.6, { [rate]: -0.5 })).correlation.pairs).toEqual([]);
    expect(inputsOf(withOrigins(both(-0.6, { [rate]: -0.6 }), { [play]: null })).correlation.pairs).toEqual([]);
  });

  it("that go wholly together do: one test of both sides, which have values of their own, moves them as one", () => {
    const scores = (r: number): number[] => {
      const out = new Float64Array(2);
      correlated(correlationOfPairs([{ a: 0, b: 1, r }]), [0.7, -1.3], out);
      return [...out];
    };
    expect(scores(1)).toEqual([0.7, 0.7]);
    expect(scores(-1)).toEqual([0.7, -0.7]);
    // stiffness and play, left and right: by hand the right ones are the left ones again
    const both = correlationOfPairs([
      { a: 0, b: 1, r: -0.6 },
      { a: 0, b: 2, r: 1 },
      { a: 0, b: 3, r: -0.6 },
      { a: 1, b: 2, r: -0.6 },
      { a: 1, b: 3, r: 1 },
      { a: 2, b: 3, r: -0.6 },
    ]);
    const out = new Float64Array(4);
    correlated(both, [0.5, 2, -1, 3], out);
    // -0.6·0.5 + 0.8·2 = 1.3
    for (const [i, v] of [0.5, 1.3, 0.5, 1.3].entries()) expectAbs(out[i]!, v, 1e-9, `score ${i}`);
    // first order: what moves both alike adds up, 3 + 4, and takes off with the other sign
    const pair = { ...inputsOf(car), list: [3, 4].map((sd) => ({ ...inputsOf(car).list[0]!, sd })) };
    const sd = (r: number): number => spreadOf({ ...pair, correlation: correlationOfPairs([{ a: 0, b: 1, r }]) }, () => 1).sd;
    expectAbs(sd(1), 7, 1e-9, "together");
    expectAbs(sd(-1), 1, 1e-9, "against each other");
  });

  it("that contradict each other are eased, and leave those of another test as they were told", () => {
    const { pairs } = correlationOfPairs([
      { a: 0, b: 1, r: 0.9 },
      { a: 4, b: 5, r: -0.8 },
      { a: 1, b: 2, r: 0.9 },
      { a: 0, b: 2, r: -0.9 },
    ]);
    const r = (a: number, b: number): number => pairs.find((p) => p.a === a && p.b === b)!.r;
    expect(r(4, 5)).toBe(-0.8);
    // three of |r| with one sign against the others hold together up to 1/2: 0.9·0.95¹² = 0.486 is the first below
    expectRel(r(0, 1), 0.48632, 1e-4, "eased");
    expect(r(0, 2)).toBeCloseTo(-r(0, 1), 12);
  });

  it("have scores of that correlation, each still of deviation 1, and leave all others alone", () => {
    const { list, correlation } = inputsOf(both(-0.6, { [rate]: -0.6 }));
    const [a, b] = [list.findIndex((u) => u.key === rate), list.findIndex((u) => u.key === play)];
    const scores = Float64Array.from(list, (_, i) => 0.1 * i);
    const out = new Float64Array(list.length);
    correlated(correlation, scores, out);
    // Cholesky's factor of [[1, -0.6], [-0.6, 1]] by hand: second row -0.6, 0.8
    const [first, second] = a < b ? [a, b] : [b, a];
    expectAbs(out[second]!, -0.6 * scores[first]! + 0.8 * scores[second]!, 1e-12, "score");
    for (const i of scores.keys()) if (i !== second) expect(out[i]).toBe(scores[i]);
  });

  it("of four that one test gave come out as they were told", () => {
    const keys = [rate, play, "body.cgHeightMm", "corner.spring.rateNPerMm"];
    const told = [
      [1, 0.5, -0.3, 0.1],
      [0.5, 1, 0.2, -0.4],
      [-0.3, 0.2, 1, 0.3],
      [0.1, -0.4, 0.3, 1],
    ];
    const origins = Object.fromEntries(
      keys.map((key, i) => [
        key,
        { how: "measured" as const, plusMinus: 0.01, together: Object.fromEntries(keys.flatMap((k, j) => (j === i ? [] : [[k, told[i]![j]!]]))) },
      ]),
    );
    const { list, correlation } = inputsOf(withOrigins(car, origins));
    const at = keys.map((key) => list.findIndex((u) => u.key === key));
    const random = createRandom(3);
    const n = 10_000;
    const sums = told.map((row) => row.map(() => 0));
    const out = new Float64Array(list.length);
    const scores = new Float64Array(list.length);
    for (let k = 0; k < n; k++) {
      for (const i of at) scores[i] = random.normal();
      correlated(correlation, scores, out);
      at.forEach((a, i) => at.forEach((b, j) => (sums[i]![j]! += (out[a]! * out[b]!) / n)));
    }
    // the error of a sampled correlation is 1/√n = 0.01
    for (const [i, row] of told.entries()) for (const [j, r] of row.entries()) expectAbs(sums[i]![j]!, r, 0.04, `${i}, ${j}`);
  });

  it("that contradict each other are eased until they can hold together", () => {
    const keys = [rate, play, "body.cgHeightMm"];
    // a goes with b, b with c, but a against c: no three numbers do that so strongly
    const r = [
      [1, 0.9, -0.9],
      [0.9, 1, 0.9],
      [-0.9, 0.9, 1],
    ];
    const origins = Object.fromEntries(
      keys.map((key, i) => [
        key,
        { how: "measured" as const, plusMinus: 0.01, together: Object.fromEntries(keys.flatMap((k, j) => (j === i ? [] : [[k, r[i]![j]!]]))) },
      ]),
    );
    const { pairs } = inputsOf(withOrigins(car, origins)).correlation;
    // such a matrix is positive definite below one half
    expect(pairs.map((p) => Math.abs(p.r)).every((v) => v < 0.5 && v > 0.45)).toBe(true);
  });
});
