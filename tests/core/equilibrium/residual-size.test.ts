import { describe, expect, it } from "vitest";
import { residualSize } from "../../../src/core/equilibrium/assemble.ts";
import { buildAxle } from "../../../src/core/equilibrium/model.ts";
import { isTurn } from "../../../src/core/equilibrium/unknowns.ts";
import { shipped } from "../../support/shipped.ts";

describe("how far an axle is out of balance", () => {
  const model = buildAxle(shipped("heavy-straight.json"), { elementsPerArm: 2 });
  const of = (i: number, v: number): number => {
    const r = new Float64Array(model.n).fill(0.25);
    r[i] = v;
    return residualSize(model, r, 50);
  };

  it("is the largest force, moments over the length that is given", () => {
    for (let i = 0; i < model.n; i++) for (const way of [1, -1]) expect(of(i, way * (isTurn(i) ? 150 : 3)), `row ${i}`).toBe(3);
  });

  it("is no number as soon as one of them is none", () => {
    for (let i = 0; i < model.n; i++) expect(of(i, Number.NaN), `row ${i}`).toBeNaN();
    expect(of(3, Number.NEGATIVE_INFINITY)).toBe(Number.POSITIVE_INFINITY);
  });
});
