import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Camera, fitBounds, panned, projector, unprojector, zoomed } from "../../src/view/camera.ts";

const PX_TOL = 1e-6;
const camera: Camera = { widthPx: 1056, heightPx: 591, scale: 2.4, centre: [10, 60] };
const point = fc.tuple(fc.double({ min: -400, max: 400, noNaN: true }), fc.double({ min: -100, max: 300, noNaN: true }));

describe("the camera", () => {
  it("puts higher points higher on the screen", () => {
    const px = projector(camera);
    expect(px([0, 100])[1]).toBeLessThan(px([0, 0])[1]);
    expect(px([100, 0])[0]).toBeGreaterThan(px([0, 0])[0]);
  });

  it("finds its way back from the screen for every point", () => {
    const px = projector(camera);
    const back = unprojector(camera);
    fc.assert(
      fc.property(point, (p) => {
        const q = back(px(p));
        expect(Math.abs(q[0] - p[0])).toBeLessThan(PX_TOL);
        expect(Math.abs(q[1] - p[1])).toBeLessThan(PX_TOL);
      }),
      { numRuns: 200 },
    );
  });

  it("fits bounds into the room between its insets", () => {
    const insets = { left: 90, right: 60, top: 40, bottom: 130 };
    const bounds = { left: -186, right: 186, bottom: 0, top: 156 };
    const c = fitBounds(bounds, 1056, 591, insets);
    const px = projector(c);
    const [x0, y0] = px([bounds.left, bounds.bottom]);
    const [x1, y1] = px([bounds.right, bounds.top]);
    expect(x0).toBeGreaterThanOrEqual(insets.left - PX_TOL);
    expect(x1).toBeLessThanOrEqual(1056 - insets.right + PX_TOL);
    expect(y0).toBeLessThanOrEqual(591 - insets.bottom + PX_TOL);
    expect(y1).toBeGreaterThanOrEqual(insets.top - PX_TOL);
  });

  it("keeps the point under the finger when it zooms, and moves with the hand when it pans", () => {
    const at: [number, number] = [300, 200];
    const before = unprojector(camera)(at);
    const after = unprojector(zoomed(camera, 1.7, at))(at);
    expect(Math.abs(after[0] - before[0])).toBeLessThan(PX_TOL);
    expect(Math.abs(after[1] - before[1])).toBeLessThan(PX_TOL);
    const moved = projector(panned(camera, 12, -7))([0, 0]);
    const still = projector(camera)([0, 0]);
    expect(moved[0] - still[0]).toBeCloseTo(12, 6);
    expect(moved[1] - still[1]).toBeCloseTo(-7, 6);
  });
});
