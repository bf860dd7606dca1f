import { describe, it } from "vitest";
import { buildAxle } from "../../../src/core/equilibrium/model.ts";
import { wheelTravelAt } from "../../../src/core/equilibrium/wheel-travel.ts";
import { expectAbs } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";

describe("wheel travel", () => {
  // by hand: with cos 0.8 and sin 0.6 a point (x, z) fixed to the body goes to (0.8 x - 0.6 z, 0.6 x + 0.8 z) about the centre of gravity
  it("is the wheel centre's rise in the body's own frame, however the body stands", () => {
    const model = buildAxle(shipped("heavy-forked.json"));
    const c = model.corners[1];
    const [x, z] = [c.centre[0] - model.cg[0], c.centre[1] - model.cg[1] + 5];
    const cg: [number, number] = [2, model.cg[1] - 3];
    const moved: [number, number] = [cg[0] + 0.8 * x - 0.6 * z, cg[1] + 0.6 * x + 0.8 * z];
    expectAbs(wheelTravelAt(c, model.cg, cg, Math.asin(0.6), moved), 5, 1e-12, "mm up into the body");
  });
});
