import { describe, expect, it } from "vitest";
import { bandedTimes, choleskyFactor, choleskySolve } from "../../../src/core/arm/banded.ts";
import { smallestPositiveFactor } from "../../../src/core/arm/eigen.ts";
import type { BeamProps } from "../../../src/core/arm/element.ts";
import {
  assembleFrame,
  assembleGeometric,
  assembleStiffness,
  type Frame,
  type FrameNode,
  frameReactions,
  memberEndForces,
  numberFreedoms,
  solveFrame,
} from "../../../src/core/arm/frame.ts";
import { sectionProperties } from "../../../src/core/arm/sections.ts";
import type { V3 } from "../../../src/core/vec.ts";
import { expectAbs, expectRel } from "../../support/close.ts";

const HELD = [true, true, true, true, true, true];
const NO_SHEAR = Number.POSITIVE_INFINITY;
const slender = (ea: number, ei: number, gj: number): BeamProps => ({ ea, gj, eiY: ei, eiZ: ei, gaY: NO_SHEAR, gaZ: NO_SHEAR, polarRadiusSq: 0 });

/** Straight beam along x of n equal members; the supports are put on by the caller. */
function beamAlongX(length: number, n: number, props: BeamProps): Frame {
  const nodes: FrameNode[] = Array.from({ length: n + 1 }, (_, i) => ({ at: [(length * i) / n, 0, 0] }));
  return { nodes, members: Array.from({ length: n }, (_, i) => ({ a: i, b: i + 1, props, up: [0, 0, 1] as V3 })) };
}

describe("one beam", () => {
  const E = 2400;
  const G = E / 2.7;
  const s = sectionProperties({ shape: "rectangle", widthMm: 8, heightMm: 8 });

  it("cantilever with end load (Mott, Machine Elements, App. 14; Timoshenko shear added)", () => {
    const props: BeamProps = {
      ea: E * s.area,
      gj: G * s.torsion,
      eiY: E * s.iVertical,
      eiZ: E * s.iForeAft,
      gaY: G * s.shearAreaForeAft,
      gaZ: G * s.shearAreaVertical,
      polarRadiusSq: 0,
    };
    for (const [ga, expected] of [
      [NO_SHEAR, 2.0833333333333335],
      [props.gaZ, 2.0833333333333335 + 0.016875],
    ] as const) {
      const frame = beamAlongX(80, 1, { ...props, gaZ: ga });
      frame.nodes[0]!.fixed = HELD;
      const asm = assembleFrame(frame);
      const loads = new Float64Array(12);
      loads[8] = -10;
      const out = solveFrame(asm, loads);
      expectRel(out.displacements[8]!, -expected, 1e-9, "deflection (mm)");
      expectRel(out.displacements[10]!, 0.0390625, 1e-9, "slope (rad)");
      expectRel(Math.abs(out.endForces[4]!) / (s.iVertical / 4), 9.375, 1e-9, "stress (MPa)");
    }
  });

  it("simply supported with an off-centre load (Mott, App. 14, p. A-18; Roark, Table 8.1, 1e)", () => {
    const props = slender(1e6, (2400 * (8 * 64)) / 12, 1e5);
    // members 0-80-120, plus a node at the place of the largest deflection
    const x = 65.3197264742181;
    const frame: Frame = {
      nodes: [
        { at: [0, 0, 0], fixed: [true, true, true, true, false, false] },
        { at: [x, 0, 0] },
        { at: [80, 0, 0] },
        { at: [120, 0, 0], fixed: [false, true, true, false, false, false] },
      ],
      members: [0, 1, 2].map((i) => ({ a: i, b: i + 1, props, up: [0, 0, 1] as V3 })),
    };
    const loads = new Float64Array(24);
    loads[2 * 6 + 2] = -40;
    const out = solveFrame(assembleFrame(frame), loads);
    expectRel(out.displacements[2 * 6 + 2]!, -11.11111111111111, 1e-9, "at the load (mm)");
    expectRel(out.displacements[6 + 2]!, -12.09624, 1e-6, "largest (mm)");
    expectAbs(out.displacements[6 + 4]!, 0, 1e-8, "slope there (rad)");
    expectRel(out.displacements[4]!, 0.2777777777777778, 1e-9, "slope at the far end (rad)");
    expectRel(-out.displacements[3 * 6 + 4]!, 0.3472222222222222, 1e-9, "slope at the near end (rad)");
    expectRel(Math.abs(out.endForces[24 + 4]!), 1066.6666666666667, 1e-9, "moment (N·mm)");
  });
});

describe("spatial frames", () => {
  it("Kassimali, Matrix Analysis of Structures, 2nd ed., Example 8.4 (kip, in)", () => {
    const props: BeamProps = { ea: 29000 * 32.9, gj: 11500 * 15.1, eiZ: 29000 * 716, eiY: 29000 * 236, gaY: NO_SHEAR, gaZ: NO_SHEAR, polarRadiusSq: 0 };
    // local z = x cross y of the book's local y axes
    const frame: Frame = {
      nodes: [{ at: [0, 0, 0] }, { at: [-240, 0, 0], fixed: HELD }, { at: [0, -240, 0], fixed: HELD }, { at: [0, 0, -240], fixed: HELD }],
      members: [
        { a: 1, b: 0, props, up: [0, 0, 1], load: [0, -0.25, 0] },
        { a: 2, b: 0, props, up: [1, 0, 0] },
        { a: 3, b: 0, props, up: [-0.8660254037844386, -0.5, 0] },
      ],
    };
    const asm = assembleFrame(frame);
    const loads = new Float64Array(24);
    loads[3] = -1800;
    loads[5] = 1800;
    const out = solveFrame(asm, loads);
    const d = [-1.352245e-3, -2.796532e-3, -1.81198e-3, -3.002109e-3, 1.056911e-3, 6.49858e-3];
    d.forEach((v, i) => expectRel(out.displacements[i]!, v, 1e-6, `d${i + 1}`));
    const r = frameReactions(asm, out, loads);
    const reactions = [
      [5.375736, 44.106293, -0.742724, 2.172151, 58.987351, 2330.519663],
      [-4.624913, 11.117379, -6.460651, -515.54573, -0.764719, 369.671654],
      [-0.750823, 4.776328, 7.203376, -383.501559, -60.166419, -4.701994],
    ];
    // the published digits
    reactions.forEach((row, n) => row.forEach((v, c) => expectAbs(r[(n + 1) * 6 + c]!, v, 1e-6 * Math.abs(v) + 5e-7, `R${n + 2}[${c}]`)));
  });

  it("Weaver, Computer Programs for Structural Analysis, problem 8 (kip, in)", () => {
    const props: BeamProps = { ea: 30000 * 11, gj: 12000 * 83, eiZ: 30000 * 56, eiY: 30000 * 56, gaY: NO_SHEAR, gaZ: NO_SHEAR, polarRadiusSq: 0 };
    const frame: Frame = {
      nodes: [{ at: [0, 120, 0] }, { at: [240, 120, 0] }, { at: [0, 0, 0], fixed: HELD }, { at: [360, 0, 120], fixed: HELD }],
      members: [
        { a: 2, b: 0, props, up: [0, 0, 1] },
        { a: 0, b: 1, props, up: [0, 0, 1] },
        { a: 1, b: 3, props, up: [0, 0, 1] },
      ],
    };
    const asm = assembleFrame(frame);
    const loads = new Float64Array(24);
    loads[0] = 2;
    loads[7] = -1;
    loads[11] = -120;
    const out = solveFrame(asm, loads);
    const u = [
      [0.22267149, 1.5716986e-4, -0.17182308, -2.553273e-3, 2.1654231e-3, -2.1338746e-3],
      [0.22201994, -0.48118948, -0.70160623, -8.0248711e-3, 1.0076571e-3, -4.3471601e-3],
    ];
    u.forEach((row, n) => row.forEach((v, c) => expectRel(out.displacements[n * 6 + c]!, v, 1e-6, `u${n + 1}[${c}]`)));
    const r = frameReactions(asm, out, loads);
    const reactions = [
      [-1.104122, -0.432217, 0.217311, 48.78451, -17.973012, 96.12155],
      [-0.895878, 1.432217, -0.217311, 123.081545, 47.24627, -11.719716],
    ];
    reactions.forEach((row, n) => row.forEach((v, c) => expectAbs(r[(n + 2) * 6 + c]!, v, 1e-6 * Math.abs(v) + 5e-7, `R${n + 3}[${c}]`)));
  });

  it("right-angle bent cantilever: bending and torsion add (Gere, Mechanics of Materials, ch. 9, energy method)", () => {
    const E = 2400;
    const G = E / 2.7;
    const I = (Math.PI * 8 ** 4) / 64;
    const props: BeamProps = { ...slender(E * 50, E * I, G * 2 * I) };
    const frame: Frame = {
      nodes: [{ at: [0, 0, 0], fixed: HELD }, { at: [90, 0, 0] }, { at: [90, 50, 0] }],
      members: [0, 1].map((i) => ({ a: i, b: i + 1, props, up: [0, 0, 1] as V3 })),
    };
    const asm = assembleFrame(frame);
    const loads = new Float64Array(18);
    loads[14] = -10;
    const out = solveFrame(asm, loads);
    const closed = (10 * 90 ** 3) / (3 * E * I) + (10 * 50 ** 3) / (3 * E * I) + (10 * 50 ** 2 * 90) / (G * 2 * I);
    expectRel(closed, 12.193935, 1e-7, "closed form (mm)");
    expectRel(out.displacements[14]!, -closed, 1e-9, "deflection (mm)");
    const r = frameReactions(asm, out, loads);
    expectRel(r[2]!, 10, 1e-9, "Fz (N)");
    expectRel(Math.abs(r[3]!), 500, 1e-9, "torque (N·mm)");
    expectRel(Math.abs(r[4]!), 900, 1e-9, "moment (N·mm)");
  });

  it("A-arm pinned in plan at its inner ends: 2[EA cos²/L + 3EI sin²/L³] along, 2EA sin²/L across (own derivation)", () => {
    const [E, area, ip, L] = [2400, 32, 170.666667, 100];
    const props: BeamProps = { ea: E * area, gj: 1e5, eiY: 1e5, eiZ: E * ip, gaY: NO_SHEAR, gaZ: NO_SHEAR, polarRadiusSq: 0 };
    const pinned = [true, true, true, true, true, false];
    const frame: Frame = {
      nodes: [{ at: [50, 0, 0], fixed: pinned }, { at: [-50, 0, 0], fixed: pinned }, { at: [0, L * Math.cos(Math.PI / 6), 0] }],
      members: [0, 1].map((a) => ({ a, b: 2, props, up: [0, 0, 1] as V3 })),
    };
    const asm = assembleFrame(frame);
    const stiffness = (axis: number) => {
      const loads = new Float64Array(18);
      loads[12 + axis] = 1;
      return 1 / solveFrame(asm, loads).displacements[12 + axis]!;
    };
    expectRel(stiffness(1), 1152.6144, 1e-8, "along (N/mm)");
    expectRel(stiffness(0), 384, 1e-8, "across (N/mm)");
  });

  it("a rigid offset does the same as a very stiff member", () => {
    const props = slender(5e4, 3e5, 2e5);
    const stiff = slender(5e11, 3e12, 2e12);
    const withOffset: Frame = {
      nodes: [{ at: [0, 0, 0], fixed: HELD }, { at: [50, 12, 3] }],
      members: [{ a: 0, b: 1, props, up: [0, 0, 1], offsetB: [0, -12, -3] }],
    };
    const withMember: Frame = {
      nodes: [{ at: [0, 0, 0], fixed: HELD }, { at: [50, 0, 0] }, { at: [50, 12, 3] }],
      members: [
        { a: 0, b: 1, props, up: [0, 0, 1] },
        { a: 1, b: 2, props: stiff, up: [1, 0, 0] },
      ],
    };
    const load = [3, -2, 5, 40, -30, 20];
    const one = new Float64Array(12);
    one.set(load, 6);
    const two = new Float64Array(18);
    two.set(load, 12);
    const a = assembleFrame(withOffset);
    const u = solveFrame(a, one);
    const v = solveFrame(assembleFrame(withMember), two);
    for (let c = 0; c < 6; c++) expectRel(u.displacements[6 + c]!, v.displacements[12 + c]!, 1e-5, `u[${c}]`);
    const r = frameReactions(a, u, one);
    expectRel(r[0]!, -3, 1e-9, "Fx");
    // moment about x at the clamp: M + r x F with r to the loaded node
    expectRel(r[3]!, -(40 + 12 * 5 - 3 * -2), 1e-9, "Mx");
  });

  it("a mechanism is refused, naming the node", () => {
    const frame = beamAlongX(50, 1, slender(1e5, 1e5, 1e5));
    frame.nodes[0]!.fixed = [true, true, true, true, false, true];
    expect(() => assembleFrame(frame)).toThrow(/free to move at node 1/);
  });
});

/** Stiffness and geometric stiffness of a straight strut under unit compression. */
function strut(length: number, n: number, ei: number, ends: [Partial<FrameNode>, Partial<FrameNode>]) {
  const frame = beamAlongX(length, n, { ...slender(1e6, ei, 1e5), eiZ: 50 * ei });
  Object.assign(frame.nodes[0]!, ends[0]);
  Object.assign(frame.nodes[n]!, ends[1]);
  const layout = numberFreedoms(frame);
  const forces = new Float64Array(n * 12);
  for (let i = 0; i < n; i++) {
    forces[i * 12] = 1;
    forces[i * 12 + 6] = -1;
  }
  return { layout, k: assembleStiffness(layout), g: assembleGeometric(layout, forces) };
}
const critical = (s: ReturnType<typeof strut>) => {
  expect(choleskyFactor(s.k)).toBe(-1);
  return smallestPositiveFactor(s.k, s.g);
};
const pin = (axial: boolean, spring = 0): Partial<FrameNode> => ({ fixed: [axial, true, true, true, false, false], springs: [0, 0, 0, 0, spring, 0] });
/** turns on a spring in the plane that buckles, held across it */
const hinge = (spring: number): Partial<FrameNode> => ({ fixed: [true, true, true, true, false, true], springs: [0, 0, 0, 0, spring, 0] });
const clamp = (axial: boolean): Partial<FrameNode> => ({ fixed: [axial, true, true, true, true, true] });

describe("Euler columns by eigenvalue, eight elements (AISC 360 Commentary, Table C-A-7.1, theoretical K)", () => {
  const FE = 1e-3;
  const ei = 2700 * ((Math.PI * 6 ** 4) / 64);
  it.each([
    ["pinned - pinned", pin(true), pin(false), 169.526818],
    ["clamped - clamped", clamp(true), clamp(false), 678.107271],
    ["clamped - free", clamp(true), {}, 42.381704],
    ["clamped - pinned", clamp(true), pin(false), (20.190729 * ei) / 1e4],
    ["pinned - pinned on a rotational spring, kL/EI = 1", pin(true, ei / 100), pin(false), 169.526818 / 0.922476 ** 2],
    ["pinned - pinned on a rotational spring, kL/EI = 5", pin(true, (5 * ei) / 100), pin(false), 169.526818 / 0.803773 ** 2],
    ["free on a base spring, kL/EI = 1", hinge(ei / 100), {}, (0.740174 * ei) / 1e4],
    ["free on a base spring, kL/EI = 10", hinge((10 * ei) / 100), {}, (2.04167 * ei) / 1e4],
  ])("%s", (_, a, b, expected) => {
    expectRel(critical(strut(100, 8, ei, [a, b])), expected, FE, "critical load (N)");
  });

  it("published column (calculator manual, 'Elastic Buckling': K = 0.7 stated, SI units)", () => {
    const area = 53.0967e-4;
    const ei = 199947961.502e3 * area * 0.041148 ** 2;
    const closed = (Math.PI ** 2 * ei) / (0.7 * 7.3152) ** 2;
    expectRel(closed, 676601.926, 1e-6, "with K = 0.7 (N)");
    // an effective length of 0.7 L is that of a pinned column of that length
    expectRel(critical(strut(0.7 * 7.3152, 8, ei, [pin(true), pin(false)])), closed, FE, "critical load (N)");
    expectRel(closed / area / 1000, 127428.2444, 1e-6, "stress (kPa)");
  });

  it("a stretched strut has no critical load", () => {
    const s = strut(100, 8, ei, [pin(true), pin(false)]);
    for (let i = 0; i < s.g.a.length; i++) s.g.a[i] = -s.g.a[i]!;
    expect(critical(s)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("beam-columns (Timoshenko & Gere, Theory of Elastic Stability, sec. 1.3-1.4)", () => {
  const FE = 1e-3;
  it.each([
    [0.1, 1.109648, 1.091265],
    [0.3, 1.422814, 1.351065],
    [0.5, 1.986288, 1.816828],
    [0.7, 3.30066, 2.900279],
    [0.9, 9.87123, 8.306885],
    [-0.5, 0.670812, undefined],
    [-1, 0.505945, undefined],
    [-2, 0.340627, undefined],
    [-5, 0.174062, undefined],
  ])("P/Pcr = %f: central deflection and moment", (share, chi, moment) => {
    const ei = 2400 * 42.666667;
    const L = 100;
    const pcr = (Math.PI ** 2 * ei) / L ** 2;
    const s = strut(L, 8, ei, [pin(true), pin(false)]);
    const p = share * pcr;
    for (let i = 0; i < s.k.a.length; i++) s.k.a[i] = s.k.a[i]! + p * s.g.a[i]!;
    expect(choleskyFactor(s.k)).toBe(-1);
    const x = new Float64Array(s.layout.n);
    const mid = s.layout.dof[4 * 6 + 2]!;
    x[mid] = -5;
    choleskySolve(s.k, x);
    const linear = (5 * L ** 3) / (48 * ei);
    expectRel(-x[mid]!, chi * linear, FE, "deflection (mm)");
    if (moment === undefined) return;
    const d = new Float64Array(s.layout.dof.length);
    s.layout.dof.forEach((q, i) => {
      if (q >= 0) d[i] = x[q]!;
    });
    // moment by statics: half the load times half the span, plus P times the deflection
    expectRel((5 * L) / 4 + p * -x[mid]!, (moment * 5 * L) / 4, FE, "moment by statics (N·mm)");
    // elastic end force of the element at mid-span, less exact than the deflection by the bow inside the element
    expectRel(Math.abs(memberEndForces(s.layout, d)[3 * 12 + 10]!), (moment * 5 * L) / 4, 0.02, "moment of the element (N·mm)");
  });
});

describe("banded algebra", () => {
  it("solving undoes multiplying", () => {
    const s = strut(70, 5, 1e5, [clamp(true), {}]);
    const x = Float64Array.from({ length: s.layout.n }, (_, i) => Math.sin(i + 1));
    const b = new Float64Array(s.layout.n);
    bandedTimes(s.k, x, b);
    choleskyFactor(s.k);
    choleskySolve(s.k, b);
    b.forEach((v, i) => expectAbs(v, x[i]!, 1e-8, `x[${i}]`));
  });
});
