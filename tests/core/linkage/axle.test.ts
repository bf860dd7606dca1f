import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type AxleKinematics, axleRollCentre, type ChassisPlace, kinematicsAxle, toPicture } from "../../../src/core/linkage/axle.ts";
import type { CornerLinkage } from "../../../src/core/linkage/corner.ts";
import { instantCentreOf } from "../../../src/core/linkage/outputs.ts";
import type { V2 } from "../../../src/core/vec.ts";
import { anyLinkage, built, expectClose, kinematics } from "./corners.ts";
import { outboardCorner, parallelCorner, referenceCorner } from "./reference-corner.ts";

const ON_ROAD_MM = 1e-9;
const reference = built(referenceCorner());

function axle(left: CornerLinkage, right: CornerLinkage, place: ChassisPlace): AxleKinematics {
  const a = kinematicsAxle(left, right, place);
  if (!a.ok) throw new Error(a.message);
  return a;
}

function heightOf(a: AxleKinematics): number {
  if (a.rollCentre.kind === "atInfinity") throw new Error("roll centre at infinity");
  return a.rollCentre.at[1];
}

describe("an axle on a flat road", () => {
  it("stands as built at no heave and no roll, with the corner's own roll centre on the centreline", () => {
    const a = axle(reference, reference, { heaveMm: 0, rollDeg: 0 });
    expectClose(a.left.travelMm, 0, ON_ROAD_MM, "mm");
    expectClose(a.trackMm, 320, ON_ROAD_MM, "mm");
    expect(a.rollCentre.kind).toBe("point");
    if (a.rollCentre.kind === "point") expectClose(a.rollCentre.at[0], 0, 1e-9, "mm");
    expectClose(heightOf(a), 25.357401, 1e-6, "mm");
  });

  it("sinks into bump: both wheels rise by what the body sinks at the contact, roll centre as for one corner", () => {
    for (const heaveMm of [-12, -5, 4, 9]) {
      const a = axle(reference, reference, { heaveMm, rollDeg: 0 });
      const k = kinematics(reference, a.right.travelMm);
      expectClose(k.pose.contact[1], -heaveMm, ON_ROAD_MM, "mm");
      expectClose(a.right.travelMm, a.left.travelMm, ON_ROAD_MM, "mm");
      expectClose(heightOf(a), k.rollCentreHeightMm, 1e-6, "mm");
      expectClose(a.right.camberDeg, k.camberDeg, 1e-9, "°");
    }
  });

  it("leans with the body: left side up leans the right wheel outward and puts it into bump", () => {
    const level = built(parallelCorner());
    const a = axle(level, level, { heaveMm: 0, rollDeg: 2 });
    expectClose(a.right.camberDeg, 2, 1e-9, "°");
    expectClose(a.left.camberDeg, -2, 1e-9, "°");
    expect(a.right.travelMm).toBeGreaterThan(4);
    expect(a.left.travelMm).toBeLessThan(-4);
  });

  it("puts both contacts on the road and mirrors left and right when the roll turns over", () => {
    fc.assert(
      fc.property(fc.integer({ min: -80, max: 80 }), fc.integer({ min: -80, max: 80 }), (heave, roll) => {
        const place = { heaveMm: heave / 10, rollDeg: roll / 20, pivotHeightMm: 60 };
        const other = built(outboardCorner());
        const a = axle(reference, other, place);
        const b = axle(other, reference, { ...place, rollDeg: -place.rollDeg });
        for (const x of [a, b]) for (const wheel of [x.left, x.right]) expectClose(wheel.contact.at[1], 0, ON_ROAD_MM, "mm");
        expectClose(a.left.travelMm, b.right.travelMm, ON_ROAD_MM, "mm");
        expectClose(a.right.camberDeg, b.left.camberDeg, 1e-9, "°");
        if (a.rollCentre.kind !== "point" || b.rollCentre.kind !== "point") throw new Error("no roll centre");
        expectClose(a.rollCentre.at[0], -b.rollCentre.at[0], 1e-6, "mm");
        expectClose(a.rollCentre.at[1], b.rollCentre.at[1], 1e-6, "mm");
      }),
    );
  });

  it("has its rolled roll centre on both lines from contact point to instant centre (Aronhold-Kennedy)", () => {
    const place = { heaveMm: -3, rollDeg: 3, pivotHeightMm: 50 };
    const a = axle(reference, reference, place);
    if (a.rollCentre.kind !== "point") throw new Error("no roll centre");
    for (const wheel of [a.left, a.right]) {
      const ic = instantCentreOf(wheel.kinematics.pose);
      if (ic.kind !== "point") throw new Error("instant centre at infinity");
      const there = toPicture(wheel.side, place, ic.at);
      const u: V2 = [there[0] - wheel.contact.at[0], there[1] - wheel.contact.at[1]];
      const v: V2 = [a.rollCentre.at[0] - wheel.contact.at[0], a.rollCentre.at[1] - wheel.contact.at[1]];
      expectClose((u[0] * v[1] - u[1] * v[0]) / Math.hypot(...u), 0, 1e-8, "mm");
    }
    // the body's roll moves it towards one side
    expect(Math.abs(a.rollCentre.at[0])).toBeGreaterThan(1);
  });

  it("has the instantaneous roll centre as the point of the body that does not move sideways when it rolls on", () => {
    const place = { heaveMm: -2, rollDeg: 1.5, pivotHeightMm: 40 };
    const a = axle(reference, reference, place);
    if (a.rollCentre.kind !== "point") throw new Error("no roll centre");
    // contacts held on the road: their speed against the body along and across the road, as the body turns about the roll centre
    for (const wheel of [a.left, a.right]) {
      const arm: V2 = [wheel.contact.at[0] - a.rollCentre.at[0], wheel.contact.at[1] - a.rollCentre.at[1]];
      const { velocity } = wheel.contact;
      expectClose((velocity[0] * arm[0] + velocity[1] * arm[1]) / (Math.hypot(...velocity) * Math.hypot(...arm)), 0, 1e-9, "(cosine)");
    }
  });
});

describe("roll centres without a point", () => {
  it("is the road's line for level parallel arms", () => {
    const level = built(parallelCorner());
    const a = axle(level, level, { heaveMm: 0, rollDeg: 0 });
    expect(a.rollCentre.kind).toBe("onLine");
    expectClose(heightOf(a), 0, ON_ROAD_MM, "mm");
  });

  it("is at infinity when both contacts move along parallel lines that are not one", () => {
    const up: V2 = [0.1, 1];
    const rc = axleRollCentre({ at: [-160, 0], velocity: up }, { at: [160, 0], velocity: up });
    expect(rc.kind).toBe("atInfinity");
  });

  it("meets at the known point of two crossing lines", () => {
    // normals from (-100, 0) at 45° up and from (100, 0) at 45° up to the left
    const rc = axleRollCentre({ at: [-100, 0], velocity: [-1, 1] }, { at: [100, 0], velocity: [1, 1] });
    if (rc.kind !== "point") throw new Error(rc.kind);
    expectClose(rc.at[0], 0, 1e-12, "mm");
    expectClose(rc.at[1], 100, 1e-12, "mm");
  });
});

describe("a body too high or too low", () => {
  it("names the wheel that cannot reach the road, by how much, and what locks", () => {
    const a = kinematicsAxle(reference, reference, { heaveMm: 150, rollDeg: 0 });
    expect(a).toMatchObject({ ok: false, kind: "offRoad", side: "left", locked: { end: "droop", reason: "wheelTurnsBack" } });
    if (!a.ok) {
      expect(a.missMm).toBeGreaterThan(50);
      expect(a.message).toContain("above the road");
    }
  });

  it("is never NaN, whatever the corners, heave and roll", () => {
    fc.assert(
      fc.property(anyLinkage, anyLinkage, fc.integer({ min: -100, max: 100 }), fc.integer({ min: -30, max: 30 }), (l, r, heaveMm, rollDeg) => {
        const a = kinematicsAxle(l.linkage, r.linkage, { heaveMm, rollDeg });
        if (!a.ok) {
          expect(Number.isFinite(a.missMm)).toBe(true);
          return;
        }
        for (const w of [a.left, a.right]) {
          expect([w.travelMm, w.camberDeg, ...w.contact.at, ...w.contact.velocity].every(Number.isFinite)).toBe(true);
          expectClose(w.contact.at[1], 0, 1e-6, "mm");
        }
        const { rollCentre } = a;
        expect((rollCentre.kind === "atInfinity" ? rollCentre.direction : rollCentre.at).every(Number.isFinite)).toBe(true);
      }),
      { numRuns: 200 },
    );
  });
});
