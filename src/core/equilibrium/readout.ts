import type { ArmName, JointName, Load } from "../design/types.ts";
import { springForce } from "../linkage/spring-force.ts";
import { positivePart } from "../numerics/positive-part.ts";
import type { V2 } from "../vec.ts";
import { beamElement, beamOut } from "./beam.ts";
import { bearingMoment } from "./bearing.ts";
import { bodyPoint, hubPoint, nodePoint, type Point, point } from "./couple.ts";
import { barElement } from "./force-elements.ts";
import type { ArmModel, AxleModel, CornerModel, JointModel } from "./model.ts";
import { FINAL_BLEND } from "./newton.ts";
import { springEnds, springSpan } from "./spring-ends.ts";
import type { ArmState, AxleState, CornerState, JointState } from "./state.ts";
import { type TreadOut, tread, treadOut } from "./tread.ts";
import { sideForces, wheelCentreShift, wheelLevers } from "./tyre-forces.ts";
import { BODY_TURN, HEAVE, HUB_TURN, HUB_X, HUB_Z, lastNodeAt, NODE_TURN, NODE_X, NODE_Z, nodeAt, TREAD_SHIFT, WHEEL_TILT, wheelTurn } from "./unknowns.ts";

function armState(arm: ArmModel, q: Float64Array): ArmState {
  const nodes: V2[] = [];
  const turns: number[] = [];
  for (let j = 0; j < arm.count; j++) {
    const i = nodeAt(arm, j);
    nodes.push([arm.nodes[j]![0] + q[i + NODE_X]!, arm.nodes[j]![1] + q[i + NODE_Z]!]);
    turns.push(q[i + NODE_TURN]!);
  }
  const axialN: number[] = [];
  const momentNmm = new Array<number>(arm.count).fill(0);
  const out = beamOut();
  for (let e = 0; e < arm.count - 1; e++) {
    const a = arm.nodes[e]!;
    const b = arm.nodes[e + 1]!;
    beamElement(q, nodeAt(arm, e), b[0] - a[0], b[1] - a[1], arm.l0[e]!, arm.ea[e]!, arm.kNear[e]!, arm.kFar[e]!, out, false);
    axialN.push(out.axial);
    if (e === 0) momentNmm[0] = -out.g[2]!;
    momentNmm[e + 1] = out.g[5]!;
  }
  const first = nodes[0]!;
  const last = nodes[nodes.length - 1]!;
  const cx = last[0] - first[0];
  const cz = last[1] - first[1];
  const chord = Math.sqrt(cx * cx + cz * cz);
  // distance above the chord, up positive on either side
  const up = Math.sign(cx) || 1;
  let bowMm = 0;
  for (const p of nodes) {
    const d = (up * (cx * (p[1] - first[1]) - cz * (p[0] - first[0]))) / chord;
    if (Math.abs(d) > Math.abs(bowMm)) bowMm = d;
  }
  return { nodes, turns, fractions: [...arm.fractions], axialN, momentNmm: momentNmm.map((m) => up * m), bowMm, seatNode: arm.seatNode };
}

function jointState(j: JointModel, at: V2, p1: Point, p2: Point, holeFirst: boolean): JointState {
  const dx = p2.dx - p1.dx;
  const dz = p2.dz - p1.dz;
  const d = Math.sqrt(dx * dx + dz * dz);
  const f = j.clearance === 0 ? j.k * d : j.k * positivePart(d - j.clearance, Math.min(FINAL_BLEND.mm, j.clearance)) + j.kc * d;
  const one: V2 = [at[0] + p1.dx, at[1] + p1.dz];
  const two: V2 = [at[0] + p2.dx, at[1] + p2.dz];
  return {
    hole: holeFirst ? one : two,
    pin: holeFirst ? two : one,
    offset: [dx, dz],
    // the coupling pulls the outboard part back along the offset
    force: d > 0 ? [(-f * dx) / d, (-f * dz) / d] : [0, 0],
    forceN: f,
    floats: j.clearance > 0 && d < j.clearance,
  };
}

function springState(c: CornerModel, q: Float64Array): CornerState["spring"] {
  const s = c.spring;
  const p1 = point();
  const p2 = point();
  const { length: lengthMm } = springEnds(p1, p2, q, c, springSpan());
  const top: V2 = [s.topAt[0] + p1.dx, s.topAt[1] + p1.dz];
  const seat: V2 = [s.seatAt[0] + p2.dx, s.seatAt[1] + p2.dz];
  const f = springForce(s, lengthMm, FINAL_BLEND.mm);
  return { top, seat, lengthMm, springN: f.spring, bumpStopN: f.bump, droopStopN: f.droop, totalN: f.push };
}

function cornerState(c: CornerModel, q: Float64Array, t: TreadOut, side: number, road: number): CornerState {
  const b = c.base;
  const [ux, uz] = wheelCentreShift(c, q);
  const wheelCentre: V2 = [c.centre[0] + ux, c.centre[1] + uz];
  const { px, pz } = wheelLevers(c, q[b + HUB_TURN]!, q[b + WHEEL_TILT]!);
  const turn = wheelTurn(c, q);
  const tyre = c.tyre;
  const joints = {} as Record<JointName, JointState>;
  const arms = {} as Record<ArmName, ArmState>;
  for (const name of ["upper", "lower"] as const) {
    const arm = c.arms[name];
    arms[name] = armState(arm, q);
    joints[`${name}Inner`] = jointState(
      c.joints[`${name}Inner`],
      arm.nodes[0]!,
      bodyPoint(point(), q, c.chassisLever[name]),
      nodePoint(point(), q, arm.base),
      true,
    );
    joints[`${name}Outer`] = jointState(
      c.joints[`${name}Outer`],
      arm.nodes[arm.count - 1]!,
      nodePoint(point(), q, lastNodeAt(arm)),
      hubPoint(point(), q, b, c.hubLever[name]),
      false,
    );
  }
  const tilt = q[b + WHEEL_TILT]!;
  const loaded = t.force > 0;
  const across = q[b + TREAD_SHIFT]! + (loaded ? t.moment / t.force : 0);
  // a crowned tread's shoulders stand back from the road
  const back = loaded ? (tyre.crown * t.second) / t.force : 0;
  return {
    side: c.side,
    hub: { at: [c.centre[0] + q[b + HUB_X]!, c.centre[1] + q[b + HUB_Z]!], angleRad: q[b + HUB_TURN]! },
    wheelTiltRad: tilt,
    wheelCentre,
    wheelAngleRad: turn,
    bearing: {
      at: [c.centre[0] + q[b + HUB_X]! + px, c.centre[1] + q[b + HUB_Z]! + pz],
      momentNmm: bearingMoment(c.bearing, tilt, FINAL_BLEND.rad),
    },
    arms,
    joints,
    spring: springState(c, q),
    tyre: {
      verticalN: tyre.verticalFactor * t.force,
      lateralN: side,
      contact: [wheelCentre[0] + (tyre.radius - back) * Math.sin(turn) + across * Math.cos(turn), road],
      fromMm: t.from,
      toMm: t.to,
      halfWidthMm: tyre.halfWidth,
      penetration: { d0: t.d0, d1: t.d1, d2: t.d2 },
      rateNPerMm2: tyre.rate,
      lifted: !loaded,
    },
  };
}

/** Everything a picture, a limit or a report needs of the solved unknowns. */
export function readState(model: AxleModel, q: Float64Array, load: Load): AxleState {
  const treads: [TreadOut, TreadOut] = [treadOut(), treadOut()];
  const roads = [load.bumpLeftMm, load.bumpRightMm] as const;
  for (let i = 0; i < 2; i++) {
    const c = model.corners[i]!;
    const [, uz] = wheelCentreShift(c, q);
    tread(c.tyre, c.centre[1] + uz, wheelTurn(c, q), q[c.base + TREAD_SHIFT]!, roads[i]!, treads[i]!);
  }
  const side: [number, number] = [0, 0];
  sideForces(model, load.lateralG, treads, side, null);
  return {
    load,
    body: { heaveMm: q[HEAVE]!, angleRad: q[BODY_TURN]!, cg: [model.cg[0], model.cg[1] + q[HEAVE]!] },
    left: cornerState(model.corners[0], q, treads[0], side[0], roads[0]),
    right: cornerState(model.corners[1], q, treads[1], side[1], roads[1]),
    antiRollBarN: model.barK === 0 ? 0 : model.barK * barElement(model, q).value,
  };
}

/** Camber of a solved wheel, rad: positive when the top leans away from the car. */
export function camberRad(model: AxleModel, q: Float64Array, sideIndex: 0 | 1): number {
  const c = model.corners[sideIndex];
  return -c.sign * wheelTurn(c, q);
}
