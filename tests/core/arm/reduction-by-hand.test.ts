import { describe, expect, it } from "vitest";
import type { PlanarSegment } from "../../../src/core/analysis.ts";
import type { Arm3d } from "../../../src/core/arm/arm-frame.ts";
import { chainFlexibility, hingedLegs, legsWithSeat, scaledLegs, stemGive } from "../../../src/core/arm/reduction.ts";
import { heldVerticalFlexibility } from "../../../src/core/arm/stiffness.ts";
import { chainDeflection } from "../../support/arms.ts";
import { expectRel } from "../../support/close.ts";

/**
 * Each way of fitting by itself, on arms whose flexibilities are those of a chain of beams that is known beforehand, by virtual work: the fit must find that
 * chain again, or refuse.
 */

const L = 100;
const HELD = Number.POSITIVE_INFINITY;
const FOUND = 1e-7;

const span = (from: number, to: number, ei: number, ga: number, ea = 1000): PlanarSegment => ({ fromFraction: from / L, toFraction: to / L, ea, ei, ga });
/** the undivided pair of legs: bending over shear 400 mm² */
const legs = (end: number): PlanarSegment => span(0, end, 20_000, 50, 1000);
const STEM = [span(60, 100, 9000, 30, 800)];

/** An arm as stiff as a chain, up and down and along. */
function like(chain: PlanarSegment[], seatMm: number | null, legEnd: number, pivotNmmPerRad = 0): Arm3d {
  const x = seatMm ?? 0;
  const at = (xi: number, xj: number): number => chainDeflection(chain, L, xi, xj, HELD);
  const along = (to: number): number => chain.reduce((s, p) => s + Math.max(0, Math.min(to, p.toFraction * L) - p.fromFraction * L) / p.ea, 0);
  const flexibility = new Float64Array(36);
  flexibility[7] = along(L);
  flexibility[14] = at(L, L);
  if (seatMm !== null) {
    flexibility[17] = at(L, x);
    flexibility[35] = at(x, x);
    flexibility[25] = along(x);
  }
  return { lengthMm: L, seatFraction: seatMm === null ? null : seatMm / L, plan: { legEnd }, flexibility, pivotNmmPerRad } as unknown as Arm3d;
}

function expectSpans(found: PlanarSegment[] | null, wanted: PlanarSegment[]): void {
  if (!found) expect.fail("no chain was found");
  expect(found).toHaveLength(wanted.length);
  found.forEach((s, i) => {
    const w = wanted[i]!;
    for (const key of ["fromFraction", "toFraction"] as const) expectRel(1 + s[key], 1 + w[key], 1e-12, `span ${i}, ${key}`);
    for (const key of ["ea", "ei", "ga"] as const) expectRel(s[key], w[key], FOUND, `span ${i}, ${key}`);
  });
}

describe("a chain's flexibilities", () => {
  const chain = [span(0, 30, 15_000, 40), span(30, 60, 25_000, 62.5), ...STEM];
  it.each([0, 10, 30, 45, 60, 80, 100])("are those of virtual work, seat at %i mm", (x) => {
    const c = chainFlexibility(chain, L, x);
    expectRel(c.tip, chainDeflection(chain, L, L, L, HELD), 1e-12, "ball joint (mm/N)");
    expectRel(c.tipSeat + 1, chainDeflection(chain, L, L, x, HELD) + 1, 1e-12, "ball joint by seat (mm/N)");
    expectRel(c.seat + 1, chainDeflection(chain, L, x, x, HELD) + 1, 1e-12, "seat (mm/N)");
  });

  // l³/(3 EI) + l/GA
  it("of a stem alone are a cantilever's, and none without one", () => {
    expectRel(stemGive(STEM, L), 64_000 / 27_000 + 40 / 30, 1e-12, "mm/N");
    expect(stemGive([], L)).toBe(0);
  });
});

describe("two spans, before and behind the seat", () => {
  const found = (ei: number, ga: number, outerEi: number): PlanarSegment[] | null =>
    legsWithSeat(like([span(0, 30, ei, ga, 500), span(30, 60, outerEi, outerEi / 400, 2000), ...STEM], 30, 60), legs(60), STEM);

  it("are found from what seat and ball joint give, up and down and along", () => {
    expectSpans(found(15_000, 40, 25_000), [span(0, 30, 15_000, 40, 500), span(30, 60, 25_000, 62.5, 2000)]);
    const noStem = [span(0, 70, 11_000, 20, 700), span(70, 100, 30_000, 75, 900)];
    expectSpans(legsWithSeat(like(noStem, 70, 100), legs(100), []), noStem);
  });

  it("are none where the inner one would be a hundred times as stiff as the legs, or give backwards", () => {
    expect(found(1.98e6, 40, 25_000)).not.toBeNull();
    expect(found(2.02e6, 40, 25_000)).toBeNull();
    expect(found(-15_000, 40, 25_000)).toBeNull();
    expect(found(15_000, -40, 25_000)).toBeNull();
    expect(found(15_000, 1e6, 25_000)).not.toBeNull();
  });

  // outer span that gives b per bending, perBend all in all: as stiff as may be adds perBend (1/2e6 - b), of the ball joint's flexibility, seat held: h0 + perBend b
  const outerAt = (share: number, seat: number, end: number, ofTip = false): { a: Arm3d; stem: PlanarSegment[] } => {
    const stem = end < L ? STEM : [];
    const at = (b: number): Arm3d => like([span(0, seat, 15_000, 40), { ...span(seat, end, 1 / b, 1 / b / 400) }, ...stem], seat, end);
    const flexibility = (b: number): number => {
      const f = { tip: at(b).flexibility[14]!, tipSeat: at(b).flexibility[17]!, seat: at(b).flexibility[35]! };
      return ofTip ? f.tip : heldVerticalFlexibility(f, L, seat, 0);
    };
    const perBend = chainDeflection([span(seat, end, 1, 1 / 400)], L, L, L, HELD);
    const h0 = flexibility(1e-12);
    return { a: at((perBend * 5e-7 - share * h0) / (perBend * (1 + share))), stem };
  };

  it("may have an outer one stiffer than it should be, as long as the ball joint does not notice a hundredth of it", () => {
    const near = outerAt(0.0099, 58, 60);
    const stiffest = legsWithSeat(near.a, legs(60), near.stem);
    expectRel(stiffest![1]!.ei, 2e6, 1e-9, "outer EI (N·mm²)");
    expectRel(stiffest![1]!.ga, 5000, 1e-9, "outer GA (N)");
    const far = outerAt(0.0101, 58, 60);
    expect(legsWithSeat(far.a, legs(60), far.stem)).toBeNull();
    expectRel(found(15_000, 40, 1.9e6)![1]!.ei, 1.9e6, FOUND, "EI of a stiff one (N·mm²)");
  });

  it("are measured by the whole flexibility where the seat is all but at the ball joint", () => {
    const near = outerAt(0.0099, 98, 100, true);
    expect(legsWithSeat(near.a, legs(100), near.stem)).not.toBeNull();
    const far = outerAt(0.0101, 98, 100, true);
    expect(legsWithSeat(far.a, legs(100), far.stem)).toBeNull();
    const inside = outerAt(0.0099, 96, 100, true);
    expect(legsWithSeat(inside.a, legs(100), inside.stem)).toBeNull();
  });

  it("have the legs' own stretch where the seat is at the fork", () => {
    const near = like([span(0, 59.95, 15_000, 40, 1000), span(59.95, 60, 25_000, 62.5, 1000), ...STEM], 59.95, 60);
    near.flexibility[25] = 77;
    expect(legsWithSeat(near, legs(60), STEM)!.map((s) => s.ea)).toEqual([1000, 1000]);
  });
});

describe("legs on a hinge", () => {
  const OUTER = [span(30, 60, 25_000, 62.5, 2000)];
  const chain = (hingeEi: number, mainEi: number, h = 2, seat = 30): PlanarSegment[] => [
    span(0, h, hingeEi, 45, 500),
    span(h, seat, mainEi, 45, 500),
    ...OUTER.map((s) => ({ ...s, fromFraction: seat / L })),
  ];
  const found = (c: PlanarSegment[], at = 30, share = 0.02): PlanarSegment[] | null => hingedLegs(like([...c, ...STEM], at, 60), at, legs(60), STEM, share);

  it("are found with the held legs' bending behind it, on either length of hinge", () => {
    expectSpans(found(chain(1000, 20_000)), chain(1000, 20_000));
    expectSpans(found(chain(1000, 20_000, 0.3), 30, 0.003), chain(1000, 20_000, 0.3));
    // a quarter of the way to a seat that is nearer
    expectSpans(found(chain(1000, 20_000, 1.5, 6), 6), chain(1000, 20_000, 1.5, 6));
  });

  it("are stiffer by the first share that leaves the hinge something to give", () => {
    for (const share of [0.7, 0.5, 0.3, 0.15, 0.05, 0.01]) {
      const c = chain(400_000, 20_000 / share);
      expectSpans(found(c), c);
    }
  });

  it("are none where a span would give backwards, or beyond the ball joint", () => {
    expect(found([span(0, 2, 1000, -45, 500), span(2, 30, 20_000, -45, 500), ...OUTER])).toBeNull();
    expect(found([span(0, 2, -1000, 45, 500), span(2, 30, 1e9, 45, 500), ...OUTER])).toBeNull();
    expect(found([span(0, 2, 1000, 45, 500), span(2, 30, 20_000, 45, 500), span(30, 60, -25_000, -62.5)])).toBeNull();
    expect(hingedLegs(like(chain(1000, 20_000), 100, 60), 100, legs(60), STEM, 0.02)).toBeNull();
  });

  it("are met at the fork by their own bending", () => {
    const c = [span(0, 2, 1000, 45), span(2, 60, 31_000, 45)];
    const at = (spans: PlanarSegment[]): PlanarSegment[] | null => hingedLegs(like([...spans, ...STEM], 60, 60), 60, legs(60), STEM, 0.02);
    expectSpans(at(c), c);
    // stiffer than a hundredth of the legs' give, or backwards
    expect(at([span(0, 2, 1000, 45), span(2, 60, 2.02e6, 45)])).toBeNull();
    expect(at([span(0, 2, 1000, 45), span(2, 60, 1.98e6, 45)])).not.toBeNull();
    expect(at([span(0, 2, 2.02e6, 45), span(2, 60, 31_000, 45)])).toBeNull();
    expect(at([span(0, 2, 1000, -45), span(2, 60, 31_000, -45)])).toBeNull();
  });
});

describe("legs that give all alike", () => {
  const softer = (times: number): PlanarSegment => ({ ...legs(60), ei: 20_000 / times, ga: 50 / times });

  it.each([0.02, 0.4, 1, 1.7, 9])("are found by the ball joint's flexibility without a seat: %d times as soft", (times) => {
    expectSpans(scaledLegs(like([softer(times), ...STEM], null, 60), legs(60), STEM), [softer(times)]);
  });

  it.each([0.4, 1.7])("and by that with the seat held, on free pins: %d times as soft", (times) => {
    const [inner, outer] = [
      { ...softer(times), toFraction: 0.3, ea: 500 },
      { ...softer(times), fromFraction: 0.3, ea: 2000 },
    ];
    expectSpans(scaledLegs(like([inner, outer, ...STEM], 30, 60), legs(60), STEM), [inner, outer]);
    // a seat on the stem divides no legs
    expectSpans(scaledLegs(like([softer(times), ...STEM], 80, 60), legs(60), STEM), [softer(times)]);
  });

  it.each([
    [0.4, 30, 2],
    [1.7, 30, 2],
    // a quarter of the way to a seat that is nearer
    [1.7, 6, 1.5],
  ])("%d times as soft on sprung pins, seat at %i mm: behind a hinge of %d mm", (times, seat, h) => {
    const ga = 50 / times;
    const c = [span(0, h, 500, ga, 500), span(h, seat, 20_000 / times, ga, 500), span(seat, 60, 20_000 / times, ga, 2000)];
    expectSpans(scaledLegs(like([...c, ...STEM], seat, 60, 20_000), legs(60), STEM), c);
  });

  // a soft hinge of 2 mm alone would give more at the ball joint, seat held, than all of this chain
  it("have the hinge nearer to the pivots where no legs are stiff enough for the usual one", () => {
    const ga = 50 / 0.03;
    const c = [span(0, 0.3, 1, ga, 500), span(0.3, 30, 20_000 / 0.03, ga, 500), span(30, 60, 20_000 / 0.03, ga, 2000)];
    expectSpans(scaledLegs(like([...c, ...STEM], 30, 60, 20_000), legs(60), STEM), c);
  });

  it.each([0.05, 99.95])("are not divided by a seat within a thousandth of either end: %d mm", (seat) => {
    const c = { ...softer(1.7), toFraction: 1 };
    expectSpans(scaledLegs(like([c], seat, 100), legs(100), []), [c]);
  });

  it("with a seat on the stem, sprung: a hinge and undivided legs", () => {
    const c = [span(0, 2, 500, 50), span(2, 60, 20_000, 50)];
    expectSpans(scaledLegs(like([...c, ...STEM], 80, 60, 20_000), legs(60), STEM), c);
  });
});
