import type { Arm3d } from "./arm-frame.ts";
import { type Banded, choleskyFactor, choleskySolve } from "./banded.ts";
import { beamGeometric, beamStiffness } from "./element.ts";
import {
  type AssembledFrame,
  assembleFrame,
  assembleGeometric,
  assembleStiffness,
  type FrameLayout,
  localDisplacements,
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

/**
 * The frame seen from above: what a push along the road moves, since the arm's pieces lie in one plane and their sections are even about it. All
 * that depends on the design alone is made once.
 */
interface InPlan {
  layout: FrameLayout;
  /** not factored */
  stiffness: Banded;
  /** geometric stiffness under what one newton of each load in plan (`planForces`) puts along the pieces; null: it puts nothing */
  perLoad: (Banded | null)[];
  /** of every piece in its own axes, 12 by 12: stiffness, and geometric stiffness under one newton along it */
  pieces: { stiffness: Float64Array; perN: Float64Array }[];
}

const plans = new WeakMap<Arm3d, InPlan>();

/** place of the axial force among the end forces that the geometric stiffness reads */
const AXIAL = 6;

function inPlan(a: Arm3d): InPlan {
  const known = plans.get(a);
  if (known) return known;
  const { nodes, members } = a.solved.frame;
  const flat = nodes.map((n) => ({ ...n, fixed: UP_AND_DOWN.map((held, c) => held || (n.fixed?.[c] ?? false)) }));
  const layout = numberFreedoms({ nodes: flat, members });
  const perLoad = a.planForces.map((unit) => {
    const axial = new Float64Array(unit.length);
    for (let i = AXIAL; i < unit.length; i += 12) axial[i] = unit[i]!;
    return axial.some((f) => f !== 0) ? assembleGeometric(layout, axial) : null;
  });
  const one = new Float64Array(12);
  one[AXIAL] = 1;
  const pieces = members.map((m, i) => {
    const piece = { stiffness: new Float64Array(144), perN: new Float64Array(144) };
    beamStiffness(m.props, layout.lengths[i]!, piece.stiffness);
    beamGeometric(m.props, layout.lengths[i]!, one, 0, piece.perN);
    return piece;
  });
  const made = { layout, stiffness: assembleStiffness(layout), perLoad, pieces };
  plans.set(a, made);
  return made;
}

/** of a piece's twelve end displacements: along it, aside and its turn, at both ends */
const SEEN_FROM_ABOVE = [0, 1, 5, 6, 7, 11] as const;
/** freedoms of a node that a push along the road leaves alone */
const UP_AND_DOWN = [false, false, true, true, true, false] as const;

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
  const { layout, stiffness, perLoad, pieces } = inPlan(a);
  const k: Banded = { n: stiffness.n, band: stiffness.band, a: stiffness.a.slice() };
  const axialN = new Float64Array(pieces.length);
  [loads.ballJoint, loads.seat, loads.bar].forEach((force, point) => {
    if (!force) return;
    for (let c = 0; c < 2; c++) {
      const geometric = perLoad[2 * point + c];
      const f = force[c]!;
      if (!geometric || f === 0) continue;
      for (let i = 0; i < k.a.length; i++) k.a[i] = k.a[i]! + f * geometric.a[i]!;
      const unit = a.planForces[2 * point + c]!;
      for (let i = 0; i < axialN.length; i++) axialN[i] = axialN[i]! + f * unit[12 * i + AXIAL]!;
    }
  });
  if (choleskyFactor(k) >= 0) return { ...straight(), holds: false };
  const x = new Float64Array(layout.n);
  x[layout.dof[a.ballNode * 6]!] = pushN;
  choleskySolve(k, x);
  const displacements = new Float64Array(layout.dof.length);
  for (let d = 0; d < displacements.length; d++) if (layout.dof[d]! >= 0) displacements[d] = x[layout.dof[d]!]!;
  const endForces = new Float64Array(size);
  const u = new Float64Array(12);
  pieces.forEach((piece, i) => {
    localDisplacements(layout.frame.members[i]!, layout.axes, i * 9, displacements, u);
    const n = axialN[i]!;
    for (const r of SEEN_FROM_ABOVE) {
      let v = 0;
      for (const c of SEEN_FROM_ABOVE) v += (piece.stiffness[r * 12 + c]! + n * piece.perN[r * 12 + c]!) * u[c]!;
      endForces[i * 12 + r] = v;
    }
  });
  return { shiftMm: displacements[a.ballNode * 6]!, endForces, holds: true };
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
