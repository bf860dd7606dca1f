import { describe, expect, it } from "vitest";
import { ARM_NAMES, SIDES } from "../../../src/core/design/types.ts";
import { readState } from "../../../src/core/equilibrium/readout.ts";
import { outwardPullN } from "../../../src/core/limits/hub-retention.ts";
import { RESIDUAL_SHARE } from "../../../src/core/tolerances.ts";
import { solvedCases } from "../../support/axle-states.ts";
import { expectAbs } from "../../support/close.ts";
import { armActions, cross, freeBodies, resultant } from "../../support/free-bodies.ts";

/**
 * An arm is the body with the most balances of its own: twelve nodes or fewer, each within the solver's share of the
 * axle's weight. Forces of a body are out by twelve shares at most, moments by that over the size of the axle, 200 mm.
 */
const FORCE = 12 * RESIDUAL_SHARE;
const REACH_MM = 200;

describe("free bodies of solved axles, from the reported state alone", () => {
  const cases = [...solvedCases(120)];

  it("has enough of them, of every kind", () => {
    expect(cases.length).toBeGreaterThan(120);
    expect(cases.filter((c) => c.model.barK > 0).length).toBeGreaterThan(20);
    expect(cases.filter((c) => c.model.corners[0].spring.on === "hub").length).toBeGreaterThan(10);
    expect(cases.filter((c) => c.model.corners[0].tyre.crown > 0).length).toBeGreaterThan(10);
  });

  it("balances every arm, hub, wheel and the body in force and moment", () => {
    for (const { name, model, q, load } of cases) {
      const w = model.totalWeight;
      for (const b of freeBodies(model, readState(model, q, load))) {
        const { force, moment } = resultant(b);
        // what the car weighs outside this axle does not push sideways: the body's sideways balance follows from all the others
        const factor = b.name === "sprung body" ? 8 : 1;
        expectAbs(force[0], 0, factor * FORCE * w, `${name}, ${b.name}: sideways force, N (axle weight ${w})`);
        expectAbs(force[1], 0, FORCE * w, `${name}, ${b.name}: upright force, N (axle weight ${w})`);
        expectAbs(moment, 0, FORCE * w * REACH_MM, `${name}, ${b.name}: moment, N·mm (axle weight ${w} N)`);
      }
    }
  });

  it("cuts every arm at every node: bending moment and axial force are those of the forces beyond the cut", () => {
    for (const { name, model, q, load } of cases) {
      const state = readState(model, q, load);
      const w = model.totalWeight;
      for (const side of SIDES)
        for (const which of ARM_NAMES) {
          const arm = state[side].arms[which];
          const actions = armActions(model, state, side, which);
          const up = side === "right" ? 1 : -1;
          for (let j = 0; j < arm.nodes.length - 1; j++) {
            const at = arm.nodes[j]!;
            // forces at nodes further out, found by their distance along the chord
            const beyond = actions.filter((a) => Math.abs(a.at[0] - arm.nodes[0]![0]) > Math.abs(at[0] - arm.nodes[0]![0]) + 1e-6);
            const moment = up * beyond.reduce((sum, a) => sum + cross([a.at[0] - at[0], a.at[1] - at[1]], a.force), 0);
            // a pivot spring's moment enters at the inner pin: beyond the cut either way
            expectAbs(arm.momentNmm[j]!, moment, FORCE * w * REACH_MM, `${name}, ${side} ${which} arm: moment at node ${j}, N·mm`);
            const next = arm.nodes[j + 1]!;
            const length = Math.sqrt((next[0] - at[0]) ** 2 + (next[1] - at[1]) ** 2);
            const along = beyond.reduce((sum, a) => sum + (a.force[0] * (next[0] - at[0]) + a.force[1] * (next[1] - at[1])) / length, 0);
            expectAbs(arm.axialN[j]!, along, FORCE * w, `${name}, ${side} ${which} arm: axial force of element ${j}, N`);
          }
          expectAbs(arm.momentNmm[arm.nodes.length - 1]!, 0, FORCE * w * REACH_MM, `${name}, ${side} ${which} arm: moment at the ball joint, N·mm`);
        }
    }
  });

  it("hands the hub's retention the pull and the moment of the wheel cut free at its bearing", () => {
    for (const { name, model, q, load } of cases) {
      const state = readState(model, q, load);
      for (const side of SIDES) {
        const wheel = freeBodies(model, state).find((b) => b.name === `${side} wheel`)!;
        const loads = wheel.actions.slice(0, -1);
        const { force, moment } = resultant({ ...wheel, actions: loads });
        const angle = state[side].wheelAngleRad;
        const out = side === "right" ? 1 : -1;
        const pull = out * (force[0] * Math.cos(angle) + force[1] * Math.sin(angle));
        const context = { model, state, restLoadN: { left: 1, right: 1 }, speedMps: 0, arms3d: null as never };
        expectAbs(outwardPullN(context, side), pull, FORCE * model.totalWeight, `${name}, ${side}: pull on the retention, N`);
        expectAbs(state[side].bearing.momentNmm, moment, FORCE * model.totalWeight * REACH_MM, `${name}, ${side}: moment on the retention, N·mm`);
      }
    }
  });
});
