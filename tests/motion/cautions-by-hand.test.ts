import { describe, expect, it } from "vitest";
import type { LimitResult } from "../../src/core/analysis.ts";
import type { Scenario } from "../../src/core/design/types.ts";
import { HUB_Z } from "../../src/core/equilibrium/unknowns.ts";
import { extrasNow, judgeArms, type Session, sessionState } from "../../src/motion/session.ts";
import { expectAbs, expectRel } from "../support/close.ts";
import { HALF_N, LEVEL, on, session } from "./rigs.ts";

/** What a moving axle warns of, and what its arms bear, with words and numbers by hand. */

const H = 1 / 2400;

describe("cautions", () => {
  it("tell a tyre that slides, once for each side", () => {
    const x = session({ breaks: false, grip: 0.2, speedMps: 20 }, () => {}, { ...LEVEL, lateralG: 0.2 });
    expect(x.events).toEqual([]);
    // grip of 0.21; asked for 1 g, the side force follows within some steps
    for (let i = 0; i < 4; i++) on(x, { lateralG: 1 });
    const slides = x.events.filter((e) => e.kind === "slides");
    expect(slides.map((e) => e.side)).toEqual(["left", "right"]);
    for (const e of slides) {
      expect(e).toMatchObject({ limit: "sliding", part: "tyre on the road", unit: "" });
      expectRel(e.capacity, 0.21, 1e-12, "side force over load");
      expect(e.demand).toBeGreaterThanOrEqual(0.21);
      expect(e.demand).toBeLessThan(1);
      expect(e.message).toBe(`The ${e.side} tyre slides at 0.00 s: more side force asked for than its grip of 0.21 gives.`);
    }
  });

  it.each([
    ["spins", 5, 0],
    ["locks", 0, -5],
    ["locks", 2, -5],
  ])("tell a wheel that %s: drive %i N, brake %i N", (verb, driveN, brakeN) => {
    const x = session({ breaks: false, throttle: 0.1 });
    x.going!.asked = { driveN, brakeN };
    x.going!.gripUsed = [1.2, 0.9];
    on(x);
    on(x);
    expect(x.events).toHaveLength(1);
    const [e] = x.events;
    expect(e).toMatchObject({ kind: "spins", side: "left", limit: "sliding", part: "tyre on the road", unit: "" });
    expectRel(e!.demand, 1.2 * 1.05, 1e-12, "push over load");
    expectRel(e!.capacity, 1.05, 1e-12, "push over load");
    expect(e!.message).toBe(`The left wheel ${verb} at 0.00 s: asked for more push than the grip of 1.05 leaves beside the side force.`);
  });

  it("call no wheel spinning that is in the air, slides sideways, or is asked for less", () => {
    const x = session({ breaks: false, throttle: 0.1, grip: 0.2, speedMps: 20 }, () => {}, { ...LEVEL, lateralG: 0.2 });
    x.going!.gripUsed = [0.99, 2];
    on(x, { road: [0, -30] });
    // at 20 m/s the band holds no tyre any more: another matter
    const cautions = (z: Session): string[][] => z.events.filter((e) => e.kind !== "exceeds").map((e) => [e.kind, e.side]);
    expect(cautions(x)).toEqual([["lifts", "right"]]);
    const y = session({ breaks: false, throttle: 0.1, grip: 0.2, speedMps: 20 }, () => {}, { ...LEVEL, lateralG: 0.2 });
    for (let i = 0; i < 4; i++) on(y, { lateralG: 1 });
    y.going!.gripUsed = [2, 2];
    on(y, { lateralG: 1 });
    expect(cautions(y).map(([kind]) => kind)).toEqual(["slides", "slides"]);
  });

  it("tell a wheel that leaves the road, with its load at rest", () => {
    const x = session({ breaks: false });
    on(x, { road: [0, -30] });
    on(x, { road: [0, -30] });
    expect(x.events).toHaveLength(1);
    const [e] = x.events;
    expect(e).toMatchObject({ kind: "lifts", side: "right", limit: "wheelLift", part: "wheel on the road", unit: "N" });
    expectRel(e!.demand, HALF_N, 1e-6, "N");
    expectRel(e!.capacity, HALF_N, 1e-6, "N");
    expect(e!.message).toBe("The right wheel left the road at 0.00 s.");
  });

  it("tell a spring on its bump stop by how far it is pressed", () => {
    const x = session({ breaks: false }, (s) => {
      s.left = { spring: { bumpStop: { lengthMm: 64, rateNPerMm: 0.001 } } };
    });
    const { length } = { length: x.demands[0].springMm };
    expect(length).toBeLessThan(64);
    on(x);
    expect(x.events).toHaveLength(1);
    const [e] = x.events;
    expect(e).toMatchObject({ kind: "touchesStop", side: "left", limit: "springOnStop", part: "spring on its bump stop", unit: "mm" });
    // 65.8 mm and 2 mm of preload
    expectAbs(e!.demand, 67.8 - length, 1e-3, "mm");
    expectAbs(e!.capacity, 3.8, 1e-9, "mm");
    expect(e!.message).toBe("The left spring touched its bump stop at 0.00 s.");
    on(x);
    expect(x.events).toHaveLength(1);
  });
});

describe("the moment as it is drawn", () => {
  it("is a copy of what acts", () => {
    const x = session({ breaks: false }, () => {}, { lateralG: 0.2, bumpLeftMm: 1, bumpRightMm: 3 });
    on(x);
    const e = extrasNow(x);
    expect(e.load).toEqual({ lateralG: 0.2, bumpLeftMm: 1, bumpRightMm: 3 });
    expect([e.verticalN, e.lateralN, e.damperN, e.bearingNmm]).toEqual([x.s.tyre.verticalN, x.s.tyre.lateralN, x.s.damperN, x.s.bearingMoment]);
    expect([...e.jointForce]).toEqual([...x.s.jointForce]);
    expect([e.lateralMm, e.wheelOff]).toEqual([x.s.q[x.m.x], [null, null]]);
    const was = structuredClone(e);
    x.s.jointForce.fill(9);
    x.s.tyre.verticalN[0] = 9;
    expect(e).toEqual(was);
    expectAbs(sessionState(x).left.hub.at[1], x.m.axle.corners[0].centre[1] + x.s.q[x.m.axle.corners[0].base + HUB_Z]!, 1e-9, "mm");
  });
});

describe("the arms of a moment", () => {
  const share = (name: "armYield" | "armBuckling", utilization: number): LimitResult =>
    ({ name, utilization, part: "upper arm", demand: 10, capacity: 4.22, unit: "N" }) as LimitResult;
  const brittle = (s: Scenario): void => {
    const material = { name: "chalk", youngMPa: 2400, poisson: 0.35, yieldMPa: 0.01, densityKgPerM3: 1050, plastic: true, maxTempC: 80, source: "invented" };
    s.left = { upperArm: { material }, lowerArm: { material } };
  };

  it("break where their stress passes what the material holds, and end the motion", () => {
    const x = session({}, brittle);
    judgeArms(x);
    expect(x.apart).toBe(true);
    // both arms share one line for each side
    expect(x.events.map((e) => [e.kind, e.side, e.limit, e.capacity, e.unit])).toEqual([["comesApart", "left", "armYield", 0.01, "N/mm²"]]);
    expect(x.events[0]!.message).toMatch(/^The left (upper|lower) arm.* broke at 0\.00 s: \d+(\.\d)? N\/mm², holds 0\.0 N\/mm²\.$/);
    const told = x.arms[0][0].toldAtS;
    x.timeS = 1;
    judgeArms(x);
    expect([x.arms[0][0].toldAtS, x.events.length]).toEqual([told, 1]);
  });

  it("would break where nothing is let break, and are told again only in time", () => {
    const x = session({ breaks: false }, brittle);
    judgeArms(x);
    expect([x.apart, x.events[0]!.kind]).toEqual([false, "exceeds"]);
    expect(x.events[0]!.message).toMatch(/ would break at /);
    expect(x.arms.flat().map((w) => w.toldAtS)).toEqual([0, 0, 0, 0]);
    x.timeS = 0.01;
    judgeArms(x);
    expect(x.arms.flat().map((w) => w.toldAtS)).toEqual([0, 0, 0, 0]);
    x.timeS = 0.07;
    judgeArms(x);
    expect(x.arms.flat().map((w) => w.toldAtS)).toEqual([0.07, 0.07, 0.07, 0.07]);
    expect(x.events).toHaveLength(1);
  });

  it.each([
    [true, "comesApart", "buckled"],
    [false, "exceeds", "would buckle"],
  ])("buckle: what is overloaded comes off %s", (breaks, kind, verb) => {
    const x = session({ breaks });
    // told already, and no load reaches the one at which it would be told anew
    Object.assign(x.arms[1][0], { buckling: share("armBuckling", 1), bucklingLoad: 1e9 });
    Object.assign(x.arms[1][1], { buckling: share("armBuckling", 0.99), bucklingLoad: 1e9 });
    judgeArms(x);
    expect(x.apart).toBe(breaks);
    expect(x.events.map((e) => [e.kind, e.side, e.limit])).toEqual([[kind, "right", "armBuckling"]]);
    expect(x.events[0]!.message).toBe(`The right upper arm ${verb} at 0.00 s: 10 N, holds 4.2 N.`);
  });

  it("bear no push where the wheel is gone", () => {
    const x = session({ throttle: 0.1 }, (s) => {
      s.left = { hub: { retention: { capacityN: 1 } } };
    });
    on(x);
    x.going!.asked = { driveN: 3, brakeN: 0 };
    judgeArms(x);
    expect(x.s.wheelOn).toEqual([false, true]);
    expect([x.going!.told[0], x.going!.told[1] !== null, ...x.going!.pull[0]]).toEqual([null, true, 0, 0, 0, 0]);
    expect(x.arms[0].map((w) => w.toldAtS)).toEqual([H, H]);
  });

  it("are bent by a push along the road over their whole length", () => {
    const still = session({ breaks: false });
    const pushed = session({ breaks: false, throttle: 1, speedMps: 1 });
    for (const x of [still, pushed]) {
      on(x);
      if (x.going) {
        x.going.asked = { driveN: 3, brakeN: 0 };
        x.going.passedN = [3, 3];
      }
      judgeArms(x);
    }
    const push = pushed.going!.told[0]!.jointPushN;
    for (const [k, name] of (["upper", "lower"] as const).entries()) {
      const length = Math.hypot(120 - (name === "upper" ? 56 : 48), 4);
      expectRel(pushed.arms[0][k]!.largest - still.arms[0][k]!.largest, Math.abs(push[name]) * length, 1e-3, "N·mm");
    }
    // both outer joints carry the push together
    expect(pushed.arms[0][1].yields!.utilization).toBeGreaterThan(still.arms[0][1].yields!.utilization);
  });
});
