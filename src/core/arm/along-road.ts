import type { Arm3d } from "./arm-frame.ts";
import { type Banded, choleskyFactor, choleskySolve } from "./banded.ts";
import {
  type AssembledFrame,
  assembleFrame,
  assembleGeometric,
  assembleStiffness,
  type FrameLayout,
  memberEndForces,
  numberFreedoms,
  solveFrame,
} from "./frame.ts";
import type { ArmLoads } from "./section-forces.ts";

/** What a push along the road at the ball joint, and a couple that the arm carries, do to an arm beside its loads in the picture's plane. */
export interface PushOnArm {
  /** forward shift of the ball joint against the inner pivots, mm */
  shiftMm: number;
  /** on both ends of every piece in its own axes, 12 each, N and N·mm */
  endForces: Float64Array;
  /** false: pushed along itself so hard that nothing keeps its ball joint from going forwards or backwards; the shift is the straight arm's then */
  holds: boolean;
}

/** Frame of the arm as it lies, its stiffness not factored. */
const layouts = new WeakMap<Arm3d, { layout: FrameLayout; stiffness: Banded }>();

function layoutOf(a: Arm3d): { layout: FrameLayout; stiffness: Banded } {
  let known = layouts.get(a);
  if (!known) {
    const layout = numberFreedoms(a.solved.frame);
    known = { layout, stiffness: assembleStiffness(layout) };
    layouts.set(a, known);
  }
  return known;
}

/**
 * Answer of the spatial frame to a push (N, forwards) at the ball joint while the arm carries its other loads, to second order: the
 * force along each piece turns with the piece as the push bends the arm in plan, (K + G(N)) u = f, so that a pressed arm gives more and a
 * pulled one less than alone. Up and down the solved bent arm answers; the two do not mix as long as the turns stay small.
 * @param loads with the push itself as the ball joint's first part
 */
export function pushOnArm(a: Arm3d, loads: ArmLoads): PushOnArm {
  const [pushN] = loads.ballJoint;
  const size = a.planForces[0]!.length;
  const straight = (): PushOnArm => ({ shiftMm: pushN * a.flexibility[0]!, endForces: a.planForces[0]!.map((f) => f * pushN), holds: true });
  if (pushN === 0) return straight();
  const axial = new Float64Array(size);
  [loads.ballJoint, loads.seat, loads.bar].forEach((force, point) => {
    if (!force) return;
    for (let c = 0; c < 2; c++) {
      const unit = a.planForces[2 * point + c]!;
      for (let i = 0; i < size; i += 6) axial[i] = axial[i]! + force[c]! * unit[i]!;
    }
  });
  const { layout, stiffness } = layoutOf(a);
  const k = assembleGeometric(layout, axial);
  for (let i = 0; i < k.a.length; i++) k.a[i] = k.a[i]! + stiffness.a[i]!;
  if (choleskyFactor(k) >= 0) return { ...straight(), holds: false };
  const x = new Float64Array(layout.n);
  x[layout.dof[a.ballNode * 6]!] = pushN;
  choleskySolve(k, x);
  const displacements = new Float64Array(layout.dof.length);
  for (let d = 0; d < displacements.length; d++) if (layout.dof[d]! >= 0) displacements[d] = x[layout.dof[d]!]!;
  return { shiftMm: displacements[a.ballNode * 6]!, endForces: memberEndForces(layout, displacements, axial), holds: true };
}

/** End forces under a couple of 1 N·mm about the arm itself at the ball joint. */
const twists = new WeakMap<Arm3d, Float64Array>();

/**
 * End forces (12 per piece, its own axes) of an arm whose ball joint end is turned about the arm by a couple, N·mm (a gear stage that it carries).
 * The inner pins turn as they are built, free or sprung, both legs for themselves, since this bends the two in opposite ways.
 */
export function twistOfArm(a: Arm3d, torqueNmm: number): Float64Array {
  let unit = twists.get(a);
  if (!unit) {
    const frame = turningFrame(a);
    const loads = new Float64Array(frame.frame.nodes.length * 6);
    loads[a.ballNode * 6 + 4] = 1;
    unit = solveFrame(frame, loads).endForces;
    twists.set(a, unit);
  }
  return unit.map((f) => f * torqueNmm);
}

function turningFrame(a: Arm3d): AssembledFrame {
  const { nodes, members } = a.solved.frame;
  const pin = a.pivotNmmPerRad / a.plan.legs;
  return assembleFrame({
    members,
    nodes: nodes.map((node, i) => {
      // the hub keeps the ball joint's height
      if (i === a.ballNode) return { at: node.at, fixed: [false, false, true, false, node.fixed?.[4] ?? false, false] };
      if (!node.fixed?.[0]) return node;
      return { at: node.at, fixed: [true, true, true, false, node.fixed[4]!, true], springs: [0, 0, 0, pin, 0, 0] };
    }),
  });
}
