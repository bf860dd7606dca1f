import { beforeEach, describe, expect, it } from "vitest";
import type { LimitResult } from "../../../src/core/analysis.ts";
import { buildBench, limitContext, solveLoad } from "../../../src/core/analyze.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import { type LimitContext, limitResult } from "../../../src/core/limits/context.ts";
import { hubHeatLimit } from "../../../src/core/limits/hub-heat.ts";
import { hubRetention } from "../../../src/core/limits/hub-retention.ts";
import { allLimits, firstToGive } from "../../../src/core/limits/limits.ts";
import { camberLimit, jointPullOut, sliding, springOnStop, tyreOffRim, wheelLift } from "../../../src/core/limits/wheel.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";

/** Every limit told in full at an imposed state, the numbers worked out by hand from the file's. */

const scenario = structuredClone(shipped("heavy-forked.json"));
const bench = buildBench(scenario);
const solved = solveLoad(bench, { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 });
if (!solved.ok) throw new Error(solved.reason.message);
const plain = limitContext(bench, solved.state, 0)!;
/** of a wheel of 0.22 kg, N */
const WHEEL_N = 2.157463;

let x: LimitContext;
beforeEach(() => {
  x = { ...plain, state: structuredClone(plain.state), restLoadN: { left: 20, right: 25 } };
});
const withScenario = (change: (s: Scenario) => void): void => {
  const s = structuredClone(scenario);
  change(s);
  x.model = buildBench(s).model;
};
const input = (l: LimitResult, name: string): number => l.inputs.find((i) => i.name === name)!.value;

describe("a tyre on its rim", () => {
  // 2 pi · 0.6 · (30 - 0.15 · 10²) = 56.548668 N, at rest 113.097336 N
  it("is told with speed, tension left and what it holds at rest", () => {
    x.speedMps = 10;
    x.state.right.tyre.lateralN = -14.137167;
    const l = tyreOffRim(x, "right");
    expect(l).toMatchObject({ name: "tyreOffRim", wheel: "right", part: "tyre on its rim", demand: 14.137167, unit: "N", caution: false });
    expectRel(l.capacity, 56.548668, 1e-7, "N");
    expectRel(l.utilization, 0.25, 1e-7, "share");
    expect(l.inputs.map((i) => [i.name, i.unit])).toEqual([
      ["speed", "km/h"],
      ["band tension left", "N"],
      ["holds at rest", "N"],
    ]);
    expectRel(input(l, "speed"), 36, 1e-12, "km/h");
    expectRel(input(l, "band tension left"), 15, 1e-12, "N");
    expectRel(input(l, "holds at rest"), 113.097336, 1e-7, "N");
  });

  it("has no tension less than none, and is named by what holds it", () => {
    x.speedMps = 20;
    expect(input(tyreOffRim(x, "left"), "band tension left")).toBe(0);
    const part = (kind: "glue" | "sideDiscs"): string => {
      withScenario((s) => {
        s.corner.tyre.seat.kind = kind;
      });
      return tyreOffRim(x, "left").part;
    };
    expect([part("glue"), part("sideDiscs")]).toEqual(["glued tyre", "tyre between its discs"]);
  });
});

describe("a joint", () => {
  it("is the one that is nearest to coming apart, not the one with the largest force", () => {
    withScenario((s) => {
      s.corner.joints.upperOuter = { ...s.corner.joints.upperOuter, pullOutN: 20 };
    });
    const forces = { upperInner: 11, upperOuter: 15, lowerInner: 30, lowerOuter: 12 };
    for (const [name, n] of Object.entries(forces)) x.state.left.joints[name as keyof typeof forces].forceN = n;
    expect(jointPullOut(x, "left")).toEqual({
      name: "jointPullOut",
      wheel: "left",
      part: "upper outer joint",
      utilization: 0.75,
      demand: 15,
      capacity: 20,
      unit: "N",
      caution: false,
      inputs: [{ name: "force in the upper outer joint", value: 15, unit: "N" }],
    });
  });
});

describe("lean", () => {
  it("counts either way against the 8° of the file, outwards or inwards by the wheel's side", () => {
    for (const side of ["left", "right"] as const) x.state[side].wheelAngleRad = (2 * Math.PI) / 180;
    const [left, right] = [camberLimit(x, "left"), camberLimit(x, "right")];
    for (const l of [left, right]) {
      expectRel(l.demand, 2, 1e-12, "°");
      expectRel(l.utilization, 0.25, 1e-12, "share");
      expect([l.name, l.part, l.capacity, l.unit, l.caution]).toEqual(["camber", "lean of the wheel", 8, "°", false]);
      expectRel(l.inputs[0]!.value, 2, 1e-12, "°");
      expect(l.inputs[0]!.unit).toBe("°");
    }
    // counter-clockwise as seen from behind: tops to the left
    expect([left.inputs[0]!.name, right.inputs[0]!.name]).toEqual(["top outwards", "top inwards"]);
  });
});

describe("a spring and its stop", () => {
  // 65.8 mm free, pressed in by 2: 67.8 mm; stop at 50 mm: 17.8 mm of way
  it("has used as much of its way as it is shorter than free", () => {
    x.state.left.spring.lengthMm = 58.9;
    const l = springOnStop(x, "left");
    expectRel(l.demand, 8.9, 1e-12, "mm");
    expectRel(l.capacity, 17.8, 1e-12, "mm");
    expectRel(l.utilization, 0.5, 1e-12, "share");
    expect(l).toMatchObject({ name: "springOnStop", wheel: "left", part: "spring on its bump stop", unit: "mm", caution: true });
    expect(l.inputs).toEqual([
      { name: "spring length", value: 58.9, unit: "mm" },
      { name: "the stop touches at", value: 50, unit: "mm" },
    ]);
  });

  it("has used nothing when it hangs longer than free, and has no way at all where the stop is longer than it", () => {
    x.state.left.spring.lengthMm = 70;
    expect(springOnStop(x, "left").demand).toBe(0);
    withScenario((s) => {
      s.corner.spring.bumpStop.lengthMm = 69;
    });
    expect(springOnStop(x, "left").capacity).toBe(0);
  });
});

describe("lift", () => {
  const put = (left: number, right: number): void => {
    x.state.left.tyre.verticalN = left;
    x.state.right.tyre.verticalN = right;
  };
  it("is that of the wheel which has lost the larger share of its load at rest", () => {
    // 20 and 25 N at rest: 5 N lost are a quarter on the left, 6 N under a quarter on the right
    put(15, 19);
    expect(wheelLift(x)).toEqual({
      name: "wheelLift",
      wheel: "left",
      part: "wheel lifts: the car tips",
      utilization: 0.25,
      demand: 5,
      capacity: 20,
      unit: "N",
      caution: false,
      inputs: [{ name: "left on it", value: 15, unit: "N" }],
    });
    put(25, 20);
    expect(wheelLift(x)).toMatchObject({ wheel: "right", demand: 5, capacity: 25, utilization: 0.2 });
  });

  it("is nothing while both carry more, and no tipping where the rest of the car holds the body", () => {
    put(21, 26);
    expect(wheelLift(x).demand).toBe(0);
    withScenario((s) => {
      s.body.otherRollStiffnessNmmPerDeg = 100;
    });
    expect(wheelLift(x).part).toBe("wheel lifts");
  });
});

describe("sliding", () => {
  it("is the side force over the load against a friction of 1.05, of the wheel that uses more", () => {
    for (const [side, vertical, lateral] of [
      ["left", 20, -8.4],
      ["right", 40, 8.4],
    ] as const)
      Object.assign(x.state[side].tyre, { verticalN: vertical, lateralN: lateral });
    const l = sliding(x);
    expectRel(l.demand, 0.42, 1e-12, "g");
    expectRel(l.utilization, 0.4, 1e-12, "share");
    expect(l).toMatchObject({ name: "sliding", wheel: "both", part: "tyres let go", capacity: 1.05, unit: "g", caution: false });
    expect(l.inputs).toEqual([{ name: "grip", value: 1.05, unit: "" }]);
  });

  it("asks nothing of a wheel in the air", () => {
    for (const side of ["left", "right"] as const) Object.assign(x.state[side].tyre, { verticalN: 0, lateralN: -3 });
    expect(sliding(x).demand).toBe(0);
  });
});

describe("what holds the wheel", () => {
  const upright = (pull: number, across: number, moment: number): void => {
    x.state.right.wheelAngleRad = 0;
    x.state.right.tyre.verticalN = across + WHEEL_N;
    x.state.right.tyre.lateralN = pull;
    x.state.right.bearing.momentNmm = moment;
  };

  // lip of 7 mm holding 85 N: F + 2 M/r (Carvill, 1993, p. 15 case 9)
  it("is told with pull, moment and what prying adds", () => {
    upright(11, 30, -35);
    const l = hubRetention(x, "right");
    expectRel(l.demand, 21, 1e-12, "N");
    expect(l).toMatchObject({ name: "hubRetention", wheel: "right", part: "hub lip", capacity: 85, unit: "N", caution: false });
    expect(l.inputs.map((i) => [i.name, i.unit])).toEqual([
      ["pulled outwards by", "N"],
      ["tilting moment", "N·mm"],
      ["prying adds", "N"],
    ]);
    expect(l.inputs.map((i) => i.value)).toEqual([11, 35, 10]);
    upright(-11, 30, -35);
    expect(hubRetention(x, "right").inputs[0]).toMatchObject({ name: "pushed on by", value: 11 });
    expect(hubRetention(x, "right").demand).toBe(0);
  });

  // 8 m/s on 48 mm: 166.666667 rad/s; journal of 2.4 x 18 mm, friction 0.06, 4000 mm² giving off 13 W/m²K: 0.052 W/K. 5 N of pull and 200 N·mm
  // on the 7 mm lip: all round it 36.517622 N (by summing |q| over 200,000 places); with 30 N on the journal 19.657401 N·mm, 3.276234 W, 63.004492 K
  it("warms by its rubbing: 86 °C and too hot after 23.2 min by 30 N on the journal and 36.5 N all round the lip", () => {
    upright(5, 30, 200);
    x.speedMps = 8;
    withScenario((s) => {
      s.corner.hub.heat.journalLengthMm = 1800;
    });
    const l = hubHeatLimit(x, "right");
    expect(l).toMatchObject({ name: "hubHeat", wheel: "right", part: "hub, running temperature", unit: "K above the air", caution: true, capacity: 62 });
    expectRel(l.demand, 63.004492, 1e-6, "K");
    expect(l.inputs.map((i) => [i.name, i.unit])).toEqual([
      ["friction power", "W"],
      ["carried by journal", "N"],
      ["carried all round by lip, shoulder or collar", "N"],
      ["temperature if it goes on for ever", "°C"],
      ["strength left at that temperature", "%"],
      ["pressure times rubbing speed", "MPa·m/s"],
      ["the material stands", "MPa·m/s"],
      ["too hot after", "min"],
    ]);
    expectRel(input(l, "friction power"), 3.276234, 1e-6, "W");
    expect(input(l, "carried by journal")).toBe(30);
    expectRel(input(l, "carried all round by lip, shoulder or collar"), 36.517622, 1e-6, "N");
    expectRel(input(l, "temperature if it goes on for ever"), 86.004492, 1e-6, "°C");
    // three quarters at 85 °C, nothing at 95 °C
    expectRel(input(l, "strength left at that temperature"), 67.466313, 1e-5, "%");
    // time constant 336 s: a wall of 3 mm of 1040 kg/m³ and 1400 J/kgK over 0.052 W/K
    expectRel(input(l, "too hot after"), 23.176857, 1e-5, "min");
    // the hundredth of the pressure on a journal a hundred times as long
    expectRel(input(l, "pressure times rubbing speed"), 0.00138888889, 1e-6, "MPa·m/s");
    expect(input(l, "the material stands")).toBe(0.05);
  });

  // 30 N over 4.8 x 18 mm: 0.347222 MPa at 0.4 m/s: 0.138889 MPa·m/s against 0.05 for abs
  it("is judged by pressure times speed where that is nearer", () => {
    upright(5, 30, 20);
    x.speedMps = 8;
    const l = hubHeatLimit(x, "right");
    expect(l).toMatchObject({ part: "hub's journal, pressure times speed", unit: "MPa·m/s", capacity: 0.05, caution: true });
    expectRel(l.demand, 0.138888889, 1e-6, "MPa·m/s");
    expectRel(l.utilization, 2.77777778, 1e-6, "share");
    expect(l.inputs.some((i) => i.name === "too hot after")).toBe(false);
    expectRel(input(l, "temperature if it goes on for ever"), 43.78227, 1e-6, "°C");
  });

  it("is judged by heat alone where no such limit is known, as of metal", () => {
    withScenario((s) => {
      s.corner.hub.heat.material = "aluminium";
    });
    upright(5, 30, 20);
    x.speedMps = 8;
    const l = hubHeatLimit(x, "right");
    expect([l.part, l.capacity]).toEqual(["hub, running temperature", 77]);
    expect(l.inputs.some((i) => i.name === "the material stands")).toBe(false);
    expect(input(l, "strength left at that temperature")).toBe(100);
  });
});

describe("a limit as such", () => {
  const draft = { part: "a part", unit: "N", inputs: [] };
  it("is demand over capacity; nothing is asked below zero, and what holds nothing has given", () => {
    const use = (demand: number, capacity: number): number => limitResult("camber", "left", { ...draft, demand, capacity }).utilization;
    expect([use(3, 4), use(0, 4), use(-3, 4), use(0, 0), use(1, 0), use(1, -1)]).toEqual([0.75, 0, 0, 0, Number.MAX_VALUE, Number.MAX_VALUE]);
    expect(limitResult("camber", "left", { ...draft, demand: 1, capacity: 2 }).caution).toBe(false);
  });

  it("is one of a list, worst first; the first that is no mere caution gives first", () => {
    const all = allLimits(plain);
    for (let i = 1; i < all.length; i++) expect(all[i]!.utilization).toBeLessThanOrEqual(all[i - 1]!.utilization);
    expect(all.filter((l) => l.name === "armBuckling")).toHaveLength(2);
    expect(allLimits(plain, ["armBuckling"]).some((l) => l.name === "armBuckling")).toBe(false);
    expect(all.length - allLimits(plain, ["armBuckling"]).length).toBe(2);
    expect(all.filter((l) => l.name === "fit")).toHaveLength(2);
    expect(new Set(all.map((l) => l.name)).size).toBe(13);
    const l = (caution: boolean, utilization: number): LimitResult => ({ ...all[0]!, caution, utilization });
    expect(firstToGive([l(true, 3), l(false, 2), l(false, 1)]).utilization).toBe(2);
    expect(firstToGive([l(true, 3), l(true, 2)]).utilization).toBe(3);
    expectAbs(firstToGive(all).utilization, Math.max(...all.filter((k) => !k.caution).map((k) => k.utilization)), 0, "share");
  });
});
