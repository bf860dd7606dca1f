import { describe, expect, it } from "vitest";
import type { Load } from "../../../src/core/design/types.ts";
import { type AxleModel, buildAxle } from "../../../src/core/equilibrium/model.ts";
import { apart, createSolver, type Solver, solveAt } from "../../../src/core/equilibrium/newton.ts";
import { readState } from "../../../src/core/equilibrium/readout.ts";
import { creep, droppedStart, laidOver, REST, solveBeside, solveCold, solveFromRest, solveNear, solveWarm } from "../../../src/core/equilibrium/solve.ts";
import { WHEEL_TILT } from "../../../src/core/equilibrium/unknowns.ts";
import { WORK } from "../../../src/core/tolerances.ts";
import { randomScenario } from "../../support/arbitrary-scenario.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { denseStep, outOfBalanceN } from "../../support/dense-step.ts";
import { curve, rad, solved, straightCar } from "./straight-car.ts";

describe("answers from wherever the search starts", () => {
  const m = straightCar();
  const rest = solved(m, REST);
  const load: Load = { lateralG: 0.6, bumpLeftMm: 0, bumpRightMm: 4 };
  const cold = solved(m, load);
  const same = (q: Float64Array, what: string): void => expectAbs(apart(m, q, cold), 0, 1e-6, `${what}, mm`);

  it("are those of the way up from rest", () => {
    for (const [what, start] of [
      ["a neighbour", solved(m, { ...load, lateralG: 0.55 })],
      ["rest", rest],
      ["nonsense", rest.map((v, i) => v + (i % 7) - 3)],
      ["another car", new Float64Array(m.n - 1)],
    ] as const) {
      const before = start.slice();
      const r = solveWarm(m, load, start, createSolver(m), what === "rest" ? null : rest);
      if (!r.ok) throw new Error(r.reason.message);
      same(r.q, what);
      expect(start, "left alone").toEqual(before);
    }
  });

  it("take a step or two from a neighbour, and none of the way up", () => {
    const beside = solved(m, { ...load, lateralG: 0.599 });
    const before = beside.slice();
    for (const way of [solveNear, solveBeside]) {
      const s = createSolver(m);
      const q = way(m, load, beside, s);
      same(q!, way.name);
      expect(s.iterations).toBeLessThanOrEqual(4);
      expect(beside, "left alone").toEqual(before);
      // another car's unknowns, though they begin like its own
      const t = createSolver(m);
      expect([way(m, load, Float64Array.from([...beside, 0, 0, 0]), t), t.iterations]).toEqual([null, 0]);
    }
    const s = createSolver(m);
    const r = solveWarm(m, load, beside, s);
    expect([r.ok, s.iterations <= 4]).toEqual([true, true]);
  });

  it("need no new search for rest where it is known", () => {
    const start = new Float64Array(m.n - 1);
    const [s, t] = [createSolver(m), createSolver(m)];
    solveWarm(m, load, start, s, rest);
    solveWarm(m, load, start, t);
    expect(s.iterations).toBeLessThan(t.iterations);
  });

  it("take some dozens from further off, creeping where a first step leaps", () => {
    const [s, t] = [createSolver(m), createSolver(m)];
    const from = solved(m, curve(-0.6));
    const q = from.slice();
    expect(solveAt(t, q, load, true)).toBe(true);
    expect(solveNear(m, load, from, s)).toEqual(q);
    expect(s.iterations).toBe(t.iterations);
    expect(s.iterations).toBeGreaterThan(4);
  });
});

describe("a wheel that leans more and more", () => {
  /** On a mere edge of tread, built with its top outwards; its bearing is hardly stiffer than 14 N · 48 mm of falling. */
  const leaning = (staticCamberDeg: number, tiltStiffnessNmmPerDeg: number): AxleModel =>
    straightCar((s) => {
      Object.assign(s.corner.hub, { tiltStiffnessNmmPerDeg, staticCamberDeg, tiltPlayDeg: 0, bearingOffsetMm: 0 });
      Object.assign(s.corner.tyre, { effectiveWidthMm: 0.5, crownRadiusMm: null });
    });

  it("is laid over at 45°, where the path ends", () => {
    const m = leaning(12, 20);
    const rest = solved(m, REST);
    const r = solveFromRest(m, curve(0.8), rest, createSolver(m));
    if (r.ok) throw new Error("stands");
    expect(r.reason.kind).toBe("laidOver");
    const { left, right } = readState(m, solved(m, r.reason.atLoad), r.reason.atLoad);
    // the outer wheel, right in a left curve, has its top pushed inwards; that of the other one leans out
    const lean = { left: left.wheelAngleRad, right: -right.wheelAngleRad };
    expectAbs(lean[r.reason.side!], rad(45), rad(2), "lean, rad");
    expect(Math.max(lean.left, lean.right)).toBeLessThanOrEqual(rad(45));
  });

  it("is no answer where it lies, though it is balanced", () => {
    const m = leaning(20, 15);
    const r = solveCold(m, REST);
    expect(r.ok ? "answer" : r.reason.kind).toBe("laidOver");
    const q = droppedStart(m);
    expect(solveAt(createSolver(m), q, REST)).toBe(true);
    expect(laidOver(m, q)).not.toBeNull();
    expect([solveNear(m, REST, q, createSolver(m)), solveBeside(m, REST, q, createSolver(m))]).toEqual([null, null]);
  });
});

describe("a wheel that falls across its play under way", () => {
  // the right wheel on a mere edge of tread, its bearing 6 mm inboard with 2° of play: its load keeps it at the inner end until the side force
  // of the curve outweighs it
  const m = straightCar((s) => {
    for (const j of Object.values(s.corner.joints)) j.clearanceMm = 0;
    Object.assign(s.corner.hub, { staticCamberDeg: 0, bearingOffsetMm: 6, tiltPlayDeg: 0 });
    s.right = { hub: { tiltPlayDeg: 2 }, tyre: { effectiveWidthMm: 0.5 } };
  });
  const rest = solved(m, REST);
  const tiltDeg = (g: number): number => {
    const r = solveFromRest(m, curve(g), rest, createSolver(m));
    if (!r.ok) throw new Error(r.reason.message);
    return (r.q[m.corners[1].base + WHEEL_TILT]! * 180) / Math.PI;
  };

  it("does so where the moments about its bearing cancel, and the path goes on", () => {
    // by hand: load N and side force g·N where the tread stands, weight and inertia of the wheel in its middle, all about the bearing; their
    // moment at two loads, and on along the straight line to where there is none
    const moment = (g: number): number => {
      const { tyre, bearing, wheelCentre } = readState(m, solved(m, curve(g)), curve(g)).right;
      const w = m.corners[1].wheelWeight;
      const upright = tyre.verticalN * (tyre.contact[0] - bearing.at[0]) - w * (wheelCentre[0] - bearing.at[0]);
      return upright - g * (tyre.verticalN * bearing.at[1] + w * (bearing.at[1] - wheelCentre[1]));
    };
    const [one, two] = [moment(0.1), moment(0.13)];
    const g = 0.13 + (0.03 * two) / (one - two);
    expect(one).toBeGreaterThan(two);
    expect(two).toBeGreaterThan(0);
    expect(tiltDeg(0.99 * g)).toBeGreaterThan(2);
    expect(tiltDeg(1.01 * g)).toBeLessThan(-2);
    expect(tiltDeg(0.5)).toBeLessThan(-2);
  });
});

describe("a wheel with much play", () => {
  it("falls further than a step of the path may take it, and the path goes on", () => {
    // 16° to either side: across it the hub's 50 mm move by 28 mm
    const m = straightCar((s) => {
      for (const j of Object.values(s.corner.joints)) j.clearanceMm = 0;
      Object.assign(s.corner.hub, { staticCamberDeg: 0, bearingOffsetMm: 6, tiltPlayDeg: 0 });
      s.right = { hub: { tiltPlayDeg: 16 }, tyre: { effectiveWidthMm: 0.5 } };
    });
    const tilt = m.corners[1].base + WHEEL_TILT;
    const rest = solved(m, REST);
    expect(rest[tilt]).toBeGreaterThan(rad(16));
    const q = solved(m, curve(0.7));
    expect(q[tilt]).toBeLessThan(rad(-16));
  });
});

describe("a balance on a knife's edge", () => {
  it("is no answer", () => {
    const m = straightCar((s) => {
      for (const j of Object.values(s.corner.joints)) j.clearanceMm = 0;
      s.corner.hub.tiltPlayDeg = 0;
    });
    const q = solved(m, REST);
    // the rest of the car pushes the body over; upright it is in balance still
    m.otherRollK = -1e6;
    expect([solveNear(m, REST, q, createSolver(m)), solveBeside(m, REST, q, createSolver(m))]).toEqual([null, null]);
    expect(solveCold(m, REST).ok).toBe(false);
  });
});

describe("a car that gives way", () => {
  // static stability factor t/2h (Gillespie; from memory): on hard springs and tyres it tips where the inner wheel lifts
  it("tips near half its track over the height of its centre of gravity", () => {
    const m = straightCar((s) => {
      for (const j of Object.values(s.corner.joints)) j.clearanceMm = 0;
      Object.assign(s.corner.hub, { tiltStiffnessNmmPerDeg: 1e5, tiltPlayDeg: 0, staticCamberDeg: 0 });
      Object.assign(s.corner.tyre, { friction: 3, verticalNPerMm: 300, effectiveWidthMm: 1 });
      Object.assign(s.corner.spring, { rateNPerMm: 200, freeLengthMm: 60.5, preloadMm: 0, droopStop: { lengthMm: 60.5, rateNPerMm: 5000 } });
      s.body.cgHeightMm = 200;
    });
    const rest = solved(m, REST);
    const r = solveFromRest(m, curve(2.5), rest, createSolver(m));
    if (r.ok) throw new Error("stands");
    const wheels = m.corners.reduce((sum, c) => sum + c.wheelWeight + c.hubWeight, 0);
    const height = (m.bodyWeight * 200 + wheels * 48) / m.totalWeight;
    expect([r.reason.kind, r.reason.side]).toEqual(["tips", "left"]);
    expectRel(r.reason.atLoad.lateralG, 152 / height, 0.05, "g");
  });

  it("does not even stand on springs that are too soft where they sit, which is told within its bound of work", () => {
    const m = straightCar((s) => {
      for (const j of Object.values(s.corner.joints)) j.clearanceMm = 0;
      s.corner.hub.tiltPlayDeg = 0;
      // pressed together altogether they would carry 13.4 N each, but they sit at 0.6 of the arm
      Object.assign(s.corner.spring, { rateNPerMm: 0.2, preloadMm: 0, freeLengthMm: 67, bumpStop: { lengthMm: 1, rateNPerMm: 1 } });
    });
    const s = createSolver(m);
    const r = solveCold(m, curve(0.5), s);
    if (r.ok) throw new Error("stands");
    expect([r.reason.kind, r.reason.atLoad]).toEqual(["springOutOfReach", REST]);
    expect(r.reason.message).toContain("where they sit they are too soft");
    expect(s.iterations).toBeLessThan(WORK.rest + WORK.whyNoRest);
  });
});

describe("work", () => {
  const m = straightCar();

  it("that is stopped tells so, at rest and on the way", () => {
    const s = createSolver(m);
    s.shouldStop = () => true;
    const r = solveCold(m, curve(0.5), s);
    expect(r.ok ? null : [r.reason.kind, r.reason.atLoad]).toEqual(["stopped", REST]);
    expect(s.iterations).toBe(0);
    const rest = solved(m, REST);
    const t = createSolver(m);
    t.shouldStop = () => t.iterations >= 5;
    const w = solveFromRest(m, curve(1), rest, t);
    expect(w.ok ? null : w.reason.kind).toBe("stopped");
    expect(t.iterations).toBe(5);
    if (!w.ok) expect(w.reason.atLoad.lateralG % 0.25).toBe(0);
  });

  it("that is used up leaves it unsettled, with its steps counted", () => {
    const s = createSolver(m);
    s.iterations = 1000;
    s.workEnd = 1002;
    const r = solveCold(m, REST, s);
    expect(r.ok ? null : r.reason.kind).toBe("unsettled");
    if (!r.ok) expect(r.reason.message).toContain("after 2 steps");
    const rest = solved(m, REST);
    const t = createSolver(m);
    t.iterations = 1000;
    t.workEnd = 1001;
    const w = solveFromRest(m, curve(1), rest, t);
    expect(w.ok ? null : w.reason.kind).toBe("unsettled");
    if (!w.ok) expect(w.reason.message).toContain("after 1 steps");
    expect(rest).toEqual(solved(m, REST));
  });
});

describe("rest", () => {
  it("is found at once where Newton's method comes to it from as let down", () => {
    const m = straightCar();
    const [s, t] = [createSolver(m), createSolver(m)];
    expect([solveAt(t, droppedStart(m), REST), solveCold(m, REST, s).ok]).toEqual([true, true]);
    expect(s.iterations).toBe(t.iterations);
    expect(s.iterations).toBeLessThan(14);
  });
});

describe("creeping to rest", () => {
  const m = straightCar();
  const rest = solved(m, REST);

  it("comes to it from as let down", () => {
    const q = droppedStart(m);
    expect(creep(createSolver(m), q, REST)).toBe(true);
    expectAbs(apart(m, q, rest), 0, 0.2, "within the play, mm");
  });

  it("begins as from afar, with 30 N/mm of resistance", () => {
    const s = createSolver(m);
    s.workEnd = 1;
    const q = rest.slice();
    creep(s, q, curve(1));
    const dq = denseStep(m, rest, curve(1), 30);
    for (let i = 0; i < m.n; i++) expectAbs(q[i]! - rest[i]!, dq[i]!, 1e-9, `unknown ${i}`);
  });

  /** Creeps with forces that are no number after every third step, so that a run ends there. */
  function broken(load: Load, after: number): { s: Solver; q: Float64Array; found: boolean } {
    const sick = straightCar();
    const weight = sick.bodyWeight;
    const s = createSolver(sick);
    s.shouldStop = () => {
      sick.bodyWeight = s.iterations % after === after - 1 ? Number.NaN : weight;
      return false;
    };
    const q = rest.slice();
    return { s, q, found: creep(s, q, load) };
  }

  it("has 16 runs, one after the other where the last one ended", () => {
    const { s, q, found } = broken(curve(1), 3);
    expect([found, s.iterations]).toEqual([false, 16 * 3]);
    expect(apart(m, rest, q)).toBeGreaterThan(1);
  });

  it("has no further run after one that moved nothing", () => {
    const s = createSolver(m);
    const q = rest.slice();
    const sick = straightCar();
    sick.bodyWeight = Number.NaN;
    const t = createSolver(sick);
    expect(creep(t, q, REST)).toBe(false);
    expect([t.iterations, q, s.iterations]).toEqual([1, rest, 0]);
  });

  it("is called off beyond its reach, when its work is used up, and over on its side", () => {
    const s = createSolver(m);
    const q = rest.slice();
    expect(creep(s, q, curve(3), 2)).toBe(false);
    expect(apart(m, rest, q)).toBeGreaterThan(2);
    expect(apart(m, rest, q)).toBeLessThan(10);
    const t = createSolver(m);
    t.workEnd = 3;
    expect(creep(t, rest.slice(), curve(3))).toBe(false);
    expect(t.iterations).toBe(3);
    const over = createSolver(m);
    const falls = rest.slice();
    expect(creep(over, falls, curve(3))).toBe(false);
    expect(over.iterations).toBeLessThan(1500);
  });

  it("is what finds rest where the way to it is long", () => {
    const far = buildAxle(randomScenario(57), { elementsPerArm: 1 });
    const s = createSolver(far);
    const r = solveCold(far, REST, s);
    if (!r.ok) throw new Error(r.reason.message);
    // more than two runs of 300 steps: what creeps once has not come to it, nor the first run of many
    expect(s.iterations).toBeGreaterThan(600);
    expect(s.iterations).toBeLessThan(WORK.rest);
    expect(s.sys.detSign).toBe(1);
    expect(outOfBalanceN(far, r.q, REST)).toBeLessThanOrEqual(1e-8 * far.totalWeight);
  });
});
