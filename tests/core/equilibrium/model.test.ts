import { describe, expect, it } from "vitest";
import type { Scenario } from "../../../src/core/design/types.ts";
import { buildAxle } from "../../../src/core/equilibrium/model.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";

/** Numbers of the file against what the solver is given, worked out by hand. */
const file = (change: (s: Scenario) => void = () => {}): Scenario => {
  const s = structuredClone(shipped("heavy-forked.json"));
  change(s);
  return s;
};

describe("a joint", () => {
  it("gives as pin, hole and mount one after the other: 2000, 1200 and 800 N/mm make 387.097 N/mm", () => {
    const s = file((f) => {
      f.corner.joints.lowerInner = { clearanceMm: 0.1, pinNPerMm: 2000, holeNPerMm: 1200, mountNPerMm: 800, pullOutN: 60 };
    });
    // 1/(0.0005 + 0.000833333 + 0.00125)
    for (const c of buildAxle(s).corners) expectRel(c.joints.lowerInner.k, 387.096774, 1e-8, "N/mm");
  });
});

describe("a tread of 40 mm crown", () => {
  it("falls away from the middle as the circle does: 0.2005 mm at 4 mm", () => {
    const s = file((f) => {
      f.corner.tyre.crownRadiusMm = 40;
    });
    const sagitta = 40 - Math.sqrt(40 ** 2 - 4 ** 2);
    for (const c of buildAxle(s).corners) expectAbs(c.tyre.crown * 4 ** 2, sagitta, 1e-3, "mm");
  });

  it("is flat where the file gives no crown", () => {
    for (const c of buildAxle(file()).corners) expect(c.tyre.crown).toBe(0);
  });
});

describe("masses, spring and hub of the file", () => {
  const model = buildAxle(file());

  it("weigh by 9.80665 m/s²", () => {
    expectRel(model.bodyWeight, 2.2 * 9.80665, 1e-12, "body, N");
    for (const c of model.corners) {
      expectRel(c.wheelWeight, 0.22 * 9.80665, 1e-12, "wheel, N");
      expectRel(c.hubWeight, 0.13 * 9.80665, 1e-12, "rest of the unsprung mass, N");
    }
    expectRel(model.totalWeight, 2.9 * 9.80665, 1e-12, "all, N");
  });

  it("stand on their own side: right to the right, bearing inboard of the wheel, static camber with the top outwards", () => {
    const [left, right] = model.corners;
    expect([left.centre, right.centre]).toEqual([
      [-152, 48],
      [152, 48],
    ]);
    expect(left.bearingLever[0]).toBeGreaterThan(0);
    expect(right.bearingLever[0]).toBeLessThan(0);
    // 0.5°, top outwards: the right wheel's top to the right is clockwise
    expectRel(right.staticTurn, (-0.5 * Math.PI) / 180, 1e-12, "rad");
    expectRel(left.staticTurn, (0.5 * Math.PI) / 180, 1e-12, "rad");
  });

  it("have the file's rates, in radians and over the tread's width", () => {
    const c = model.corners[1];
    expectRel(c.bearing.k, 14896.902674, 1e-9, "260 N·mm/° in N·mm/rad");
    expectRel(c.bearing.play, 0.0087266463, 1e-8, "0.5° of play in rad");
    expectRel(c.tyre.rate, 14 / 36, 1e-12, "N/mm for each mm of width");
    expect(c.tyre.halfWidth).toBe(18);
    expect([c.spring.k, c.spring.bumpLength, c.spring.bumpK, c.spring.droopLength, c.spring.droopK]).toEqual([2.4, 50, 40, 66.5, 60]);
    // 65.8 mm free, pressed in by 2 mm
    expectRel(c.spring.free, 67.8, 1e-12, "mm");
  });

  it("counts two springs side by side as one of twice the rate, and the width that carries where the file gives one", () => {
    const two = buildAxle(
      file((f) => {
        f.corner.spring.count = 2;
        f.corner.tyre.effectiveWidthMm = 20;
        f.corner.tyre.lateralNPerMm = 9;
        f.corner.spring.droopStop = null;
      }),
    ).corners[0];
    expectRel(two.spring.k, 4.8, 1e-12, "N/mm");
    expect(two.tyre.halfWidth).toBe(10);
    expectRel(two.tyre.rate, 0.7, 1e-12, "N/mm for each mm of width");
    expect(two.tyre.lateralK).toBe(9);
    expect(two.spring.droopK).toBe(0);
  });
});
