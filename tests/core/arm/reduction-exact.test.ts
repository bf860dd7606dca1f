import { describe, expect, it } from "vitest";
import { buildArm3d } from "../../../src/core/arm/arm-frame.ts";
import { planarReduction } from "../../../src/core/arm/reduction.ts";
import { clampedVerticalFlexibility, heldVerticalFlexibility } from "../../../src/core/arm/stiffness.ts";
import type { Arm } from "../../../src/core/design/types.ts";
import { chainDeflection, plainArm } from "../../support/arms.ts";
import { expectRel } from "../../support/close.ts";

/** Arms of ordinary shape, where the chain of spans is no estimate: it meets the spatial frame's own flexibilities to rounding. */
const EXACT = 1e-7;
const HELD = Number.POSITIVE_INFINITY;
const thick: Arm = { ...plainArm, stemSection: { shape: "rectangle", widthMm: 8, heightMm: 6 } };
const a: Arm = { ...plainArm, layout: "A", spreadMm: 60 };
const loose = (arm: Arm, pivotStiffnessNmmPerDeg: number): Arm => ({ ...arm, pivotFreeAboutArm: true, pivotStiffnessNmmPerDeg });
const L = 88;

const chain = (arm: Arm, seat: number) => {
  const spans = planarReduction(arm, L, seat);
  const at = (xi: number, xj: number): number => chainDeflection(spans, L, xi, xj, HELD);
  return { tip: at(L, L), tipSeat: at(L, seat * L), seat: at(seat * L, seat * L) };
};

describe("up and down", () => {
  it.each([
    ["forked, seat on the legs", plainArm, 0.3],
    ["forked, seat nearer to the fork", plainArm, 0.5],
    ["forked, stem of its own section", thick, 0.3],
    ["forked, seat on the stem", thick, 0.8],
    ["A, seat in its middle", a, 0.5],
    ["A on sprung pins that spin, seat in its middle", loose(a, 400), 0.5],
    ["forked on sprung pins that spin, seat on the legs", loose(thick, 400), 0.4],
    ["twin", { ...plainArm, layout: "twin" }, 0.5],
    ["straight", { ...plainArm, layout: "straight" }, 0.5],
  ] as [string, Arm, number][])("%s: ball joint, seat and each by the other", (_, arm, seat) => {
    const f = clampedVerticalFlexibility(buildArm3d(arm, L, seat));
    const c = chain(arm, seat);
    expectRel(c.tip, f.tip, EXACT, "ball joint (mm/N)");
    expectRel(c.tipSeat, f.tipSeat, EXACT, "ball joint by seat (mm/N)");
    expectRel(c.seat, f.seat, EXACT, "seat (mm/N)");
  });

  it.each([
    ["A, seat on its legs", loose(a, 0), 0.5],
    ["A, seat further in", loose(a, 0), 0.3],
    ["forked, seat on its legs", loose(thick, 0), 0.4],
    ["forked, seat on its stem", loose(thick, 0), 0.8],
  ])("on free pins that spin: the ball joint with the seat held: %s", (_, arm, seat) => {
    const f = clampedVerticalFlexibility(buildArm3d(arm, L, seat));
    expectRel(heldVerticalFlexibility(chain(arm, seat), L, seat * L, 0), heldVerticalFlexibility(f, L, seat * L, 0), EXACT, "mm/N");
  });

  it.each([
    ["A", loose(a, 0)],
    ["A, sprung", loose(a, 400)],
    ["forked", loose(thick, 0)],
    ["forked, sprung", loose(thick, 400)],
  ])("on pins that spin, without a seat: %s", (_, arm) => {
    const spans = planarReduction(arm, L, null);
    expectRel(chainDeflection(spans, L, L, L, HELD), clampedVerticalFlexibility(buildArm3d(arm, L, null)).tip, EXACT, "ball joint (mm/N)");
  });
});

// legs as wide as they are long twist more than they bend: all their give lies at the pivots
describe("wide legs on sprung pins that spin", () => {
  const wide = (spreadMm: number): Arm => loose({ ...a, spreadMm }, 400);

  it("70 mm to each side of 40: a short hinge and two spans, met like narrow ones", () => {
    const f = clampedVerticalFlexibility(buildArm3d(wide(140), 40, 0.3));
    const spans = planarReduction(wide(140), 40, 0.3);
    expect(spans.map((s) => s.fromFraction)).toEqual([0, 0.003, 0.3]);
    expectRel(chainDeflection(spans, 40, 40, 40, HELD), f.tip, EXACT, "ball joint (mm/N)");
    expectRel(chainDeflection(spans, 40, 40, 12, HELD), f.tipSeat, EXACT, "ball joint by seat (mm/N)");
    expectRel(chainDeflection(spans, 40, 12, 12, HELD), f.seat, EXACT, "seat (mm/N)");
  });

  it.each([
    [200, 0.5],
    [300, 0.2],
  ])("%i mm of spread: the ball joint with the seat held and let go", (spread, seat) => {
    const f = clampedVerticalFlexibility(buildArm3d(wide(spread), 40, seat));
    const spans = planarReduction(wide(spread), 40, seat);
    const at = (xi: number, xj: number): number => chainDeflection(spans, 40, xi, xj, HELD);
    const c = { tip: at(40, 40), tipSeat: at(40, 40 * seat), seat: at(40 * seat, 40 * seat) };
    expectRel(c.tip, f.tip, EXACT, "let go (mm/N)");
    const k = (400 * 180) / Math.PI;
    expectRel(heldVerticalFlexibility(c, 40, 40 * seat, k), heldVerticalFlexibility(f, 40, 40 * seat, k), EXACT, "held (mm/N)");
    expect(spans.map((s) => s.fromFraction)).toEqual([0, 0.02, seat]);
  });
});

describe("the spans of an arm", () => {
  it.each([
    ["forked, seat on its legs", plainArm, 0.3, [0, 0.3, 0.6]],
    ["forked, seat on its stem", plainArm, 0.8, [0, 0.6]],
    ["forked, no seat", plainArm, null, [0, 0.6]],
    ["forked, seat all but at its pivots", plainArm, 5e-4, [0, 0.6]],
    ["forked, seat all but at the fork", plainArm, 0.5995, [0, 0.6]],
    ["forked, seat just beyond the fork", plainArm, 0.6005, [0, 0.6]],
    ["A", a, 0.5, [0, 0.5]],
    ["A on sprung pins that spin: a hinge at the pivots", loose(a, 400), 0.5, [0, 0.02, 0.5]],
    ["forked likewise, seat on its stem", loose(plainArm, 400), 0.8, [0, 0.02, 0.6]],
    ["forked likewise, a seat near the pivots shortens the hinge", loose(plainArm, 400), 0.04, [0, 0.01, 0.04, 0.6]],
    ["A on free ones", loose(a, 0), 0.5, [0, 0.5]],
  ] as [string, Arm, number | null, number[]][])("%s", (_, arm, seat, from) => {
    const spans = planarReduction(arm, L, seat);
    expect(spans).toHaveLength(from.length);
    from.forEach((f, i) => {
      expectRel(1 + spans[i]!.fromFraction, 1 + f, 1e-12, `span ${i}`);
    });
  });
});

describe("along the arm", () => {
  it.each([
    ["forked, seat on the legs", thick, 0.3],
    ["forked, seat on the stem", thick, 0.8],
    ["A, seat in its middle", a, 0.5],
    ["A, no seat", a, null],
    ["A on sprung pins that spin", loose(a, 400), 0.5],
    ["forked on free pins that spin", loose(thick, 0), 0.4],
    ["forked on free pins that spin, no seat", loose(thick, 0), null],
  ] as [string, Arm, number | null][])("%s: ball joint, and seat by its pull", (_, arm, seat) => {
    const f = buildArm3d(arm, L, seat).flexibility;
    const spans = planarReduction(arm, L, seat);
    const upTo = (x: number) => spans.reduce((s, p) => s + (Math.max(0, Math.min(p.toFraction, x) - p.fromFraction) * L) / p.ea, 0);
    expectRel(upTo(1), f[7]!, EXACT, "ball joint (mm/N)");
    if (seat !== null) expectRel(upTo(seat), f[25]!, EXACT, "seat (mm/N)");
  });
});

// 8 x 4 mm, E = 2400, nu = 0.35: EA = 76 800 N, EI = 102 400 N·mm², GA = 5/6 · 2400/2.7 · 32 = 23 703.7037 N
describe("a bar, and two side by side", () => {
  it.each([
    ["straight", 1],
    ["twin", 2],
  ] as const)("%s: one span of its own stiffness", (layout, legs) => {
    const [span, ...more] = planarReduction({ ...plainArm, layout }, L, 0.5);
    expect(more).toEqual([]);
    expect([span!.fromFraction, span!.toFraction]).toEqual([0, 1]);
    expectRel(span!.ea, legs * 76_800, 1e-12, "EA (N)");
    expectRel(span!.ei, legs * 102_400, 1e-12, "EI (N·mm²)");
    expectRel(span!.ga, legs * 23_703.7037, 1e-8, "GA (N)");
  });
});
