import { describe, expect, it } from "vitest";
import { type Arm3d, buildArm3d } from "../../../src/core/arm/arm-frame.ts";
import { ballJointStiffness, heldVerticalFlexibility, mainStiffnesses, stiffnessRose } from "../../../src/core/arm/stiffness.ts";
import { plainArm } from "../../support/arms.ts";
import { expectAbs, expectRel } from "../../support/close.ts";

const ROUNDING = 1e-12;
/** Flexibilities of a cantilever of EI = 1: ball joint at 3, seat at 2: 27/3, 4·(3·3 - 2)/6, 8/3 mm/N. */
const cantilever = { tip: 9, tipSeat: 14 / 3, seat: 8 / 3 };

describe("up and down at the ball joint, the seat held", () => {
  // an arm without a seat turns on its pin besides: 9 + 3²/6
  it("without a seat: the arm's own give and its swing on a sprung pin", () => {
    expectRel(heldVerticalFlexibility(cantilever, 3, null, 6), 10.5, ROUNDING, "mm/N");
    expect(heldVerticalFlexibility(cantilever, 3, null, 0)).toBe(Number.POSITIVE_INFINITY);
  });

  it("a seat on the inner pivot holds nothing", () => {
    expectRel(heldVerticalFlexibility(cantilever, 3, 0, 6), 10.5, ROUNDING, "mm/N");
    expect(heldVerticalFlexibility(cantilever, 3, 0, 0)).toBe(Number.POSITIVE_INFINITY);
  });

  // overhanging beam, span 2, overhang 1: a²(l + a)/3; propped cantilever with overhang: a²(3l + 4a)/12 (Gere, Table G; Roark, Table 8.1)
  it("free pin: the overhanging beam; clamped one: the propped cantilever", () => {
    expectRel(heldVerticalFlexibility(cantilever, 3, 2, 0), 1, ROUNDING, "free pin (mm/N)");
    expectRel(heldVerticalFlexibility(cantilever, 3, 2, 1e15), 10 / 12, 1e-9, "clamped (mm/N)");
  });
});

// [2 0.5; 0.5 1] mm/N in plan: its inverse is [1 -0.5; -0.5 2]/1.75, and at 45° 1/(½·2 + 0.5 + ½·1)
describe("an arm whose ball joint goes outwards when it is pushed forwards", () => {
  const flexibility = new Float64Array(36);
  flexibility.set([2, 0.5, 0, 0, 0, 0, 0.5, 1, 0, 0, 0, 0, 0, 0, 4]);
  const a: Arm3d = { ...buildArm3d(plainArm, 88, null), flexibility, pivotNmmPerRad: 88 ** 2 / 4 };

  it("its stiffness is the flexibility's inverse, up and down apart", () => {
    const k = ballJointStiffness(a).flat();
    [1 / 1.75, -0.5 / 1.75, 0, -0.5 / 1.75, 2 / 1.75, 0, 0, 0, 1 / 8].forEach((v, i) => expectAbs(k[i]!, v, 1e-12, `k[${i}] (N/mm)`));
  });

  it("along each axis it is the force over the way along it", () => {
    const k = mainStiffnesses(a);
    expectRel(k.foreAft, 0.5, ROUNDING, "fore-aft (N/mm)");
    expectRel(k.lateral, 1, ROUNDING, "lateral (N/mm)");
    expectRel(k.vertical, 1 / 8, ROUNDING, "vertical (N/mm)");
  });

  it("its rose between the axes", () => {
    const above = stiffnessRose(a, "fromAbove", 8).map((p) => p.nPerMm);
    [0.5, 1 / 2, 1, 1, 0.5, 1 / 2, 1, 1].forEach((v, i) => expectRel(above[i]!, v, 1e-9, `from above, ${45 * i}° (N/mm)`));
    // 60° up from outboard: 1/(¼·1 + ¾·8)
    const behind = stiffnessRose(a, "fromBehind", 6);
    expectRel(behind[1]!.angleRad, Math.PI / 3, ROUNDING, "angle (rad)");
    expectRel(behind[1]!.nPerMm, 1 / 6.25, 1e-9, "from behind, 60° (N/mm)");
  });

  it("an arm that swings is stiff exactly outwards and inwards", () => {
    const swings = stiffnessRose({ ...a, flexibility: a.flexibility.map((v, i) => (i === 7 ? 0.25 : v)), pivotNmmPerRad: 0 }, "fromBehind", 4);
    expect(swings.map((p) => p.nPerMm)).toEqual([4, 0, 4, 0]);
  });
});
