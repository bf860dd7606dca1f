import type { V3 } from "../vec.ts";

/**
 * Spatial beam element with 12 degrees of freedom: at each end three displacements and three rotations in the
 * element's axes (x along the element, y and z across), in this order. Matrices are 12 x 12, row-major.
 */
export interface BeamProps {
  /** N */
  ea: number;
  /** N·mm² */
  gj: number;
  /** bending in the x-z plane (about y) and in the x-y plane (about z), N·mm² */
  eiY: number;
  eiZ: number;
  /** shear stiffness along y and z, N; Infinity: none lost to shear */
  gaY: number;
  gaZ: number;
  /** (Iy + Iz)/A, mm²: twist under axial force */
  polarRadiusSq: number;
}

/** Timoshenko stiffness matrix. Source: Przemieniecki, Theory of Matrix Structural Analysis, ch. 5. */
export function beamStiffness(p: BeamProps, l: number, k: Float64Array): void {
  k.fill(0);
  const set = (i: number, j: number, v: number) => {
    k[i * 12 + j] = v;
    k[j * 12 + i] = v;
  };
  const axial = p.ea / l;
  set(0, 0, axial);
  set(6, 6, axial);
  set(0, 6, -axial);
  const twist = p.gj / l;
  set(3, 3, twist);
  set(9, 9, twist);
  set(3, 9, -twist);
  // v with θz = v', w with θy = -w'
  bending(set, 1, 5, 1, p.eiZ, p.gaY, l);
  bending(set, 2, 4, -1, p.eiY, p.gaZ, l);
}

function bending(set: (i: number, j: number, v: number) => void, v: number, r: number, sign: number, ei: number, ga: number, l: number): void {
  const phi = (12 * ei) / (ga * l * l);
  const c = ei / (l * (1 + phi));
  const k12 = (12 * c) / (l * l);
  const k6 = (sign * 6 * c) / l;
  set(v, v, k12);
  set(v + 6, v + 6, k12);
  set(v, v + 6, -k12);
  set(v, r, k6);
  set(v, r + 6, k6);
  set(v + 6, r, -k6);
  set(v + 6, r + 6, -k6);
  set(r, r, (4 + phi) * c);
  set(r + 6, r + 6, (4 + phi) * c);
  set(r, r + 6, (2 - phi) * c);
}

/**
 * Geometric stiffness of an element that carries the end forces `f` (12, in the element's axes, acting on the
 * element): the second variation of its strain measures in a frame that turns with the chord, times those forces.
 * Axial force with the bow inside the element (6/5, 1/10, 2/15 terms), the twist term N (Iy+Iz)/A, and the end
 * moments, whose terms give lateral-torsional buckling. Rotations are rotation vectors, the same for all
 * elements of a node, so that elements may meet at any angle under conservative forces.
 * The matrix is symmetric. Own derivation; checked against Euler columns and the lateral buckling of
 * Timoshenko & Gere, sec. 6.
 */
export function beamGeometric(p: BeamProps, l: number, f: ArrayLike<number>, offset: number, k: Float64Array): void {
  k.fill(0);
  const n = f[offset + 6]!;
  const a: V3 = [f[offset + 3]!, f[offset + 4]!, f[offset + 5]!];
  const b: V3 = [f[offset + 9]!, f[offset + 10]!, f[offset + 11]!];
  // axial force: chord turning and bow
  axialPlane(k, n, l, 1, 5, 1);
  axialPlane(k, n, l, 2, 4, -1);
  const wagner = (n * p.polarRadiusSq) / l;
  k[3 * 12 + 3] = wagner;
  k[9 * 12 + 9] = wagner;
  k[3 * 12 + 9] = -wagner;
  k[9 * 12 + 3] = -wagner;

  // Second-order part of the local rotations: θ₂ = -e₂ - ½ e x a at the start, -e₂ - ½ e x b at the end, with
  // the turn of the element's frame e = (mean twist, -Δw/l, Δv/l) + e₂,
  // e₂ = (-¼ (e x (a+b))₁, ½ t e_z + Δu Δw/l², -½ t e_y - Δu Δv/l²), t = mean twist.
  const il = 1 / l;
  const m2 = a[1] + b[1];
  const m3 = a[2] + b[2];
  // -m·e₂; m₁ = 0 because the torque is the same at both ends, so e₂'s first entry does no work
  // e_y = (w0 - w1)/l, e_z = (v1 - v0)/l, t = (θ0 + θ1)/2
  const q = il / 4;
  for (const t of TWISTS) {
    add(k, t, 7, -m2 * q);
    add(k, t, 1, m2 * q);
    add(k, t, 2, m3 * q);
    add(k, t, 8, -m3 * q);
  }
  const il2 = il * il;
  for (const [i, si] of ENDS) {
    for (const [j, sj] of ENDS) {
      const s = si * sj * il2;
      add(k, i, j + 2, -m2 * s);
      add(k, i, j + 1, m3 * s);
    }
  }
  // -½ M·(e x θ) at both ends
  cross(k, a, 3, il);
  cross(k, b, 9, il);
}

const TWISTS = [3, 9] as const;
const ENDS = [
  [0, -1],
  [6, 1],
] as const;

/** Adds the Hessian of v·q_i·q_j. */
function add(k: Float64Array, i: number, j: number, v: number): void {
  k[i * 12 + j] = k[i * 12 + j]! + v;
  k[j * 12 + i] = k[j * 12 + i]! + v;
}

/** Hessian of -½ M·(e x θ), θ the rotation that starts at row r; e x θ = (e_y θz - e_z θy, e_z θx - e_x θz, e_x θy - e_y θx). */
function cross(k: Float64Array, m: V3, r: number, il: number): void {
  const h = -0.5;
  // e_y = (w0 - w1)/l
  const y = (j: number, v: number) => {
    add(k, 2, j, h * v * il);
    add(k, 8, j, -h * v * il);
  };
  // e_z = (v1 - v0)/l
  const z = (j: number, v: number) => {
    add(k, 7, j, h * v * il);
    add(k, 1, j, -h * v * il);
  };
  const x = (j: number, v: number) => {
    add(k, 3, j, (h * v) / 2);
    add(k, 9, j, (h * v) / 2);
  };
  y(r + 2, m[0]);
  z(r + 1, -m[0]);
  z(r, m[1]);
  x(r + 2, -m[1]);
  x(r + 1, m[2]);
  y(r, -m[2]);
}

function axialPlane(k: Float64Array, n: number, l: number, v: number, r: number, sign: number): void {
  const c6 = (1.2 * n) / l;
  const c1 = (sign * n) / 10;
  const set = (i: number, j: number, x: number) => {
    k[i * 12 + j] = x;
    k[j * 12 + i] = x;
  };
  set(v, v, c6);
  set(v + 6, v + 6, c6);
  set(v, v + 6, -c6);
  set(v, r, c1);
  set(v, r + 6, c1);
  set(v + 6, r, -c1);
  set(v + 6, r + 6, -c1);
  set(r, r, (2 * n * l) / 15);
  set(r + 6, r + 6, (2 * n * l) / 15);
  set(r, r + 6, (-n * l) / 30);
}
