import type { Load } from "../../src/core/design/types.ts";
import type { ArmModel, AxleModel, CornerModel, JointModel } from "../../src/core/equilibrium/model.ts";
import type { V2 } from "../../src/core/vec.ts";

/**
 * What is stored in an axle at any place of its parts, N·mm, from the laws in words: springs store half of rate times deflection squared,
 * weights their height, beams their stretch with the bow's (Oran 1973, from memory), bending and shear, a tread its bed's penetration.
 * Sharp laws, no rounding of corners; without the road's side force, which stores nothing.
 */
export function storedEnergy(m: AxleModel, q: Float64Array, load: Load): number {
  let sum = m.bodyWeight * q[0]! + (m.otherRollK * q[1]! ** 2) / 2;
  for (const arm of m.arms) sum += ofBeams(arm, q) + (arm.pivotK * (q[arm.base + 2]! - q[1]!) ** 2) / 2;
  for (const c of m.corners) sum += ofCorner(m, c, q, load);
  if (m.barK > 0) {
    const [left, right] = m.corners.map(({ arms: { lower } }) => {
      const i = lower.barNode!;
      const p = lower.nodes[i]!;
      const at: V2 = [p[0] + q[lower.base + 3 * i]!, p[1] + q[lower.base + 3 * i + 1]!];
      // as the body sees it
      return turned([at[0] - m.cg[0], at[1] - m.cg[1] - q[0]!], -q[1]!)[1] - (p[1] - m.cg[1]);
    }) as [number, number];
    sum += (m.barK * (right - left) ** 2) / 2;
  }
  return sum;
}

const turned = ([x, z]: V2, by: number): V2 => [Math.cos(by) * x - Math.sin(by) * z, Math.sin(by) * x + Math.cos(by) * z];
const plus = (a: V2, b: V2): V2 => [a[0] + b[0], a[1] + b[1]];
const apart = (a: V2, b: V2): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
const over = (x: number): number => Math.max(0, x) ** 2;

const onBody = (m: AxleModel, q: Float64Array, lever: V2): V2 => plus([m.cg[0], m.cg[1] + q[0]!], turned(lever, q[1]!));
const onHub = (c: CornerModel, q: Float64Array, lever: V2): V2 => plus([c.centre[0] + q[c.base]!, c.centre[1] + q[c.base + 1]!], turned(lever, q[c.base + 2]!));
const node = (arm: ArmModel, q: Float64Array, i: number): V2 => plus(arm.nodes[i]!, [q[arm.base + 3 * i]!, q[arm.base + 3 * i + 1]!]);

function ofBeams(arm: ArmModel, q: Float64Array): number {
  let sum = 0;
  for (let e = 0; e + 1 < arm.count; e++) {
    const [a0, b0] = [arm.nodes[e]!, arm.nodes[e + 1]!];
    const [a, b] = [node(arm, q, e), node(arm, q, e + 1)];
    const l = apart(a0, b0);
    const middle = (arm.fractions[e]! + arm.fractions[e + 1]!) / 2;
    const s = arm.segments.find((x) => x.fromFraction <= middle && middle <= x.toFraction)!;
    const chord = turned([b[0] - a[0], b[1] - a[1]], -Math.atan2(b0[1] - a0[1], b0[0] - a0[0]));
    const turn = Math.atan2(chord[1], chord[0]);
    const t1 = q[arm.base + 3 * e + 2]! - turn;
    const t2 = q[arm.base + 3 * e + 5]! - turn;
    const strain = (apart(a, b) - l) / l + (2 * t1 * t1 - t1 * t2 + 2 * t2 * t2) / 30;
    // bent evenly, and in an S, which shear softens
    const shear = (12 * s.ei) / (s.ga * l * l);
    sum += (s.ea * l * strain ** 2) / 2 + (s.ei * (t1 - t2) ** 2) / (2 * l) + ((6 * s.ei) / (l * (1 + shear))) * ((t1 + t2) / 2) ** 2;
  }
  return sum;
}

const ofJoint = (j: JointModel, hole: V2, pin: V2): number => (j.k * over(apart(hole, pin) - j.clearance) + j.kc * apart(hole, pin) ** 2) / 2;

/** Wheel centre and turn of its plane. */
export function wheelAt(c: CornerModel, q: Float64Array): { centre: V2; turn: number } {
  const tilt = q[c.base + 3]!;
  const bearing = onHub(c, q, c.bearingLever);
  return { centre: plus(bearing, turned([-c.bearingLever[0], -c.bearingLever[1]], q[c.base + 2]! + tilt)), turn: c.staticTurn + q[c.base + 2]! + tilt };
}

function ofCorner(m: AxleModel, c: CornerModel, q: Float64Array, load: Load): number {
  let sum = 0;
  for (const name of ["upper", "lower"] as const) {
    const arm = c.arms[name];
    sum += ofJoint(c.joints[`${name}Inner`], onBody(m, q, c.chassisLever[name]), node(arm, q, 0));
    sum += ofJoint(c.joints[`${name}Outer`], onHub(c, q, c.hubLever[name]), node(arm, q, arm.count - 1));
  }
  const s = c.spring;
  const seat = s.on === "hub" ? onHub(c, q, s.hubLever) : node(c.arms[s.arm], q, c.arms[s.arm].seatNode!);
  const length = apart(seat, onBody(m, q, s.top));
  sum += (s.k * over(s.free - length) + s.bumpK * over(s.bumpLength - length) + s.droopK * over(length - s.droopLength)) / 2;
  const tilt = q[c.base + 3]!;
  sum += (c.bearing.k * over(Math.abs(tilt) - c.bearing.play) + c.bearing.kc * tilt ** 2) / 2;
  const wheel = wheelAt(c, q);
  const hub = onHub(c, q, [0, 0]);
  sum += c.hubWeight * (hub[1] - load.lateralG * hub[0]) + c.wheelWeight * (wheel.centre[1] - load.lateralG * wheel.centre[0]);
  if (Number.isFinite(c.tyre.lateralK)) sum += (c.tyre.lateralK * q[c.base + 4]! ** 2) / 2;
  return sum + overTread(c, q, c.side === "left" ? load.bumpLeftMm : load.bumpRightMm, (d) => (c.tyre.rate * d * d) / 2);
}

/** Vertical force of the road on a tyre, N. */
export const roadForce = (c: CornerModel, q: Float64Array, roadMm: number): number => overTread(c, q, roadMm, (d) => c.tyre.rate * d);

/** Integral of `f` of the penetration over the strip that is pressed in; exact for what the laws here need (Gauss, 3 points between the ends). */
function overTread(c: CornerModel, q: Float64Array, roadMm: number, f: (penetration: number) => number): number {
  const { centre, turn } = wheelAt(c, q);
  const { halfWidth: h, radius, crown } = c.tyre;
  const depth = (e: number): number => roadMm - (centre[1] + (e + q[c.base + 4]!) * Math.sin(turn) - (radius - crown * e * e) * Math.cos(turn));
  const cells = 64;
  const ends = [-h];
  for (let i = 0; i < cells; i++) {
    let a = -h + (2 * h * i) / cells;
    let b = a + (2 * h) / cells;
    if (depth(a) > 0 === depth(b) > 0) continue;
    for (let k = 0; k < 60; k++) {
      const mid = (a + b) / 2;
      if (depth(mid) > 0 === depth(a) > 0) a = mid;
      else b = mid;
    }
    ends.push(a);
  }
  ends.push(h);
  let sum = 0;
  for (let i = 0; i + 1 < ends.length; i++) {
    const [mid, half] = [(ends[i]! + ends[i + 1]!) / 2, (ends[i + 1]! - ends[i]!) / 2];
    if (depth(mid) <= 0) continue;
    for (const [x, w] of [
      [-Math.sqrt(0.6), 5 / 9],
      [0, 8 / 9],
      [Math.sqrt(0.6), 5 / 9],
    ] as const)
      sum += half * w * f(depth(mid + half * x));
  }
  return sum;
}
