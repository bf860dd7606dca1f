import { describe, expect, it } from "vitest";
import { buildBench, limitsAt } from "../../src/core/analyze.ts";
import type { Scenario } from "../../src/core/design/types.ts";
import { TREAD_SHIFT, WHEEL_TILT } from "../../src/core/equilibrium/unknowns.ts";
import { extrasNow, type MotionOptions, type Session, sessionState } from "../../src/motion/session.ts";
import { poseOf } from "../../src/motion/world.ts";
import { expectAbs, expectRel } from "../support/close.ts";
import { shipped } from "../support/shipped.ts";
import { LEVEL, on, session } from "./rigs.ts";

/** What comes off a moving axle, with words and numbers by hand. */

const H = 1 / 2400;

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
