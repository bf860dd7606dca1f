import { describe, expect, it } from "vitest";
import type { ArmName, Scenario, Side } from "../../../src/core/design/types.ts";
import { diagnose, laidOverReason, planarEulerN, stoppedReason } from "../../../src/core/equilibrium/diagnose.ts";
import { type AxleModel, buildAxle, cornerModel } from "../../../src/core/equilibrium/model.ts";
import { readState } from "../../../src/core/equilibrium/readout.ts";
import type { AxleState, NoEquilibrium } from "../../../src/core/equilibrium/state.ts";
import type { V2 } from "../../../src/core/vec.ts";
import { expectRel } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";

const REST = { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 };
const CURVE = { ...REST, lateralG: 0.5 };
const GIVES_WAY = "The suspension gives way on the right side at 0.50 g: it has no steady position beyond.";

/** EI of every arm below, N·mm²; with an arm of 100 mm it buckles at pi² · 1e5 / 100² = 98.696 N (Euler). */
const EI = 1e5;
const EULER_N = 98.696;

const CAR = shipped("heavy-straight.json");

/** A car in a curve that nothing ails: both wheels carry, all arms are 100 mm long and without force, nothing leans. */
function sound(): { model: AxleModel; state: AxleState } {
  const model = buildAxle(CAR, { elementsPerArm: 2 });
  for (const arm of model.arms)
    Object.assign(arm, { length: 100, segments: [{ fromFraction: 0, toFraction: 1, ea: 1e4, ei: EI, ga: Number.POSITIVE_INFINITY }] });
  const state = structuredClone(readState(model, new Float64Array(model.n), CURVE));
  for (const side of ["left", "right"] as const) {
    const s = state[side];
    s.wheelAngleRad = 0;
    s.tyre.verticalN = model.totalWeight / 2;
    s.spring.totalN = model.bodyWeight / 2;
    for (const arm of Object.values(s.arms)) arm.axialN.fill(0);
  }
  return { model, state };
}

const ails = (change: (state: AxleState, model: AxleModel) => void, wanted = CURVE, ended: number | null = null): NoEquilibrium => {
  const { model, state } = sound();
  change(state, model);
  return diagnose(model, state, wanted, ended);
};

const nothing = (why: NoEquilibrium): void => expect(why).toEqual({ kind: "unstable", message: GIVES_WAY, atLoad: CURVE, side: "right" });

describe("the end of a path that shows no reason", () => {
  it("is told of the side that the curve loads", () => {
    nothing(ails(() => {}));
    expect(ails(() => {}, { ...REST, lateralG: -0.5 }).side).toBe("left");
    expect(ails(() => {}, REST).side).toBe("right");
  });

  it("tells the load in words", () => {
    const words = (load: typeof REST): string =>
      ails((state) => {
        state.load = load;
      }).message;
    expect(words(REST)).toContain("on the right side under its own weight:");
    expect(words({ ...REST, lateralG: -0.456 })).toContain("side at 0.46 g:");
    expect(words({ lateralG: 0, bumpLeftMm: -3.04, bumpRightMm: 0 })).toContain("side at -3.0 mm under the left wheel:");
    expect(words({ lateralG: 1, bumpLeftMm: 2, bumpRightMm: 6.25 })).toContain("side at 1.00 g, 2.0 mm under the left wheel, 6.3 mm under the right wheel:");
  });

  it("is unsettled where the search was ended by its bound, unless something shows", () => {
    const why = ails(() => {}, CURVE, 5200);
    expect([why.kind, why.atLoad, why.side]).toEqual(["unsettled", CURVE, undefined]);
    expect(why.message).toMatch(/^No steady position was found at 0\.50 g; the search was ended after 5200 steps\. The car may still stand/);
    const folds = ails(
      (state) => {
        state.right.wheelAngleRad = 0.2;
      },
      CURVE,
      5200,
    );
    expect(folds.kind).toBe("unstable");
  });
});

describe("an arm that buckles", () => {
  const push =
    (side: Side, arm: ArmName, newton: number) =>
    (state: AxleState): void => {
      const { axialN } = state[side].arms[arm];
      axialN[axialN.length - 1] = -newton;
    };

  it("carries more than 0.6 of its Euler load as a strut, in whichever element", () => {
    for (const side of ["left", "right"] as const)
      for (const arm of ["upper", "lower"] as const) {
        expect(ails(push(side, arm, 0.605 * EULER_N))).toEqual({
          kind: "buckles",
          message: `The ${side} ${arm} arm buckles at 0.50 g (strut load 60 N).`,
          atLoad: CURVE,
          side,
          arm,
        });
        nothing(ails(push(side, arm, 0.595 * EULER_N)));
        nothing(ails(push(side, arm, -5 * EULER_N)));
      }
  });

  it("is the one nearest to its own end", () => {
    const both = (left: number, right: number): NoEquilibrium =>
      ails((state) => {
        push("left", "upper", left * EULER_N)(state);
        push("right", "lower", right * EULER_N)(state);
      });
    expect([both(0.7, 0.8).side, both(0.9, 0.8).side]).toEqual(["right", "left"]);
  });
});

describe("a linkage in dead centre", () => {
  /** An arm from (x, z) along `turn` and the line from its ball joint to the other, at an angle to it, °. */
  function line(state: AxleState, side: Side, arm: ArmName, deg: number, turnDeg = 0): void {
    const at = (from: V2, length: number, d: number): V2 => [
      from[0] + length * Math.cos((d * Math.PI) / 180),
      from[1] + length * Math.sin((d * Math.PI) / 180),
    ];
    const other = arm === "upper" ? "lower" : "upper";
    const { joints } = state[side];
    const inner: V2 = [30, 40];
    const outer = at(inner, 80, turnDeg);
    const tip = at(outer, 44, turnDeg + deg);
    joints[`${arm}Inner`].pin = inner;
    joints[`${arm}Outer`].hole = outer;
    joints[`${other}Outer`].hole = tip;
    // the other arm stands square to the line of the ball joints
    joints[`${other}Inner`].pin = at(tip, 70, turnDeg + deg + 90);
  }

  it("is named when an arm comes within 12° of the line of the ball joints, however they lie", () => {
    for (const side of ["left", "right"] as const)
      for (const arm of ["upper", "lower"] as const)
        for (const turn of [0, 35, 100, 190, 290])
          for (const deg of [3, 11.9, -11.9, 168.1, -168.1, 180]) {
            const why = ails((state) => line(state, side, arm, deg, turn));
            expect(why, `${deg}° at ${turn}°`).toEqual({
              kind: "locks",
              message: `The ${side} arms lock at 0.50 g (dead centre at the ${arm} arm).`,
              atLoad: CURVE,
              side,
              arm,
            });
          }
  });

  it("is not one beyond", () => {
    for (const arm of ["upper", "lower"] as const)
      for (const turn of [0, 35, 100, 190, 290])
        for (const deg of [12.1, -12.1, 60, 90, -90, 120, 167.9]) nothing(ails((state) => line(state, "right", arm, deg, turn)));
  });

  it("wins over what is further from its own end, and loses to what is nearer", () => {
    const with08 = (deg: number): string =>
      // 0.9 of the Euler load are 1.5 times what names it
      ails((state) => {
        line(state, "left", "lower", deg);
        state.right.arms.upper.axialN[0] = -0.9 * EULER_N;
      }).kind;
    expect([with08(7.9), with08(8.1)]).toEqual(["locks", "buckles"]);
    const tips = (deg: number): string =>
      ails((state) => {
        line(state, "left", "lower", deg);
        state.right.tyre.verticalN = 0;
      }).kind;
    expect([tips(7.9), tips(8.1), tips(0)]).toEqual(["locks", "tips", "locks"]);
    // in dead centre to the last digit it counts as within 0.1°: a strut at 80 times its Euler load is beyond that
    const dead = ails((state) => {
      line(state, "left", "lower", 0);
      state.right.arms.upper.axialN[0] = -80 * EULER_N;
    });
    expect(dead.kind).toBe("buckles");
  });
});

describe("a car that tips", () => {
  const tips = (side: Side): NoEquilibrium => ({ kind: "tips", message: `The car tips at 0.50 g, the ${side} wheel lifts first.`, atLoad: CURVE, side });
  const both = ["left", "right"] as const;

  it("has less than 0.03 of the weight on a wheel", () => {
    for (const side of both) {
      const light = (share: number, otherRollK = 0): NoEquilibrium =>
        ails((state, model) => {
          state[side].tyre.verticalN = share * model.totalWeight;
          model.otherRollK = otherRollK;
        });
      expect(light(0.029)).toEqual(tips(side));
      nothing(light(0.031));
      // the rest of the car holds it
      nothing(light(0.029, 1));
    }
  });

  it("has a spring go slack, with less than 0.02 of the weight, that no droop stop holds back, over the lighter wheel", () => {
    for (const side of both) {
      const slack = (share: number, droopK = 0, wheelShare = 0.4, otherRollK = 0): NoEquilibrium =>
        ails((state, model) => {
          cornerModel(model, side).spring.droopK = droopK;
          state[side].spring.totalN = share * model.totalWeight;
          state[side].tyre.verticalN = wheelShare * model.totalWeight;
          model.otherRollK = otherRollK;
        });
      expect(slack(0.0199)).toEqual(tips(side));
      nothing(slack(0.0201));
      nothing(slack(0.0199, 1));
      nothing(slack(0.0199, 0, 0.5));
      nothing(slack(0.0199, 0, 0.6));
      nothing(slack(0.0199, 0, 0.4, 1));
    }
  });
});

describe("a wheel that folds", () => {
  const leans = (leftRad: number, rightRad: number): NoEquilibrium =>
    ails((state) => {
      state.left.wheelAngleRad = leftRad;
      state.right.wheelAngleRad = rightRad;
    });

  it("folds under when its top goes outwards, over when it goes inwards, on either side", () => {
    // clockwise as seen from behind: tops to the right
    expect(leans(0, -0.2)).toEqual({
      kind: "unstable",
      message: "The right wheel folds under, top outwards, at 0.50 g: its lean runs away.",
      atLoad: CURVE,
      side: "right",
    });
    expect(leans(-0.2, 0).message).toBe("The left wheel folds over, top inwards, at 0.50 g: its lean runs away.");
    expect(leans(0, 0.2).message).toBe("The right wheel folds over, top inwards, at 0.50 g: its lean runs away.");
    expect(leans(0.2, 0)).toMatchObject({ side: "left", message: "The left wheel folds under, top outwards, at 0.50 g: its lean runs away." });
  });

  it("has done so beyond 9°, and not before", () => {
    for (const deg of [9.1, -9.1]) expect(leans(0, (deg * Math.PI) / 180).message).toContain("folds");
    for (const deg of [8.9, -8.9]) nothing(leans((deg * Math.PI) / 180, (deg * Math.PI) / 180));
  });

  it("counts static camber", () => {
    const folds = (tiltDeg: number): string => {
      const s: Scenario = structuredClone(shipped("heavy-forked.json"));
      s.body.otherRollStiffnessNmmPerDeg = 500;
      const model = buildAxle(s);
      const q = new Float64Array(model.n);
      q[model.corners[1].base + 3] = (tiltDeg * Math.PI) / 180;
      return diagnose(model, readState(model, q, CURVE), CURVE, null).message;
    };
    // 0.5° of static camber with the top outwards
    expect(folds(-8.6)).toContain("folds under");
    expect(folds(-8.4)).toBe(GIVES_WAY);
  });

  it("is told after what is at its end", () => {
    const why = ails((state) => {
      state.right.wheelAngleRad = 0.2;
      state.left.tyre.verticalN = 0;
    });
    expect(why.kind).toBe("tips");
  });
});

describe("a spring without length", () => {
  const ends = (side: Side, dx: number, dz: number, ended: number | null = null): NoEquilibrium =>
    ails(
      (state) => {
        state[side].spring.top = [20, 30];
        state[side].spring.seat = [20 + dx, 30 + dz];
      },
      CURVE,
      ended,
    );

  it("has less than 2 mm from end to end", () => {
    for (const side of ["left", "right"] as const) {
      for (const [dx, dz] of [
        [1.9, 0],
        [0, -1.9],
        [-1.4, 1.4],
      ] as const)
        expect(ends(side, dx, dz, 100)).toEqual({ kind: "springOutOfReach", message: `The ${side} spring has no length left at 0.50 g.`, atLoad: CURVE, side });
      for (const [dx, dz] of [
        [2.1, 0],
        [0, -2.1],
        [-1.5, 1.5],
      ] as const)
        nothing(ends(side, dx, dz));
    }
  });
});

describe("reasons from elsewhere", () => {
  it("are told in words", () => {
    const laid = laidOverReason({ side: "left", leanDeg: 50 }, CURVE);
    expect([laid.kind, laid.side, laid.atLoad]).toEqual(["laidOver", "left", CURVE]);
    expect(laid.message).toMatch(/^The left wheel is laid over at 0\.50 g: it leans more than 45° \(top outwards\)/);
    expect(laidOverReason({ side: "right", leanDeg: -50 }, REST).message).toMatch(/^The right wheel is laid over under its own weight: .* \(top inwards\)/);
    expect(stoppedReason(CURVE)).toMatchObject({ kind: "stopped", atLoad: CURVE });
  });
});

describe("the Euler load of an arm", () => {
  const strut = (segments: { fromFraction: number; toFraction: number; ei: number; ga?: number }[], length = 100): number => {
    const arm = buildAxle(CAR, { elementsPerArm: 2 }).arms[0]!;
    return planarEulerN({ ...arm, length, segments: segments.map((s) => ({ ea: 1e4, ga: Number.POSITIVE_INFINITY, ...s })) });
  };

  it("is pi² EI / L² of an even one", () => {
    expectRel(strut([{ fromFraction: 0, toFraction: 1, ei: EI }]), EULER_N, 1e-5, "N");
    expectRel(strut([{ fromFraction: 0, toFraction: 1, ei: EI }], 50), 4 * EULER_N, 1e-5, "N of half the length");
  });

  // 1/P = 1/P_Euler + 1/GA: Timoshenko and Gere, Theory of Elastic Stability, article 2.17 (from memory)
  it("is less where it gives in shear", () => {
    expectRel(strut([{ fromFraction: 0, toFraction: 1, ei: EI, ga: 200 }]), 1 / (1 / EULER_N + 1 / 200), 1e-5, "N");
    // by hand: only the outer half gives, in which cos² has its mean as in the whole
    const half = [
      { fromFraction: 0, toFraction: 0.5, ei: EI },
      { fromFraction: 0.5, toFraction: 1, ei: EI, ga: 200 },
    ];
    expectRel(strut(half), 1 / (1 / EULER_N + 1 / 400), 1e-5, "N of one that gives in half of it");
    // by hand: mean of 2 cos²(pi f) over 0..1/4 is 1/4 + 1/(2 pi)
    const quarter = [
      { fromFraction: 0, toFraction: 0.25, ei: EI, ga: 200 },
      { fromFraction: 0.25, toFraction: 1, ei: EI },
    ];
    expectRel(strut(quarter), 1 / (1 / EULER_N + (1 / 4 + 1 / (2 * Math.PI)) / 200), 2e-3, "N of one that gives in its inner quarter");
  });

  /** Least P, in EI2/L², of the column below. */
  function stepped(share: number, a: number): number {
    const b = (1 - a) / 2;
    const excess = (p: number): number => {
      const k2 = Math.sqrt(p);
      const k1 = Math.sqrt(p / share);
      return Math.sin(k1 * b) * Math.sin((k2 * a) / 2) * k2 - Math.cos(k1 * b) * Math.cos((k2 * a) / 2) * k1;
    };
    let [low, high] = [0.1, Math.PI ** 2];
    for (let i = 0; i < 60; i++) {
      const mid = (low + high) / 2;
      if (excess(mid) < 0) low = mid;
      else high = mid;
    }
    return low;
  }

  // a column with a stiffer middle part, a long: tan(k1 b) tan(k2 a/2) = k1/k2 with b = (L - a)/2, k = sqrt(P/EI) (Timoshenko and Gere,
  // article 2.14, from memory; it follows from sin in the ends and cos in the middle). For EI1/EI2 = 0.4, a/L = 0.4 their table has 6.68 EI2/L²
  it.each([
    [0.4, 0.5],
    [0.6, 0.25],
    [0.6, 0.75],
    [0.8, 0.5],
  ])("of a column whose ends have %f of the stiffness of its middle part of %f is told by the energy method: a little too high", (share, a) => {
    const b = (1 - a) / 2;
    const exact = (stepped(share, a) * EI) / 100 ** 2;
    const told = strut([
      { fromFraction: 0, toFraction: b, ei: share * EI },
      { fromFraction: b, toFraction: 1 - b, ei: EI },
      { fromFraction: 1 - b, toFraction: 1, ei: share * EI },
    ]);
    expectRel(stepped(0.4, 0.4), 6.68, 1e-3, "of their table");
    expect(told / exact).toBeGreaterThan(1);
    expect(told / exact).toBeLessThan(1.03);
  });
});
