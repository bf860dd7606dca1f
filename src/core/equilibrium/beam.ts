import { nodeAt } from "./unknowns.ts";

/**
 * Planar corotational beam element with shear and the bowing term in the axial strain.
 *
 * Nodes 1, 2 with displacement (x, z) and turn; chord turn a against as-built; end turns t1, t2 against the chord.
 *   elongation  u = L - L0 (from displacement differences, so that it does not lose digits)
 *   strain      e = u/L0 + (2 t1² - t1 t2 + 2 t2²)/30
 *   energy      EA L0 e²/2 + EI/L0 (near t1² + 2 far t1 t2 + near t2²)/2
 * Limits: t = 0 gives a bar; u = 0 gives the engineer's beam. Large turns (of the chord, up to half a turn
 * either way) are exact, strains are small.
 * Source: corotational formulation, e.g. Crisfield, Non-linear Finite Element Analysis of Solids and Structures,
 * vol. 1, Wiley 1991, ch. 7 (from memory); bowing term as in the stability literature (Oran 1973, from memory).
 */

/** Output of one element; reused between calls. */
export interface BeamOut {
  /** gradient of the energy by (x1, z1, t1, x2, z2, t2): N, N·mm */
  g: Float64Array;
  /** second derivative, row-major 6 x 6 */
  k: Float64Array;
  axial: number;
  /** bending moments conjugate to the end turns (bending only), N·mm */
  m1: number;
  m2: number;
  t1: number;
  t2: number;
  /** elongation with bowing, L0·e, mm */
  stretch: number;
  /** unit vector along the chord, chord length, slope of the bowing by t1, t2 */
  c: number;
  s: number;
  length: number;
  g1: number;
  g2: number;
}

/** Room for what `beamElement` tells. */
export function beamOut(): BeamOut {
  return { g: new Float64Array(6), k: new Float64Array(36), axial: 0, m1: 0, m2: 0, t1: 0, t2: 0, stretch: 0, c: 0, s: 0, length: 0, g1: 0, g2: 0 };
}

const B = new Float64Array(18);

/** What an element is made of: as-built chord vector (2), its length, axial stiffness, bending pair (2). Numbers handed on in memory need no boxes. */
const given = new Float64Array(6);

/** Elements of an arm by number: nodes as built, mm, and per element its length, mm, EA, N, and bending pair, N·mm. */
export interface BeamArm {
  base: number;
  nodes: readonly (readonly [number, number])[];
  l0: Float64Array;
  ea: Float64Array;
  kNear: Float64Array;
  kFar: Float64Array;
}

/** Element `e` of an arm at the unknowns `q`; `tangent` also fills `out.k`. */
export function armElement(q: Float64Array, arm: BeamArm, e: number, out: BeamOut, tangent: boolean): void {
  const a = arm.nodes[e]!;
  const b = arm.nodes[e + 1]!;
  given[0] = b[0] - a[0];
  given[1] = b[1] - a[1];
  given[2] = arm.l0[e]!;
  given[3] = arm.ea[e]!;
  given[4] = arm.kNear[e]!;
  given[5] = arm.kFar[e]!;
  fillElement(q, nodeAt(arm, e), out, tangent);
}

/**
 * @param q unknowns; `i` the first unknown of node 1, node 2 follows at i + 3
 * @param x0 z0 as-built chord vector, mm
 * @param l0 its length
 * @param ea axial stiffness, N
 * @param near far bending stiffness pair, N·mm
 * @param tangent also fill `k`
 */
export function beamElement(
  q: Float64Array,
  i: number,
  x0: number,
  z0: number,
  l0: number,
  ea: number,
  near: number,
  far: number,
  out: BeamOut,
  tangent: boolean,
): void {
  given[0] = x0;
  given[1] = z0;
  given[2] = l0;
  given[3] = ea;
  given[4] = near;
  given[5] = far;
  fillElement(q, i, out, tangent);
}

/** The element that `given` describes. */
function fillElement(q: Float64Array, i: number, out: BeamOut, tangent: boolean): void {
  const x0 = given[0]!;
  const z0 = given[1]!;
  const l0 = given[2]!;
  const ea = given[3]!;
  const near = given[4]!;
  const far = given[5]!;
  const dx = q[i + 3]! - q[i]!;
  const dz = q[i + 4]! - q[i + 1]!;
  const cx = x0 + dx;
  const cz = z0 + dz;
  const len = Math.sqrt(cx * cx + cz * cz);
  const u = (2 * (x0 * dx + z0 * dz) + dx * dx + dz * dz) / (len + l0);
  const turn = Math.atan2(x0 * dz - z0 * dx, l0 * l0 + x0 * dx + z0 * dz);
  const t1 = q[i + 2]! - turn;
  const t2 = q[i + 5]! - turn;
  const bow = (2 * t1 * t1 - t1 * t2 + 2 * t2 * t2) / 30;
  const g1 = (4 * t1 - t2) / 30;
  const g2 = (4 * t2 - t1) / 30;
  const axial = ea * (u / l0 + bow);
  const b1 = near * t1 + far * t2;
  const b2 = far * t1 + near * t2;
  const m1 = b1 + axial * l0 * g1;
  const m2 = b2 + axial * l0 * g2;
  const c = cx / len;
  const s = cz / len;
  out.axial = axial;
  out.m1 = b1;
  out.m2 = b2;
  out.t1 = t1;
  out.t2 = t2;
  out.stretch = u + l0 * bow;
  out.c = c;
  out.s = s;
  out.length = len;
  out.g1 = g1;
  out.g2 = g2;
  const q0 = (m1 + m2) / len;
  const g = out.g;
  // turn' = z/len with z = (s, -c, 0, -s, c, 0); t_i' = e_i - z/len
  g[0] = -axial * c - q0 * s;
  g[1] = -axial * s + q0 * c;
  g[2] = m1;
  g[3] = axial * c + q0 * s;
  g[4] = axial * s - q0 * c;
  g[5] = m2;
  if (!tangent) return;
  const sl = s / len;
  const cl = c / len;
  // rows of B: u, t1, t2
  B[0] = -c;
  B[1] = -s;
  B[2] = 0;
  B[3] = c;
  B[4] = s;
  B[5] = 0;
  B[6] = -sl;
  B[7] = cl;
  B[8] = 1;
  B[9] = sl;
  B[10] = -cl;
  B[11] = 0;
  B[12] = -sl;
  B[13] = cl;
  B[14] = 0;
  B[15] = sl;
  B[16] = -cl;
  B[17] = 1;
  const nl = axial * l0;
  const kuu = ea / l0;
  const ku1 = ea * g1;
  const ku2 = ea * g2;
  const k11 = near + ea * l0 * g1 * g1 + (4 * nl) / 30;
  const k22 = near + ea * l0 * g2 * g2 + (4 * nl) / 30;
  const k12 = far + ea * l0 * g1 * g2 - nl / 30;
  const k = out.k;
  const nz = axial / len;
  const mz = (m1 + m2) / (len * len);
  for (let a = 0; a < 6; a++) {
    const bu = B[a]!;
    const b1a = B[6 + a]!;
    const b2a = B[12 + a]!;
    const ru = kuu * bu + ku1 * b1a + ku2 * b2a;
    const r1 = ku1 * bu + k11 * b1a + k12 * b2a;
    const r2 = ku2 * bu + k12 * b1a + k22 * b2a;
    const za = a === 0 ? s : a === 1 ? -c : a === 3 ? -s : a === 4 ? c : 0;
    for (let b = a; b < 6; b++) {
      const zb = b === 0 ? s : b === 1 ? -c : b === 3 ? -s : b === 4 ? c : 0;
      const v = ru * B[b]! + r1 * B[6 + b]! + r2 * B[12 + b]! + nz * za * zb + mz * (bu * zb + za * B[b]!);
      k[6 * a + b] = v;
      k[6 * b + a] = v;
    }
  }
}
