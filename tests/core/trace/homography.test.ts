import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { after, type FourPoints, type Homography, homographyOf, inverse, mapped } from "../../../src/core/trace/homography.ts";
import type { V2 } from "../../../src/core/vec.ts";

/**
 * Worked example: README of the npm package perspective-transform 1.1.3 (jlouthan, MIT), "Basic Usage" and "API Documentation": four corners,
 * what becomes of a point, the way back of another, and both matrices to ten decimals. All but the first matrix is made there of
 * coefficients rounded to these decimals, which moves the points by some 1e-6 and more on the way back.
 */
const FROM: FourPoints = [
  [158, 64],
  [494, 69],
  [495, 404],
  [158, 404],
];
const TO: FourPoints = [
  [100, 500],
  [152, 564],
  [148, 604],
  [100, 560],
];
const MATRIX = [0.3869749384, 0.0426817448, 59.2427947969, 0.9589610618, 0.4562821238, 434.8644299345, 0.0012901794, 0.0004268174, 1];
const BACK = [1.9955408809, -0.1282507787, -62.4497171511, -2.9335671323, 2.2894572644, -821.8108124927, -0.0013225082, -0.0008117138, 1];

const one = (h: Homography): number[] => h.map((v) => v / h[8]);
const found = (): Homography => homographyOf(FROM, TO) as Homography;

/** A plane seen by a camera without a lens: turned by three angles, moved, projected (the pinhole of Hartley and Zisserman, section 6.1). */
function camera(turns: readonly [number, number, number], away: number, focalPx: number): Homography {
  const [a, b, c] = turns;
  const [ca, sa, cb, sb, cc, sc] = [Math.cos(a), Math.sin(a), Math.cos(b), Math.sin(b), Math.cos(c), Math.sin(c)];
  // columns of the turn for the plane's two directions, then where the plane's middle is
  const r1 = [cb * cc, cb * sc, -sb];
  const r2 = [sa * sb * cc - ca * sc, sa * sb * sc + ca * cc, sa * cb];
  const row = (i: number, f: number): [number, number, number] => [f * r1[i]!, f * r2[i]!, 0];
  return [...row(0, focalPx), ...row(1, -focalPx), r1[2]!, r2[2]!, away] as unknown as Homography;
}

describe("the homography of four pairs of points", () => {
  it("is that of a published example, forth and back", () => {
    one(found()).forEach((v, i) => expect(v).toBeCloseTo(MATRIX[i]!, 9));
    one(inverse(found())).forEach((v, i) => expect(v).toBeCloseTo(BACK[i]!, 7));
    const there = mapped(found(), [250, 120]) as V2;
    expect(there[0]).toBeCloseTo(117.27521125839255, 4);
    expect(there[1]).toBeCloseTo(530.9202410878403, 4);
    const back = mapped(inverse(found()), [130, 570]) as V2;
    expect(back[0]).toBeCloseTo(338.99465637447327, 3);
    expect(back[1]).toBeCloseTo(278.6450957956236, 3);
  });

  it("finds every camera again from four corners of a sheet, within rounding", () => {
    const angle = fc.double({ min: -0.9, max: 0.9, noNaN: true });
    const place = fc.double({ min: -100, max: 100, noNaN: true });
    fc.assert(
      fc.property(angle, angle, fc.double({ min: -3, max: 3, noNaN: true }), place, place, (a, b, c, x, y) => {
        const truth = camera([a, b, c], 700, 1500);
        const sheet: FourPoints = [
          [-148.5, 105],
          [148.5, 105],
          [148.5, -105],
          [-148.5, -105],
        ];
        const seen = sheet.map((p) => mapped(truth, p) as V2) as unknown as FourPoints;
        const h = homographyOf(seen, sheet);
        if (!h) throw new Error("no homography");
        const back = mapped(h, mapped(truth, [x, y]) as V2) as V2;
        expect(Math.abs(back[0] - x)).toBeLessThan(1e-8);
        expect(Math.abs(back[1] - y)).toBeLessThan(1e-8);
        const round = mapped(after(inverse(h), h), [x, y]) as V2;
        expect(round[0]).toBeCloseTo(x, 8);
      }),
      { numRuns: 300 },
    );
  });

  it.each([
    [
      "three in line",
      [
        [0, 0],
        [10, 0],
        [20, 0],
        [5, 10],
      ],
    ],
    [
      "crossed",
      [
        [0, 0],
        [10, 10],
        [10, 0],
        [0, 10],
      ],
    ],
    [
      "with a dent",
      [
        [0, 0],
        [10, 0],
        [3, 3],
        [0, 10],
      ],
    ],
    [
      "two at one place",
      [
        [0, 0],
        [0, 0],
        [10, 10],
        [0, 10],
      ],
    ],
  ] as [string, unknown][])("is none for four corners %s", (_, corners) => {
    expect(homographyOf(corners as FourPoints, TO)).toBeNull();
    expect(homographyOf(TO, corners as FourPoints)).toBeNull();
  });

  it("maps nothing from beyond the horizon", () => {
    // w of the example is 0 along 0.0012901794 x + 0.0004268174 y = -1
    expect(mapped(found(), [-900, 0])).toBeNull();
    expect(mapped(found(), [-700, 0])).not.toBeNull();
  });
});
