import { describe, expect, it } from "vitest";
import type { Load, Scenario } from "../../../src/core/design/types.ts";
import { type AxleModel, buildAxle } from "../../../src/core/equilibrium/model.ts";
import { apart, createSolver, type Solver, solveAt } from "../../../src/core/equilibrium/newton.ts";
import { readState } from "../../../src/core/equilibrium/readout.ts";
import {
  creep,
  droppedStart,
  gripG,
  laidOver,
  onlyPlayMoved,
  REST,
  solveBeside,
  solveCold,
  solveFromRest,
  solveNear,
  solveWarm,
  upright,
} from "../../../src/core/equilibrium/solve.ts";
import {
  BODY_TURN,
  FIRST_NODE,
  HEAVE,
  HUB_TURN,
  HUB_Z,
  lastNodeAt,
  NODE_X,
  NODE_Z,
  nodeAt,
  PER_NODE,
  WHEEL_TILT,
} from "../../../src/core/equilibrium/unknowns.ts";
import { WORK } from "../../../src/core/tolerances.ts";
import { randomScenario } from "../../support/arbitrary-scenario.ts";
import { expectAbs, expectRel } from "../../support/close.ts";
import { denseStep, outOfBalanceN } from "../../support/dense-step.ts";
import { shipped } from "../../support/shipped.ts";

const CAR = shipped("heavy-straight.json");
const curve = (lateralG: number): Load => ({ ...REST, lateralG });
const rad = (deg: number): number => (deg * Math.PI) / 180;

function model(change: (s: Scenario) => void = () => {}, elementsPerArm = 2): AxleModel {
  const s = structuredClone(CAR);
  change(s);
  return buildAxle(s, { elementsPerArm });
}

function solved(m: AxleModel, load: Load): Float64Array {
  const r = solveCold(m, load);
  if (!r.ok) throw new Error(r.reason.message);
  return r.q;
}

describe("the start of the search for rest", () => {
  it("lets the whole axle down, unturned, until the tyres carry it", () => {
    for (const change of [
      () => {},
      (s: Scenario) => {
        s.right = { tyre: { verticalNPerMm: 25 } };
      },
      (s: Scenario) => {
        s.corner.wheelCentre.zMm += 7;
      },
      (s: Scenario) => {
        s.right = { wheelCentre: { zMm: 48.5 } };
      },
    ]) {
      const m = model((s) => {
        s.corner.hub.staticCamberDeg = 0;
        change(s);
      });
      const q = droppedStart(m);
      const { left, right } = readState(m, q, REST);
      expectRel(left.tyre.verticalN + right.tyre.verticalN, m.totalWeight, 1e-9, "on both tyres, N");
      const down = new Set([HEAVE, ...m.corners.map((c) => c.base + HUB_Z)]);
      for (let i = FIRST_NODE; i < m.n; i += PER_NODE) down.add(i + NODE_Z);
      for (let i = 0; i < m.n; i++) expect(q[i], `unknown ${i}`).toBe(down.has(i) ? q[HEAVE] : 0);
      expect(q[HEAVE]).toBeLessThan(0);
    }
  });
});

describe("an axle on the branch it was assembled in", () => {
  const m = model();
  const [left, right] = m.corners;
  const stands = (...at: [number, number][]): boolean => {
    const q = new Float64Array(m.n);
    for (const [i, deg] of at) q[i] = rad(deg);
    return upright(m, q);
  };

  it("has body, hubs and wheels less than some 75° from as assembled", () => {
    for (const way of [1, -1]) {
      for (const c of m.corners)
        for (const i of [c.base + HUB_TURN, c.base + WHEEL_TILT])
          expect([stands([i, way * 75]), stands([i, way * 76]), stands([i, way * 180])], `unknown ${i}`).toEqual([true, false, false]);
      const all = (deg: number): [number, number][] => [BODY_TURN, left.base + HUB_TURN, right.base + HUB_TURN].map((i) => [i, way * deg]);
      expect([stands(...all(75)), stands(...all(76))], "all together").toEqual([true, false]);
    }
  });

  it("counts hubs and wheels against the body", () => {
    for (const c of m.corners) {
      const turned = (hub: number, tilt: number): boolean =>
        stands([BODY_TURN, 40], [left.base + HUB_TURN, 40], [right.base + HUB_TURN, 40], [c.base + HUB_TURN, hub], [c.base + WHEEL_TILT, tilt]);
      expect([turned(114, 0), turned(117, 0), turned(-34, 0), turned(-37, 0)]).toEqual([true, false, true, false]);
      // a hub too far over with a wheel that leans back
      expect(turned(117, -30)).toBe(false);
      // a hub turned by 30° with a wheel tilted by 50° against it, or back by as much
      expect([turned(70, 44), turned(70, 47), turned(70, -50)]).toEqual([true, false, true]);
    }
  });
});

describe("a wheel that is laid over", () => {
  const m = model((s) => {
    s.corner.hub.staticCamberDeg = 2;
  });
  const [left, right] = m.corners;
  const lean = (leftDeg: number, rightDeg: number) => {
    const q = new Float64Array(m.n);
    // tops outwards: counter-clockwise on the left, clockwise on the right; half of it by the hub
    q[left.base + HUB_TURN] = rad(leftDeg / 2);
    q[left.base + WHEEL_TILT] = rad(leftDeg / 2);
    q[right.base + HUB_TURN] = rad(-rightDeg / 2);
    q[right.base + WHEEL_TILT] = rad(-rightDeg / 2);
    return laidOver(m, q);
  };

  it("leans more than 45°, static camber counted", () => {
    expect([lean(42.9, 0), lean(0, 42.9), lean(-46.9, 0), lean(0, -46.9)]).toEqual([null, null, null, null]);
    for (const deg of [43.1, -47.1]) {
      expect(lean(deg, 0)).toEqual({ side: "left", leanDeg: expect.closeTo(deg + 2, 9) });
      expect(lean(0, deg)).toEqual({ side: "right", leanDeg: expect.closeTo(deg + 2, 9) });
    }
  });

  it("is the one that leans most", () => {
    expect([lean(60, 50)?.side, lean(50, 60)?.side, lean(-70, 60)?.side, lean(60, -70)?.side]).toEqual(["left", "right", "left", "right"]);
  });
});

describe("a jump over play", () => {
  const m = model(() => {}, 4);
  const a = new Float64Array(m.n).fill(0.2);
  const jumps = (change: (q: Float64Array) => void): boolean => {
    const b = a.slice();
    change(b);
    expect(onlyPlayMoved(m, b, a)).toBe(onlyPlayMoved(m, a, b));
    return onlyPlayMoved(m, a, b);
  };

  it("turns the body by 0.03 rad at most", () => {
    const turned = (v: number): boolean =>
      jumps((q) => {
        q[BODY_TURN] = q[BODY_TURN]! + v;
      });
    expect([0, 0.029, -0.029, 0.031, -0.031].map(turned)).toEqual([true, true, true, false, false]);
  });

  it("bends no arm by more than 0.01 of its length in the middle", () => {
    for (const arm of m.arms) {
      const middle = nodeAt(arm, arm.count >> 1);
      for (const d of [NODE_X, NODE_Z])
        for (const way of [1, -1]) {
          const bent = (share: number): boolean =>
            jumps((q) => {
              q[middle + d] = q[middle + d]! + way * share * arm.length;
            });
          expect([bent(0.0099), bent(0.0101)], `${arm.side} ${arm.name} arm, along ${d}`).toEqual([true, false]);
        }
    }
  });

  it("lets no arm snap through, which leaves it bent as far to the other side", () => {
    for (const arm of m.arms) {
      const middle = nodeAt(arm, arm.count >> 1) + NODE_Z;
      const bent = (share: number): Float64Array => {
        const q = a.slice();
        q[middle] = q[middle]! + share * arm.length;
        return q;
      };
      expect([onlyPlayMoved(m, bent(0.008), bent(-0.008)), onlyPlayMoved(m, bent(0.008), bent(0))], `${arm.side} ${arm.name} arm`).toEqual([false, true]);
    }
  });

  it("may leave an arm bent as it was", () => {
    const bent = (q: Float64Array): void => {
      for (const arm of m.arms) q[nodeAt(arm, arm.count >> 1) + NODE_Z] = 0.05 * arm.length;
    };
    const b = a.slice();
    bent(b);
    const c = b.slice();
    c[BODY_TURN] = c[BODY_TURN]! + 0.01;
    expect([onlyPlayMoved(m, b, c), onlyPlayMoved(m, a, c)]).toEqual([true, false]);
  });

  it("may move the arms as they are, however far", () => {
    const moved = jumps((q) => {
      for (const arm of m.arms)
        for (let n = 0; n < arm.count; n++) {
          const f = arm.fractions[n]!;
          q[nodeAt(arm, n) + NODE_X] = q[nodeAt(arm, n) + NODE_X]! + 5 - 8 * f;
          q[nodeAt(arm, n) + NODE_Z] = q[nodeAt(arm, n) + NODE_Z]! - 3 + 12 * f;
        }
    });
    expect(moved).toBe(true);
    // an end alone bends it: the middle stays behind by half of that
    for (const arm of m.arms)
      for (const end of [nodeAt(arm, 0), lastNodeAt(arm)])
        expect(
          jumps((q) => {
            q[end + NODE_Z] = q[end + NODE_Z]! + 0.04 * arm.length;
          }),
        ).toBe(false);
  });
});

describe("grip", () => {
  it("is that of the tyre that has less of it", () => {
    expect(gripG(model())).toBe(1.05);
    for (const side of ["left", "right"] as const)
      expect(
        gripG(
          model((s) => {
            s[side] = { tyre: { friction: 0.8 } };
          }),
        ),
      ).toBe(0.8);
  });

  it("ends what is asked beyond it, to either side", () => {
    const m = model((s) => {
      s.corner.tyre.friction = 0.4;
    });
    const rest = solved(m, REST);
    for (const g of [0.41, -0.41]) {
      const r = solveFromRest(m, { lateralG: g, bumpLeftMm: 1, bumpRightMm: 0 }, rest, createSolver(m));
      expect(r.ok ? null : r.reason).toEqual({
        kind: "slides",
        message: "The tyres let go at 0.40 g (friction).",
        atLoad: { lateralG: Math.sign(g) * 0.4, bumpLeftMm: 1, bumpRightMm: 0 },
      });
      expect(solveNear(m, curve(g), rest, createSolver(m))).toBeNull();
      expect(solveBeside(m, curve(g / 4), rest, createSolver(m))).not.toBeNull();
      const s = createSolver(m);
      expect([solveBeside(m, curve(g), rest, s), s.iterations]).toEqual([null, 0]);
    }
    // up to it, it holds
    expect(solveBeside(m, curve(0.4), solved(m, curve(0.399)), createSolver(m))).not.toBeNull();
    expect(solveFromRest(m, curve(0.4), rest, createSolver(m)).ok).toBe(true);
    expect(solveNear(m, curve(0.4), solved(m, curve(0.39)), createSolver(m))).not.toBeNull();
  });
});

describe("answers from wherever the search starts", () => {
  const m = model();
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
    model((s) => {
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
  const m = model((s) => {
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
    const m = model((s) => {
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
    const m = model((s) => {
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
    const m = model((s) => {
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
    const m = model((s) => {
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
  const m = model();

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
    const m = model();
    const [s, t] = [createSolver(m), createSolver(m)];
    expect([solveAt(t, droppedStart(m), REST), solveCold(m, REST, s).ok]).toEqual([true, true]);
    expect(s.iterations).toBe(t.iterations);
    expect(s.iterations).toBeLessThan(14);
  });
});

describe("creeping to rest", () => {
  const m = model();
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
    const sick = model();
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
    const sick = model();
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
