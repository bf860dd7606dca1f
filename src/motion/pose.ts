import { JOINT_NAMES, type Load } from "../core/design/types.ts";
import type { AxleModel } from "../core/equilibrium/model.ts";
import { readState } from "../core/equilibrium/readout.ts";
import type { AxleState } from "../core/equilibrium/state.ts";
import type { V2 } from "../core/vec.ts";
import { JOINTS_PER_CORNER } from "./forces.ts";
import type { Pose } from "./world.ts";

/** What a pose needs besides the unknowns to be drawn as a solved axle. Arrays: left, right. */
export interface PoseExtras {
  load: Load;
  verticalN: readonly [number, number];
  lateralN: readonly [number, number];
  damperN: readonly [number, number];
  bearingNmm: readonly [number, number];
  /** force of each joint on its outboard part, N: x, z; joints in the order of JOINT_NAMES, left then right */
  jointForce: Float64Array;
  /** body sideways against the frame of the road, mm to the right */
  lateralMm: number;
  /** wheels that have come off: their own place in the frame of the road */
  wheelOff: readonly [Pose | null, Pose | null];
}

/**
 * The moving axle in the static solution's own form, so that every picture, label and limit of the static answer works on it too.
 * As there, the body's sideways place is the origin of x. Spring force `totalN` holds the damper's push, `springN` the spring's alone; the joints' forces
 * hold their damping.
 */
export function poseState(axle: AxleModel, q: Float64Array, e: PoseExtras): AxleState {
  const state = readState(axle, q, e.load);
  for (let i = 0; i < 2; i++) {
    const c = i === 0 ? state.left : state.right;
    c.tyre.verticalN = e.verticalN[i]!;
    c.tyre.lateralN = e.lateralN[i]!;
    c.tyre.lifted = !(e.verticalN[i]! > 0);
    c.spring.totalN += e.damperN[i]!;
    c.bearing.momentNmm = e.bearingNmm[i]!;
    JOINT_NAMES.forEach((name, k) => {
      const o = 2 * (JOINTS_PER_CORNER * i + k);
      const force: V2 = [e.jointForce[o]!, e.jointForce[o + 1]!];
      c.joints[name].force = force;
      c.joints[name].forceN = Math.sqrt(force[0] ** 2 + force[1] ** 2);
    });
    const off = e.wheelOff[i];
    if (off) {
      c.wheelCentre = [off.x - e.lateralMm, off.z];
      c.wheelAngleRad = off.angle + axle.corners[i]!.staticTurn;
      c.tyre.contact = [off.x - e.lateralMm, 0];
    }
  }
  return state;
}
