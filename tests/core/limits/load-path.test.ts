import { describe, expect, it } from "vitest";
import { LIMIT_NAMES, type LimitName, type LimitResult } from "../../../src/core/analysis.ts";
import type { Corner, Retention, TyreSeat } from "../../../src/core/design/types.ts";
import { EXPLANATIONS, explainLimit, loadPathOf } from "../../../src/core/limits/explain.ts";
import { LIMITS } from "../../../src/core/limits/records.ts";
import { shockOn, underShock } from "../../../src/core/limits/shock.ts";
import { shipped } from "../../support/shipped.ts";

const told = (name: LimitName, part: string, more: Partial<LimitResult> = {}): LimitResult => ({
  name,
  wheel: "right",
  part,
  utilization: 0.5,
  demand: 5,
  capacity: 10,
  unit: "N",
  caution: false,
  inputs: [],
  ...more,
});
const path = (name: LimitName, part: string): string => loadPathOf(told(name, part)).join(" ");

/** The way of a force from the road to where it is held, read off a drawing of the corner. */
describe("the load path", () => {
  it("of an arm runs over that arm's joints; the spring stands on the lower one's way", () => {
    expect(path("armYield", "lower arm, stem, at the ball joint")).toBe("tyre hub lowerOuter lowerArm spring lowerInner body");
    expect(path("armSet", "lower arm, beam, at the spring seat")).toBe("tyre hub lowerOuter lowerArm spring lowerInner body");
    expect(path("armYield", "upper arm, front leg, at the inner pivot")).toBe("tyre hub upperOuter upperArm upperInner body");
    expect(path("armBuckling", "upper arm, strut load")).toBe("tyre hub upperOuter upperArm upperInner body");
  });

  it("of a joint ends at the joint when it is an outer one, and at the body when it is an inner one", () => {
    expect(path("jointPullOut", "lower outer joint")).toBe("tyre hub lowerOuter");
    expect(path("jointPullOut", "upper outer joint")).toBe("tyre hub upperOuter");
    expect(path("jointPullOut", "lower inner pin")).toBe("tyre hub lowerOuter lowerArm lowerInner body");
    expect(path("jointPullOut", "upper inner pin")).toBe("tyre hub upperOuter upperArm upperInner body");
  });

  it("of a touch is the part that comes near and the outline", () => {
    expect(path("fit", "tyre to shelf")).toBe("tyre outline");
    expect(path("fit", "upper arm touches motor")).toBe("upperArm outline");
    expect(path("fit", "lower arm to floor")).toBe("lowerArm outline");
  });

  it("of all others is the same for every car", () => {
    expect(path("hubRetention", "hub lip")).toBe("tyre rim hubRetention bearing hub");
    expect(path("tyreOffRim", "tyre on its rim")).toBe("tyre rim");
    expect(path("hubHeat", "hub, running temperature")).toBe("tyre rim hubRetention bearing");
    expect(path("springOnStop", "spring on its bump stop")).toBe("tyre hub lowerOuter lowerArm spring body");
    expect(path("wheelLift", "wheel lifts")).toBe("tyre body otherTyre");
    expect(path("sliding", "tyres let go")).toBe("tyre otherTyre");
    expect(path("camber", "lean of the wheel")).toBe(
      "tyre rim hubRetention bearing hub upperOuter lowerOuter upperArm lowerArm upperInner lowerInner spring body",
    );
    expect(EXPLANATIONS.jointPullOut.path).not.toContain("spring");
  });

  it("is a copy: changing one changes no other", () => {
    loadPathOf(told("sliding", "tyres let go")).pop();
    expect(path("sliding", "tyres let go")).toBe("tyre otherTyre");
  });
});

describe("the words of a limit", () => {
  const corner = structuredClone(shipped("heavy-forked.json")).corner;
  const held = (retention: Retention): Corner => ({ ...corner, hub: { ...corner.hub, retention } });
  const lip = { kind: "lip", radiusMm: 7, capacityN: 85, model: "ring", shoulderRadiusMm: 10, journalShare: 0 } as const;

  it("are those of the retention at hand, for that limit alone", () => {
    expect(explainLimit("hubRetention", held(lip))).toEqual(EXPLANATIONS.hubRetention);
    expect(explainLimit("hubRetention", held({ ...lip, model: "shoulder" }))).toMatchObject({
      title: "the wheel comes off its hub",
      term: "retention under axial pull and prying",
    });
    expect(explainLimit("hubRetention", held({ ...lip, model: "shoulder" })).formula).toContain("2ρ(1+ρ)/(1+2ρ²)");
    const pin: Retention = { kind: "crossPin", pinDiameterMm: 3, shearStrengthMPa: 35, shearRadiusMm: 7, journalShare: 0 };
    expect(explainLimit("hubRetention", held(pin)).term).toBe("double shear");
    expect(explainLimit("armYield", held(pin))).toEqual(EXPLANATIONS.armYield);
  });

  it("are those of the tyre's seat at hand", () => {
    const seated = (kind: TyreSeat["kind"]): string =>
      explainLimit("tyreOffRim", { ...corner, tyre: { ...corner.tyre, seat: { ...corner.tyre.seat, kind } } }).title;
    expect([seated("stretchedBand"), seated("sideDiscs"), seated("glue")]).toEqual([
      "the tyre is pushed off its rim",
      "the tyre squeezes out between its discs",
      "the glued tyre comes loose",
    ]);
  });
});

describe("a road shock of 1.5", () => {
  // what grows with the road's force and what does not: shock.ts's own list is the model's (section 7), told here by name
  const grows: readonly LimitName[] = ["hubRetention", "armYield", "armSet", "armBuckling", "tyreOffRim", "jointPullOut"];

  it("is felt by what is proportional to force", () => {
    for (const name of LIMIT_NAMES) expect(shockOn(name, 1.5), name).toBe(grows.includes(name) ? 1.5 : 1);
    expect(Object.values(LIMITS).filter((l) => l.growsWithForce)).toHaveLength(6);
  });

  it("multiplies demand and use, leaves what holds, and ranks anew", () => {
    const before = [
      told("camber", "lean", { utilization: 0.6, demand: 6 }),
      told("hubRetention", "hub lip"),
      told("sliding", "tyres", { utilization: 0.1, demand: 1 }),
    ];
    const after = underShock(before, 1.5);
    expect(after.map((l) => [l.name, l.demand, l.capacity, l.utilization])).toEqual([
      ["hubRetention", 7.5, 10, 0.75],
      ["camber", 6, 10, 0.6],
      ["sliding", 1, 10, 0.1],
    ]);
    expect(before[1]!.demand).toBe(5);
    expect(underShock(before, 1)).toEqual(before);
    expect(underShock(before, 1)).not.toBe(before);
  });
});
