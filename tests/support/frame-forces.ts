import type { Arm3d } from "../../src/core/arm/arm-frame.ts";
import { solveFrame } from "../../src/core/arm/frame.ts";
import type { ArmLoads } from "../../src/core/arm/section-forces.ts";

/** End forces of every piece (12, its own axes) from the arm's spatial frame, solved under all loads at once. */
export function frameEndForces(a: Arm3d, loads: ArmLoads): Float64Array {
  const f = new Float64Array(a.solved.frame.nodes.length * 6);
  const put = (nodes: readonly number[], force: ArmLoads["bar"]) => {
    for (const n of nodes) for (let c = 0; c < 3; c++) f[n * 6 + c] = f[n * 6 + c]! + (force?.[c] ?? 0) / nodes.length;
  };
  put([a.ballNode], loads.ballJoint);
  put(a.seatNodes, loads.seat);
  put(a.barNodes, loads.bar);
  return solveFrame(a.solved, f).endForces;
}
