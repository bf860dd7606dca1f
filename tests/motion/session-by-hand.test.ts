import { describe, expect, it } from "vitest";
import type { LimitResult } from "../../src/core/analysis.ts";
import { buildBench, limitsAt } from "../../src/core/analyze.ts";
import type { Load, Scenario } from "../../src/core/design/types.ts";
import { HUB_Z, TREAD_SHIFT, WHEEL_TILT } from "../../src/core/equilibrium/unknowns.ts";
import { advance, createSession, extrasNow, judgeArms, type MotionOptions, type Session, sessionState } from "../../src/motion/session.ts";
import { poseOf } from "../../src/motion/world.ts";
import { expectAbs, expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";

/** A moving axle of 2.9 kg and what comes off it, step by step, with words and numbers by hand. Each wheel bears half: 14.219643 N. */

const LEVEL: Load = { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 };
const H = 1 / 2400;
const HALF_N = 14.2196425;

function session(options: MotionOptions = {}, change: (s: Scenario) => void = () => {}, load: Parameters<typeof createSession>[1] = LEVEL): Session {
  const s = structuredClone(shipped("heavy-forked.json"));
  change(s);
  const made = createSession(s, load, options);
  if (!made.ok) throw new Error(made.reason.message);
  return made.session;
}
const on = (x: Session, change: Partial<Session["scene"]> = {}): void => advance(x, { ...x.scene, ...change });

describe("a session at its start", () => {
  const x = session();

  it("stands as the axle does at rest, steps by 1/2400 s, and lets break what is overloaded", () => {
    expect(x.s.h).toBe(H);
    expect([x.breaks, x.apart, x.timeS, x.going, x.events.length, x.told.size]).toEqual([true, false, 0, null, 0, 0]);
    expect([x.tyreOff, x.roadMean, x.s.wheelOn]).toEqual([
      [false, false],
      [0, 0],
      [true, true],
    ]);
    expectRel(x.restLoadN.left, HALF_N, 1e-6, "N");
    expectRel(x.restLoadN.right, HALF_N, 1e-6, "N");
    for (const d of x.demands) {
      expectRel(d.tyreHoldsN, 2 * Math.PI * 0.6 * (30 - 0.15 * 0.25), 1e-9, "N that hold the tyre at half a metre per second");
      expect(d.springMm).toBeGreaterThan(50);
    }
  });

  it("rolls at half a metre per second and grips as its tyres do, unless told", () => {
    expect([x.s.rollMmps, x.s.slipPerRad, ...x.s.grip]).toEqual([500, 8, 1.05, 1.05]);
    // a wheel that stands scrubs as at half a metre per second
    expect(session({ speedMps: 0.2 }).s.rollMmps).toBe(500);
    const { s } = session({ speedMps: 7, slipStiffnessPerRad: 11, grip: 0.5 });
    expect([s.rollMmps, s.slipPerRad, ...s.grip]).toEqual([7000, 11, 0.525, 0.525]);
  });

  it("takes other steps, beams, and what breaks", () => {
    const other = session({ stepsPerSecond: 1200, elementsPerArm: 2, breaks: false });
    expect([other.s.h, other.breaks]).toEqual([1 / 1200, false]);
    expect(other.m.axle.elementCount).toBeLessThan(x.m.axle.elementCount);
    expect(other.bench.model.elementCount).toBe(other.m.axle.elementCount);
    expect(x.bench.model.elementCount).toBe(x.m.axle.elementCount);
  });

  it("goes along the road where throttle or brake is used", () => {
    expect(session({ throttle: 0.4, speedMps: 3 }).going).toMatchObject({ throttle: 0.4, brakeG: 0, mps: 3 });
    expect(session({ brakeG: 0.2 }).going).toMatchObject({ throttle: 0, brakeG: 0.2, mps: 0 });
  });

  it("stays where it is under the load it starts with", () => {
    const load = { lateralG: 0.3, bumpLeftMm: 2, bumpRightMm: -1 };
    const y = session({ breaks: false }, () => {}, load);
    expect(y.input).toMatchObject({ steer: 0.3, lateralG: 0.3, road: [2, -1], roadSpeed: [0, 0] });
    expect(y.scene).toEqual({ lateralG: 0.3, road: [2, -1], kerb: null });
    const q = y.s.q.slice();
    const sides = (): number => y.s.tyre.lateralN[0] + y.s.tyre.lateralN[1];
    expectRel(sides(), -0.3 * 2 * HALF_N, 1e-3, "N sideways");
    for (let i = 0; i < 6; i++) on(y);
    q.forEach((v, i) => {
      expectAbs(y.s.q[i]!, v, 1e-4, `unknown ${i}`);
    });
    expectRel(sides(), -0.3 * 2 * HALF_N, 1e-3, "N sideways");
    expectRel(y.s.tyre.verticalN[0] + y.s.tyre.verticalN[1], 2 * HALF_N, 1e-3, "N");
    for (const a of [y.s.tyre.level, y.s.tyre.levelWas, y.s.tyre.targetWas]) for (const v of a) expectAbs(v, 0.3, 1e-4, "side force over load");
  });

  it("may ask the model for its load", () => {
    expectRel(
      session(
        {},
        () => {},
        (m) => ({ ...LEVEL, lateralG: m.bodyKg / 22 }),
      ).input.steer,
      0.1,
      1e-12,
      "g",
    );
  });

  it("says why there is no rest to start from, with or without a load", () => {
    const heavy = structuredClone(shipped("heavy-straight.json"));
    heavy.body.carMassKg = 5000;
    const none = createSession(heavy, LEVEL);
    expect(none.ok ? "" : none.reason.message).toMatch(/spring/);
    const over = createSession(shipped("heavy-forked.json"), { ...LEVEL, lateralG: 2 });
    expect(over.ok ? "" : over.reason.message).toMatch(/let go at 1\.05 g/);
  });
});

describe("a step of a session", () => {
  it("has the road's speed at its end, and the curve's pull at its start", () => {
    const x = session({ breaks: false });
    const kerb = { side: "left", xMm: -300, speedMmps: 0, heightMm: 5 } as const;
    // 57.6 mm/s over the step, from rest
    on(x, { lateralG: 0.1, road: [0.024, 0], kerb });
    expect([x.input.lateralG, x.input.steer, x.input.kerb]).toEqual([0, 0.1, kerb]);
    expectAbs(x.input.roadSpeed[0], 86.4, 1e-9, "mm/s");
    expect([x.input.roadSpeed[1], ...x.input.road]).toEqual([0, 0.024, 0]);
    // as fast again on the left, 28.8 mm/s down on the right
    on(x, { lateralG: 0.2, road: [0.048, -0.012] });
    expect([x.input.lateralG, x.input.steer, x.input.kerb]).toEqual([0.1, 0.2, null]);
    expectAbs(x.input.roadSpeed[0], 57.6, 1e-9, "mm/s");
    expectAbs(x.input.roadSpeed[1], -43.2, 1e-9, "mm/s");
    expectRel(x.timeS, 2 * H, 1e-12, "s");
  });

  it("that finds no place for the parts ends the motion, and names the joint that is asked for most", () => {
    for (const side of ["left", "right"] as const) {
      const x = session({}, (s) => {
        s[side] = { joints: { lowerOuter: { pullOutN: 0.4 } } };
      });
      x.input.push[0] = Number.NaN;
      on(x);
      expect([x.apart, x.timeS]).toEqual([true, 0]);
      const [e, ...more] = x.events;
      expect(more).toEqual([]);
      expect(e!.message).toMatch(
        new RegExp(
          `^The suspension gave way at 0\\.00 s: its parts find no place any more \\(${side} lower outer joint: \\d+(\\.\\d)? N, holds 0\\.4 N\\)\\.$`,
        ),
      );
      expect(e).toMatchObject({ kind: "comesApart", side, limit: "jointPullOut", capacity: 0.4, unit: "N" });
    }
  });
});

/** Capacities of next to nothing: what they hold is asked for too much at rest already. */
const weakHub = (s: Scenario): void => {
  s.corner.hub.retention = { kind: "lip", radiusMm: 7, capacityN: 1, model: "ring", shoulderRadiusMm: 10, journalShare: 0 };
};

/** planck's box of 36 by 96 mm, in units of 10 mm. */
function expectHalves(body: Session["world"]["body"]): void {
  const { m_vertices: corners } = body.getFixtureList()!.getShape() as unknown as { m_vertices: { x: number; y: number }[] };
  expectAbs(Math.max(...corners.map((v) => v.x)), 1.8, 1e-9, "half the tread's width");
  expectAbs(Math.max(...corners.map((v) => v.y)), 4.8, 1e-9, "radius");
}

describe("a wheel that is held too weakly", () => {
  const at = (change: (s: Scenario) => void, options: MotionOptions = {}): Session => {
    const x = session(options, change);
    on(x);
    return x;
  };

  it("comes off with the first step, is told once with its numbers, and the hub carries nothing any more", () => {
    const x = at(weakHub);
    expect(x.events.map((e) => [e.kind, e.side, e.limit, e.part, e.capacity, e.unit, e.timeS])).toEqual(
      ["left", "right"].map((side) => ["comesOff", side, "hubRetention", "hub lip", 1, "N", H]),
    );
    const bench = buildBench(shipped("heavy-forked.json"));
    if (!bench.rest.ok) throw new Error(bench.rest.reason.message);
    const limits = limitsAt(bench, bench.rest.state, 0.5);
    for (const e of x.events) {
      expectRel(e.demand, limits.find((l) => l.name === "hubRetention" && l.wheel === e.side)!.demand, 0.03, "N as at rest");
      expect(e.message).toBe(`The ${e.side} wheel came off at 0.00 s: hub lip, ${e.demand.toFixed(e.demand < 10 ? 1 : 0)} N, holds 1.0 N.`);
    }
    expect([x.s.wheelOn, x.apart]).toEqual([[false, false], false]);
    expect(x.world.loose.map((l) => [l.kind, l.side])).toEqual([
      ["wheel", "left"],
      ["wheel", "right"],
    ]);
    for (const [i, c] of x.m.axle.corners.entries()) {
      expect([x.s.tyres[i]!.rate, x.s.q[c.base + WHEEL_TILT]]).toEqual([0, 0]);
      expect(x.demands[i]!.hubN).toBe(0);
    }
    expectHalves(x.world.wheels[0]);
    const { z } = poseOf(x.world.body);
    for (let i = 0; i < 3; i++) on(x);
    expect(x.events).toHaveLength(2);
    expect(x.s.tyre.verticalN).toEqual([0, 0]);
    expect(poseOf(x.world.body).z).toBeLessThan(z);
  });

  it("comes off alone on its side", () => {
    const x = at((s) => {
      s.left = { hub: { retention: { capacityN: 1 } } };
    });
    expect(x.events.map((e) => e.side)).toEqual(["left"]);
    expect(x.s.wheelOn).toEqual([false, true]);
    expect(x.s.tyres[1].rate).toBeGreaterThan(0);
    const extras = extrasNow(x);
    expect(extras.wheelOff[1]).toBeNull();
    expectAbs(extras.wheelOff[0]!.x, poseOf(x.world.wheels[0]).x, 1e-12, "mm");
    expect(sessionState(x).left.wheelCentre[1]).toBe(poseOf(x.world.wheels[0]).z);
    // one demand anew on both sides: the right hub sees the left wheel gone
    expect([x.demands[0].hubN, x.demands[1].hubN > 0]).toEqual([0, true]);
  });

  it("would come off where nothing is let break, and all stays on", () => {
    const x = at(weakHub, { breaks: false });
    expect(x.events.map((e) => e.kind)).toEqual(["exceeds", "exceeds"]);
    expect(x.events[0]!.message).toMatch(/^The left wheel would come off at 0\.00 s: hub lip, \d+(\.\d)? N, holds 1\.0 N\.$/);
    expect([x.s.wheelOn, x.world.loose]).toEqual([[true, true], []]);
    on(x);
    expect(x.events).toHaveLength(2);
  });
});

describe("a tyre that is held too weakly", () => {
  const CURVE = { ...LEVEL, lateralG: 0.3 };
  const weak = (s: Scenario): void => {
    // 2π · 0.6 · 0.1 N hold it
    s.corner.tyre.seat = { kind: "stretchedBand", bandTensionN: 0.1, bandMassGPerMm: 0, friction: 0.6, extraHoldN: 0 };
    s.corner.tyre.lateralNPerMm = 20;
  };

  it("comes off its rim, flies outwards at half a metre per second, and the car runs on the rim", () => {
    const x = session({}, weak, CURVE);
    const { tyre } = x.m.axle.corners[0];
    const shifts = x.m.axle.corners.map((c) => x.s.q[c.base + TREAD_SHIFT]!);
    for (const shift of shifts) expect(Math.abs(shift)).toBeGreaterThan(0.05);
    on(x);
    const off = x.events.filter((e) => e.kind === "comesOff");
    expect(off.map((e) => [e.side, e.limit, e.part, e.unit])).toEqual(["left", "right"].map((side) => [side, "tyreOffRim", "tyre on its rim", "N"]));
    // its bare rim stands above the road
    expect(x.events.filter((e) => e.kind !== "comesOff").map((e) => [e.kind, e.side])).toEqual(["left", "right"].map((side) => ["lifts", side]));
    for (const [i, e] of off.entries()) {
      expectRel(e.capacity, 2 * Math.PI * 0.06, 1e-9, "N");
      expect(e.demand).toBeGreaterThan(2);
      expect(e.message).toMatch(new RegExp(`^The ${e.side} tyre came off its rim at 0\\.00 s: pushed sideways, \\d\\.\\d N, holds 0\\.4 N\\.$`));
      const rim = x.s.tyres[i]!;
      expectRel(rim.radius, 0.72 * 48, 1e-12, "mm");
      expectRel(rim.rate, 4 * tyre.rate, 1e-12, "N/mm per mm");
      expect([rim.crown, rim.lateralK, x.s.grip[i]]).toEqual([0, Number.POSITIVE_INFINITY, 0.35]);
      expect(x.s.q[x.m.axle.corners[i]!.base + TREAD_SHIFT]).toBe(0);
      expect(x.demands[i]!.tyreN).toBe(0);
      const part = x.world.loose[i]!;
      expect([part.kind, part.side]).toEqual(["tyre", e.side]);
      // two fifths of the wheel's 220 g
      expectRel(part.body.getMass(), 0.088, 1e-12, "kg");
      expectRel(part.body.getInertia() * 100, 0.088 * (48 ** 2 / 2), 1e-9, "kg·mm²");
      expectHalves(part.body);
      expectAbs(part.body.getLinearVelocity().x * 10, e.side === "left" ? -500 : 500, 5, "mm/s");
    }
    expect([x.tyreOff, x.s.wheelOn, x.apart]).toEqual([[true, true], [true, true], false]);
    const drawn = sessionState(x);
    // the rim's lowest point, from the wheel's centre
    expectAbs(drawn.left.tyre.rateNPerMm2, 4 * tyre.rate, 1e-9, "N/mm per mm");
    on(x);
    expect(x.events).toHaveLength(4);
  });

  it("comes off alone on its side, and is drawn there alone", () => {
    const x = session(
      {},
      (s) => {
        s.right = { tyre: { seat: { bandTensionN: 0.1, bandMassGPerMm: 0 } } };
      },
      CURVE,
    );
    on(x);
    expect([x.tyreOff, x.events.map((e) => [e.kind, e.side])]).toEqual([
      [false, true],
      [
        ["comesOff", "right"],
        ["lifts", "right"],
      ],
    ]);
    const drawn = sessionState(x);
    expectRel(drawn.right.tyre.rateNPerMm2 / drawn.left.tyre.rateNPerMm2, 4, 1e-9, "rim over tyre");
    expectRel(x.s.grip[0], 1.05, 1e-12, "grip on the left");
  });

  it("would come off where nothing is let break", () => {
    const x = session({ breaks: false }, weak, CURVE);
    on(x);
    expect(x.events.map((e) => e.kind)).toEqual(["exceeds", "exceeds"]);
    expect(x.events[1]!.message).toMatch(/^The right tyre would come off its rim at 0\.00 s: pushed sideways, \d\.\d N, holds 0\.4 N\.$/);
    expect([x.tyreOff, x.world.loose]).toEqual([[false, false], []]);
    on(x);
    expect(x.events).toHaveLength(2);
  });
});

describe("a joint that is held too weakly", () => {
  const weak = (s: Scenario): void => {
    s.corner.joints.lowerOuter.pullOutN = 0.5;
  };

  it("comes apart and ends the motion", () => {
    const x = session({}, weak);
    on(x);
    expect(x.apart).toBe(true);
    expect(x.events.map((e) => [e.kind, e.side, e.limit, e.part, e.capacity, e.unit])).toEqual(
      ["left", "right"].map((side) => ["comesApart", side, "jointPullOut", "lower outer joint", 0.5, "N"]),
    );
    for (const e of x.events)
      expect(e.message).toMatch(new RegExp(`^The ${e.side} lower outer joint came apart at 0\\.00 s: \\d+(\\.\\d)? N, holds 0\\.5 N\\.$`));
    on(x);
    expect(x.events).toHaveLength(2);
  });

  it("would come apart where nothing is let break, and the motion goes on", () => {
    const x = session({ breaks: false }, weak);
    on(x);
    expect([x.apart, x.events[0]!.kind]).toEqual([false, "exceeds"]);
    expect(x.events[0]!.message).toMatch(/^The left lower outer joint would come apart at 0\.00 s: \d+(\.\d)? N, holds 0\.5 N\.$/);
  });
});

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
