import { describe, expect, it } from "vitest";
import { createSession } from "../../src/motion/session.ts";
import { expectAbs, expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";
import { HALF_N, LEVEL, on, session } from "./rigs.ts";

/** A moving axle at its start and in its first steps, with numbers by hand. */

const H = 1 / 2400;

describe("a session at its start", () => {
  const x = session();

  it("stands as the axle does at rest, steps by 1/2400 s, and lets break what is overloaded", () => {
    expect(x.s.h).toBe(H);
    expect([x.breaks, x.apart, x.timeS, x.going, x.events.length, x.told.size]).toEqual([true, false, 0, null, 0, 0]);
    expect([x.tyreOff, x.roadMean, x.s.wheelOn]).toEqual([
      [false, false],
      [0, 0],
      [true, true],
    ]);
    expectRel(x.restLoadN.left, HALF_N, 1e-6, "N");
    expectRel(x.restLoadN.right, HALF_N, 1e-6, "N");
    for (const d of x.demands) {
      expectRel(d.tyreHoldsN, 2 * Math.PI * 0.6 * (30 - 0.15 * 0.25), 1e-9, "N that hold the tyre at half a metre per second");
      expect(d.springMm).toBeGreaterThan(50);
    }
  });

  it("rolls at half a metre per second and grips as its tyres do, unless told", () => {
    expect([x.s.rollMmps, x.s.slipPerRad, ...x.s.grip]).toEqual([500, 8, 1.05, 1.05]);
    // a wheel that stands scrubs as at half a metre per second
    expect(session({ speedMps: 0.2 }).s.rollMmps).toBe(500);
    const { s } = session({ speedMps: 7, slipStiffnessPerRad: 11, grip: 0.5 });
    expect([s.rollMmps, s.slipPerRad, ...s.grip]).toEqual([7000, 11, 0.525, 0.525]);
  });

  it("takes other steps, beams, and what breaks", () => {
    const other = session({ stepsPerSecond: 1200, elementsPerArm: 2, breaks: false });
    expect([other.s.h, other.breaks]).toEqual([1 / 1200, false]);
    expect(other.m.axle.elementCount).toBeLessThan(x.m.axle.elementCount);
    expect(other.bench.model.elementCount).toBe(other.m.axle.elementCount);
    expect(x.bench.model.elementCount).toBe(x.m.axle.elementCount);
  });

  it("goes along the road where throttle or brake is used", () => {
    expect(session({ throttle: 0.4, speedMps: 3 }).going).toMatchObject({ throttle: 0.4, brakeG: 0, mps: 3 });
    expect(session({ brakeG: 0.2 }).going).toMatchObject({ throttle: 0, brakeG: 0.2, mps: 0 });
  });

  it("stays where it is under the load it starts with", () => {
    const load = { lateralG: 0.3, bumpLeftMm: 2, bumpRightMm: -1 };
    const y = session({ breaks: false }, () => {}, load);
    expect(y.input).toMatchObject({ steer: 0.3, lateralG: 0.3, road: [2, -1], roadSpeed: [0, 0] });
    expect(y.scene).toEqual({ lateralG: 0.3, road: [2, -1], kerb: null });
    const q = y.s.q.slice();
    const sides = (): number => y.s.tyre.lateralN[0] + y.s.tyre.lateralN[1];
    expectRel(sides(), -0.3 * 2 * HALF_N, 1e-3, "N sideways");
    for (let i = 0; i < 6; i++) on(y);
    q.forEach((v, i) => {
      expectAbs(y.s.q[i]!, v, 1e-4, `unknown ${i}`);
    });
    expectRel(sides(), -0.3 * 2 * HALF_N, 1e-3, "N sideways");
    expectRel(y.s.tyre.verticalN[0] + y.s.tyre.verticalN[1], 2 * HALF_N, 1e-3, "N");
    for (const a of [y.s.tyre.level, y.s.tyre.levelWas, y.s.tyre.targetWas]) for (const v of a) expectAbs(v, 0.3, 1e-4, "side force over load");
  });

  it("may ask the model for its load", () => {
    expectRel(
      session(
        {},
        () => {},
        (m) => ({ ...LEVEL, lateralG: m.bodyKg / 22 }),
      ).input.steer,
      0.1,
      1e-12,
      "g",
    );
  });

  it("says why there is no rest to start from, with or without a load", () => {
    const heavy = structuredClone(shipped("heavy-straight.json"));
    heavy.body.carMassKg = 5000;
    const none = createSession(heavy, LEVEL);
    expect(none.ok ? "" : none.reason.message).toMatch(/spring/);
    const over = createSession(shipped("heavy-forked.json"), { ...LEVEL, lateralG: 2 });
    expect(over.ok ? "" : over.reason.message).toMatch(/let go at 1\.05 g/);
  });
});

describe("a step of a session", () => {
  it("has the road's speed at its end, and the curve's pull at its start", () => {
    const x = session({ breaks: false });
    const kerb = { side: "left", xMm: -300, speedMmps: 0, heightMm: 5 } as const;
    // 57.6 mm/s over the step, from rest
    on(x, { lateralG: 0.1, road: [0.024, 0], kerb });
    expect([x.input.lateralG, x.input.steer, x.input.kerb]).toEqual([0, 0.1, kerb]);
    expectAbs(x.input.roadSpeed[0], 86.4, 1e-9, "mm/s");
    expect([x.input.roadSpeed[1], ...x.input.road]).toEqual([0, 0.024, 0]);
    // as fast again on the left, 28.8 mm/s down on the right
    on(x, { lateralG: 0.2, road: [0.048, -0.012] });
    expect([x.input.lateralG, x.input.steer, x.input.kerb]).toEqual([0.1, 0.2, null]);
    expectAbs(x.input.roadSpeed[0], 57.6, 1e-9, "mm/s");
    expectAbs(x.input.roadSpeed[1], -43.2, 1e-9, "mm/s");
    expectRel(x.timeS, 2 * H, 1e-12, "s");
  });

  it("that finds no place for the parts ends the motion, and names the joint that is asked for most", () => {
    for (const side of ["left", "right"] as const) {
      const x = session({}, (s) => {
        s[side] = { joints: { lowerOuter: { pullOutN: 0.4 } } };
      });
      x.input.push[0] = Number.NaN;
      on(x);
      expect([x.apart, x.timeS]).toEqual([true, 0]);
      const [e, ...more] = x.events;
      expect(more).toEqual([]);
      expect(e!.message).toMatch(
        new RegExp(
          `^The suspension gave way at 0\\.00 s: its parts find no place any more \\(${side} lower outer joint: \\d+(\\.\\d)? N, holds 0\\.4 N\\)\\.$`,
        ),
      );
      expect(e).toMatchObject({ kind: "comesApart", side, limit: "jointPullOut", capacity: 0.4, unit: "N" });
    }
  });
});
