import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cornerOf } from "../../../src/core/design/sides.ts";
import { movedHandle, moveName, nudgeOf } from "../../../src/pages/axle/state/handle-edits.ts";
import type { Doc } from "../../../src/state/document.ts";
import { at, freeName, withAt, withCorner } from "../../../src/state/edit.ts";
import { scenarioFile } from "../../view/fixture.ts";

const doc: Doc = { a: scenarioFile("heavy-forked"), b: scenarioFile("heavy-straight"), load: { lateralG: 0.8, bumpLeftMm: 0, bumpRightMm: 0 } };
const pitch = doc.a.holePitchMm;

describe("moving a handle", () => {
  it("lands on holes when it keeps to the grid, wherever the hand goes", () => {
    fc.assert(
      fc.property(fc.double({ min: -60, max: 60, noNaN: true }), fc.double({ min: -30, max: 60, noNaN: true }), (right, up) => {
        const p = cornerOf(movedHandle(doc, "pin.right.upperInner", { right, up, g: 0 }, pitch).a, "right").upperInner;
        expect(Math.abs(p.sMm / pitch - Math.round(p.sMm / pitch))).toBeLessThan(1e-9);
        expect(p.zMm === 1 || Math.abs(p.zMm / pitch - Math.round(p.zMm / pitch)) < 1e-9).toBe(true);
      }),
      { numRuns: 100 },
    );
  });

  it("is counted from the start of the drag, so that there and back is exactly where it was", () => {
    const away = movedHandle(doc, "pin.left.lowerOuter", { right: 13.37, up: -4.2, g: 0 }, null);
    expect(away).not.toBe(doc);
    expect(movedHandle(doc, "pin.left.lowerOuter", { right: 0, up: 0, g: 0 }, null)).toBe(doc);
  });

  it("to the right is outboard on the right and inboard on the left, for both wheels of one description", () => {
    const r = movedHandle(doc, "pin.right.lowerInner", { right: 5, up: 0, g: 0 }, null).a.corner.lowerInner.sMm;
    const l = movedHandle(doc, "pin.left.lowerInner", { right: 5, up: 0, g: 0 }, null).a.corner.lowerInner.sMm;
    expect(r - doc.a.corner.lowerInner.sMm).toBeCloseTo(5, 9);
    expect(l - doc.a.corner.lowerInner.sMm).toBeCloseTo(-5, 9);
  });

  it("slides the spring seat along its arm and never off it", () => {
    const seat = (d: Doc): number => (d.a.corner.spring.seat as { fraction: number }).fraction;
    expect(seat(movedHandle(doc, "seat.right", { right: 7, up: 0, g: 0 }, null))).toBeGreaterThan(seat(doc));
    expect(seat(movedHandle(doc, "seat.right", { right: 900, up: 0, g: 0 }, null))).toBe(0.95);
    expect(seat(movedHandle(doc, "seat.left", { right: 900, up: 0, g: 0 }, null))).toBe(0.05);
  });

  it("pulls the load by the arrow and the road by its edge", () => {
    expect(movedHandle(doc, "cornering", { right: 0, up: 0, g: 0.156 }, pitch).load.lateralG).toBeCloseTo(0.96, 9);
    expect(movedHandle(doc, "road.left", { right: 0, up: 3.2, g: 0 }, pitch).load.bumpLeftMm).toBe(3);
    expect(movedHandle(doc, "gravity", { right: 0, up: -10.4, g: 0 }, pitch).a.body.cgHeightMm).toBeCloseTo(Math.round(doc.a.body.cgHeightMm - 10.4), 9);
  });

  it("by a key goes one hole, half a hole or a tenth of a millimetre", () => {
    expect(nudgeOf("pin.right.upperInner", "ArrowLeft", "hole", 8)).toEqual({ right: -8, up: 0, g: 0 });
    expect(nudgeOf("pin.right.upperInner", "ArrowUp", "half", 8)).toEqual({ right: 0, up: 4, g: 0 });
    expect(nudgeOf("pin.right.upperInner", "ArrowDown", "fine", 8)).toEqual({ right: 0, up: -0.1, g: 0 });
    expect(nudgeOf("cornering", "ArrowRight", "hole", 8)?.g).toBeCloseTo(0.05, 9);
    expect(nudgeOf("pin.right.upperInner", "a", "hole", 8)).toBeNull();
  });

  it("has a name in plain words", () => {
    const inward = movedHandle(doc, "pin.right.upperInner", { right: -8, up: 0, g: 0 }, null);
    expect(moveName(doc, inward, "pin.right.upperInner")).toBe("upper inner pin 1 hole in");
    const both = movedHandle(doc, "pin.right.lowerInner", { right: 16, up: -4, g: 0 }, null);
    expect(moveName(doc, both, "pin.right.lowerInner")).toBe("lower inner pin 2 holes out, 0.5 hole down");
    expect(moveName(doc, movedHandle(doc, "pin.right.lowerInner", { right: 0.3, up: 0, g: 0 }, null), "pin.right.lowerInner")).toBe(
      "lower inner pin 0.3 mm out",
    );
  });
});

describe("editing a document", () => {
  it("shares everything off the path and keeps the value when nothing changes", () => {
    const next = withAt(doc, "a.body.cgHeightMm", 70);
    expect(next.b).toBe(doc.b);
    expect(next.a.corner).toBe(doc.a.corner);
    expect(at(next, "a.body.cgHeightMm")).toBe(70);
    expect(withAt(doc, "a.body.cgHeightMm", doc.a.body.cgHeightMm)).toBe(doc);
  });

  it("changes a side's own value where it has one, else the shared one", () => {
    const own = withAt(doc.a, "right", { upperInner: { sMm: 50 } });
    expect(withCorner(own, "right", "upperInner.sMm", 44).right).toEqual({ upperInner: { sMm: 44 } });
    expect(withCorner(own, "right", "upperInner.zMm", 44).corner.upperInner.zMm).toBe(44);
    expect(withCorner(own, "left", "upperInner.sMm", 44).corner.upperInner.sMm).toBe(44);
  });

  it("finds a name that is free", () => {
    expect(freeName("car", ["bus"])).toBe("car");
    expect(freeName("car", ["car", "car (2)"])).toBe("car (3)");
  });
});
