import { describe, expect, it } from "vitest";
import { LIMIT_NAMES, type LimitName, type LimitResult } from "../../../src/core/analysis.ts";
import { buildBench, limitContext, limitsAt, solveLoad } from "../../../src/core/analyze.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import { EXPLANATIONS, explainLimit, loadPathOf } from "../../../src/core/limits/explain.ts";
import { allLimits, firstToGive } from "../../../src/core/limits/limits.ts";
import { LIMITS } from "../../../src/core/limits/records.ts";
import { underShock } from "../../../src/core/limits/shock.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";

const limitsOf = (s: Scenario, lateralG: number, speedMps: number, bumpRightMm = 0): LimitResult[] => {
  const b = buildBench(s);
  const r = solveLoad(b, { lateralG, bumpLeftMm: 0, bumpRightMm });
  if (!r.ok) throw new Error(r.reason.message);
  return limitsAt(b, r.state, speedMps);
};
const worst = (limits: readonly LimitResult[], name: LimitName): LimitResult => limits.find((l) => l.name === name)!;

describe("limits where the answer is known beforehand", () => {
  it.each(SHIPPED)("%s standing on a straight level road neither slides, lifts, nor strains its tyres or heats its hubs", (file) => {
    const limits = limitsOf(shipped(file), 0, 0);
    for (const name of ["sliding", "tyreOffRim"] as const) expectAbs(worst(limits, name).utilization, 0, 1e-9, name);
    // an unequal car stands a little unevenly, but rest is what lift is counted from
    expectAbs(worst(limits, "wheelLift").utilization, 0, 1e-6, "wheelLift");
    expectAbs(worst(limits, "hubHeat").utilization, 0, 1e-9, "hubHeat");
    expect(firstToGive(limits).utilization).toBeLessThan(1);
    for (const l of limits) expect(Number.isFinite(l.utilization)).toBe(true);
  });

  it("a straight road at speed heats the hub and loosens the band, and asks nothing of the tyre sideways", () => {
    const still = limitsOf(shipped("heavy-forked.json"), 0, 0);
    const fast = limitsOf(shipped("heavy-forked.json"), 0, 8);
    expect(worst(fast, "hubHeat").utilization).toBeGreaterThan(0.2);
    expect(worst(fast, "tyreOffRim").capacity).toBeLessThan(worst(still, "tyreOffRim").capacity);
    expectAbs(worst(fast, "tyreOffRim").demand, 0, 1e-9, "N");
    for (const name of ["hubRetention", "armYield", "camber"] as const) expect(worst(fast, name).utilization).toBe(worst(still, name).utilization);
  });

  it("sliding is the cornering level over the grip, lift the share of the rest load that is gone, camber the lean over the accepted one", () => {
    const s = shipped("heavy-forked.json");
    const b = buildBench(s);
    const r = solveLoad(b, { lateralG: 0.7, bumpLeftMm: 0, bumpRightMm: 0 });
    if (!r.ok || !b.rest.ok) throw new Error("no equilibrium");
    const limits = limitsAt(b, r.state, 5);
    expectRel(worst(limits, "sliding").utilization, 0.7 / s.corner.tyre.friction, 1e-9, "use of grip");
    const rest = b.rest.state.left.tyre.verticalN;
    expectRel(worst(limits, "wheelLift").utilization, (rest - r.state.left.tyre.verticalN) / rest, 1e-12, "share lost");
    const lean = Math.max(Math.abs(r.state.left.wheelAngleRad), Math.abs(r.state.right.wheelAngleRad)) * (180 / Math.PI);
    expectRel(worst(limits, "camber").utilization, lean / s.limits.camberDeg, 1e-12, "use of the accepted lean");
  });

  it("a spring on its stop is exactly used up when it is as long as the stop", () => {
    const s = shipped("heavy-forked.json");
    const l = limitsOf(s, 0.5, 5).find((x) => x.name === "springOnStop" && x.wheel === "right")!;
    const length = l.inputs.find((i) => i.name === "spring length")!.value;
    const stopAt: Scenario = { ...s, corner: { ...s.corner, spring: { ...s.corner.spring, bumpStop: { ...s.corner.spring.bumpStop, lengthMm: length } } } };
    expectAbs(limitsOf(stopAt, 0.5, 5).find((x) => x.name === "springOnStop" && x.wheel === "right")!.utilization, 1, 1e-6, "use of the way to the stop");
  });

  it("a joint pulls out at the force that it holds", () => {
    const s = shipped("heavy-forked.json");
    const l = worst(limitsOf(s, 0.8, 5), "jointPullOut");
    const weaker: Scenario = {
      ...s,
      corner: {
        ...s.corner,
        joints: Object.fromEntries(Object.entries(s.corner.joints).map(([n, j]) => [n, { ...j, pullOutN: l.demand }])) as Scenario["corner"]["joints"],
      },
    };
    expectRel(worst(limitsOf(weaker, 0.8, 5), "jointPullOut").utilization, 1, 1e-9, "use");
  });

  it("mirrored cornering uses mirrored wheels alike on an equal car, and not on an unequal one", () => {
    const use = (s: Scenario, g: number, name: LimitName, wheel: string): number =>
      limitsOf(s, g, 5).find((l) => l.name === name && l.wheel === wheel)!.utilization;
    const equal = shipped("heavy-forked.json");
    for (const name of ["hubRetention", "armYield", "armBuckling", "camber", "hubHeat", "fit"] as const)
      expectRel(use(equal, -0.6, name, "left"), use(equal, 0.6, name, "right"), 1e-6, name);
    const unequal = shipped("asymmetric.json");
    expect(Math.abs(use(unequal, -0.6, "armYield", "left") / use(unequal, 0.6, "armYield", "right") - 1)).toBeGreaterThan(0.1);
  });
});

describe("road shock", () => {
  it("multiplies what is proportional to force and leaves lean, grip, lift, fit and heat alone", () => {
    const b = buildBench(shipped("heavy-forked.json"));
    const r = solveLoad(b, { lateralG: 0.5, bumpLeftMm: 0, bumpRightMm: 0 });
    if (!r.ok) throw new Error(r.reason.message);
    const plain = allLimits(limitContext(b, r.state, 5)!);
    const shocked = underShock(plain, 1.8);
    for (const l of plain) {
      const s = shocked.find((x) => x.name === l.name && x.wheel === l.wheel)!;
      expectRel(s.utilization, l.utilization * (LIMITS[l.name].growsWithForce ? 1.8 : 1), 1e-12, l.name);
    }
    expect(LIMIT_NAMES.filter((n) => LIMITS[n].growsWithForce).sort()).toEqual([
      "armBuckling",
      "armSet",
      "armYield",
      "hubRetention",
      "jointPullOut",
      "tyreOffRim",
    ]);
    for (let i = 1; i < shocked.length; i++) expect(shocked[i]!.utilization).toBeLessThanOrEqual(shocked[i - 1]!.utilization);
  });
});

describe("the explanation of every limit", () => {
  it("stands for each name, with a formula, inputs, and a load path that starts at the road or the body", () => {
    expect(Object.keys(EXPLANATIONS).sort()).toEqual([...LIMIT_NAMES].sort());
    for (const name of LIMIT_NAMES) {
      const e = EXPLANATIONS[name];
      expect(e.name).toBe(name);
      expect(e.plain.length).toBeGreaterThan(60);
      expect(e.formula.length).toBeGreaterThan(5);
      expect(e.inputs.length).toBeGreaterThan(0);
      expect(e.path[0]).toBe("tyre");
    }
  });

  it("speaks of the retention at hand", () => {
    const lip = shipped("heavy-forked.json").corner;
    const pinned = shipped("heavy-cross-pinned.json").corner;
    expect(explainLimit("hubRetention", lip).formula).toContain("2 M / r");
    expect(explainLimit("hubRetention", pinned).title).toBe("the cross-pin shears");
    expect(explainLimit("hubRetention", shipped("twin-tube-hub-spring.json").corner).plain).toContain("shoulder");
    expect(explainLimit("hubRetention", shipped("converging-unequal.json").corner).title).toContain("thread");
  });

  it("follows the arm or the joint that is meant", () => {
    const limits = limitsOf(shipped("heavy-forked.json"), 0.8, 5);
    const arm = worst(limits, "armYield");
    const which = arm.part.startsWith("upper") ? "upperArm" : "lowerArm";
    expect(loadPathOf(arm)).toContain(which);
    expect(loadPathOf(arm)).not.toContain(which === "upperArm" ? "lowerArm" : "upperArm");
    expect(loadPathOf({ ...worst(limits, "jointPullOut"), part: "lower outer joint" })).toEqual(["tyre", "hub", "lowerOuter"]);
    expect(loadPathOf(worst(limits, "fit"))).toContain("outline");
    for (const l of limits) expect(loadPathOf(l).length).toBeGreaterThan(0);
  });
});
