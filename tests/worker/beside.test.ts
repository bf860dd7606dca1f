import { describe, expect, it } from "vitest";
import { analyze } from "../../src/core/analyze.ts";
import type { Scenario } from "../../src/core/design/types.ts";
import { deltaOf } from "../../src/state/delta.ts";
import { besideOf } from "../../src/worker/beside.ts";
import { expectAbs } from "../support/close.ts";
import { scenarioFile } from "../view/fixture.ts";

const load = { lateralG: 0.6, bumpLeftMm: 0, bumpRightMm: 0 };
const radiusM = 5;

describe("the answers beside the page", () => {
  it("refuse a change of a design that was never told", () => {
    const car = scenarioFile("heavy-forked");
    const change = deltaOf(car, { ...car, name: "another" });
    expect(() => besideOf({ a: change, b: change, load, radiusM, withB: true })).toThrow("never told");
  });

  it("are those to the changed design, and B's only where it is asked for", () => {
    const car = scenarioFile("heavy-forked");
    const rival = scenarioFile("heavy-straight");
    const moved: Scenario = { ...car, corner: { ...car.corner, upperInner: { ...car.corner.upperInner, zMm: car.corner.upperInner.zMm + 3 } } };
    besideOf({ a: deltaOf(undefined, car), b: deltaOf(undefined, rival), load, radiusM, withB: true });
    const next = besideOf({ a: deltaOf(car, moved), b: null, load, radiusM, withB: false });
    expect(next.b).toBeNull();
    // the equilibrium does not depend on the way to it: the whole answer from nothing has the same lean and parts that add up to it
    const whole = analyze(moved, load, { radiusM });
    if (!next.a.ok || !whole.ok) throw new Error("no equilibrium");
    expectAbs(next.a.report.right.camberDeg, whole.report.right.camberDeg, 1e-6, "° of the right wheel");
    const parts = Object.values(next.a.report.right.camberBudgetDeg.byPart).reduce((s, v) => s + v, 0);
    expectAbs(parts, whole.report.right.camberDeg, 1e-6, "° by part, together");
    const third = besideOf({ a: null, b: null, load, radiusM, withB: true });
    const other = analyze(rival, load, { radiusM });
    if (!third.b?.ok || !other.ok) throw new Error("no equilibrium");
    expectAbs(third.b.report.right.camberDeg, other.report.right.camberDeg, 1e-6, "° of B's right wheel");
  });
});
