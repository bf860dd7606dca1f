import { type Filled, filledPlaces, type LU, luFactor, luSolve, luSolveTransposed } from "../numerics/dense.ts";
import type { AxleModel } from "./model.ts";
import { nodeAt } from "./unknowns.ts";

/**
 * The linear system of the axle: the arms' inner nodes are eliminated one by one (their matrices are symmetric 3 x 3
 * blocks in a chain), what remains is a dense system of some 40 unknowns. Cost grows linearly with the elements per arm.
 */
export interface AxleSystem {
  model: AxleModel;
  /** element matrices of all arms, 36 each, symmetric */
  ke: Float64Array;
  /** dense part over the kept unknowns, row-major; overwritten by `factor` */
  a: Float64Array;
  lu: LU | null;
  /** per interior node: inverse of its pivot block (9), coupling to the run's first kept node (9, interior x kept), coupling to the next node (9) */
  chain: Float64Array;
  /** -1, 0, 1: sign of the determinant of the whole matrix */
  detSign: number;
  perm: Int32Array<ArrayBuffer>;
  filled: Filled;
  rhsKept: Float64Array;
  xKept: Float64Array;
}

const BLOCK = 27;

/** Room for the tangent of an axle and its factors. */
export function axleSystem(model: AxleModel): AxleSystem {
  return {
    model,
    ke: new Float64Array(36 * model.elementCount),
    a: new Float64Array(model.nKept * model.nKept),
    lu: null,
    chain: new Float64Array(BLOCK * model.n),
    detSign: 0,
    perm: new Int32Array(model.nKept),
    filled: filledPlaces(model.nKept),
    rhsKept: new Float64Array(model.nKept),
    xKept: new Float64Array(model.nKept),
  };
}

/** Inverts the symmetric 3 x 3 block at `d` into `out` at `o`; returns the determinant. */
function invert3(d: Float64Array, out: Float64Array, o: number): number {
  const a = d[0]!,
    b = d[1]!,
    c = d[2]!,
    e = d[4]!,
    f = d[5]!,
    i = d[8]!;
  const c00 = e * i - f * f;
  const c01 = c * f - b * i;
  const c02 = b * f - c * e;
  const det = a * c00 + b * c01 + c * c02;
  const r = 1 / det;
  out[o] = c00 * r;
  out[o + 1] = c01 * r;
  out[o + 2] = c02 * r;
  out[o + 3] = c01 * r;
  out[o + 4] = (a * i - c * c) * r;
  out[o + 5] = (b * c - a * f) * r;
  out[o + 6] = c02 * r;
  out[o + 7] = out[o + 5]!;
  out[o + 8] = (a * e - b * b) * r;
  return det;
}

const saa = new Float64Array(9);
const sca = new Float64Array(9);
const scc = new Float64Array(9);
const tmp = new Float64Array(9);
const nca = new Float64Array(9);

/** Eliminates the arms' inner nodes into the dense part and factors it. */
export function factor(sys: AxleSystem): void {
  const { model, ke, a, chain } = sys;
  const { kept, nKept } = model;
  let sign = 1;
  for (const arm of model.arms) {
    for (let r = 1; r < arm.keptNodes.length; r++) {
      const from = arm.keptNodes[r - 1]!;
      const to = arm.keptNodes[r]!;
      const ka = kept[nodeAt(arm, from)]!;
      const kb = kept[nodeAt(arm, to)]!;
      // super-element between the run's first node and the current one
      let e = 36 * (arm.firstElement + from);
      for (let i = 0; i < 3; i++)
        for (let j = 0; j < 3; j++) {
          saa[3 * i + j] = ke[e + 6 * i + j]!;
          sca[3 * i + j] = ke[e + 6 * (i + 3) + j]!;
          scc[3 * i + j] = ke[e + 6 * (i + 3) + j + 3]!;
        }
      for (let node = from + 1; node < to; node++) {
        e += 36;
        const o = (BLOCK * (arm.base / 3 + node)) | 0;
        for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) scc[3 * i + j] = scc[3 * i + j]! + ke[e + 6 * i + j]!;
        const det = invert3(scc, chain, o);
        if (det < 0) sign = -sign;
        else if (!(det > 0)) sign = 0;
        for (let i = 0; i < 9; i++) chain[o + 9 + i] = sca[i]!;
        // next coupling: rows current, columns next
        for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) chain[o + 18 + 3 * i + j] = ke[e + 6 * i + j + 3]!;
        // tmp = D^-1 sca
        for (let i = 0; i < 3; i++)
          for (let j = 0; j < 3; j++) tmp[3 * i + j] = chain[o + 3 * i]! * sca[j]! + chain[o + 3 * i + 1]! * sca[3 + j]! + chain[o + 3 * i + 2]! * sca[6 + j]!;
        for (let i = 0; i < 3; i++)
          for (let j = 0; j < 3; j++) {
            saa[3 * i + j] = saa[3 * i + j]! - (sca[i]! * tmp[j]! + sca[3 + i]! * tmp[3 + j]! + sca[6 + i]! * tmp[6 + j]!);
            // next rows: E21 = E12^T
            nca[3 * i + j] = -(chain[o + 18 + i]! * tmp[j]! + chain[o + 21 + i]! * tmp[3 + j]! + chain[o + 24 + i]! * tmp[6 + j]!);
          }
        // tmp = D^-1 E12
        for (let i = 0; i < 3; i++)
          for (let j = 0; j < 3; j++)
            tmp[3 * i + j] = chain[o + 3 * i]! * chain[o + 18 + j]! + chain[o + 3 * i + 1]! * chain[o + 21 + j]! + chain[o + 3 * i + 2]! * chain[o + 24 + j]!;
        for (let i = 0; i < 3; i++)
          for (let j = 0; j < 3; j++) {
            scc[3 * i + j] =
              ke[e + 6 * (i + 3) + j + 3]! - (chain[o + 18 + i]! * tmp[j]! + chain[o + 21 + i]! * tmp[3 + j]! + chain[o + 24 + i]! * tmp[6 + j]!);
          }
        sca.set(nca);
      }
      for (let i = 0; i < 3; i++)
        for (let j = 0; j < 3; j++) {
          const ra = (ka + i) * nKept;
          const rb = (kb + i) * nKept;
          a[ra + ka + j] = a[ra + ka + j]! + saa[3 * i + j]!;
          a[rb + kb + j] = a[rb + kb + j]! + scc[3 * i + j]!;
          a[rb + ka + j] = a[rb + ka + j]! + sca[3 * i + j]!;
          a[ra + kb + j] = a[ra + kb + j]! + sca[3 * j + i]!;
        }
    }
  }
  sys.lu = luFactor(a, nKept, sys.perm, sys.filled);
  sys.detSign = sign * sys.lu.detSign;
}

/** Solves K x = rhs (or Kᵀ x = rhs) over all unknowns. `rhs` is left alone; `x` may be `rhs` only if its contents may go. */
export function solveSystem(sys: AxleSystem, rhs: Float64Array, x: Float64Array, transposed = false): void {
  const { model, chain, rhsKept, xKept } = sys;
  const { kept, n } = model;
  if (x !== rhs) x.set(rhs);
  for (let i = 0; i < n; i++) {
    const k = kept[i]!;
    if (k >= 0) rhsKept[k] = x[i]!;
  }
  for (const arm of model.arms) {
    for (let r = 1; r < arm.keptNodes.length; r++) {
      const from = arm.keptNodes[r - 1]!;
      const to = arm.keptNodes[r]!;
      const ka = kept[nodeAt(arm, from)]!;
      let r0 = 0,
        r1 = 0,
        r2 = 0;
      for (let node = from + 1; node < to; node++) {
        const o = (BLOCK * (arm.base / 3 + node)) | 0;
        const i = nodeAt(arm, node);
        r0 += x[i]!;
        r1 += x[i + 1]!;
        r2 += x[i + 2]!;
        x[i] = r0;
        x[i + 1] = r1;
        x[i + 2] = r2;
        const y0 = chain[o]! * r0 + chain[o + 1]! * r1 + chain[o + 2]! * r2;
        const y1 = chain[o + 3]! * r0 + chain[o + 4]! * r1 + chain[o + 5]! * r2;
        const y2 = chain[o + 6]! * r0 + chain[o + 7]! * r1 + chain[o + 8]! * r2;
        for (let j = 0; j < 3; j++) rhsKept[ka + j] = rhsKept[ka + j]! - (chain[o + 9 + j]! * y0 + chain[o + 12 + j]! * y1 + chain[o + 15 + j]! * y2);
        r0 = -(chain[o + 18]! * y0 + chain[o + 21]! * y1 + chain[o + 24]! * y2);
        r1 = -(chain[o + 19]! * y0 + chain[o + 22]! * y1 + chain[o + 25]! * y2);
        r2 = -(chain[o + 20]! * y0 + chain[o + 23]! * y1 + chain[o + 26]! * y2);
      }
      const kb = kept[nodeAt(arm, to)]!;
      rhsKept[kb] = rhsKept[kb]! + r0;
      rhsKept[kb + 1] = rhsKept[kb + 1]! + r1;
      rhsKept[kb + 2] = rhsKept[kb + 2]! + r2;
    }
  }
  if (transposed) luSolveTransposed(sys.lu!, rhsKept, xKept);
  else luSolve(sys.lu!, rhsKept, xKept);
  for (let i = 0; i < n; i++) {
    const k = kept[i]!;
    if (k >= 0) x[i] = xKept[k]!;
  }
  for (const arm of model.arms) {
    for (let r = 1; r < arm.keptNodes.length; r++) {
      const from = arm.keptNodes[r - 1]!;
      const to = arm.keptNodes[r]!;
      const fa = nodeAt(arm, from);
      const a0 = x[fa]!,
        a1 = x[fa + 1]!,
        a2 = x[fa + 2]!;
      for (let node = to - 1; node > from; node--) {
        const o = (BLOCK * (arm.base / 3 + node)) | 0;
        const i = nodeAt(arm, node);
        const n0 = x[i + 3]!,
          n1 = x[i + 4]!,
          n2 = x[i + 5]!;
        const b0 = x[i]! - (chain[o + 9]! * a0 + chain[o + 10]! * a1 + chain[o + 11]! * a2) - (chain[o + 18]! * n0 + chain[o + 19]! * n1 + chain[o + 20]! * n2);
        const b1 =
          x[i + 1]! - (chain[o + 12]! * a0 + chain[o + 13]! * a1 + chain[o + 14]! * a2) - (chain[o + 21]! * n0 + chain[o + 22]! * n1 + chain[o + 23]! * n2);
        const b2 =
          x[i + 2]! - (chain[o + 15]! * a0 + chain[o + 16]! * a1 + chain[o + 17]! * a2) - (chain[o + 24]! * n0 + chain[o + 25]! * n1 + chain[o + 26]! * n2);
        x[i] = chain[o]! * b0 + chain[o + 1]! * b1 + chain[o + 2]! * b2;
        x[i + 1] = chain[o + 3]! * b0 + chain[o + 4]! * b1 + chain[o + 5]! * b2;
        x[i + 2] = chain[o + 6]! * b0 + chain[o + 7]! * b1 + chain[o + 8]! * b2;
      }
    }
  }
}
