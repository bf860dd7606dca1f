import { beamElement, beamOut } from "../../src/core/equilibrium/beam.ts";
import { luFactor, luSolve } from "../../src/core/numerics/dense.ts";
import type { V2 } from "../../src/core/vec.ts";

/** A plane frame of nothing but the axle's beam elements in a row, to hold them against textbook beams. */
export interface Chain {
  nodes: V2[];
  ea: number;
  /** N·mm² */
  ei: number;
  /** N; Infinity: no shear */
  ga: number;
  /** those of each element instead */
  each?: readonly { ea: number; ei: number; ga: number }[];
}

export function straightChain(from: V2, to: V2, elements: number, ea: number, ei: number, ga = Number.POSITIVE_INFINITY): Chain {
  const nodes = Array.from(
    { length: elements + 1 },
    (_, i): V2 => [from[0] + ((to[0] - from[0]) * i) / elements, from[1] + ((to[1] - from[1]) * i) / elements],
  );
  return { nodes, ea, ei, ga };
}

/** Unknown of a node: x, z (mm) or turn (rad). */
export const dof = (node: number, which: "x" | "z" | "turn"): number => 3 * node + (which === "x" ? 0 : which === "z" ? 1 : 2);

export interface ChainProblem {
  chain: Chain;
  /** prescribed unknowns: mm, rad */
  held: ReadonlyMap<number, number>;
  /** dead loads by unknown: N, N·mm */
  loads: ReadonlyMap<number, number>;
  /** linear springs to ground by unknown: N/mm, N·mm/rad */
  springs?: ReadonlyMap<number, number>;
}

export interface ChainForces {
  /** internal forces by unknown */
  r: Float64Array;
  /** tangent, row-major */
  k: Float64Array;
  /** axial force per element, tension positive, N */
  axial: number[];
}

export function chainForces(p: ChainProblem, q: Float64Array): ChainForces {
  const n = q.length;
  const { nodes } = p.chain;
  const r = new Float64Array(n);
  const k = new Float64Array(n * n);
  const axial: number[] = [];
  const out = beamOut();
  for (let e = 0; e + 1 < nodes.length; e++) {
    const { ea, ei, ga } = p.chain.each?.[e] ?? p.chain;
    const dx = nodes[e + 1]![0] - nodes[e]![0];
    const dz = nodes[e + 1]![1] - nodes[e]![1];
    const l = Math.sqrt(dx * dx + dz * dz);
    const phi = Number.isFinite(ga) ? (12 * ei) / (ga * l * l) : 0;
    beamElement(q, 3 * e, dx, dz, l, ea, ((ei / l) * (4 + phi)) / (1 + phi), ((ei / l) * (2 - phi)) / (1 + phi), out, true);
    axial.push(out.axial);
    for (let a = 0; a < 6; a++) {
      r[3 * e + a] = r[3 * e + a]! + out.g[a]!;
      for (let b = 0; b < 6; b++) {
        const at = (3 * e + a) * n + 3 * e + b;
        k[at] = k[at]! + out.k[6 * a + b]!;
      }
    }
  }
  for (const [i, c] of p.springs ?? []) {
    r[i] = r[i]! + c * q[i]!;
    k[i * n + i] = k[i * n + i]! + c;
  }
  return { r, k, axial };
}

/** Tangent over the free unknowns. */
function reduced(p: ChainProblem, k: Float64Array, n: number): { free: number[]; a: Float64Array } {
  const free: number[] = [];
  for (let i = 0; i < n; i++) if (!p.held.has(i)) free.push(i);
  const a = new Float64Array(free.length ** 2);
  free.forEach((i, x) => {
    free.forEach((j, y) => {
      a[x * free.length + y] = k[i * n + j]!;
    });
  });
  return { free, a };
}

export interface ChainSolution extends ChainForces {
  q: Float64Array;
  /** sign of the determinant of the tangent over the free unknowns */
  detSign: number;
}

/** Newton's method from `start`; throws when it does not come below `tolerance` (largest change of an unknown). */
export function solveChain(p: ChainProblem, start?: Float64Array, tolerance = 1e-12): ChainSolution {
  const n = 3 * p.chain.nodes.length;
  const q = start ? start.slice() : new Float64Array(n);
  for (const [i, v] of p.held) q[i] = v;
  for (let it = 0; it < 60; it++) {
    const f = chainForces(p, q);
    const { free, a } = reduced(p, f.k, n);
    const lu = luFactor(a, free.length);
    const x = new Float64Array(free.length);
    luSolve(
      lu,
      free.map((i) => (p.loads.get(i) ?? 0) - f.r[i]!),
      x,
    );
    let size = 0;
    free.forEach((i, j) => {
      q[i] = q[i]! + x[j]!;
      size = Math.max(size, Math.abs(x[j]!));
    });
    if (size < tolerance) return { q, ...chainForces(p, q), detSign: lu.detSign };
  }
  throw new Error("the chain does not settle");
}

/** Response of the free unknowns to small further loads at a solved state. */
export function chainResponse(p: ChainProblem, s: ChainSolution, loads: ReadonlyMap<number, number>): Float64Array {
  const n = s.q.length;
  const { free, a } = reduced(p, s.k, n);
  const x = new Float64Array(free.length);
  luSolve(
    luFactor(a, free.length),
    free.map((i) => loads.get(i) ?? 0),
    x,
  );
  const out = new Float64Array(n);
  free.forEach((i, j) => {
    out[i] = x[j]!;
  });
  return out;
}
