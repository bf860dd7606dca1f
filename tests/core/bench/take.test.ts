import { describe, expect, it } from "vitest";
import { BENCH_TESTS, newBenchTest } from "../../../src/core/bench/definitions.ts";
import { fitBench, takeFit } from "../../../src/core/bench/fit.ts";
import { withSetting } from "../../../src/core/bench/set-up.ts";
import { withOrigins } from "../../../src/core/design/origins.ts";
import { cornerOf } from "../../../src/core/design/sides.ts";
import { BENCH_KINDS, type BenchTest } from "../../../src/core/design/tried.ts";
import type { Material, Scenario } from "../../../src/core/design/types.ts";
import { uncertainInputs } from "../../../src/core/doubt/inputs.ts";
import { createRandom } from "../../../src/core/numerics/random.ts";
import { parseScenario } from "../../../src/scenario/parse.ts";
import { rangeOf } from "../../../src/scenario/ranges.ts";
import { formatScenario } from "../../../src/scenario/write.ts";
import { gate } from "../../../src/state/gate.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";
import { typed } from "./typed.ts";
import { testOf, worlds } from "./worlds.ts";

const forked = shipped("heavy-forked.json");
const DAY = "2026-11-26";
const take = (s: Scenario, test: BenchTest): Scenario => takeFit(s, test, fitBench(s, test), DAY);
const springRows = [0, 500, 1000, 1500].map((g) => [g, 66 - (g * 0.00980665) / 2.5]);

describe("what a test told goes into the design", () => {
  it("each value as measured: rounded to what its ± is worth, with ±, day, note and what it is correlated with", () => {
    const after = take(forked, typed(forked, "springPress", springRows, { packingMm: 1, rulerMm: 0.5 }));
    expect([after.corner.spring.rateNPerMm, after.corner.spring.freeLengthMm]).toEqual([2.5, 65]);
    // four readings of 0.5 mm steps: 0.144338 mm; give by 0.144338/10.9642 N over four loads: root of Σ(x - mean)² = 10.9642
    const own = after.origins["corner.spring.rateNPerMm"]!;
    expect(own).toEqual({
      how: "measured",
      plusMinus: 0.082,
      date: DAY,
      note: "bench: spring pressed on a scale",
      // of a line's slope and zero: -mean/√(Σx²/n) = -7.355/√(84.15) = -0.8018; the rate falls as the give grows
      together: { "corner.spring.freeLengthMm": -0.8018 },
    });
    expect(after.origins["corner.spring.freeLengthMm"]!.together).toEqual({ "corner.spring.rateNPerMm": -0.8018 });
    expect(gate({ a: after, b: after, load: { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 } } as Parameters<typeof gate>[0])).toBeNull();
  });

  it("the test's own day comes before today", () => {
    const after = take(forked, { ...typed(forked, "springPress", springRows), date: "2026-10-01" });
    expect(after.origins["corner.spring.rateNPerMm"]!.date).toBe("2026-10-01");
  });

  it("of one side: it gets a value of its own, the other side stays", () => {
    const after = take(forked, typed(forked, "springPress", springRows, { packingMm: 1 }, "left"));
    expect(cornerOf(after, "left").spring.rateNPerMm).toBe(2.5);
    expect(cornerOf(after, "right").spring.rateNPerMm).toBe(2.4);
    expect(Object.keys(after.origins).filter((p) => after.origins[p]!.how === "measured")).toEqual(["left.spring.rateNPerMm", "left.spring.freeLengthMm"]);
    expect(after.origins["left.spring.rateNPerMm"]!.together).toEqual({ "left.spring.freeLengthMm": -0.8018 });
  });

  it("of both sides, one of which has its own already: both get it, wherever it stands", () => {
    const own: Scenario = { ...forked, left: { spring: { rateNPerMm: 3 } } };
    const after = take(own, typed(own, "springPress", springRows, { packingMm: 1 }));
    expect([cornerOf(after, "left").spring.rateNPerMm, cornerOf(after, "right").spring.rateNPerMm]).toEqual([2.5, 2.5]);
    for (const path of Object.keys(after.origins)) expect(after.origins[path]!.together ?? {}).not.toHaveProperty([path]);
    expect(parseScenario(formatScenario(after), "car.json").ok).toBe(true);
  });

  it("a named material becomes the design's own, the rest of it known as the name was", () => {
    const guessed = withOrigins(forked, { "corner.lowerArm.material": { how: "guess", note: "shelf: bar" } });
    const rows = [0, 100, 200, 300].map((g) => [g, 10 + g / 100]);
    const after = take(guessed, typed(guessed, "armHang", rows, { held: "vice" }));
    const material = after.corner.lowerArm.material as Material;
    expect(material).toMatchObject({ name: "own ABS", poisson: 0.37, yieldMPa: 40, plastic: true });
    expect(after.corner.upperArm.material).toBe("abs");
    expect(after.origins["corner.lowerArm.material.youngMPa"]).toMatchObject({ how: "measured", note: "bench: arm hung with weights" });
    expect(after.origins["corner.lowerArm.material.yieldMPa"]).toEqual({ how: "guess", note: "shelf: bar" });
    expect(after.origins["corner.lowerArm.material"]).toBeUndefined();
    // and the model that takes it gives the readings back: the fit finds the same again
    const again = fitBench(after, typed(after, "armHang", rows, { held: "vice" })).results[0]!;
    expect(Math.abs(again.value - material.youngMPa)).toBeLessThan(again.sd / 50);
  });

  it("the strength of a material whose stiffness was measured stays as unsure as it was: nobody tested it", () => {
    // the table's ABS, 40 N/mm² and a fifth of that one standard deviation (common practice, no source), by its name and as an own material
    const rows = [0, 100, 200, 300].map((g) => [g, 10 + g / 100]);
    const after = take(forked, typed(forked, "armHang", rows, { held: "vice" }));
    const sd = (s: Scenario, key: string): number | undefined => uncertainInputs(s, rangeOf).list.find((u) => u.key === key)?.sd;
    expect(sd(forked, "material.abs.yieldMPa")).toBe(8);
    expect(sd(after, "corner.lowerArm.material.yieldMPa")).toBe(8);
    expect(sd(after, "material.abs.yieldMPa")).toBe(8);
    expect(gate({ a: after, b: after, load: { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 } } as Parameters<typeof gate>[0])).toBeNull();
  });

  it("a test that tells nothing leaves the design as it is", () => {
    expect(take(forked, typed(forked, "springPress", [["x", "y"]]))).toBe(forked);
  });

  it.each(worlds(forked))("$kind: what is taken can be written, read back, and stands at the paths that the test promises", (w) => {
    const test = testOf(w, createRandom(7));
    const after = take(w.design, test);
    const read = parseScenario(formatScenario(after), "car.json");
    expect(read.ok ? [] : read.problems.map((p) => p.message)).toEqual([]);
    const measured = Object.keys(after.origins).filter((p) => after.origins[p]!.note?.startsWith("bench: "));
    expect(measured.sort()).toEqual([...BENCH_TESTS[w.kind].paths(w.design, "both", test)].sort());
  });
});

describe("what each test is", () => {
  it.each(BENCH_KINDS)("%s has steps, a caution, settings within a file's room, and reaches what it promises", (kind) => {
    const d = BENCH_TESTS[kind];
    expect(d.steps.length).toBeGreaterThanOrEqual(3);
    for (const text of [d.tells, d.watch, d.caution, ...d.steps]) expect(text).toMatch(/\.$/);
    expect(d.settings.length).toBeLessThanOrEqual(12);
    for (const file of SHIPPED) {
      const s = shipped(file);
      const test = newBenchTest(s, kind);
      for (const o of d.settings) {
        const value = test.setUp[o.key]!;
        if (o.options) expect(Object.keys(o.options)).toContain(value);
        else expect(value as number, `${file}: ${o.key}`).toSatisfy((v: number) => v >= o.min! && v <= o.max!);
      }
      for (const [path, sd] of Object.entries(d.reach(s, "both"))) {
        expect(d.paths(s, "both", test), file).toContain(path);
        expect(sd, `${file}: ${path}`).toBeGreaterThan(0);
      }
      expect(Object.keys(d.reach(s, "both")).length, file).toBeGreaterThan(0);
    }
  });

  it("another arm brings its own length along, unless another one was told", () => {
    const test = newBenchTest(forked, "armHang");
    // upper arm of the car: 64.12 mm, lower: 72.11 mm (its pins' distance)
    expect(test.setUp["lengthMm"]).toBe(72.1);
    expect(withSetting(forked, test, "arm", "upper").setUp["lengthMm"]).toBe(64.1);
    expect(withSetting(forked, { ...test, setUp: { ...test.setUp, lengthMm: 90 } }, "arm", "upper").setUp["lengthMm"]).toBe(90);
  });
});
