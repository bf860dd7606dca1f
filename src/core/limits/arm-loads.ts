import type { AlongRoad, ArmLoads, UprightMoments } from "../arm/section-forces.ts";
import type { ArmName, Side } from "../design/types.ts";
import type { ArmModel } from "../equilibrium/model.ts";
import type { ArmState } from "../equilibrium/state.ts";
import type { V3 } from "../vec.ts";
import { cornerOfContext, type LimitContext } from "./context.ts";

/** What the solved axle puts on one arm. */
export interface SolvedArmLoads {
  /** in the arm's own frame along its loaded chord (x forward, y outwards, z up), N */
  loads: ArmLoads;
  /** of the bent arm, with what its own bow, the anti-roll bar and the inner pivot add */
  upright: UprightMoments;
  /** what a push along the road does besides; absent: there is none */
  along?: AlongRoad;
}

/** Gathers what the solved axle puts on that arm in the picture's plane, N and N·mm. */
export function planeLoads(x: LimitContext, side: Side, name: ArmName): SolvedArmLoads {
  const { c, s } = cornerOfContext(x, side);
  const arm = s.arms[name];
  const a = arm.nodes[0]!;
  const b = arm.nodes[arm.nodes.length - 1]!;
  const len = Math.sqrt((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2);
  const yx = (b[0] - a[0]) / len;
  const yz = (b[1] - a[1]) / len;
  const up = c.sign;
  const local = (fx: number, fz: number): V3 => [0, fx * yx + fz * yz, up * (fz * yx - fx * yz)];
  const joint = s.joints[`${name}Outer`];
  const ballJoint = local(-joint.force[0], -joint.force[1]);
  let seat: V3 | null = null;
  if (arm.seatNode !== null) {
    const sp = s.spring;
    const push = sp.totalN / sp.lengthMm;
    seat = local((sp.seat[0] - sp.top[0]) * push, (sp.seat[1] - sp.top[1]) * push);
  }
  let bar: V3 | null = null;
  if (c.arms[name].barNode !== null) {
    // along the body's own upright, down on the right-hand arm for a positive force
    const down = c.sign * x.state.antiRollBarN;
    const { angleRad } = x.state.body;
    bar = local(down * Math.sin(angleRad), -down * Math.cos(angleRad));
  }
  return { loads: { ballJoint, seat, bar }, upright: solvedMoments(c.arms[name], arm) };
}

/**
 * Bending moments of the solved bent arm at its nodes and in the middle of each element: a beam that carries the axial force N and
 * the moments M1, M2 at its ends has (M1 + M2)/2 / cos(u) there, u = l/2 √(-N/EI), and 1/cosh when pulled (Timoshenko & Gere,
 * Theory of Elastic Stability, sec. 1.11; from memory).
 */
function solvedMoments(m: ArmModel, arm: ArmState): UprightMoments {
  const fractions = [arm.fractions[0]!];
  const momentNmm = [arm.momentNmm[0]!];
  for (let e = 0; e + 1 < arm.fractions.length; e++) {
    const l = m.l0[e]!;
    // the bending pairs differ by 2 EI/L0 whatever the shear
    const ei = ((m.kNear[e]! - m.kFar[e]!) * l) / 2;
    const n = arm.axialN[e]!;
    const u = (l / 2) * Math.sqrt(Math.abs(n) / ei);
    fractions.push((arm.fractions[e]! + arm.fractions[e + 1]!) / 2, arm.fractions[e + 1]!);
    momentNmm.push((arm.momentNmm[e]! + arm.momentNmm[e + 1]!) / 2 / (n < 0 ? Math.cos(u) : Math.cosh(u)), arm.momentNmm[e + 1]!);
  }
  return { fractions, momentNmm };
}
