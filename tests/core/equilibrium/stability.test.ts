import { describe, expect, it } from "vitest";
import { resolveMaterial } from "../../../src/core/arm/materials.ts";
import { ARM_NAMES, type Load, type Scenario } from "../../../src/core/design/types.ts";
import { planarEulerN } from "../../../src/core/equilibrium/diagnose.ts";
import { buildAxle } from "../../../src/core/equilibrium/model.ts";
import { readState } from "../../../src/core/equilibrium/readout.ts";
import { gripG, REST, solveCold } from "../../../src/core/equilibrium/solve.ts";
import type { NoEquilibrium } from "../../../src/core/equilibrium/state.ts";
import { staticStabilityFactor } from "../../oracles/load-transfer.ts";
import { expectRel } from "../../support/close.ts";
import { weightsFor } from "../../support/masses.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";

const curve = (lateralG: number): Load => ({ ...REST, lateralG });

function reason(s: Scenario, load: Load): NoEquilibrium {
  const r = solveCold(buildAxle(s), load);
  if (r.ok) throw new Error(`stands at ${load.lateralG} g`);
  return r.reason;
}

/** on the springs of the tall car */
const SPRUNG_KG = 2.2;

/** A tall car on aluminium arms, hard springs and hard tyres with a narrow tread and more grip than it needs: it tips. */
function tallCar(cgHeightMm: number, unsprungMassKg: number, droopStop: boolean): Scenario {
  const s = structuredClone(shipped("heavy-straight.json"));
  const c = s.corner;
  for (const a of [c.upperArm, c.lowerArm]) Object.assign(a, { material: "aluminium", section: { shape: "rectangle", widthMm: 8, heightMm: 8 } });
  for (const j of Object.values(c.joints)) Object.assign(j, { clearanceMm: 0, pinNPerMm: 5e4, holeNPerMm: 5e4, mountNPerMm: 5e4 });
  Object.assign(c.hub, { tiltStiffnessNmmPerDeg: 1e5, tiltPlayDeg: 0, staticCamberDeg: 0 });
  Object.assign(c.tyre, { friction: 3, verticalNPerMm: 300, effectiveWidthMm: 1 });
  Object.assign(c.wheel, { unsprungMassKg, massKg: unsprungMassKg / 2 });
  Object.assign(s.body, weightsFor(s, SPRUNG_KG));
  const rateNPerMm = 60;
  const built = Math.sqrt((76 - 91.2) ** 2 + (88 - 29.6) ** 2);
  // half of the body on each spring, which sits at 0.6 of the arm's length but inboard of the wheel
  const free = built + (SPRUNG_KG * 9.80665) / 2 / 0.4 / rateNPerMm;
  Object.assign(c.spring, { rateNPerMm, freeLengthMm: free, preloadMm: 0, droopStop: droopStop ? { lengthMm: free + 0.01, rateNPerMm: 5000 } : null });
  s.body.cgHeightMm = cgHeightMm;
  return s;
}

describe("tipping", () => {
  // static stability factor t/2h (check 16); with springs that only push, the car tips when the inner one goes slack (model, section 5)
  it.each([
    [140, 0.2],
    [140, 0.35],
    [200, 0.2],
    [200, 0.5],
  ])("centre of gravity at %d mm, %f kg a wheel", (cg, unsprung) => {
    const loose = tallCar(cg, unsprung, false);
    const total = SPRUNG_KG + 2 * unsprung;
    const height = (SPRUNG_KG * cg + 2 * unsprung * loose.corner.wheelCentre.zMm) / total;
    const rigid = staticStabilityFactor(2 * loose.corner.wheelCentre.sMm, height);

    const slack = reason(loose, curve(2.9));
    expect(slack.kind).toBe("tips");
    expect(slack.side).toBe("left");
    // "near": the body sinks and rolls a little, and the wheels' own inertia pulls below the axle
    expectRel(slack.atLoad.lateralG, rigid * (1 - (2 * unsprung) / total), 0.05, "tips without droop stops at, g");

    const stopped = reason(tallCar(cg, unsprung, true), curve(2.9));
    expect(stopped.kind).toBe("tips");
    expectRel(stopped.atLoad.lateralG, rigid, 0.03, "tips with droop stops at wheel lift, g");
    expect(stopped.atLoad.lateralG).toBeGreaterThan(slack.atLoad.lateralG);
  });

  it("lifts the inner wheel first, whichever way the curve goes", () => {
    const s = tallCar(200, 0.35, true);
    const left = reason(s, curve(2.9));
    const right = reason(s, curve(-2.9));
    expect(left.side).toBe("left");
    expect(right.side).toBe("right");
    expect(right.atLoad.lateralG).toBeCloseTo(-left.atLoad.lateralG, 9);
    const r = solveCold(buildAxle(s), curve(0.99 * left.atLoad.lateralG));
    if (!r.ok) throw new Error(r.reason.message);
    const state = readState(buildAxle(s), r.q, curve(0.99 * left.atLoad.lateralG));
    expect(state.left.tyre.verticalN).toBeLessThan(0.05 * state.right.tyre.verticalN);
  });

  it("a rest of the car that lends roll stiffness keeps it from tipping", () => {
    const s = tallCar(200, 0.35, true);
    s.body.otherRollStiffnessNmmPerDeg = 5000;
    const load = curve(1.3);
    const model = buildAxle(s);
    const r = solveCold(model, load);
    if (!r.ok) throw new Error(r.reason.message);
    expect(readState(model, r.q, load).left.tyre.lifted, "the inner wheel hangs in the air").toBe(true);
  });
});

describe("buckling", () => {
  it("a slender lower arm gives way near its planar Euler load, and not below", () => {
    const s = tallCar(60, 0.35, true);
    // the seat moved to the upper arm, so that the lower one is a pure strut; its outer joint pushes inwards in the outer wheel's curve
    s.corner.spring.seat = { on: "hub", sMm: 122, zMm: 40 };
    s.corner.spring.top = { sMm: 112, zMm: 100 };
    const built = Math.sqrt(10 ** 2 + 60 ** 2);
    Object.assign(s.corner.spring, {
      rateNPerMm: 20,
      freeLengthMm: built + 0.6,
      bumpStop: { lengthMm: 5, rateNPerMm: 10 },
      droopStop: { lengthMm: built + 3, rateNPerMm: 500 },
    });
    s.corner.lowerArm.section = { shape: "rectangle", widthMm: 8, heightMm: 0.75 };
    s.corner.lowerArm.material = { ...resolveMaterial("abs"), youngMPa: 2300 };
    const why = reason(s, curve(2.8));
    expect(why.kind).toBe("buckles");
    expect(why.arm).toBe("lower");
    expect(why.side).toBe("right");
    const model = buildAxle(s);
    const r = solveCold(model, why.atLoad);
    if (!r.ok) throw new Error(r.reason.message);
    const strut = -Math.min(...readState(model, r.q, why.atLoad).right.arms.lower.axialN);
    const euler = planarEulerN(model.corners[1].arms.lower);
    // pi²EI/L² of the strip, before and by the solver's own estimate
    expectRel(euler, (Math.PI ** 2 * 2300 * (8 * 0.75 ** 3)) / 12 / (72 ** 2 + 4 ** 2), 0.01, "Euler load of the strip, N");
    expectRel(strut, euler, 0.05, "strut load at which it gives way, N");
  });

  it("arms far from their Euler load do not buckle: the shipped cars' struts stay below a half of it", () => {
    for (const file of SHIPPED) {
      const model = buildAxle(shipped(file));
      const r = solveCold(model, curve(0.6));
      if (!r.ok) throw new Error(`${file}: ${r.reason.message}`);
      const state = readState(model, r.q, curve(0.6));
      for (const c of model.corners)
        for (const name of ARM_NAMES)
          expect(-Math.min(...state[c.side].arms[name].axialN), `${file}, ${c.side} ${name}: strut load, N`).toBeLessThan(0.5 * planarEulerN(c.arms[name]));
    }
  });
});

describe("sliding", () => {
  it.each(SHIPPED)("%s holds on up to its grip and slides beyond", (file) => {
    const s = shipped(file);
    const grip = gripG(buildAxle(s));
    const r = solveCold(buildAxle(s), curve(grip + 0.01));
    expect(r.ok).toBe(false);
    if (r.ok) return;
    // what cannot stand at its grip has another reason to give
    const at = solveCold(buildAxle(s), curve(grip));
    expect(r.reason.kind).toBe(at.ok ? "slides" : at.reason.kind);
    if (at.ok) expect(r.reason.atLoad.lateralG).toBe(grip);
  });
});
