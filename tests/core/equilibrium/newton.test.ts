import { describe, expect, it } from "vitest";
import type { Scenario } from "../../../src/core/design/types.ts";
import type { AxleModel } from "../../../src/core/equilibrium/model.ts";
import { apart, createSolver, FINAL_BLEND, newton, solveAt, solveAtOnce, spent, stepScale, stopped, withinWork } from "../../../src/core/equilibrium/newton.ts";
import { droppedStart, REST } from "../../../src/core/equilibrium/solve.ts";
import { BODY_TURN, HEAVE, HUB_TURN, HUB_X, HUB_Z, isTurn, NODE_TURN, NODE_Z, TREAD_SHIFT, WHEEL_TILT } from "../../../src/core/equilibrium/unknowns.ts";
import { expectAbs } from "../../support/close.ts";
import { denseStep, outOfBalanceN, shareOf } from "../../support/dense-step.ts";
import { curve, solved, straightCar, withoutPlay } from "./straight-car.ts";

const firm = (change: (s: Scenario) => void = () => {}): AxleModel =>
  straightCar((s) => {
    withoutPlay(s);
    change(s);
  });

describe("the share of a step that is taken", () => {
  const model = firm();
  const of = (...at: [number, number][]): number => {
    const dq = new Float64Array(model.n);
    for (const [i, v] of at) dq[i] = v;
    return stepScale(model, dq);
  };

  it("takes no length further than 6 mm and no turn further than 0.12 rad, whichever unknown it is", () => {
    for (let i = 0; i < model.n; i++)
      for (const way of [1, -1]) {
        const most = isTurn(i) ? 0.12 : 6;
        expectAbs(of([i, 4 * way * most]), 0.25, 1e-12, `unknown ${i}, four times too far`);
        expect(of([i, 0.9 * way * most]), `unknown ${i}, not so far`).toBe(1);
      }
  });

  it("is the least that any of them asks for", () => {
    expectAbs(of([HEAVE, 12], [BODY_TURN, -0.48]), 0.25, 1e-12, "turn");
    expectAbs(of([HEAVE, -24], [BODY_TURN, 0.24]), 0.25, 1e-12, "length");
    expect(of()).toBe(1);
  });

  it("is nothing of a step that is not finite", () => {
    for (let i = 0; i < model.n; i++) for (const v of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) expect(of([i, v]), `${i}`).toBe(0);
  });
});

describe("how far apart two positions are", () => {
  const model = firm();
  const by = (i: number, v: number): number => {
    const a = new Float64Array(model.n).fill(0.3);
    const b = a.slice();
    b[i] = b[i]! + v;
    expectAbs(apart(model, a, b), apart(model, b, a), 1e-12, "either way");
    return apart(model, a, b);
  };

  it("is told of body and hubs, turns over 50 mm", () => {
    expectAbs(by(HEAVE, 2), 2, 1e-12, "heave");
    expectAbs(by(BODY_TURN, -0.02), 1, 1e-12, "body turn");
    for (const { base } of model.corners) {
      expectAbs(by(base + HUB_X, -2), 2, 1e-12, "hub sideways");
      expectAbs(by(base + HUB_Z, 3), 3, 1e-12, "hub up");
      expectAbs(by(base + HUB_TURN, 0.02), 1, 1e-12, "hub turn");
      expectAbs(by(base + WHEEL_TILT, -0.04), 2, 1e-12, "wheel tilt");
      expect(by(base + TREAD_SHIFT, 5), "tread").toBe(0);
    }
    for (const arm of model.arms) expect(by(arm.base + NODE_Z, 5) + by(arm.base + NODE_TURN, 5), "arms").toBe(0);
  });

  it("is the largest of all", () => {
    const a = new Float64Array(model.n);
    const b = a.slice();
    b[HEAVE] = 1;
    b[BODY_TURN] = 0.03;
    b[model.corners[1].base + HUB_Z] = -4;
    b[model.corners[0].base + HUB_X] = 2;
    expectAbs(apart(model, a, b), 4, 1e-12, "mm");
  });
});

describe("a bound of work", () => {
  it("holds within whatever bound holds already, and is put back afterwards", () => {
    const s = createSolver(firm());
    expect(spent(s)).toBe(false);
    s.iterations = 100;
    expect(
      withinWork(s, 5, () => {
        expect(s.workEnd).toBe(105);
        withinWork(s, 10, () => expect(s.workEnd).toBe(105));
        withinWork(s, 2, () => expect(s.workEnd).toBe(102));
        expect(s.workEnd).toBe(105);
        s.iterations = 104;
        expect(spent(s)).toBe(false);
        s.iterations = 105;
        expect(spent(s)).toBe(true);
        return "done";
      }),
    ).toBe("done");
    expect(s.workEnd).toBe(Number.POSITIVE_INFINITY);
    expect(() =>
      withinWork(s, 5, () => {
        throw new Error("broken");
      }),
    ).toThrow("broken");
    expect(s.workEnd).toBe(Number.POSITIVE_INFINITY);
    expect([spent(s), stopped(s)]).toEqual([false, false]);
    s.shouldStop = () => true;
    expect([spent(s), stopped(s)]).toEqual([true, true]);
  });
});

describe("Newton's method next to an answer", () => {
  const model = firm();
  const q0 = solved(model, curve(0.3));

  it("has nothing to do at the answer itself, and leaves its tangent factored", () => {
    const s = createSolver(model);
    s.shouldStop = () => true;
    const q = q0.slice();
    expect(newton(s, q, curve(0.3), FINAL_BLEND, 1)).toBe(true);
    expect([s.iterations, s.sys.detSign, q]).toEqual([0, 1, q0]);
  });

  it("is there where no force is out by more than 1e-8 of the weight", () => {
    const off = (share: number): number => {
      const q = q0.slice();
      // a little more road under the left tyre: so many N of 14 N/mm
      const s = createSolver(model);
      const load = { ...curve(0.3), bumpLeftMm: (share * model.totalWeight) / 14 };
      expect(outOfBalanceN(model, q, load)).toBeGreaterThan(0.5 * share * model.totalWeight);
      expect(outOfBalanceN(model, q, load)).toBeLessThan(2 * share * model.totalWeight);
      newton(s, q, load, FINAL_BLEND, 5);
      return s.iterations;
    };
    expect([off(0.4e-8), off(3e-8)]).toEqual([0, 1]);
  });

  it("solves what is all but linear in one step", () => {
    const s = createSolver(model);
    const q = q0.slice();
    expect(newton(s, q, curve(0.3 + 1e-6), FINAL_BLEND, 2)).toBe(true);
    expect(s.iterations).toBe(1);
    // no more steps than it may, and no answer where the last of them only comes to it
    const t = createSolver(model);
    expect(newton(t, q0.slice(), curve(0.3 + 1e-6), FINAL_BLEND, 0)).toBe(false);
    expect(t.iterations).toBe(0);
  });

  it("doubles the right digits in a step", () => {
    const load = curve(0.302);
    const [before, one, two] = [0, 1, 2].map((k) => {
      const q = q0.slice();
      newton(createSolver(model), q, load, FINAL_BLEND, k);
      return outOfBalanceN(model, q, load);
    }) as [number, number, number];
    expect(one / before).toBeLessThan(0.03);
    expect(two / before).toBeLessThan(0.1 * (one / before) ** 2);
  });
});

describe("Newton's method far from any answer", () => {
  const model = firm();
  const rest = solved(model, REST);
  /** at 2 g the car has long tipped over: there is no answer */
  const load = curve(2);
  const STEPS = 18;
  /** after so many steps, without patience */
  const after = (k: number): { q: Float64Array; steps: number } => {
    const q = rest.slice();
    const s = createSolver(model);
    expect(newton(s, q, load, FINAL_BLEND, k)).toBe(false);
    return { q, steps: s.iterations };
  };

  it("takes its steps whole as far as they may go, shortens them after four without gain, and gives up when its patience ends", () => {
    let best = outOfBalanceN(model, rest, load);
    let size = best;
    let since = 0;
    let q = rest;
    let capped = 0;
    const shortened: number[] = [];
    const gaveUp: number[] = [];
    for (let k = 1; k <= STEPS; k++) {
      const dq = denseStep(model, q, load);
      let share = shareOf(dq);
      if (share < 1) capped++;
      const by = (x: number): Float64Array => q.map((v, i) => v + x * dq[i]!);
      if (since >= 4) {
        let tries = 0;
        for (; tries < 8 && !(outOfBalanceN(model, by(share), load) < size); tries++) share /= 2;
        shortened[tries] = k;
      }
      const to = after(k);
      expect(to.steps).toBe(k);
      for (let i = 0; i < model.n; i++) expectAbs(to.q[i]!, q[i]! + share * dq[i]!, 1e-6 * share * (isTurn(i) ? 0.12 : 6), `step ${k}, unknown ${i}`);
      q = to.q;
      size = outOfBalanceN(model, q, load);
      // a gain is a tenth off the best so far
      if (size < 0.9 * best) {
        best = size;
        since = 0;
      } else since++;
      gaveUp[since] ??= k;
    }
    expect(capped).toBeGreaterThan(2);
    expect(shortened[8], "a step that gains nothing, however short").toBeDefined();
    expect(Object.keys(shortened).length).toBeGreaterThan(1);
    for (const patience of [0, 1, 2]) {
      const s = createSolver(model);
      expect(newton(s, rest.slice(), load, FINAL_BLEND, 40, patience)).toBe(false);
      expect(s.iterations, `patience ${patience}`).toBe(gaveUp[patience + 1]);
    }
  });

  it("has patience anew after each step that gains", () => {
    // from as let down a rattling axle takes seven steps, three of them without gain at the worst
    const rattling = straightCar();
    const s = createSolver(rattling);
    expect(newton(s, droppedStart(rattling), REST, FINAL_BLEND, 30, 3)).toBe(true);
    expect(s.iterations).toBeGreaterThan(5);
  });

  it("moves nothing by a first step that leaps where the start should be a neighbour", () => {
    const q = droppedStart(model);
    q[HEAVE] = q[HEAVE]! + 20;
    const start = q.slice();
    expect(shareOf(denseStep(model, start, REST))).toBeLessThan(1);
    const s = createSolver(model);
    expect(newton(s, q, REST, FINAL_BLEND, 20, 20, true)).toBe(false);
    expect([s.iterations, q]).toEqual([1, start]);
    expect(newton(s, q, REST, FINAL_BLEND, 20, 20, false)).toBe(true);
    const once = createSolver(model);
    expect(solveAtOnce(once, start.slice(), REST)).toBe(false);
    expect(once.iterations).toBe(1);
  });

  it("goes on where a later step leaps", () => {
    const rattling = straightCar();
    const at = solved(rattling, REST);
    expect(shareOf(denseStep(rattling, at, curve(0.3)))).toBe(1);
    const second = at.slice();
    newton(createSolver(rattling), second, curve(0.3), FINAL_BLEND, 1);
    expect(shareOf(denseStep(rattling, second, curve(0.3)))).toBeLessThan(1);
    expect(newton(createSolver(rattling), at, curve(0.3), FINAL_BLEND, 20, 20, true)).toBe(true);
  });

  it("ends when its work is used up or somebody stops it", () => {
    const s = createSolver(model);
    withinWork(s, 3, () => expect(newton(s, rest.slice(), load, FINAL_BLEND, 20)).toBe(false));
    expect(s.iterations).toBe(3);
    s.shouldStop = () => s.iterations === 5;
    expect(newton(s, rest.slice(), load, FINAL_BLEND, 20)).toBe(false);
    expect(s.iterations).toBe(5);
  });
});

describe("what Newton's method can make nothing of", () => {
  it("ends it at once: forces that are no number", () => {
    const model = firm();
    const s = createSolver(model);
    const q = solved(model, REST);
    const start = q.slice();
    // a row of the balance, and rows of the tangent too
    model.bodyWeight = Number.NaN;
    expect(newton(s, q, REST, FINAL_BLEND, 20)).toBe(false);
    expect([s.iterations, q]).toEqual([1, start]);
    expect(newton(s, q, curve(Number.NaN), FINAL_BLEND, 20)).toBe(false);
    expect(q).toEqual(start);
  });

  it("ends it after the step that leads there", () => {
    const model = firm();
    const q = solved(model, REST);
    const s = createSolver(model);
    s.shouldStop = () => {
      model.bodyWeight = Number.NaN;
      return false;
    };
    expect(newton(s, q, curve(0.1), FINAL_BLEND, 20)).toBe(false);
    expect(s.iterations).toBe(1);
  });

  it("ends it before a step: a wheel in the air that nothing holds upright", () => {
    const model = firm();
    for (const c of model.corners) {
      Object.assign(c.bearing, { k: 0, kc: 0 });
      c.wheelWeight = 0;
    }
    const s = createSolver(model);
    const q = new Float64Array(model.n);
    for (const c of model.corners) q[c.base + HUB_Z] = 5;
    expect(newton(s, q, REST, FINAL_BLEND, 20)).toBe(false);
    expect(s.iterations).toBe(0);
  });
});

describe("the ways of solving at one load", () => {
  const model = firm();
  const rest = solved(model, REST);

  it("start with Newton's method, which alone does it next to an answer", () => {
    const s = createSolver(model);
    const q = rest.slice();
    expect(solveAt(s, q, curve(0.05))).toBe(true);
    expect(s.iterations).toBeLessThanOrEqual(4);
    const once = rest.slice();
    const t = createSolver(model);
    expect(solveAtOnce(t, once, curve(0.05))).toBe(true);
    expect([t.iterations, once]).toEqual([s.iterations, q]);
  });

  it("leave an axle without an answer as it was", () => {
    const s = createSolver(model);
    const q = rest.slice();
    expect(withinWork(s, 100, () => solveAt(s, q, curve(3)))).toBe(false);
    expect(q).toEqual(rest);
    // at once: no more than 8 steps, fewer where nothing is gained
    const t = createSolver(model);
    expect(solveAtOnce(t, q, curve(3))).toBe(false);
    expect(t.iterations).toBeLessThanOrEqual(8);
  });

  it("leap where nobody says that the start is a neighbour", () => {
    const start = droppedStart(model);
    start[HEAVE] = start[HEAVE]! + 20;
    const [s, t] = [createSolver(model), createSolver(model)];
    expect([solveAt(s, start.slice(), REST), newton(t, start.slice(), REST, FINAL_BLEND, 14)]).toEqual([true, true]);
    expect(s.iterations).toBe(t.iterations);
    // from a neighbour the axle creeps, and where that is called off Newton's method goes on after all
    const near = createSolver(model);
    const q = start.slice();
    expect(solveAt(near, q, REST, true, 14, 1e-3)).toBe(true);
    expect(outOfBalanceN(model, q, REST)).toBeLessThanOrEqual(1e-8 * model.totalWeight);
    expect(near.iterations).toBeGreaterThan(t.iterations);
  });

  it("take no answer that is balanced on a knife's edge", () => {
    const top = firm();
    // the rest of the car pushes it over: upright it is balanced still
    const q = solved(top, REST);
    top.otherRollK = -1e6;
    const s = createSolver(top);
    expect(newton(s, q.slice(), REST, FINAL_BLEND, 10)).toBe(true);
    expect(s.sys.detSign).toBe(-1);
    expect(solveAtOnce(s, q.slice(), REST)).toBe(false);
    const left = q.slice();
    expect(solveAt(s, left, REST)).toBe(false);
    expect(left).toEqual(q);
  });
});
