import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { beamElement, beamOut } from "../../../src/core/equilibrium/beam.ts";
import { type ChainProblem, chainForces, chainResponse, dof, solveChain, straightChain } from "../../support/beam-chain.ts";
import { expectAbs, expectRel } from "../../support/close.ts";

/** rounding of central differences with the steps used here, of the size of what is differentiated */
const DIFFERENCE = 1e-7;
/** linear formulas, printed with 7 digits or exact */
const CLOSED = 1e-9;
/**
 * Eight elements with bowing: a pin-ended column's Euler load comes out high by (π/8)⁴/720 = 3.3e-5 (that of any cubic
 * beam-column element), so that the deflection at the share x of it is low by x/(1 - x) of that: 0.003 % at x = 0.6, where
 * elements without bowing are 1.6 % off.
 */
const EULER_EIGHT = (Math.PI / 8) ** 4 / 720;
const deflectionEight = (share: number): number => 2e-6 + (EULER_EIGHT * share) / (1 - share);

const EI = 2400 * 42.6666666667;
const L = 100;
/** axial stiffness that leaves no shortening worth a digit of the tables */
const STIFF = (1e9 * EI) / L ** 2;

/** Energy of one element from the positions of its ends, written down independently of the element. */
function energy(q: Float64Array, x0: number, z0: number, ea: number, near: number, far: number): number {
  const l0 = Math.sqrt(x0 * x0 + z0 * z0);
  const x = x0 + q[3]! - q[0]!;
  const z = z0 + q[4]! - q[1]!;
  const turn = Math.atan2(z, x) - Math.atan2(z0, x0);
  const a = Math.atan2(Math.sin(turn), Math.cos(turn));
  const t1 = q[2]! - a;
  const t2 = q[5]! - a;
  const e = (Math.sqrt(x * x + z * z) - l0) / l0 + (2 * t1 * t1 - t1 * t2 + 2 * t2 * t2) / 30;
  return (ea * l0 * e * e) / 2 + (near * t1 * t1 + 2 * far * t1 * t2 + near * t2 * t2) / 2;
}

const arbPose = fc.record({
  x0: fc.double({ min: -12, max: 12, noNaN: true }),
  z0: fc.double({ min: 4, max: 12, noNaN: true }),
  q: fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 6, maxLength: 6 }),
  ea: fc.double({ min: 100, max: 1e5, noNaN: true }),
  ei: fc.double({ min: 100, max: 1e5, noNaN: true }),
  phi: fc.double({ min: 0, max: 1, noNaN: true }),
});

type Pose = typeof arbPose extends fc.Arbitrary<infer T> ? T : never;

function element(p: Pose, q: Float64Array) {
  const l0 = Math.sqrt(p.x0 ** 2 + p.z0 ** 2);
  const near = ((p.ei / l0) * (4 + p.phi)) / (1 + p.phi);
  const far = ((p.ei / l0) * (2 - p.phi)) / (1 + p.phi);
  const out = beamOut();
  beamElement(q, 0, p.x0, p.z0, l0, p.ea, near, far, out, true);
  return { out, near, far };
}

describe("one element", () => {
  it("pushes with the slope of its energy", () => {
    fc.assert(
      fc.property(arbPose, (p) => {
        const q = Float64Array.from(p.q);
        const { out, near, far } = element(p, q);
        const scale = Math.max(...out.g.map(Math.abs), 1) + energy(q, p.x0, p.z0, p.ea, near, far);
        for (let i = 0; i < 6; i++) {
          const h = 1e-5;
          const up = q.slice();
          const down = q.slice();
          up[i] = q[i]! + h;
          down[i] = q[i]! - h;
          const slope = (energy(up, p.x0, p.z0, p.ea, near, far) - energy(down, p.x0, p.z0, p.ea, near, far)) / (2 * h);
          expectAbs(out.g[i]!, slope, DIFFERENCE * scale, `force ${i}, N or N·mm`);
        }
      }),
      { numRuns: 200 },
    );
  });

  it("has the slope of its forces as its tangent, which is symmetric", () => {
    fc.assert(
      fc.property(arbPose, (p) => {
        const q = Float64Array.from(p.q);
        const k = element(p, q).out.k.slice();
        const scale = Math.max(...k.map(Math.abs));
        for (let j = 0; j < 6; j++) {
          const h = 1e-5;
          const up = q.slice();
          const down = q.slice();
          up[j] = q[j]! + h;
          down[j] = q[j]! - h;
          const plus = element(p, up).out.g.slice();
          const minus = element(p, down).out.g.slice();
          for (let i = 0; i < 6; i++) {
            expectAbs(k[6 * i + j]!, (plus[i]! - minus[i]!) / (2 * h), DIFFERENCE * scale, `tangent ${i}, ${j}`);
            expect(k[6 * i + j]).toBe(k[6 * j + i]);
          }
        }
      }),
      { numRuns: 200 },
    );
  });

  it("feels nothing when it is moved and turned as a rigid body, however far", () => {
    const l0 = 10;
    for (const turn of [-3.1, -1.7, 0.4, 2.2, 3.1]) {
      const q = Float64Array.from([5, -3, turn, 5 + l0 * (Math.cos(turn) - 1), -3 + l0 * Math.sin(turn), turn]);
      const out = beamOut();
      beamElement(q, 0, l0, 0, l0, 1e5, 4e4, 2e4, out, false);
      // 1e-11 of the stiffness: rounding of the positions
      for (const g of out.g) expectAbs(g, 0, 1e-6, `force after a turn of ${turn} rad, N or N·mm`);
    }
  });
});

const cantilever = (elements: number, ea: number, ei: number, length: number, loads: [number, number][], ga?: number): ChainProblem => ({
  chain: straightChain([0, 0], [length, 0], elements, ea, ei, ga),
  held: new Map([0, 1, 2].map((i) => [i, 0])),
  loads: new Map(loads),
});

describe("small bending", () => {
  // Mott, Machine Elements in Mechanical Design, 4th ed., App. 14, Table A14-1; Gere, Mechanics of Materials, Table G-1
  it("bends a cantilever by PL³/3EI, its end by PL²/2EI", () => {
    const p = cantilever(3, 64 * 2400, 2400 * 341.3333333333333, 80, []);
    const d = chainResponse(p, solveChain(p), new Map([[dof(3, "z"), 10]]));
    expectRel(d[dof(3, "z")]!, 2.0833333333333335, CLOSED, "deflection, mm");
    expectRel(d[dof(3, "turn")]!, 0.0390625, CLOSED, "slope, rad");
  });

  it("adds PL/(κGA) of shear", () => {
    const ga = ((5 / 6) * 2400 * 64) / 2.7;
    const p = cantilever(5, 64 * 2400, 2400 * 341.3333333333333, 80, [], ga);
    const d = chainResponse(p, solveChain(p), new Map([[dof(5, "z"), 10]]));
    expectRel(d[dof(5, "z")]!, 2.0833333333333335 + 0.016875, CLOSED, "deflection, mm");
  });
});

/** Pinned at the left, on a roller at the right, axial force at the roller (compression positive). */
const column = (elements: number, compression: number, more: [number, number][] = []): ChainProblem => ({
  chain: straightChain([0, 0], [L, 0], elements, STIFF, EI),
  held: new Map([
    [dof(0, "x"), 0],
    [dof(0, "z"), 0],
    [dof(elements, "z"), 0],
  ]),
  loads: new Map([[dof(elements, "x"), -compression], ...more]),
});
const EULER = (Math.PI ** 2 * EI) / L ** 2;

describe("beam-column with a load in the middle", () => {
  // Timoshenko & Gere, Theory of Elastic Stability, 2nd ed. 1961, sec. 1.3-1.4 and Table A-1
  const table = [
    [0.1, 1.109648, 1.091265],
    [0.2, 1.246675, 1.20507],
    [0.3, 1.422814, 1.351065],
    [0.4, 1.657619, 1.545335],
    [0.5, 1.986288, 1.816828],
    [0.6, 2.479216, 2.223444],
    [0.7, 3.30066, 2.900279],
    [0.8, 4.943385, 4.252617],
    [0.9, 9.87123, 8.306885],
    [-0.5, 0.670812, null],
    [-1, 0.505945, null],
    [-2, 0.340627, null],
    [-5, 0.174062, null],
  ] as const;

  it.each(table)("at %f of the Euler load deflects %f times as far (8 elements)", (share, chi, moment) => {
    const p = column(8, share * EULER);
    const s = solveChain(p);
    const d = chainResponse(p, s, new Map([[dof(4, "z"), 1]]));
    expectRel(d[dof(4, "z")]! / (L ** 3 / (48 * EI)), chi, 1e-3, "deflection factor");
    if (share > 0) expectRel(d[dof(4, "z")]! / (L ** 3 / (48 * EI)), chi, deflectionEight(share), "deflection factor, sharp bound");
    if (moment === null) return;
    // a small load put on for good, so that the moment can be read off the element
    const tiny = 1e-6;
    const bent = solveChain({ ...p, loads: new Map([...p.loads, [dof(4, "z"), tiny]]) }, s.q, 1e-14);
    const sag = chainForces({ ...p, chain: { ...p.chain, nodes: p.chain.nodes.slice(0, 5) } }, bent.q.slice(0, 15)).r[dof(4, "turn")]!;
    expectRel(Math.abs(sag) / ((tiny * L) / 4), moment, 1e-3, "moment factor");
  });

  it("agrees with the worked numbers at P = 0.4 of the Euler load", () => {
    // L = 100, E = 2400, 8 x 4, Q = 5: 1.017253 -> 1.686217 mm (linear theory, so by the small load's factor)
    const p = column(8, 0.4 * EULER);
    const d = chainResponse(p, solveChain(p), new Map([[dof(4, "z"), 5]]));
    expectRel(d[dof(4, "z")]!, 1.686217, deflectionEight(0.4), "deflection, mm");
    expectRel(EULER, 101.064749, 1e-6, "Euler load, N");
  });
});

describe("stability functions", () => {
  // Livesley & Chandler 1956; Horne & Merchant, The Stability of Frames, 1965
  it.each([
    [-1, 5.174791, 0.338065],
    [0, 4, 0.5],
    [0.5, 3.294465, 0.665858],
    [1, 2.467401, 1],
    [1.5, 1.456969, 1.973062],
    [2, 0.142797, 24.684147],
    [3, -5.031975, -1.415675],
  ])("at P = %f of the Euler load: s = %f, c = %f", (rho, stiffness, carry) => {
    const n = 64;
    const p: ChainProblem = {
      ...column(n, rho * EULER),
      held: new Map([
        [dof(0, "x"), 0],
        [dof(0, "z"), 0],
        [dof(0, "turn"), 0],
        [dof(n, "z"), 0],
        [dof(n, "turn"), 0],
      ]),
    };
    const s = solveChain(p);
    // unit turn at the near end: forces of the free unknowns taken off by their response
    const load = new Map<number, number>();
    for (let i = 0; i < s.q.length; i++) load.set(i, -s.k[i * s.q.length + dof(0, "turn")]!);
    const d = chainResponse(p, s, load);
    d[dof(0, "turn")] = 1;
    const moment = (row: number): number => d.reduce((sum, v, j) => sum + s.k[row * s.q.length + j]! * v, 0);
    const near = moment(dof(0, "turn"));
    const far = moment(dof(n, "turn"));
    // s and s·c, so that the pole of c near rho = 2 does not blow up the rounding of the table
    expectAbs(near / (EI / L), stiffness, 2e-6 * Math.max(1, Math.abs(stiffness)), "s");
    expectAbs(far / (EI / L), stiffness * carry, 1e-5, "s·c");
  });
});

/** Compression at which the straight column loses its stiffness, N, by bisection of the determinant's sign. */
function bucklingLoad(build: (p: number) => ChainProblem, low: number, high: number): number {
  let a = low;
  let b = high;
  for (let i = 0; i < 50; i++) {
    const m = (a + b) / 2;
    if (solveChain(build(m)).detSign > 0) a = m;
    else b = m;
  }
  return (a + b) / 2;
}

describe("Euler columns with 8 elements", () => {
  const n = 8;
  const x0: [number, number] = [dof(0, "x"), 0];
  const z0: [number, number] = [dof(0, "z"), 0];
  const t0: [number, number] = [dof(0, "turn"), 0];
  const z1: [number, number] = [dof(n, "z"), 0];
  const t1: [number, number] = [dof(n, "turn"), 0];
  const build =
    (held: [number, number][], springs: [number, number][] = []) =>
    (p: number): ChainProblem => ({
      ...column(n, p),
      held: new Map(held),
      springs: new Map(springs),
    });
  const spring = (b: number): [number, number][] => [[dof(0, "turn"), (b * EI) / L]];
  /** Timoshenko & Gere 1961, sec. 2.1-2.4; K of 4.493409458 = tan of itself; springs: (1 + x²/b) sin x = x cos x, x tan x = b */
  it.each([
    ["pinned - pinned", build([x0, z0, z1]), 9.869604401],
    ["fixed - pinned", build([x0, z0, t0, z1]), 20.190728557],
    ["fixed - fixed", build([x0, z0, t0, z1, t1]), 39.4784176],
    ["cantilever", build([x0, z0, t0]), 2.4674011],
    ["spring b = 1 - pinned", build([x0, z0, z1], spring(1)), (Math.PI / 0.922476) ** 2],
    ["spring b = 5 - pinned", build([x0, z0, z1], spring(5)), (Math.PI / 0.803773) ** 2],
    ["cantilever on spring b = 1", build([x0, z0], spring(1)), 0.740174],
    ["cantilever on spring b = 10", build([x0, z0], spring(10)), 2.04167],
  ] as const)("%s", (_, problem, factor) => {
    const p = bucklingLoad(problem, 0, 1.3 * factor * (EI / L ** 2));
    expectRel(p / (EI / L ** 2), factor, 1e-3, "buckling load over EI/L²");
  });

  it("is high by (π/8)⁴/720 for a pin-ended column, where elements without bowing are 1.3 % high", () => {
    const p = bucklingLoad(build([x0, z0, z1]), 0, 13 * (EI / L ** 2));
    expectRel(p / EULER - 1, EULER_EIGHT, 0.02, "excess of the buckling load");
  });
});
