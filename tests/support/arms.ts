import fc from "fast-check";
import type { PlanarSegment } from "../../src/core/analysis.ts";
import { ARM_LAYOUTS, type Arm, type Section } from "../../src/core/design/types.ts";

/** A plain arm to vary in tests. */
export const plainArm: Arm = {
  layout: "split",
  stemShare: 0.4,
  spreadMm: 56,
  section: { shape: "rectangle", widthMm: 8, heightMm: 4 },
  stemSection: null,
  material: { name: "test", youngMPa: 2400, poisson: 0.35, yieldMPa: 40, densityKgPerM3: 1050, plastic: true, maxTempC: 80, source: "test" },
  pivotStiffnessNmmPerDeg: 0,
  pivotFreeAboutArm: false,
};

const mm = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const arbSection: fc.Arbitrary<Section> = fc.oneof(
  fc.record({ shape: fc.constant("rectangle" as const), widthMm: mm(1.5, 14), heightMm: mm(1.5, 14) }),
  fc.record({ shape: fc.constant("round" as const), diameterMm: mm(2, 12) }),
  fc.record({ shape: fc.constant("tube" as const), outerMm: mm(5, 12), innerMm: mm(1, 4.5) }),
  fc.record({ shape: fc.constant("I" as const), widthMm: mm(6, 14), heightMm: mm(6, 14), flangeMm: mm(1, 2.5), webMm: mm(1, 3) }),
  fc.record({
    shape: fc.constant("pinHoleBar" as const),
    widthMm: mm(6, 12),
    heightMm: mm(6, 12),
    holeMm: mm(2, 5),
    holePitchMm: mm(8, 16),
    holesRun: fc.constantFrom("foreAft" as const, "upDown" as const),
  }),
);

/** Arms of every layout and section, with a free or a sprung pin. */
export const arbArm: fc.Arbitrary<Arm> = fc.record({
  layout: fc.constantFrom(...ARM_LAYOUTS),
  stemShare: mm(0, 0.9),
  spreadMm: mm(4, 140),
  section: arbSection,
  stemSection: fc.option(arbSection),
  material: fc.constantFrom("abs", "pa6gf30", "aluminium", "plaPrinted"),
  pivotStiffnessNmmPerDeg: fc.oneof(fc.constant(0), mm(1, 2000)),
  pivotFreeAboutArm: fc.constant(false),
});

export const arbLength = mm(40, 160);
export const arbSeat = mm(0.02, 1);

/**
 * Deflection at x_i under a unit force at x_j of a chain of uniform Timoshenko spans, held at the inner end by a
 * rotational spring k (N·mm/rad): virtual work by Simpson's rule, which is exact for these integrands.
 */
export function chainDeflection(spans: PlanarSegment[], L: number, xi: number, xj: number, k: number): number {
  const near = Math.min(xi, xj);
  let sum = k === Number.POSITIVE_INFINITY ? 0 : (xi * xj) / k;
  for (const s of spans) {
    const a = s.fromFraction * L;
    const b = Math.min(near, s.toFraction * L);
    if (b <= a) continue;
    const m = (t: number) => (xi - t) * (xj - t);
    sum += ((m(a) + 4 * m((a + b) / 2) + m(b)) * (b - a)) / 6 / s.ei + (b - a) / s.ga;
  }
  return sum;
}
