import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { CornerLinkage } from "../../../src/core/linkage/corner.ts";
import { kinematicsCurve } from "../../../src/core/linkage/curve.ts";
import type { CornerKinematics } from "../../../src/core/linkage/outputs.ts";
import { springForceAt } from "../../../src/core/linkage/spring-force.ts";
import type { V2 } from "../../../src/core/vec.ts";
import { cornerStatics } from "../../oracles/rigid-statics.ts";
import { anyLinkage, built, expectClose, kinematics, poseOf } from "./corners.ts";
import { p, parallelCorner, referenceCorner } from "./reference-corner.ts";

/** Travel step of the finite differences, mm, and what rounding and the fifth derivative leave of them well inside the limits. */
const STEP_MM = 1e-3;
const DIFFERENCE_REL = 1e-5;

function expectSlope(exact: number, measured: number, scale: number, unit: string): void {
  expectClose(measured, exact, DIFFERENCE_REL * (Math.abs(exact) + scale), unit);
}

/** Any corner well inside its limits, where a step of the finite difference is a small one. */
const insideLinkage = anyLinkage.filter(({ linkage, share }) => share > 0.2 && share < 0.8 && linkage.limits.bumpMm - linkage.limits.droopMm > 10);

/** Fourth-order central difference per mm of travel. */
function around(linkage: CornerLinkage, travel: number, f: (k: CornerKinematics) => number): number {
  const at = (steps: number): number => f(kinematics(linkage, travel + steps * STEP_MM));
  return (8 * (at(1) - at(-1)) - (at(2) - at(-2))) / (12 * STEP_MM);
}

describe("exact derivatives", () => {
  it("are what finite differences of the positions give", () => {
    fc.assert(
      fc.property(insideLinkage, ({ linkage, travel }) => {
        const k = kinematics(linkage, travel);
        fc.pre(k.springLengthMm > 5);
        expectSlope(
          k.camberGainDegPerMm,
          around(linkage, travel, (x) => x.camberDeg),
          1,
          "°/mm",
        );
        expectSlope(
          k.contactShiftPerMm,
          around(linkage, travel, (x) => x.contactShiftMm),
          1,
          "mm/mm",
        );
        expectSlope(
          k.contactRisePerMm,
          around(linkage, travel, (x) => x.pose.contact[1]),
          1,
          "mm/mm",
        );
        expectSlope(k.motionRatio, -around(linkage, travel, (x) => x.springLengthMm), 1, "");
        expectSlope(
          k.motionRatioPerMm,
          around(linkage, travel, (x) => x.motionRatio),
          1,
          "1/mm",
        );
        // where the contact point hardly rises its travel is no measure
        fc.pre(Math.abs(k.contactRisePerMm) > 0.1);
        const perContact = around(linkage, travel, (x) => x.motionRatioAtContact) / k.contactRisePerMm;
        expectSlope(k.motionRatioAtContactPerMm, perContact, 1, "1/mm");
        expectClose(k.motionRatioAtContact * k.contactRisePerMm, k.motionRatio, 1e-9 * (1 + Math.abs(k.motionRatio)), "");
      }),
      { numRuns: 200 },
    );
  });

  it("make the wheel rate the slope of the force that holds the wheel", () => {
    fc.assert(
      fc.property(insideLinkage, ({ linkage, travel }) => {
        const k = kinematics(linkage, travel);
        fc.pre(k.springLengthMm > 5 && !hasEdge(linkage, travel));
        const holding = (x: CornerKinematics): number => x.springForceN * x.motionRatio;
        const scale = k.springRateNPerMm + Math.abs(k.springForceN);
        expectSlope(k.wheelRateNPerMm, around(linkage, travel, holding), scale, "N/mm");
        expectClose(
          k.wheelRateNPerMm,
          k.springRateNPerMm * k.motionRatio ** 2 + k.springForceN * k.motionRatioPerMm,
          1e-9 * scale * (1 + k.motionRatio ** 2),
          "N/mm",
        );
      }),
      { numRuns: 200 },
    );
  });

  it("give the same wheel rate at the contact as at the wheel centre only when the hub does not turn", () => {
    const level = kinematics(built(parallelCorner()), 5);
    expectClose(level.wheelRateAtContactNPerMm, level.wheelRateNPerMm, 1e-12, "N/mm");
    const k = kinematics(built(referenceCorner()), 5);
    expect(Math.abs(k.wheelRateAtContactNPerMm / k.wheelRateNPerMm - 1)).toBeGreaterThan(0.01);
  });
});

/** The spring's force has a corner (slack, stop) within the finite difference's step. */
function hasEdge(linkage: CornerLinkage, travel: number): boolean {
  const [a, b] = [kinematics(linkage, travel - 2 * STEP_MM), kinematics(linkage, travel + 2 * STEP_MM)];
  return a.springRateNPerMm !== b.springRateNPerMm;
}

describe("spring and stops", () => {
  const spring = {
    ...referenceCorner().spring,
    rateNPerMm: 2,
    count: 2,
    freeLengthMm: 90,
    preloadMm: 5,
    bumpStop: { lengthMm: 60, rateNPerMm: 30 },
    droopStop: { lengthMm: 100, rateNPerMm: 20 },
  };

  it("pushes by rate times count from the free length and the packing, slack beyond", () => {
    expect(springForceAt(spring, 85)).toEqual({ forceN: 40, rateNPerMm: 4 });
    expect(springForceAt(spring, 97)).toEqual({ forceN: 0, rateNPerMm: 0 });
  });
  it("adds the bump stop below its length and pulls by the droop stop above its own", () => {
    expect(springForceAt(spring, 58)).toEqual({ forceN: 4 * 37 + 30 * 2, rateNPerMm: 34 });
    expect(springForceAt(spring, 103)).toEqual({ forceN: -60, rateNPerMm: 20 });
    expect(springForceAt({ ...spring, droopStop: null }, 103)).toEqual({ forceN: 0, rateNPerMm: 0 });
  });
});

describe("motion ratio", () => {
  it("is positive when bump compresses the spring and scales with the seat's fraction along a level arm", () => {
    const at = (fraction: number): number => {
      const spring = { ...referenceCorner().spring, top: p(48 + 88 * fraction, 120), seat: { on: "lowerArm" as const, fraction } };
      return kinematics(built(parallelCorner({ spring })), 0).motionRatio;
    };
    expectClose(at(1), 1, 1e-12, "");
    expectClose(at(0.5), 0.5, 1e-12, "");
  });

  it("is the same for a seat at the arm's outer end and for one on the hub at the same ball joint", () => {
    for (const [on, joint] of [
      ["lowerArm", p(136, 28)],
      ["upperArm", p(128, 80)],
    ] as const) {
      const base = referenceCorner().spring;
      const arm = built(referenceCorner({ spring: { ...base, seat: { on, fraction: 1 } } }));
      const hub = built(referenceCorner({ spring: { ...base, seat: { on: "hub", ...joint } } }));
      for (const z of [-10, 0, 10]) {
        expectClose(kinematics(arm, z).motionRatio, kinematics(hub, z).motionRatio, 1e-12, "");
        expectClose(kinematics(arm, z).motionRatioPerMm, kinematics(hub, z).motionRatioPerMm, 1e-12, "1/mm");
      }
    }
  });
});

describe("statics of any corner", () => {
  it("balances forces and moments of hub and of both arms, whatever carries the spring", () => {
    fc.assert(
      fc.property(insideLinkage, fc.integer({ min: -50, max: 50 }), fc.integer({ min: 10, max: 100 }), ({ linkage, travel }, fs, fz) => {
        const pose = poseOf(linkage, travel);
        const force: V2 = [fs, fz];
        const s = cornerStatics(linkage, pose, force);
        fc.pre(Math.abs(s.springN) < 1e4 && Math.abs(s.upperArmPushN) < 1e5);
        const push = [pose.springSeat[0] - pose.springTop[0], pose.springSeat[1] - pose.springTop[1]].map((v) => (s.springN * v) / pose.springLengthMm) as V2;
        const on = linkage.corner.spring.seat.on;
        const back = (f: V2): V2 => [-f[0], -f[1]];
        const springAt = (body: string): [V2, V2][] => (on === body ? [[pose.springSeat, push]] : []);
        const hub: [V2, V2][] = [[pose.contact, force], [pose.upperOuter, s.upperOuterOnHub], [pose.lowerOuter, s.lowerOuterOnHub], ...springAt("hub")];
        // what the chassis gives to an arm is minus what the arm gives to the hub and takes from the spring
        const upper: [V2, V2][] = [[pose.upperOuter, back(s.upperOuterOnHub)], [pose.upperInner, s.upperInnerOnArm], ...springAt("upperArm")];
        const lower: [V2, V2][] = [[pose.lowerOuter, back(s.lowerOuterOnHub)], [pose.lowerInner, s.lowerInnerOnArm], ...springAt("lowerArm")];
        const scale = 100 + Math.abs(s.springN) + Math.hypot(...s.upperOuterOnHub) + Math.hypot(...s.lowerOuterOnHub);
        for (const body of [hub, upper, lower]) {
          const sum = [0, 0, 0];
          for (const [at, f] of body) {
            sum[0]! += f[0];
            sum[1]! += f[1];
            sum[2]! += at[0] * f[1] - at[1] * f[0];
          }
          expectClose(sum[0]!, 0, 1e-11 * scale, "N");
          expectClose(sum[1]!, 0, 1e-11 * scale, "N");
          expectClose(sum[2]!, 0, 1e-8 * scale, "N·mm");
        }
      }),
      { numRuns: 200 },
    );
  });
});

describe("nothing is NaN", () => {
  it("at any travel, the ends and dead centres included", () => {
    fc.assert(
      fc.property(anyLinkage, fc.constantFrom("droop", "inside", "bump"), ({ linkage, travel }, where) => {
        const z = where === "inside" ? travel : where === "bump" ? linkage.limits.bumpMm : linkage.limits.droopMm;
        const { pose, instantCentre, ...numbers } = kinematics(linkage, z);
        for (const [name, value] of Object.entries(numbers)) if (typeof value === "number") expect([name, Number.isNaN(value)]).toEqual([name, false]);
        const centre = instantCentre.kind === "point" ? instantCentre.at : instantCentre.direction;
        for (const value of [...centre, ...pose.contact, ...pose.springSeat]) expect(Number.isFinite(value)).toBe(true);
      }),
      { numRuns: 500 },
    );
  });
});

describe("the curve", () => {
  it("has its rows evenly spaced and both ends where they were asked for", () => {
    const curve = kinematicsCurve(referenceCorner(), -12, 12, 7);
    if (!curve.ok) throw new Error(curve.message);
    expect(curve.rows.map((r) => Math.round(r.travelMm))).toEqual([-12, -8, -4, 0, 4, 8, 12]);
    expect([curve.cutInBump, curve.cutInDroop]).toEqual([null, null]);
  });

  it("is cut at the limits and says why", () => {
    const curve = kinematicsCurve(referenceCorner(), -500, 500, 41);
    if (!curve.ok) throw new Error(curve.message);
    const { bumpMm, droopMm } = built(referenceCorner()).limits;
    expect(curve.rows).toHaveLength(41);
    expect(curve.rows[0]?.travelMm).toBe(droopMm);
    expect(curve.rows[40]?.travelMm).toBe(bumpMm);
    expect(curve.cutInBump).toMatchObject({ reason: "wheelTurnsBack", limitMm: bumpMm });
    expect(curve.cutInDroop?.message).toContain(`${droopMm.toFixed(1)} mm`);
  });

  it("is empty beyond a limit and an error for what cannot be assembled", () => {
    const beyond = kinematicsCurve(referenceCorner(), 300, 400, 5);
    expect(beyond).toMatchObject({ ok: true, rows: [] });
    expect(kinematicsCurve(referenceCorner({ upperOuter: p(136, 28) }), -5, 5, 3)).toMatchObject({ ok: false, kind: "noLength" });
  });
});
