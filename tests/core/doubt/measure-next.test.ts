import { describe, expect, it } from "vitest";
import { buildBench } from "../../../src/core/analyze.ts";
import { BENCH_TESTS } from "../../../src/core/bench/definitions.ts";
import { splitPath, withValueAt } from "../../../src/core/design/field-path.ts";
import { withOrigins } from "../../../src/core/design/origins.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import { type UncertainInputs, uncertainInputs } from "../../../src/core/doubt/inputs.ts";
import { type MeasureNext, measureNext } from "../../../src/core/doubt/measure-next.ts";
import { safeDerivatives } from "../../../src/core/doubt/safe-order.ts";
import { toTheEnd } from "../../../src/core/steps.ts";
import { rangeOf } from "../../../src/scenario/ranges.ts";
import { expectRel } from "../../support/close.ts";
import { guessed } from "../../support/guessed.ts";
import { shipped } from "../../support/shipped.ts";

const inputsOf = (s: Scenario): UncertainInputs => uncertainInputs(s, rangeOf, { drive: false });
function whole(s: Scenario): { inputs: UncertainInputs; by: readonly (number | null)[]; next: MeasureNext } {
  const inputs = inputsOf(s);
  const by = toTheEnd(safeDerivatives(buildBench(s), inputs, 6))!.by!;
  return { inputs, by, next: measureNext(inputs, by) };
}

const car = guessed(shipped("heavy-straight.json"));
const { inputs, by, next } = whole(car);

describe("what to measure next", () => {
  it("is ranked by how much narrower the band becomes", () => {
    expect(next.rows.length).toBeGreaterThan(3);
    for (const [i, row] of next.rows.entries()) {
      if (i > 0) expect(row.narrower).toBeLessThanOrEqual(next.rows[i - 1]!.narrower);
      expectRel(row.narrower, 1 - row.bandSd / next.bandSd, 1e-12, row.test);
      expect(row.minutes).toBeGreaterThan(0);
    }
    // the hub gives first: how hard it holds and how far it tilts are what the speed hangs on
    expect(next.rows[0]!.test).toBe("hubPullOff");
  });

  it("does not tell of a number that the speed hangs on but that is known already", () => {
    const known = withOrigins(car, { "corner.hub.retention.capacityN": { how: "measured", plusMinus: 1 } });
    const rows = measureNext(inputsOf(known), by).rows;
    expect(rows.map((r) => r.test)).not.toContain("hubPullOff");
  });

  it("foretells the band that there is once it was measured so well, and then tells what that has bought", () => {
    const row = next.rows[0]!;
    const measured = withOrigins(car, Object.fromEntries(row.inputs.map((u) => [u.key, { how: "measured" as const, plusMinus: u.sdAfter }])));
    const after = whole(measured);
    expectRel(after.next.bandSd, row.bandSd, 1e-6, "deviation of the safe speed, m/s");
    expect(after.next.rows.map((r) => r.test)).not.toContain(row.test);
    const bought = after.next.bought.find((b) => b.key === row.inputs[0]!.key)!;
    // alone in its test: before it the band was what it is in the car that is guessed
    expect(row.inputs.length).toBe(1);
    expectRel(bought.bandSdBefore, next.bandSd, 1e-6, "before, m/s");
    expectRel(bought.bandSdNow, row.bandSd, 1e-6, "now, m/s");
    expectRel(bought.sdAsGuess, row.inputs[0]!.sdNow, 1e-9, "± of the guess");
  });

  it("counts a test that measures two values once, and tells each alone", () => {
    // both make one half of the variance, and nothing else is in doubt
    const keys = ["corner.hub.tiltStiffnessNmmPerDeg", "corner.hub.tiltPlayDeg"];
    const { rows, bandSd } = measureNext(
      inputs,
      inputs.list.map((u) => (keys.includes(u.key) ? 1 / u.sd : 0)),
    );
    expectRel(bandSd, Math.SQRT2, 1e-12, "band");
    expect(rows.map((r) => r.test)).toEqual(["wheelTilt"]);
    const [tilt] = rows;
    expect(tilt!.inputs.map((u) => u.key)).toEqual(keys);
    // from what such parts scatter by, 30 % and half of the play, to what the test reaches
    const reach = BENCH_TESTS.wheelTilt.reach(car, "both");
    const { hub } = car.corner;
    const [stiffness, play] = [reach[keys[0]!]! / (0.3 * hub.tiltStiffnessNmmPerDeg), reach[keys[1]!]! / (0.5 * hub.tiltPlayDeg)];
    expectRel(tilt!.bandSd, Math.sqrt(stiffness ** 2 + play ** 2), 1e-9, "after the test");
    expectRel(tilt!.inputs[0]!.bandSdAlone, Math.sqrt(stiffness ** 2 + 1), 1e-9, "the stiffness alone");
    expectRel(tilt!.inputs[1]!.bandSdAlone, Math.sqrt(1 + play ** 2), 1e-9, "the play alone");
    expectRel(tilt!.share, 1, 1e-12, "part of the variance");
  });

  it("tells what no test takes away", () => {
    const tested = new Set(next.rows.flatMap((r) => r.inputs.map((u) => u.key)));
    for (const row of next.beyondTests) expect(tested).not.toContain(row.key);
  });

  it("has a material that is known by its name measured by hanging an arm", () => {
    // the arms alone are in doubt, and the spring that they carry
    const steps = inputs.list.map((u) => (u.key === "material.abs.youngMPa" ? 1e-3 : 0));
    const { rows } = measureNext(inputs, steps);
    // hung up and down, or pulled along the road; once for both arms, which are of the same stuff
    expect(rows.map((r) => r.test)).toEqual(["armHang", "armAlongRoad"]);
    for (const row of rows) {
      expect(row.inputs.map((u) => u.key)).toEqual(["material.abs.youngMPa"]);
      // from 15 % to what the test reaches
      const [reach] = Object.values(BENCH_TESTS[row.test].reach(car, "both"));
      expectRel(row.narrower, 1 - reach! / (0.15 * 2200), 1e-9, "narrower");
    }
  });

  it("has a test for each joint, and for each side that has values of its own", () => {
    const own = withOrigins(withValueAt(car, splitPath("left.spring.rateNPerMm"), 2.6), { "left.spring.rateNPerMm": { how: "guess" } });
    const list = inputsOf(own);
    const all = list.list.map((u) => 1 / u.sd);
    const { rows } = measureNext(list, all);
    expect(
      rows
        .filter((r) => r.test === "pinPlay")
        .map((r) => r.inputs[0]!.key)
        .sort(),
    ).toEqual([
      "corner.joints.lowerInner.clearanceMm",
      "corner.joints.lowerOuter.clearanceMm",
      "corner.joints.upperInner.clearanceMm",
      "corner.joints.upperOuter.clearanceMm",
    ]);
    const springs = rows.filter((r) => r.test === "springPress");
    expect(springs.map((r) => r.side).sort()).toEqual(["both", "left"]);
    expect(springs.find((r) => r.side === "left")!.inputs.map((u) => u.key)).toEqual(["left.spring.rateNPerMm"]);
  });
});
