import type { JointName } from "../../src/core/design/types.ts";
import { beamElement, beamOut } from "../../src/core/equilibrium/beam.ts";
import { bodyPoint, hubPoint, nodePoint, point } from "../../src/core/equilibrium/couple.ts";
import { barElement } from "../../src/core/equilibrium/force-elements.ts";
import { springEnds, springSpan } from "../../src/core/equilibrium/spring-ends.ts";
import { tread, treadOut } from "../../src/core/equilibrium/tread.ts";
import { wheelCentreShift } from "../../src/core/equilibrium/tyre-forces.ts";
import { G } from "../../src/core/units.ts";
import { HEAVY } from "../../src/motion/inertia.ts";
import type { MotionModel } from "../../src/motion/model.ts";
import { BLEND_MM, BLEND_RAD } from "../../src/motion/settings.ts";
import type { Stepper } from "../../src/motion/step.ts";

/** Energies of the moving axle in N·mm: what no force law computes, so that it can watch them. */

/** Integral of the rounded positive part from -infinity to g: s³/(12 w) in the corner, s = g + w. */
function positiveEnergy(g: number, w: number): number {
  if (g <= -w) return 0;
  if (g < w) return (g + w) ** 3 / (12 * w);
  return (g * g) / 2 + (w * w) / 6;
}

/** Energy stored in arms, joints, bearings, springs, stops, anti-roll bar and tyres (on roads of the given heights), N·mm. */
export function storedEnergy(m: MotionModel, q: Float64Array, road: readonly [number, number]): number {
  const { axle } = m;
  let e = (axle.otherRollK * q[1]! ** 2) / 2;
  const beam = beamOut();
  for (const arm of axle.arms) {
    for (let k = 0; k < arm.count - 1; k++) {
      const a = arm.nodes[k]!;
      const b = arm.nodes[k + 1]!;
      beamElement(q, arm.base + 3 * k, b[0] - a[0], b[1] - a[1], arm.l0[k]!, arm.ea[k]!, arm.kNear[k]!, arm.kFar[k]!, beam, false);
      e += (beam.axial * beam.stretch) / 2 + (beam.m1 * beam.t1 + beam.m2 * beam.t2) / 2;
    }
    e += (arm.pivotK * (q[arm.base + 2]! - q[1]!) ** 2) / 2;
  }
  const p1 = point();
  const p2 = point();
  axle.corners.forEach((c, i) => {
    for (const name of ["upper", "lower"] as const) {
      const arm = c.arms[name];
      for (const end of ["Inner", "Outer"] as const) {
        const joint: JointName = `${name}${end}`;
        const j = c.joints[joint];
        if (end === "Inner") {
          bodyPoint(p1, q, c.chassisLever[name]);
          nodePoint(p2, q, arm.base);
        } else {
          nodePoint(p1, q, arm.base + 3 * (arm.count - 1));
          hubPoint(p2, q, c.base, c.hubLever[name]);
        }
        const dd = (p2.dx - p1.dx) ** 2 + (p2.dz - p1.dz) ** 2;
        e += j.clearance === 0 ? (j.k * dd) / 2 : j.k * positiveEnergy(Math.sqrt(dd) - j.clearance, Math.min(BLEND_MM, j.clearance)) + (j.kc * dd) / 2;
      }
    }
    const { k, play, kc } = c.bearing;
    const tilt = q[c.base + 3]!;
    e += play === 0 ? (k * tilt * tilt) / 2 : k * positiveEnergy(Math.abs(tilt) - play, Math.min(BLEND_RAD, play)) + (kc * tilt * tilt) / 2;
    const s = c.spring;
    const { length } = springEnds(p1, p2, q, c, springSpan());
    e += s.k * positiveEnergy(s.free - length, BLEND_MM) + s.bumpK * positiveEnergy(s.bumpLength - length, BLEND_MM);
    if (s.droopK > 0) e += s.droopK * positiveEnergy(length - s.droopLength, BLEND_MM);
    const t = treadOut();
    const [, uz] = wheelCentreShift(c, q);
    tread(c.tyre, c.centre[1] + uz, q[c.base + 2]! + tilt + c.staticTurn, q[c.base + 4]!, road[i]!, t);
    e += (t.d0 * t.force + t.d1 * t.moment - t.d2 * t.second) / 2;
    if (Number.isFinite(c.tyre.lateralK)) e += (c.tyre.lateralK * q[c.base + 4]! ** 2) / 2;
  });
  if (axle.barK > 0) e += (axle.barK * barElement(axle, q).value ** 2) / 2;
  return e;
}

/** Energy of height against as-built, N·mm. */
export function heightEnergy(m: MotionModel, q: Float64Array): number {
  let e = m.bodyKg * G * q[0]!;
  m.axle.corners.forEach((c, i) => {
    const w = m.corners[i]!;
    e += w.hubKg * G * q[c.base + 1]! + w.wheelKg * G * wheelCentreShift(c, q)[1];
  });
  return e;
}

/** Energy of motion at planck's speeds, which are those of half a step ago, N·mm. */
export function motionEnergy(s: Stepper): number {
  const { mass } = s.inertia;
  let e = 0;
  for (let i = 0; i < HEAVY; i++) for (let j = 0; j < HEAVY; j++) e += (s.v[i]! * mass[HEAVY * i + j]! * s.v[j]!) / 2;
  return e;
}
