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

/** rows of the element's freedoms: along, across in the x-y plane (v, θz), across in the x-z plane (w, θy), twist */
const U = [0, 6] as const;
const V = [1, 5, 7, 11] as const;
const W = [2, 4, 8, 10] as const;
const T = [3, 9] as const;

/** Gauss points on 0..1 with weights; three are exact for everything below */
const HALF_SPAN = Math.sqrt(0.15);
const GAUSS = [
  [0.5 - HALF_SPAN, 5 / 18],
  [0.5, 8 / 18],
  [0.5 + HALF_SPAN, 5 / 18],
] as const;

/** turn of the section in one plane by its four freedoms, and its rate along the element */
const turnV = new Float64Array(4);
const turnW = new Float64Array(4);
const rateV = new Float64Array(4);
const rateW = new Float64Array(4);
const twist = new Float64Array(2);
const twistRate = new Float64Array(2);
const stretch = new Float64Array(2);

/** Turn of a cubically bent element at x = ξ l; `sign` -1 in the x-z plane, where a turn lowers the slope. */
function bent(turn: Float64Array, rate: Float64Array, xi: number, l: number, sign: number): void {
  turn[2] = (sign * 6 * (xi - xi * xi)) / l;
  turn[0] = -turn[2];
  turn[1] = 1 - 4 * xi + 3 * xi * xi;
  turn[3] = 3 * xi * xi - 2 * xi;
  rate[2] = (sign * 6 * (1 - 2 * xi)) / (l * l);
  rate[0] = -rate[2];
  rate[1] = (6 * xi - 4) / l;
  rate[3] = (6 * xi - 2) / l;
}

/** Stiffness of the bulge of the twist, 4ξ(1 - ξ) times its size, N·mm/rad; the end turns do not couple to it. */
export const bulgeStiffness = (p: BeamProps, l: number): number => (16 * p.gj) / (3 * l);

/**
 * Geometric stiffness of an element that carries the end forces `f` (12, in the element's axes, acting on the element, in balance):
 * the forces on each cross-section times the second-order part of its strains, all along the element,
 *   N (θy² + θz² + r² φ'²)/2 - Qy (φ θy/2 + u' θz) - Qz (φ θz/2 - u' θy) - M·(θ x θ')/2
 * with θ = (φ, θy, θz) the rotation vector of the section, r² = (Iy + Iz)/A. So the moments give lateral-torsional
 * buckling, and rotation vectors, the same for all elements of a node, let elements meet at any angle under
 * conservative forces. θy, θz as a cubically bent beam without shear has them, φ linear plus a bulge 4ξ(1 - ξ), which leaves
 * an error of the fourth order only. Symmetric. Own derivation; checked against Euler columns and the lateral buckling of
 * Timoshenko & Gere, ch. 6.
 * @param bulge 13 entries: what the bulge of the twist couples to the twelve freedoms and to itself; null: no bulge
 */
export function beamGeometric(p: BeamProps, l: number, f: ArrayLike<number>, offset: number, k: Float64Array, bulge: Float64Array | null = null): void {
  k.fill(0);
  bulge?.fill(0);
  const n = f[offset + 6]!;
  const qy = f[offset + 7]!;
  const qz = f[offset + 8]!;
  const torque = f[offset + 9]!;
  twistRate[0] = -1 / l;
  twistRate[1] = 1 / l;
  stretch.set(twistRate);
  for (const [xi, weight] of GAUSS) {
    const g = weight * l;
    bent(turnV, rateV, xi, l, 1);
    bent(turnW, rateW, xi, l, -1);
    twist[0] = 1 - xi;
    twist[1] = xi;
    const my = g * (f[offset + 10]! * xi - f[offset + 4]! * (1 - xi));
    const mz = g * (f[offset + 11]! * xi - f[offset + 5]! * (1 - xi));
    square(k, V, turnV, g * n);
    square(k, W, turnW, g * n);
    square(k, T, twistRate, g * n * p.polarRadiusSq);
    cross(k, V, turnV, U, stretch, -g * qy);
    cross(k, W, turnW, U, stretch, g * qz);
    // θ x θ' = (θy θz' - θz θy', θz φ' - φ θz', φ θy' - θy φ')
    cross(k, W, turnW, V, rateV, -0.5 * g * torque);
    cross(k, V, turnV, W, rateW, 0.5 * g * torque);
    for (let i = 0; i < 4; i++) {
      // what each freedom across couples to the twist, and to its rate
      const v = -0.5 * (g * qz * turnV[i]! - my * rateV[i]!);
      const w = -0.5 * (g * qy * turnW[i]! + mz * rateW[i]!);
      const vRate = -0.5 * my * turnV[i]!;
      const wRate = 0.5 * mz * turnW[i]!;
      for (let j = 0; j < 2; j++) {
        add(k, V[i]!, T[j]!, v * twist[j]! + vRate * twistRate[j]!);
        add(k, W[i]!, T[j]!, w * twist[j]! + wRate * twistRate[j]!);
      }
      if (bulge) {
        const b = 4 * xi * (1 - xi);
        const bRate = (4 - 8 * xi) / l;
        bulge[V[i]!] = bulge[V[i]!]! + v * b + vRate * bRate;
        bulge[W[i]!] = bulge[W[i]!]! + w * b + wRate * bRate;
      }
    }
  }
  if (bulge) bulge[12] = (16 * n * p.polarRadiusSq) / (3 * l);
}

/** Adds the Hessian of c·q_i·q_j for different i, j. */
function add(k: Float64Array, i: number, j: number, c: number): void {
  k[i * 12 + j] = k[i * 12 + j]! + c;
  k[j * 12 + i] = k[j * 12 + i]! + c;
}

/** Adds the Hessian of c (a·q)²/2, a over the freedoms of `at`. */
function square(k: Float64Array, at: readonly number[], a: Float64Array, c: number): void {
  for (let i = 0; i < at.length; i++) for (let j = 0; j < at.length; j++) k[at[i]! * 12 + at[j]!] = k[at[i]! * 12 + at[j]!]! + c * a[i]! * a[j]!;
}

/** Adds the Hessian of c (a·q)(b·q), a and b over different freedoms. */
function cross(k: Float64Array, atA: readonly number[], a: Float64Array, atB: readonly number[], b: Float64Array, c: number): void {
  for (let i = 0; i < atA.length; i++) for (let j = 0; j < atB.length; j++) add(k, atA[i]!, atB[j]!, c * a[i]! * b[j]!);
}
