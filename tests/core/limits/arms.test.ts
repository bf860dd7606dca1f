import { describe, expect, it } from "vitest";
import type { LimitResult } from "../../../src/core/analysis.ts";
import { buildBench, limitsAt, solveLoad } from "../../../src/core/analyze.ts";
import type { Arm, Scenario } from "../../../src/core/design/types.ts";
import type { AxleModel } from "../../../src/core/equilibrium/model.ts";
import type { AxleState } from "../../../src/core/equilibrium/state.ts";
import type { V2 } from "../../../src/core/vec.ts";
import { expectRel } from "../../support/close.ts";
import { armActions, cross } from "../../support/free-bodies.ts";
import { shipped } from "../../support/shipped.ts";

/** the force along the arm is taken along its chord, and the largest moment may lie between two nodes */
const STATICS = 5e-3;
/** the same, and shear lowers the strut's stiffness by P/GA */
const STRUT = 2e-2;

const WIDTH = 6;
/** A straight flat bar, 6 mm wide, of 2,400 N/mm². */
const flatBar = (heightMm: number): Partial<Arm> => ({
  layout: "straight",
  section: { shape: "rectangle", widthMm: WIDTH, heightMm },
  material: { name: "test", youngMPa: 2400, poisson: 0.35, yieldMPa: 40, densityKgPerM3: 1050, plastic: true, maxTempC: 80, source: "test" },
});

interface Change {
  lower?: Partial<Arm>;
  onHub?: boolean;
  bar?: { rateNPerMm: number; atFraction: number };
}

function car({ lower = {}, onHub = true, bar = { rateNPerMm: 0, atFraction: 0.7 } }: Change): Scenario {
  const s = shipped("heavy-straight-pinned.json");
  const { corner } = s;
  // the upper arm is made stout, so that the lower one is the worse
  const upperArm: Arm = { ...corner.upperArm, ...flatBar(8), material: { ...(flatBar(8).material as object), yieldMPa: 4000 } as Arm["material"] };
  const seat = onHub ? { on: "hub" as const, sMm: corner.lowerOuter.sMm, zMm: corner.wheelCentre.zMm } : corner.spring.seat;
  const top = onHub ? { ...corner.spring.top, sMm: corner.lowerOuter.sMm - 6 } : corner.spring.top;
  return { ...s, antiRollBar: bar, corner: { ...corner, upperArm, lowerArm: { ...corner.lowerArm, ...lower }, spring: { ...corner.spring, seat, top } } };
}

function solve(s: Scenario, lateralG: number): { model: AxleModel; state: AxleState; limits: LimitResult[] } {
  const b = buildBench(s);
  const r = solveLoad(b, { lateralG, bumpLeftMm: 0, bumpRightMm: 0 });
  if (!r.ok) throw new Error(r.reason.message);
  return { model: b.model, state: r.state, limits: limitsAt(b, r.state, 0) };
}

const lowerOf = (limits: LimitResult[], side: "left" | "right", name: "armYield" | "armBuckling" = "armYield"): LimitResult => {
  const l = limits.find((x) => x.name === name && x.wheel === side)!;
  expect(l.part).toMatch(/^lower arm/);
  return l;
};

/**
 * Largest stress of the right or left lower arm by statics: at every node of its solved shape the moment of all forces beyond it,
 * over the section modulus, and the pull or push over the area.
 */
function byStatics(model: AxleModel, state: AxleState, side: "left" | "right", height: number): { stress: number; moment: number; axialN: number } {
  const { nodes } = state[side].arms.lower;
  const actions = armActions(model, state, side, "lower");
  const last = nodes[nodes.length - 1]!;
  const chord: V2 = [last[0] - nodes[0]![0], last[1] - nodes[0]![1]];
  const length = Math.sqrt(chord[0] ** 2 + chord[1] ** 2);
  let worst = { stress: 0, moment: 0, axialN: 0 };
  for (const [i, at] of nodes.entries()) {
    for (const own of [false, true]) {
      // a force that acts on the node itself counts on one side of it
      const beyond = actions.filter((a) => {
        const node = nodes.findIndex((n) => Math.abs(n[0] - a.at[0]) + Math.abs(n[1] - a.at[1]) < 1e-6);
        return own ? node >= i : node > i;
      });
      const moment = Math.abs(beyond.reduce((m, a) => m + cross([a.at[0] - at[0], a.at[1] - at[1]], a.force), 0));
      const axialN = beyond.reduce((n, a) => n + (a.force[0] * chord[0] + a.force[1] * chord[1]) / length, 0);
      const stress = Math.abs(axialN) / (WIDTH * height) + moment / ((WIDTH * height ** 2) / 6);
      if (stress > worst.stress) worst = { stress, moment, axialN };
    }
  }
  return worst;
}

describe("stress of the solved bent arm", () => {
  it.each<[string, Change, number, number]>([
    ["sprung pivot, pushed and pulled", { lower: { ...flatBar(4), pivotStiffnessNmmPerDeg: 350 } }, 0.7, 4],
    ["sprung pivot on a thin arm", { lower: { ...flatBar(3), pivotStiffnessNmmPerDeg: 100 } }, 0.9, 3],
    ["anti-roll bar at a free pin, spring on the hub", { lower: flatBar(4), bar: { rateNPerMm: 1, atFraction: 0.7 } }, 0.7, 4],
    ["anti-roll bar and spring on the arm", { lower: flatBar(4), onHub: false, bar: { rateNPerMm: 1, atFraction: 0.7 } }, 0.7, 4],
    ["anti-roll bar inboard of the spring", { lower: flatBar(4), onHub: false, bar: { rateNPerMm: 2, atFraction: 0.3 } }, 0.5, 4],
    ["pulled: the bow takes moment off", { lower: flatBar(3), onHub: false }, 0, 3],
  ])("%s: what the forces beyond each place of the bent arm make there (statics)", (_, change, lateralG, height) => {
    const { model, state, limits } = solve(car(change), lateralG);
    for (const side of ["left", "right"] as const) {
      const { stress, moment } = byStatics(model, state, side, height);
      const l = lowerOf(limits, side);
      expectRel(l.demand, stress, STATICS, `${side} (N/mm²)`);
      expectRel(l.inputs.find((x) => x.name === "largest bending moment of the bent arm")!.value, moment, STATICS, `${side} (N·mm)`);
    }
  });

  it("a strut bent by its own compression: M / sin(kL) between its ends, k² = P/EI (Timoshenko & Gere, Theory of Elastic Stability, sec. 1.12, from memory)", () => {
    const height = 2.3;
    const { model, state, limits } = solve(car({ lower: { ...flatBar(height), pivotStiffnessNmmPerDeg: 1 } }), 1);
    const arm = state.right.arms.lower;
    const { length, pivotK } = model.corners[1].arms.lower;
    const atPivot = pivotK * Math.abs(arm.turns[0]! - state.body.angleRad);
    const push = -arm.axialN[0]!;
    const kL = length * Math.sqrt(push / ((2400 * WIDTH * height ** 3) / 12));
    expect(kL).toBeGreaterThan(Math.PI / 2);
    const bending = atPivot / Math.sin(kL) / ((WIDTH * height ** 2) / 6);
    // bending counts for as much as the push does
    expect(bending).toBeGreaterThan(push / (WIDTH * height) / 2);
    expectRel(lowerOf(limits, "right").demand, push / (WIDTH * height) + bending, STRUT, "stress (N/mm²)");
  });
});

describe("what makes an arm buckle", () => {
  it("is its push where it is pushed, its bending where it is pulled", () => {
    const tall: Partial<Arm> = { ...flatBar(10), section: { shape: "rectangle", widthMm: 1.5, heightMm: 10 } };
    const { state, limits } = solve(car({ lower: tall, onHub: false }), 0);
    const pulled = lowerOf(limits, "right", "armBuckling");
    expect(Math.min(...state.right.arms.lower.axialN)).toBeGreaterThan(0);
    expect(pulled.part).toBe("lower arm, bent, not pushed: it twists over");
    expect(pulled.unit).toBe("N·mm");
    expectRel(pulled.demand, Math.max(...state.right.arms.lower.momentNmm.map(Math.abs)), STATICS, "bending (N·mm)");
    const pushed = lowerOf(solve(car({ lower: flatBar(2.3) }), 0.9).limits, "right", "armBuckling");
    expect(pushed.part).toBe("lower arm, pushed along itself");
    expect(pushed.unit).toBe("N");
  });
});
