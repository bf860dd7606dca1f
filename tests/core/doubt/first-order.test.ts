import { describe, expect, it } from "vitest";
import { againstFull } from "../../support/first-order-check.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";

/** Every so many-th input of a car is asked, another one of each car: all of them are by `npm run bench -- doubt`. */
const EVERY = 8;

describe("derivatives of first order", () => {
  it.each(SHIPPED.map((file, i) => [file, i] as const))("agree with differences of full solutions: %s", (file, i) => {
    const check = againstFull(
      shipped(file),
      { lateralG: 0.4, bumpLeftMm: 0, bumpRightMm: 0 },
      { speedMps: 3, leaveOut: ["armBuckling"], every: EVERY, from: i % EVERY },
    );
    expect(check.compared).toBeGreaterThan(400);
    expect(check.wrong).toEqual([]);
    expect(check.atACorner).toEqual([]);
  });

  it("agree with differences of full solutions under a push, over a bump, buckling included", () => {
    const s = shipped("heavy-forked.json");
    const load = { lateralG: 0.3, bumpLeftMm: 0, bumpRightMm: 2, throttle: 0.5 };
    const check = againstFull(s, load, { speedMps: 3, leaveOut: [], every: 8, from: 3 });
    expect(check.compared).toBeGreaterThan(400);
    expect(check.wrong).toEqual([]);
    expect(check.atACorner).toEqual([]);
  });
});
