import type { Arm3d } from "../../../core/arm/arm-frame.ts";
import { solveFrame } from "../../../core/arm/frame.ts";
import { clampedVerticalFlexibility } from "../../../core/arm/stiffness.ts";
import type { V2 } from "../../../core/vec.ts";

/** An arm under a hand's push at its ball joint: the ball joint's way, and lines of its pieces. mm. */
export interface Pressed {
  tipMm: number;
  /** [across, along the arm] per piece; across is forward for a push along the road, up for a press */
  lines: V2[][];
}

const STEPS = 10;

/** Pushed along the road: forward positive, N. The shape is drawn `factor` times larger, in the plan. */
export function pushedAlong(a: Arm3d, newton: number, factor: number): Pressed {
  const loads = new Float64Array(a.solved.frame.nodes.length * 6);
  loads[a.ballNode * 6] = newton;
  const u = solveFrame(a.solved, loads).displacements;
  const { nodes, members } = a.solved.frame;
  const lines = members.map((m) => {
    const o = m.offsetB ?? [0, 0, 0];
    const p = nodes[m.a]!.at;
    const q = nodes[m.b]!.at;
    const end: V2 = [q[0] + o[0], q[1] + o[1]];
    const long = Math.sqrt((end[0] - p[0]) ** 2 + (end[1] - p[1]) ** 2);
    const ex = (end[0] - p[0]) / long;
    const ey = (end[1] - p[1]) / long;
    const ta = u[m.a * 6 + 5]!;
    const tb = u[m.b * 6 + 5]!;
    const ua: V2 = [u[m.a * 6]!, u[m.a * 6 + 1]!];
    const ub: V2 = [u[m.b * 6]! - tb * o[1], u[m.b * 6 + 1]! + tb * o[0]];
    return Array.from({ length: STEPS + 1 }, (_, i): V2 => {
      const t = i / STEPS;
      const along = (1 - t) * (ua[0] * ex + ua[1] * ey) + t * (ub[0] * ex + ub[1] * ey);
      const across = hermite(t, -ua[0] * ey + ua[1] * ex, ta * long, -ub[0] * ey + ub[1] * ex, tb * long);
      const dx = along * ex - across * ey;
      const dy = along * ey + across * ex;
      return [p[0] + (end[0] - p[0]) * t + factor * dx, p[1] + (end[1] - p[1]) * t + factor * dy];
    });
  });
  return { tipMm: newton * a.flexibility[0]!, lines };
}

/**
 * Pressed up (positive) at the ball joint with the spring seat held in height, N; null when the arm simply swings.
 * Lines are [up, along], `factor` times larger.
 */
export function pressedUp(a: Arm3d, newton: number, factor: number): Pressed | null {
  const f = clampedVerticalFlexibility(a);
  const k = a.pivotNmmPerRad;
  const L = a.lengthMm;
  const x = (a.seatFraction ?? 0) * L;
  const seated = x > 0;
  if (!seated && !(k > 0)) return null;
  // the seat's push and the swing about the pivots: the seat does not move, the pivots' spring takes the moment
  const seatN = seated ? (-(k * f.tipSeat + x * L) * newton) / (k * f.seat + x * x) : 0;
  const swing = seated ? -(f.tipSeat * newton + f.seat * seatN) / x : (newton * L) / k;
  const { nodes, members } = a.solved.frame;
  const loads = new Float64Array(nodes.length * 6);
  loads[a.ballNode * 6 + 2] = newton;
  for (const n of a.seatNodes) loads[n * 6 + 2] = loads[n * 6 + 2]! + seatN / a.seatNodes.length;
  const u = solveFrame(a.solved, loads).displacements;
  const lines = members.map((m) => {
    const o = m.offsetB ?? [0, 0, 0];
    const p = nodes[m.a]!.at;
    const q = nodes[m.b]!.at;
    const dx = q[0] + o[0] - p[0];
    const dy = q[1] + o[1] - p[1];
    const slope = (n: number): number => u[n * 6 + 3]! * dy - u[n * 6 + 4]! * dx;
    const za = u[m.a * 6 + 2]!;
    const zb = u[m.b * 6 + 2]! + u[m.b * 6 + 3]! * o[1] - u[m.b * 6 + 4]! * o[0];
    return Array.from({ length: STEPS + 1 }, (_, i): V2 => {
      const t = i / STEPS;
      const y = p[1] + dy * t;
      return [factor * (hermite(t, za, slope(m.a), zb, slope(m.b)) + swing * y), y];
    });
  });
  return { tipMm: f.tip * newton + f.tipSeat * seatN + swing * L, lines };
}

/** Cubic with given ends and slopes (per unit of t). */
function hermite(t: number, a: number, sa: number, b: number, sb: number): number {
  const t2 = t * t;
  const t3 = t2 * t;
  return a * (2 * t3 - 3 * t2 + 1) + sa * (t3 - 2 * t2 + t) + b * (3 * t2 - 2 * t3) + sb * (t3 - t2);
}
