import { describe, expect, it } from "vitest";
import { choleskyFactor } from "../../../src/core/arm/banded.ts";
import { smallestPositiveFactor } from "../../../src/core/arm/eigen.ts";
import { type BeamProps, beamGeometric } from "../../../src/core/arm/element.ts";
import { assembleFrame, assembleGeometric, assembleStiffness, type Frame, type FrameNode, solveFrame } from "../../../src/core/arm/frame.ts";
import type { V3 } from "../../../src/core/vec.ts";
import { expectAbs, expectRel } from "../../support/close.ts";

const NO_SHEAR = Number.POSITIVE_INFINITY;
const cross = (a: V3, b: V3): V3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

/** End forces in equilibrium of an element along x: axial N, shears, torque, and the start's bending moments. */
function endForces(l: number, n: number, vy: number, vz: number, t: number, my: number, mz: number): Float64Array {
  return Float64Array.from([-n, vy, vz, -t, my, mz, n, -vy, -vz, t, -vz * l - my, vy * l - mz]);
}

describe("geometric stiffness of one element", () => {
  const props: BeamProps = { ea: 1e5, gj: 1e4, eiY: 1e5, eiZ: 1e4, gaY: NO_SHEAR, gaZ: NO_SHEAR, polarRadiusSq: 3 };

  it("turning the element rigidly turns its end forces (moments by half: work-conjugate to rotation vectors)", () => {
    const l = 17;
    const f = endForces(l, 30, 4, -7, 11, 50, -60);
    const k = new Float64Array(144);
    beamGeometric(props, l, f, 0, k);
    for (const turn of [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
      [0.3, -0.5, 0.8],
    ] as V3[]) {
      const end = cross(turn, [l, 0, 0]);
      const q = [0, 0, 0, ...turn, ...end, ...turn];
      const got = Array.from({ length: 12 }, (_, i) => q.reduce((s, v, j) => s + k[i * 12 + j]! * v, 0));
      const part = (at: number): V3 => [f[at]!, f[at + 1]!, f[at + 2]!];
      const expected = [0, 6].flatMap((e) => [...cross(turn, part(e)), ...cross(turn, part(e + 3)).map((v) => v / 2)]);
      expected.forEach((v, i) => expectAbs(got[i]!, v, 1e-9 * 100, `row ${i} (N or N·mm)`));
    }
  });

  it("is symmetric and does nothing under a rigid shift", () => {
    const k = new Float64Array(144);
    beamGeometric(props, 9, endForces(9, -20, 3, 5, 2, 40, 10), 0, k);
    for (let i = 0; i < 12; i++) {
      for (let j = 0; j < 12; j++) expect(k[i * 12 + j]).toBe(k[j * 12 + i]);
      for (let c = 0; c < 3; c++) expectAbs(k[i * 12 + c]! + k[i * 12 + 6 + c]!, 0, 1e-12, "shift");
    }
  });
});

/** Factor at which a frame under the given nodal loads buckles. */
function criticalFactor(frame: Frame, loads: Float64Array): number {
  const asm = assembleFrame(frame);
  const { endForces: f } = solveFrame(asm, loads);
  const layout = { ...asm, band: asm.factor.band };
  const k = assembleStiffness(layout);
  expect(choleskyFactor(k)).toBe(-1);
  return smallestPositiveFactor(k, assembleGeometric(layout, f));
}

function polyline(points: V3[], perLeg: number, props: BeamProps, up: V3): Frame {
  const nodes: FrameNode[] = [{ at: points[0]! }];
  for (let leg = 1; leg < points.length; leg++) {
    const p = points[leg - 1]!;
    const q = points[leg]!;
    for (let i = 1; i <= perLeg; i++) nodes.push({ at: p.map((v, c) => v + ((q[c]! - v) * i) / perLeg) as V3 });
  }
  return { nodes, members: nodes.slice(1).map((_, i) => ({ a: i, b: i + 1, props, up })) };
}

describe("buckling by twisting over (Timoshenko & Gere, Theory of Elastic Stability, ch. 6)", () => {
  // tall and narrow: bends upright 1000 times as stiffly as sideways, so that the closed forms hold
  const E = 2400;
  const eiZ = E * 5;
  const gj = 889 * 18;
  const props: BeamProps = { ea: 1e7, gj, eiY: 1e4 * eiZ, eiZ, gaY: NO_SHEAR, gaZ: NO_SHEAR, polarRadiusSq: 0 };
  const L = 100;

  it("cantilever with a load at its end: 4.013 √(EI·GJ)/L²", () => {
    const frame = polyline(
      [
        [0, 0, 0],
        [L, 0, 0],
      ],
      16,
      props,
      [0, 0, 1],
    );
    frame.nodes[0]!.fixed = [true, true, true, true, true, true];
    const loads = new Float64Array(17 * 6);
    loads[16 * 6 + 2] = -1;
    expectRel(criticalFactor(frame, loads), (4.013 * Math.sqrt(eiZ * gj)) / L ** 2, 3e-3, "critical load (N)");
    loads[16 * 6 + 2] = 1;
    expectRel(criticalFactor(frame, loads), (4.013 * Math.sqrt(eiZ * gj)) / L ** 2, 3e-3, "upwards (N)");
  });

  it("simply supported in forks with a load at mid-span: 16.94 √(EI·GJ)/L²", () => {
    const frame = polyline(
      [
        [0, 0, 0],
        [L, 0, 0],
      ],
      16,
      props,
      [0, 0, 1],
    );
    frame.nodes[0]!.fixed = [true, true, true, true, false, false];
    frame.nodes[16]!.fixed = [false, true, true, true, false, false];
    const loads = new Float64Array(17 * 6);
    loads[8 * 6 + 2] = -1;
    expectRel(criticalFactor(frame, loads), (16.94 * Math.sqrt(eiZ * gj)) / L ** 2, 3e-3, "critical load (N)");
  });

  it("right-angle frame, 240 mm legs of 30 x 0.6 mm, clamped, in-plane load at the free end: 1.088 N (Argyris et al. 1979, from memory)", () => {
    const [b, t] = [30, 0.6];
    const E2 = 71240;
    const G2 = E2 / 2.62;
    const thin: BeamProps = {
      ea: E2 * b * t,
      gj: (G2 * b * t ** 3) / 3,
      eiY: (E2 * b * t ** 3) / 12,
      eiZ: (E2 * t * b ** 3) / 12,
      gaY: NO_SHEAR,
      gaZ: NO_SHEAR,
      polarRadiusSq: 0,
    };
    const frame = polyline(
      [
        [0, 0, 0],
        [240, 0, 0],
        [240, -240, 0],
      ],
      10,
      thin,
      [0, 0, 1],
    );
    frame.nodes[0]!.fixed = [true, true, true, true, true, true];
    const loads = new Float64Array(21 * 6);
    loads[20 * 6] = 1;
    expectRel(criticalFactor(frame, loads), 1.088, 0.01, "critical load (N)");
  });
});
