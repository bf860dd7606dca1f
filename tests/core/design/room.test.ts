import { describe, expect, it } from "vitest";
import { armsWithoutRoom, betweenArmsMm, pinWithoutRoom } from "../../../src/core/design/room.ts";
import type { Corner } from "../../../src/core/design/types.ts";
import { expectAbs } from "../../support/close.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";

const corner = shipped("heavy-forked.json").corner;
const at = (patch: Partial<Corner>): Corner => ({ ...corner, ...patch });

describe("room for the pins", () => {
  it.each(SHIPPED)("is there in %s", (file) => {
    expect(pinWithoutRoom(shipped(file).corner)).toBeNull();
  });

  it("is not in the tyre, not outside of the wheel and not on the other side of the car", () => {
    const { wheelCentre, wheel } = corner;
    const inTread = { sMm: wheelCentre.sMm, zMm: wheelCentre.zMm + wheel.radiusMm - 1 };
    expect(pinWithoutRoom(at({ upperOuter: inTread }))).toBe("The upper outer joint would sit in the tyre. Keep 3 mm to spare.");
    expect(pinWithoutRoom(at({ lowerOuter: { sMm: wheelCentre.sMm + wheel.treadWidthMm, zMm: wheelCentre.zMm } }))).toBe(
      "The lower outer joint would be outside of the wheel.",
    );
    expect(pinWithoutRoom(at({ upperInner: { sMm: -corner.upperOuter.sMm - 1, zMm: 76 } }))).toBe("The upper inner pin would be on the other wheel's side.");
    // inside the rim a joint may sit
    expect(pinWithoutRoom(at({ upperOuter: { sMm: wheelCentre.sMm, zMm: wheelCentre.zMm + 10 } }))).toBeNull();
  });
});

describe("room between the arms", () => {
  const arms = (upperInnerMm: number, upperOuterMm: number): Corner =>
    at({
      lowerInner: { sMm: 40, zMm: 30 },
      lowerOuter: { sMm: 120, zMm: 30 },
      upperInner: { sMm: 40, zMm: upperInnerMm },
      upperOuter: { sMm: 120, zMm: upperOuterMm },
    });

  it("is the distance of their middles less half of both heights", () => {
    const height = 4.4;
    expectAbs(betweenArmsMm(arms(70, 70)), 40 - height, 1e-12, "parallel, mm");
    expectAbs(betweenArmsMm(arms(38, 70)), 8 - height, 1e-12, "nearest at the inner pins, mm");
    expectAbs(betweenArmsMm(arms(20, 70)), -height, 1e-12, "crossing, mm");
  });

  it("counts only what a change takes of it", () => {
    expect(armsWithoutRoom(arms(70, 70), arms(78, 70))).toBeNull();
    expect(armsWithoutRoom(arms(35, 70), arms(70, 70))).toBe("The upper arm would rub on the lower arm.");
    expect(armsWithoutRoom(arms(20, 70), arms(70, 70))).toBe("The upper arm would run into the lower arm.");
    // what was as near before stays as it is
    expect(armsWithoutRoom(arms(35, 70), arms(35, 60))).toBeNull();
  });
});
