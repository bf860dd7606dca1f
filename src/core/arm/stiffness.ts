import type { Arm3d } from "./arm-frame.ts";

/** Vertical flexibility of a planar arm, mm/N: ball joint, ball joint by seat, seat. Without a seat the last two are 0. */
export interface VerticalFlexibility {
  tip: number;
  tipSeat: number;
  seat: number;
}

/** Vertical flexibilities with the inner pins held against turning. */
export function clampedVerticalFlexibility(a: Arm3d): VerticalFlexibility {
  const f = a.flexibility;
  return { tip: f[14]!, tipSeat: f[17]!, seat: f[35]! };
}

/**
 * Vertical flexibility at the ball joint with the seat held (pinned in height), mm/N; Infinity when the arm simply
 * swings. A pin of stiffness k about the pivots' line adds y_i y_j / k to each flexibility; written so that k = 0
 * is no special case.
 */
export function heldVerticalFlexibility(f: VerticalFlexibility, tipAtMm: number, seatAtMm: number | null, pivotNmmPerRad: number): number {
  const k = pivotNmmPerRad;
  if (seatAtMm === null || !(seatAtMm > 0)) return k > 0 ? f.tip + (tipAtMm * tipAtMm) / k : Number.POSITIVE_INFINITY;
  const bend = f.tip * f.seat - f.tipSeat * f.tipSeat;
  const swing = tipAtMm * tipAtMm * f.seat + seatAtMm * seatAtMm * f.tip - 2 * tipAtMm * seatAtMm * f.tipSeat;
  return Math.max(0, (k * bend + swing) / (k * f.seat + seatAtMm * seatAtMm));
}

/** Flexibility at the ball joint, spring seat held in height: the plane part and the vertical one do not couple. */
interface BallFlexibility {
  xx: number;
  xy: number;
  yy: number;
  zz: number;
}

function ballFlexibility(a: Arm3d): BallFlexibility {
  const f = a.flexibility;
  const seatAt = a.seatFraction === null ? null : a.seatFraction * a.lengthMm;
  return { xx: f[0]!, xy: (f[1]! + f[6]!) / 2, yy: f[7]!, zz: heldVerticalFlexibility(clampedVerticalFlexibility(a), a.lengthMm, seatAt, a.pivotNmmPerRad) };
}

/**
 * Stiffness at the ball joint, N/mm, 3x3 row-major rows in the arm's frame (x forward, y along the arm, z up), the
 * spring seat held in height. The vertical entry is 0 when the arm simply swings (no seat and a free pin) and
 * Infinity when the seat lies on the ball joint.
 */
export function ballJointStiffness(a: Arm3d): [[number, number, number], [number, number, number], [number, number, number]] {
  const c = ballFlexibility(a);
  const det = c.xx * c.yy - c.xy * c.xy;
  return [
    [c.yy / det, -c.xy / det, 0],
    [-c.xy / det, c.xx / det, 0],
    [0, 0, 1 / c.zz],
  ];
}

/** Stiffness in three directions, N/mm: force over the displacement along it, the ball joint otherwise free to follow. */
export function mainStiffnesses(a: Arm3d): { foreAft: number; lateral: number; vertical: number } {
  const c = ballFlexibility(a);
  return { foreAft: 1 / c.xx, lateral: 1 / c.yy, vertical: 1 / c.zz };
}

export interface RosePoint {
  angleRad: number;
  nPerMm: number;
}

/** direction cosines below this count as none, so that a swinging arm still has its stiffness along the plane */
const NO_PART = 1e-12;

/**
 * Stiffness in every direction of a plane, 1/(dᵀ C d), C the flexibility at the ball joint.
 * fromAbove: angle 0 forward, 90° outboard along the arm. fromBehind: angle 0 outboard, 90° up.
 */
export function stiffnessRose(a: Arm3d, plane: "fromAbove" | "fromBehind", n = 72): RosePoint[] {
  const c = ballFlexibility(a);
  return Array.from({ length: n }, (_, i) => {
    const angleRad = (2 * Math.PI * i) / n;
    const p = Math.cos(angleRad);
    const q = Math.sin(angleRad);
    if (plane === "fromAbove") return { angleRad, nPerMm: 1 / (p * p * c.xx + 2 * p * q * c.xy + q * q * c.yy) };
    const swings = c.zz === Number.POSITIVE_INFINITY;
    if (swings) return { angleRad, nPerMm: Math.abs(q) > NO_PART ? 0 : 1 / c.yy };
    return { angleRad, nPerMm: 1 / (p * p * c.yy + q * q * c.zz) };
  });
}
