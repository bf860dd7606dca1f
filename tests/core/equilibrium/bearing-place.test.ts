import { describe, expect, it } from "vitest";
import { buildBench } from "../../../src/core/analyze.ts";
import type { Scenario } from "../../../src/core/design/types.ts";
import { buildAxle } from "../../../src/core/equilibrium/model.ts";
import { expectAbs } from "../../support/close.ts";
import { shipped } from "../../support/shipped.ts";

const leaning = (staticCamberDeg: number): Scenario => {
  const s = shipped("heavy-forked.json");
  return { ...s, corner: { ...s.corner, hub: { ...s.corner.hub, staticCamberDeg, bearingOffsetMm: 20 } } };
};

describe("the place of the wheel's bearing", () => {
  // by hand: the wheel's axis is square to its plane. A top that leans 10° outwards lifts the inboard end of the axis: 20 mm along it are
  // 20 cos 10° = 19.6962 mm inboard and 20 sin 10° = 3.4730 mm up; leaning inwards as far down
  it.each([
    [10, 3.473],
    [-10, -3.473],
    [0, 0],
  ])("is inboard along the wheel's own axis at %d° of static camber", (deg, upMm) => {
    const inboardMm = deg === 0 ? 20 : 19.6962;
    for (const [side, out] of [
      [0, -1],
      [1, 1],
    ] as const) {
      const { bearingLever } = buildAxle(leaning(deg)).corners[side];
      expectAbs(bearingLever[0], -out * inboardMm, 1e-4, "mm to the right");
      expectAbs(bearingLever[1], upMm, 1e-4, "mm up");
    }
  });

  it("stays square to the plane of the solved wheel, which the bearing does not leave", () => {
    const { rest } = buildBench(leaning(10));
    if (!rest.ok) throw new Error(rest.reason.message);
    for (const side of ["left", "right"] as const) {
      const { wheelCentre, wheelAngleRad, bearing } = rest.state[side];
      const [x, z] = [bearing.at[0] - wheelCentre[0], bearing.at[1] - wheelCentre[1]];
      // upwards in the wheel's plane: (-sin, cos) of its turn
      expectAbs(-Math.sin(wheelAngleRad) * x + Math.cos(wheelAngleRad) * z, 0, 1e-9, "mm along the plane");
      expectAbs(Math.sqrt(x * x + z * z), 20, 1e-9, "mm from the middle plane");
      expect(Math.sign(x)).toBe(side === "right" ? -1 : 1);
    }
  });
});
