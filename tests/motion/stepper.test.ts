import { describe, expect, it } from "vitest";
import { FIRST_NODE, NODE_TURN, PER_NODE } from "../../src/core/equilibrium/unknowns.ts";
import { buildMotion } from "../../src/motion/model.ts";
import { learn, outOfBalance, stepper, stillInput } from "../../src/motion/step.ts";
import { buildWorld } from "../../src/motion/world.ts";
import { expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";

/** The pieces of a step by themselves. */

describe("a stepper before its first step", () => {
  it("has nothing that moves or acts, and its own copy of the place", () => {
    const m = buildMotion(shipped("heavy-forked.json"));
    const q = new Float64Array(m.bare.n).fill(1e-3);
    const s = stepper(m, buildWorld(m, q), q, 0.01, 6000, 8, [0.9, 1.1]);
    expect(s).toMatchObject({ h: 0.01, rollMmps: 6000, slipPerRad: 8, grip: [0.9, 1.1], wheelOn: [true, true], missShare: 0, fresh: false, kerbN: 0 });
    expect(s).toMatchObject({ bearingMoment: [0, 0], damperN: [0, 0], steps: 0, iterations: 0, factors: 0, open: 0, openN: 0 });
    expect(s.before).toEqual({ verticalN: [0, 0], lateralN: [0, 0], bearingMoment: [0, 0], kerbN: 0 });
    expect(s.tyres).toEqual(m.axle.corners.map((c) => c.tyre));
    // the speed at the end goes along with the place by one and a half over the step
    expect(s.rates).toMatchObject({ perStep: 100, perEnd: 150 });
    for (const a of [s.last, s.lastBefore, s.led, s.missed, s.rates.end]) expect([...a]).toEqual(new Array(m.bare.n).fill(0));
    for (const a of [s.v, s.vBefore, s.s0, s.s1]) expect([...a]).toEqual(new Array(11).fill(0));
    expect([s.jointForce.length, s.wheelSpeed.length, s.wheelAcc.length]).toEqual([16, 4, 4]);
    q[0] = 9;
    expect(s.q[0]).toBe(1e-3);
  });

  it("is in a still world", () => {
    expect(stillInput()).toEqual({ steer: 0, lateralG: 0, road: [0, 0], roadSpeed: [0, 0], kerb: null, hold: null, push: [0, 0, 0] });
  });
});

describe("what is expected to be missed again", () => {
  it("is the part of the last miss that lies along the one before, between none and all of it", () => {
    const s = { led: Float64Array.of(1, 2), missed: Float64Array.of(3, 4), next: Float64Array.of(1 + 1.5, 2 + 2), missShare: 7 };
    learn(s);
    // (1.5·3 + 2·4) / (3² + 4²)
    expectRel(s.missShare, 0.5, 1e-12, "share");
    expect([...s.missed]).toEqual([1.5, 2]);
    const all = { ...s, missed: Float64Array.of(1, 1), next: Float64Array.of(9, 9) };
    learn(all);
    expect(all.missShare).toBe(1);
    const back = { ...s, missed: Float64Array.of(1, 1), next: Float64Array.of(0, 0) };
    learn(back);
    expect(back.missShare).toBe(0);
    const first = { ...s, missed: Float64Array.of(0, 0), next: Float64Array.of(5, 5) };
    learn(first);
    expect(first.missShare).toBe(0);
  });
});

describe("forces that are out of balance", () => {
  const m = buildMotion(shipped("heavy-forked.json"));
  const turns = new Set([1, ...m.bare.corners.flatMap((c) => [c.base + 2, c.base + 3])]);
  for (let i = FIRST_NODE + NODE_TURN; i < m.x; i += PER_NODE) turns.add(i);
  const r = new Float64Array(m.bare.n);

  it("count by the largest, moments over 50 mm", () => {
    for (let i = 0; i < r.length; i++) {
      r.fill(0.01);
      r[i] = -3;
      expectRel(outOfBalance(m, r), turns.has(i) ? 3 / 50 : 3, 1e-12, `unknown ${i}`);
    }
  });

  it("are no number as soon as one is none, whatever the others are", () => {
    for (let i = 0; i < r.length; i++) {
      r.fill(1);
      r[i] = Number.NaN;
      expect(outOfBalance(m, r), `unknown ${i}`).toBeNaN();
    }
  });
});
