import type { V3 } from "../vec.ts";
import { type Banded, choleskyFactor, choleskySolve, newBanded } from "./banded.ts";
import { type BeamProps, beamGeometric, beamStiffness, bulgeStiffness } from "./element.ts";

/**
 * Small spatial frames of Timoshenko beams. Global axes right-handed; per node six freedoms in the order
 * ux, uy, uz, θx, θy, θz. Units are the caller's, but consistent (the arms use mm, N, N·mm).
 */
export interface FrameNode {
  at: V3;
  /** freedoms held at zero */
  fixed?: readonly boolean[];
  /** stiffness to ground of each freedom */
  springs?: readonly number[];
}

export interface FrameMember {
  a: number;
  b: number;
  props: BeamProps;
  /** the member's local z axis is the part of this vector across the member */
  up: V3;
  /** rigid arms from the nodes to the member's ends */
  offsetA?: V3;
  offsetB?: V3;
  /** a node of which only θx is free: the size of the bulge of the member's twist, about its own axis, rad; for buckling */
  bulge?: number;
  /** uniform load along the member, global axes, force per length */
  load?: V3;
}

export interface Frame {
  nodes: FrameNode[];
  members: FrameMember[];
}

export interface AssembledFrame {
  frame: Frame;
  /** equation number of each freedom (node*6 + i), -1 when held */
  dof: Int32Array;
  n: number;
  /** factored stiffness */
  factor: Banded;
  lengths: Float64Array;
  /** 9 per member: rows are the member's axes in global ones */
  axes: Float64Array;
}

export interface FrameSolution {
  /** 6 per node */
  displacements: Float64Array;
  /** 12 per member, acting on the member's ends, in its own axes */
  endForces: Float64Array;
}

/** Thrown message names the node at which the frame is free to move. */
export function assembleFrame(frame: Frame): AssembledFrame {
  const layout = numberFreedoms(frame);
  const k = assembleStiffness(layout);
  const row = choleskyFactor(k);
  if (row >= 0) {
    const node = Math.floor(layout.dof.indexOf(row) / 6);
    throw new RangeError(`the frame is free to move at node ${node}: it needs more support`);
  }
  return { ...layout, factor: k };
}

export type FrameLayout = Omit<AssembledFrame, "factor"> & { band: number };

/** Equation numbers, band width, lengths and axes of the members. */
export function numberFreedoms(frame: Frame): FrameLayout {
  const { nodes, members } = frame;
  const dof = new Int32Array(nodes.length * 6);
  let n = 0;
  nodes.forEach((node, i) => {
    for (let c = 0; c < 6; c++) dof[i * 6 + c] = node.fixed?.[c] ? -1 : n++;
  });
  const lengths = new Float64Array(members.length);
  const axes = new Float64Array(members.length * 9);
  let band = 0;
  members.forEach((m, i) => {
    lengths[i] = memberAxes(frame, m, axes, i * 9);
    let lo = n;
    let hi = -1;
    for (const node of m.bulge === undefined ? [m.a, m.b] : [m.a, m.b, m.bulge]) {
      for (let c = 0; c < 6; c++) {
        const d = dof[node * 6 + c]!;
        if (d < 0) continue;
        if (d < lo) lo = d;
        if (d > hi) hi = d;
      }
    }
    if (hi - lo > band) band = hi - lo;
  });
  return { frame, dof, n, band, lengths, axes };
}

function memberAxes(frame: Frame, m: FrameMember, axes: Float64Array, at: number): number {
  const p = frame.nodes[m.a]!.at;
  const q = frame.nodes[m.b]!.at;
  const oa = m.offsetA ?? ZERO;
  const ob = m.offsetB ?? ZERO;
  const dx = q[0] + ob[0] - p[0] - oa[0];
  const dy = q[1] + ob[1] - p[1] - oa[1];
  const dz = q[2] + ob[2] - p[2] - oa[2];
  const l = Math.sqrt(dx * dx + dy * dy + dz * dz);
  const x: V3 = [dx / l, dy / l, dz / l];
  const along = m.up[0] * x[0] + m.up[1] * x[1] + m.up[2] * x[2];
  const z: V3 = [m.up[0] - along * x[0], m.up[1] - along * x[1], m.up[2] - along * x[2]];
  const lz = Math.sqrt(z[0] * z[0] + z[1] * z[1] + z[2] * z[2]);
  if (!(l > 0 && lz > 0)) throw new RangeError("a frame member needs a length and an orientation vector that is not along it");
  for (let c = 0; c < 3; c++) z[c] = z[c]! / lz;
  axes.set(x, at);
  axes[at + 3] = z[1] * x[2] - z[2] * x[1];
  axes[at + 4] = z[2] * x[0] - z[0] * x[2];
  axes[at + 5] = z[0] * x[1] - z[1] * x[0];
  axes.set(z, at + 6);
  return l;
}

const ZERO: V3 = [0, 0, 0];

/** Stiffness matrix of the free freedoms, not factored. */
export function assembleStiffness(s: FrameLayout): Banded {
  const k = newBanded(s.n, s.band);
  const local = new Float64Array(144);
  const global = new Float64Array(144);
  s.frame.members.forEach((m, i) => {
    beamStiffness(m.props, s.lengths[i]!, local);
    toGlobal(local, s.axes, i * 9, global);
    if (m.offsetA) offsetEnd(global, 0, m.offsetA);
    if (m.offsetB) offsetEnd(global, 6, m.offsetB);
    scatter(s, m, global, k);
    if (m.bulge !== undefined) addEntry(k, s.dof[m.bulge * 6 + 3]!, s.dof[m.bulge * 6 + 3]!, bulgeStiffness(m.props, s.lengths[i]!));
  });
  s.frame.nodes.forEach((node, i) => {
    for (let c = 0; c < 6; c++) {
      const d = s.dof[i * 6 + c]!;
      const spring = node.springs?.[c] ?? 0;
      if (spring > 0) addEntry(k, d, d, spring);
    }
  });
  return k;
}

/** Geometric stiffness for given end forces (12 per member, in the member's axes); same layout as the stiffness. */
export function assembleGeometric(s: FrameLayout, endForces: Float64Array): Banded {
  const k = newBanded(s.n, s.band);
  const local = new Float64Array(144);
  const global = new Float64Array(144);
  const bulge = new Float64Array(13);
  s.frame.members.forEach((m, i) => {
    beamGeometric(m.props, s.lengths[i]!, endForces, i * 12, local, m.bulge === undefined ? null : bulge);
    toGlobal(local, s.axes, i * 9, global);
    if (m.offsetA) {
      offsetEnd(global, 0, m.offsetA);
      offsetTurn(global, 0, m.offsetA, s.axes, i * 9, endForces, i * 12);
    }
    if (m.offsetB) {
      offsetEnd(global, 6, m.offsetB);
      offsetTurn(global, 6, m.offsetB, s.axes, i * 9, endForces, i * 12);
    }
    scatter(s, m, global, k);
    if (m.bulge !== undefined) scatterBulge(s, m, i, bulge, k);
  });
  return k;
}

/** global = Tᵀ local T, block by block; both triangles. */
function toGlobal(local: Float64Array, axes: Float64Array, at: number, global: Float64Array): void {
  for (let bi = 0; bi < 12; bi += 3) {
    for (let bj = bi; bj < 12; bj += 3) {
      for (let i = 0; i < 3; i++) {
        // row i of Rᵀ times the block
        const r0 = axes[at + i]!;
        const r1 = axes[at + 3 + i]!;
        const r2 = axes[at + 6 + i]!;
        const q = bi * 12 + bj;
        const t0 = r0 * local[q]! + r1 * local[q + 12]! + r2 * local[q + 24]!;
        const t1 = r0 * local[q + 1]! + r1 * local[q + 13]! + r2 * local[q + 25]!;
        const t2 = r0 * local[q + 2]! + r1 * local[q + 14]! + r2 * local[q + 26]!;
        for (let j = 0; j < 3; j++) {
          const v = t0 * axes[at + j]! + t1 * axes[at + 3 + j]! + t2 * axes[at + 6 + j]!;
          global[(bi + i) * 12 + bj + j] = v;
          global[(bj + j) * 12 + bi + i] = v;
        }
      }
    }
  }
}

/** Moves the end at row `e` to its node: the end moves by u + θ x r, so the node's moment gains r x F. */
function offsetEnd(k: Float64Array, e: number, r: V3): void {
  for (let i = 0; i < 12; i++) {
    const f0 = k[i * 12 + e]!;
    const f1 = k[i * 12 + e + 1]!;
    const f2 = k[i * 12 + e + 2]!;
    k[i * 12 + e + 3] = k[i * 12 + e + 3]! + r[1] * f2 - r[2] * f1;
    k[i * 12 + e + 4] = k[i * 12 + e + 4]! + r[2] * f0 - r[0] * f2;
    k[i * 12 + e + 5] = k[i * 12 + e + 5]! + r[0] * f1 - r[1] * f0;
  }
  for (let j = 0; j < 12; j++) {
    const f0 = k[e * 12 + j]!;
    const f1 = k[(e + 1) * 12 + j]!;
    const f2 = k[(e + 2) * 12 + j]!;
    k[(e + 3) * 12 + j] = k[(e + 3) * 12 + j]! + r[1] * f2 - r[2] * f1;
    k[(e + 4) * 12 + j] = k[(e + 4) * 12 + j]! + r[2] * f0 - r[0] * f2;
    k[(e + 5) * 12 + j] = k[(e + 5) * 12 + j]! + r[0] * f1 - r[1] * f0;
  }
}

/** A rigid arm r that turns by θ moves its end by ½ θ x (θ x r) besides: ½(F rᵀ + r Fᵀ) - (F·r) I on the rotations. */
function offsetTurn(k: Float64Array, e: number, r: V3, axes: Float64Array, at: number, f: Float64Array, fo: number): void {
  const F: V3 = [0, 0, 0];
  for (let i = 0; i < 3; i++) {
    for (let c = 0; c < 3; c++) F[i] = F[i]! + axes[at + c * 3 + i]! * f[fo + e + c]!;
  }
  const dot = F[0] * r[0] + F[1] * r[1] + F[2] * r[2];
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      const q = (e + 3 + i) * 12 + e + 3 + j;
      k[q] = k[q]! + (F[i]! * r[j]! + r[i]! * F[j]!) / 2 - (i === j ? dot : 0);
    }
  }
}

function scatter(s: FrameLayout, m: FrameMember, g: Float64Array, k: Banded): void {
  const w = k.band + 1;
  for (let i = 0; i < 12; i++) {
    const di = s.dof[(i < 6 ? m.a : m.b) * 6 + (i % 6)]!;
    if (di < 0) continue;
    const ri = di * w + k.band - di;
    for (let j = 0; j < 12; j++) {
      const dj = s.dof[(j < 6 ? m.a : m.b) * 6 + (j % 6)]!;
      if (dj < 0 || dj > di) continue;
      k.a[ri + dj] = k.a[ri + dj]! + g[i * 12 + j]!;
    }
  }
}

/** Adds to an entry of a symmetric banded matrix and its mirror, which are one; held freedoms (-1) take nothing. */
function addEntry(k: Banded, i: number, j: number, v: number): void {
  if (i < 0 || j < 0) return;
  const at = Math.max(i, j) * (k.band + 1) + k.band - Math.abs(i - j);
  k.a[at] = k.a[at]! + v;
}

/** Couples the bulge of a member's twist to its end nodes (entries in the member's axes) and to itself. */
function scatterBulge(s: FrameLayout, m: FrameMember, i: number, bulge: Float64Array, k: Banded): void {
  const own = s.dof[m.bulge! * 6 + 3]!;
  addEntry(k, own, own, bulge[12]!);
  for (let e = 0; e < 2; e++) {
    const r = (e === 0 ? m.offsetA : m.offsetB) ?? ZERO;
    const v = [0, 0, 0, 0, 0, 0];
    toNode(s.axes, i * 9, bulge, e * 6, r, v);
    for (let c = 0; c < 6; c++) addEntry(k, s.dof[(e === 0 ? m.a : m.b) * 6 + c]!, own, v[c]!);
  }
}

/** Force and moment at a member's end (its own axes) as force and moment at the node (global), `r` from the node to the end. */
function toNode(axes: Float64Array, at: number, f: Float64Array, fo: number, r: V3, v: number[]): void {
  v.fill(0);
  for (let c = 0; c < 3; c++) {
    for (let g = 0; g < 3; g++) {
      v[g] = v[g]! + axes[at + c * 3 + g]! * f[fo + c]!;
      v[3 + g] = v[3 + g]! + axes[at + c * 3 + g]! * f[fo + 3 + c]!;
    }
  }
  v[3] = v[3]! + r[1] * v[2]! - r[2] * v[1]!;
  v[4] = v[4]! + r[2] * v[0]! - r[0] * v[2]!;
  v[5] = v[5]! + r[0] * v[1]! - r[1] * v[0]!;
}

/**
 * Displacements and end forces under nodal loads (6 per node, global axes, forces and moments) and the members'
 * uniform loads.
 */
export function solveFrame(s: AssembledFrame, loads: Float64Array): FrameSolution {
  const { frame, dof, n } = s;
  const x = new Float64Array(n);
  const fixedEnd = fixedEndForces(s);
  for (let d = 0; d < dof.length; d++) {
    const q = dof[d]!;
    if (q >= 0) x[q] = loads[d]!;
  }
  if (fixedEnd)
    addMemberLoads(s, fixedEnd, (d, v) => {
      const q = dof[d]!;
      if (q >= 0) x[q] = x[q]! - v;
    });
  choleskySolve(s.factor, x);
  const displacements = new Float64Array(frame.nodes.length * 6);
  for (let d = 0; d < dof.length; d++) {
    const q = dof[d]!;
    if (q >= 0) displacements[d] = x[q]!;
  }
  const endForces = memberEndForces(s, displacements);
  if (fixedEnd) for (let i = 0; i < endForces.length; i++) endForces[i] = endForces[i]! + fixedEnd[i]!;
  return { displacements, endForces };
}

/** End forces (12 per member, its own axes) that belong to given node displacements. */
export function memberEndForces(s: FrameLayout | AssembledFrame, displacements: Float64Array): Float64Array {
  const { members } = s.frame;
  const out = new Float64Array(members.length * 12);
  const k = new Float64Array(144);
  const u = new Float64Array(12);
  members.forEach((m, i) => {
    localDisplacements(m, s.axes, i * 9, displacements, u);
    beamStiffness(m.props, s.lengths[i]!, k);
    for (let r = 0; r < 12; r++) {
      let v = 0;
      for (let c = 0; c < 12; c++) v += k[r * 12 + c]! * u[c]!;
      out[i * 12 + r] = v;
    }
  });
  return out;
}

/** Displacements of both ends of a member in its own axes, from those of all nodes, into `u`. */
export function localDisplacements(m: FrameMember, axes: Float64Array, at: number, d: Float64Array, u: Float64Array): void {
  for (let e = 0; e < 2; e++) {
    const o = (e === 0 ? m.a : m.b) * 6;
    const r = (e === 0 ? m.offsetA : m.offsetB) ?? ZERO;
    const tx = d[o + 3]!;
    const ty = d[o + 4]!;
    const tz = d[o + 5]!;
    const ux = d[o]! + ty * r[2] - tz * r[1];
    const uy = d[o + 1]! + tz * r[0] - tx * r[2];
    const uz = d[o + 2]! + tx * r[1] - ty * r[0];
    for (let c = 0; c < 3; c++) {
      const a = at + c * 3;
      u[e * 6 + c] = axes[a]! * ux + axes[a + 1]! * uy + axes[a + 2]! * uz;
      u[e * 6 + 3 + c] = axes[a]! * tx + axes[a + 1]! * ty + axes[a + 2]! * tz;
    }
  }
}

/** End forces of members held at both ends under their uniform loads; null when no member carries any. */
function fixedEndForces(s: AssembledFrame): Float64Array | null {
  const { members } = s.frame;
  if (!members.some((m) => m.load)) return null;
  const out = new Float64Array(members.length * 12);
  members.forEach((m, i) => {
    if (!m.load) return;
    const l = s.lengths[i]!;
    const q: V3 = [0, 0, 0];
    for (let c = 0; c < 3; c++) for (let g = 0; g < 3; g++) q[c] = q[c]! + s.axes[i * 9 + c * 3 + g]! * m.load[g]!;
    for (let e = 0; e < 2; e++) {
      const o = i * 12 + e * 6;
      const sign = e === 0 ? 1 : -1;
      for (let c = 0; c < 3; c++) out[o + c] = (-q[c]! * l) / 2;
      out[o + 4] = (sign * q[2] * l * l) / 12;
      out[o + 5] = (-sign * q[1] * l * l) / 12;
    }
  });
  return out;
}

/** Hands each member's end forces to the nodes, in global axes and about the node. */
function addMemberLoads(s: FrameLayout | AssembledFrame, endForces: Float64Array, give: (freedom: number, value: number) => void): void {
  s.frame.members.forEach((m, i) => {
    for (let e = 0; e < 2; e++) {
      const o = (e === 0 ? m.a : m.b) * 6;
      const r = (e === 0 ? m.offsetA : m.offsetB) ?? ZERO;
      const v = [0, 0, 0, 0, 0, 0];
      toNode(s.axes, i * 9, endForces, i * 12 + e * 6, r, v);
      for (let c = 0; c < 6; c++) give(o + c, v[c]!);
    }
  });
}

/**
 * What the ground puts on the frame at each freedom (6 per node): zero where nothing holds it.
 * @internal for the tests
 */
export function frameReactions(s: AssembledFrame, solution: FrameSolution, loads: Float64Array): Float64Array {
  const out = Float64Array.from(loads, (v) => -v);
  addMemberLoads(s, solution.endForces, (d, v) => {
    out[d] = out[d]! + v;
  });
  return out;
}
