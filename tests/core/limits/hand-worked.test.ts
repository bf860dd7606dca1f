import { describe, expect, it } from "vitest";
import type { LimitName, LimitResult } from "../../../src/core/analysis.ts";
import { buildBench, limitContext, limitsAt, solveLoad } from "../../../src/core/analyze.ts";
import type { Scenario, Side } from "../../../src/core/design/types.ts";
import type { LimitContext } from "../../../src/core/limits/context.ts";
import { hubFrictionAt } from "../../../src/core/limits/hub-heat.ts";
import { outwardPullN } from "../../../src/core/limits/hub-retention.ts";
import { expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";

/** Limits of single states against hand calculations. */

const file = (change: (s: Scenario) => void = () => {}): Scenario => {
  const s = structuredClone(shipped("heavy-forked.json"));
  change(s);
  return s;
};

function contextOf(s: Scenario, lateralG: number): LimitContext {
  const b = buildBench(s);
  const r = solveLoad(b, { lateralG, bumpLeftMm: 0, bumpRightMm: 0 });
  if (!r.ok) throw new Error(r.reason.message);
  return limitContext(b, r.state, 0)!;
}

function limitsOf(s: Scenario, lateralG: number): LimitResult[] {
  const b = buildBench(s);
  const r = solveLoad(b, { lateralG, bumpLeftMm: 0, bumpRightMm: 0 });
  if (!r.ok) throw new Error(r.reason.message);
  return limitsAt(b, r.state, 5);
}
const named = (limits: readonly LimitResult[], name: LimitName): LimitResult => limits.find((l) => l.name === name)!;

describe("force of the road and of the wheel itself, along its axle and across it", () => {
  // wheel of 0.22 kg (2.157463 N) at 0.5 g to the left; road: 30 N up and 20 N to the left; wheel turned by 0.1 rad, counter-clockwise as seen
  // from behind. Together 18.921269 N to the left and 27.842537 N up; the axle points to (cos 0.1, sin 0.1) on the right
  const x = contextOf(file(), 0.5);
  const state = structuredClone(x.state);
  for (const side of ["left", "right"] as const) {
    state[side].tyre.verticalN = 30;
    state[side].tyre.lateralN = -20;
    state[side].wheelAngleRad = 0.1;
  }
  const turned: LimitContext = { ...x, state };

  it("pushes the right wheel on by 16.047 N and pulls the left one off by as much", () => {
    expectRel(outwardPullN(turned, "right"), -16.047125, 1e-6, "N");
    expectRel(outwardPullN(turned, "left"), 16.047125, 1e-6, "N");
  });

  it("presses on the journal across the axle by 29.592 N: 0.3425 MPa over 4.8 by 18 mm", () => {
    for (const side of ["left", "right"] as const) expectRel(hubFrictionAt(turned, side).pressureMPa, 29.592415 / (4.8 * 18), 1e-6, "MPa");
  });
});

describe("grip of unequal tyres", () => {
  const unequal = (side: Side): Scenario =>
    file((s) => {
      s[side] = { ...s[side], tyre: { ...s.corner.tyre, friction: 0.7 } };
    });

  // both tyres take the same share of their load: 0.35 g of a friction of 0.7 is one half, whichever side has it
  it.each(["left", "right"] as const)("slides by the worse tyre: 0.35 g with a friction of 0.7 on the %s and 1.05 opposite", (side) => {
    const l = named(limitsOf(unequal(side), 0.35), "sliding");
    expectRel(l.utilization, 0.5, 1e-6, "use of grip");
    expect(l.capacity).toBe(0.7);
  });
});

describe("an arm's stress", () => {
  // abs bends for good at 40 MPa (Crawford, Plastics Engineering, Table 1.5: 38; Processes 13 (2025) 2733: 40); half of it for what creeps
  it("is set against 40 MPa, and as a caution for plastics against 20", () => {
    const limits = limitsOf(file(), 0.5);
    for (const side of ["left", "right"] as const) {
      const of = (name: LimitName) => limits.find((l) => l.name === name && l.wheel === side)!;
      expect([of("armYield").capacity, of("armYield").caution]).toEqual([40, false]);
      expect([of("armSet").capacity, of("armSet").caution]).toEqual([20, true]);
    }
  });

  it("knows no permanent set of metal", () => {
    const metal = file((s) => {
      s.corner.upperArm.material = "aluminium";
      s.corner.lowerArm.material = "aluminium";
    });
    const limits = limitsOf(metal, 0.5);
    expect(named(limits, "armYield").capacity).toBe(276);
    expect(limits.some((l) => l.name === "armSet")).toBe(false);
  });
});
