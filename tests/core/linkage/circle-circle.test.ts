import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { circleCircle } from "../../../src/core/linkage/circle-circle.ts";
import type { V2 } from "../../../src/core/vec.ts";
import { expectClose } from "./corners.ts";

const ON_CIRCLE_MM = 1e-9;
const far = (a: V2, b: V2): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
const mm = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const centre = fc.tuple(mm(-200, 200), mm(-200, 200));

describe("two circles", () => {
  it("meet in the two corners of a 3-4-5 triangle, left and right of the line of centres", () => {
    const m = circleCircle([0, 0], 3, [5, 0], 4);
    if (m.kind !== "two") throw new Error(m.kind);
    for (const [point, z] of [
      [m.left, 2.4],
      [m.right, -2.4],
    ] as const) {
      expectClose(point[0], 1.8, 1e-15, "mm");
      expectClose(point[1], z, 1e-15, "mm");
    }
  });

  it("tell by how much they are apart, one inside the other, or that they are one", () => {
    expect(circleCircle([0, 0], 3, [10, 0], 4)).toEqual({ kind: "apart", missMm: 3 });
    expect(circleCircle([0, 0], 10, [2, 0], 3)).toEqual({ kind: "inside", missMm: 5 });
    expect(circleCircle([0, 0], 3, [2, 0], 10)).toEqual({ kind: "inside", missMm: 5 });
    expect(circleCircle([1, 2], 3, [1, 2], 3)).toEqual({ kind: "same" });
    expect(circleCircle([1, 2], 0, [1, 2], 3)).toEqual({ kind: "inside", missMm: 3 });
  });

  it("touch from outside and from inside at the right place", () => {
    expect(circleCircle([0, 0], 3, [7, 0], 4)).toEqual({ kind: "tangent", at: [3, 0] });
    expect(circleCircle([0, 0], 10, [7, 0], 3)).toEqual({ kind: "tangent", at: [10, 0] });
    expect(circleCircle([0, 0], 3, [7, 0], 10)).toEqual({ kind: "tangent", at: [-3, 0] });
  });

  it("give points on both circles, or a miss that closes exactly that gap", () => {
    fc.assert(
      fc.property(centre, mm(0.1, 200), centre, mm(0.1, 200), (c1, r1, c2, r2) => {
        const m = circleCircle(c1, r1, c2, r2);
        if (m.kind === "apart") expectClose(far(c1, c2), r1 + r2 + m.missMm, ON_CIRCLE_MM, "mm");
        else if (m.kind === "inside") expectClose(far(c1, c2), Math.abs(r1 - r2) - m.missMm, ON_CIRCLE_MM, "mm");
        else if (m.kind !== "same")
          for (const x of m.kind === "two" ? [m.left, m.right] : [m.at]) {
            expectClose(far(x, c1), r1, ON_CIRCLE_MM, "mm");
            expectClose(far(x, c2), r2, ON_CIRCLE_MM, "mm");
          }
      }),
    );
  });

  it("are never NaN where they just touch, and the point lies on both", () => {
    fc.assert(
      fc.property(centre, mm(0.1, 200), mm(0.1, 200), mm(0, 2 * Math.PI), fc.boolean(), (c1, r1, r2, turn, outside) => {
        const d = outside ? r1 + r2 : Math.abs(r1 - r2);
        fc.pre(d > 1e-3);
        const m = circleCircle(c1, r1, [c1[0] + d * Math.cos(turn), c1[1] + d * Math.sin(turn)], r2);
        expect(["tangent", "two", "apart", "inside"]).toContain(m.kind);
        // half a rounding of the distance moves a nearly touching point by its square root
        const x = m.kind === "tangent" ? m.at : m.kind === "two" ? m.left : null;
        if (x !== null) expectClose(far(x, c1), r1, ON_CIRCLE_MM, "mm");
        if (m.kind === "apart" || m.kind === "inside") expectClose(m.missMm, 0, ON_CIRCLE_MM, "mm");
      }),
    );
  });
});
