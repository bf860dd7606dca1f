import { describe, expect, it } from "vitest";
import type { Scenario } from "../../../src/core/design/types.ts";
import { diagnose } from "../../../src/core/equilibrium/diagnose.ts";
import { buildAxle } from "../../../src/core/equilibrium/model.ts";
import { createSolver } from "../../../src/core/equilibrium/newton.ts";
import type { NoEquilibrium } from "../../../src/core/equilibrium/state.ts";
import { shipped } from "../../support/shipped.ts";

const REST = { lateralG: 0, bumpLeftMm: 0, bumpRightMm: 0 };
const CURVE = { ...REST, lateralG: 0.5 };

/** What ends the path of a car that cannot tip, from its as-built pose with both wheels tilted in their bearings, positive counter-clockwise. */
function ends(tiltLeftRad: number, tiltRightRad: number, change: (s: Scenario) => void = () => {}): NoEquilibrium {
  const s = structuredClone(shipped("heavy-forked.json"));
  s.body.otherRollStiffnessNmmPerDeg = 500;
  change(s);
  const model = buildAxle(s);
  const q = new Float64Array(model.n);
  q[model.corners[0].base + 3] = tiltLeftRad;
  q[model.corners[1].base + 3] = tiltRightRad;
  return diagnose(createSolver(model), q, CURVE, CURVE);
}

describe("a wheel that folds", () => {
  it("folds under when its top goes outwards, over when it goes inwards, on either side", () => {
    // clockwise as seen from behind: tops to the right
    expect(ends(0, -0.2).message).toBe("The right wheel folds under, top outwards, at 0.50 g: its lean runs away.");
    expect(ends(-0.2, 0).message).toBe("The left wheel folds over, top inwards, at 0.50 g: its lean runs away.");
    expect(ends(0, 0.2).message).toBe("The right wheel folds over, top inwards, at 0.50 g: its lean runs away.");
    expect(ends(0.2, 0).message).toBe("The left wheel folds under, top outwards, at 0.50 g: its lean runs away.");
  });

  it("has done so beyond 9°, static camber counted, and not before", () => {
    // 0.5° of static camber with the top outwards
    expect(ends(0, (-8.6 * Math.PI) / 180).message).toContain("folds under");
    expect(ends(0, (-8.4 * Math.PI) / 180).message).toBe("The suspension gives way on the right side at 0.50 g: it has no steady position beyond.");
  });
});

describe("a linkage in dead centre", () => {
  /** Lower arm level from (40, 40) to (120, 40) on both sides; the line of the ball joints rises from there at an angle to it. */
  const lined = (deg: number) =>
    ends(0, 0, (s) => {
      const a = (deg * Math.PI) / 180;
      s.corner.lowerInner = { sMm: 40, zMm: 40 };
      s.corner.lowerOuter = { sMm: 120, zMm: 40 };
      s.corner.upperOuter = { sMm: 120 + 40 * Math.cos(a), zMm: 40 + 40 * Math.sin(a) };
      s.corner.upperInner = { sMm: 110, zMm: 140 };
    });

  it("is named when an arm comes within 12° of the line of the ball joints", () => {
    for (const deg of [3, 11.5, 168.5]) {
      const why = lined(deg);
      expect([why.kind, why.arm, why.side], `${deg}°`).toEqual(["locks", "lower", "left"]);
      expect(why.message).toBe("The left arms lock at 0.50 g (dead centre at the lower arm).");
    }
  });

  it("is not one at 12.5°, and still less at 20°", () => {
    for (const deg of [12.5, 20, 167.5]) expect(lined(deg).kind, `${deg}°`).not.toBe("locks");
  });
});
