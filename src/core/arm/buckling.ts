import type { V3 } from "../vec.ts";
import type { Arm3d, ArmPiece } from "./arm-frame.ts";
import { type Banded, choleskyFactor } from "./banded.ts";
import { smallestPositiveFactor } from "./eigen.ts";
import { assembleGeometric, assembleStiffness, type Frame, type FrameLayout, type FrameMember, type FrameNode, numberFreedoms } from "./frame.ts";
import { type AlongRoad, type ArmLoads, partForces, type SectionForces, sectionForces, type UprightMoments } from "./section-forces.ts";

/**
 * A push takes from an arm its symmetry, and a search that goes on to rounding takes more steps; to this share the factor is still some
 * thousand times nearer to its end than the mesh lets it be.
 */
const SETTLED_PUSHED = 1e-6;
/** Elements along a lone beam, along each leg and along the stem; a seat in between keeps its node. */
const BEAM_ELEMENTS = 8;
const LEG_ELEMENTS = 5;
const STEM_ELEMENTS = 3;

/**
 * Smallest positive factor by which all that the arm carries may grow before it buckles, sideways or upwards or
 * by twisting over under bending (spatial frame with geometric stiffness); Infinity when it cannot.
 *
 * As the arm is held in the car: inner pivots held but for their pin (free, or sprung, both sharing the stiffness; free
 * about the arm too if loose), the ball joint free to move along the arm only and free to turn, the seat not held.
 * What its cross-sections carry follows the loads in proportion.
 * @param upright moments of the solved bent arm; default: those of the straight arm under the loads
 * @param along what the push along the road does to second order; default: the straight arm's answer to it
 * @param divide makes the elements this many times shorter; twice changes the factor by less than half a per cent
 */
export function armBucklingFactor(a: Arm3d, loads: ArmLoads, upright?: UprightMoments, divide = 1, along?: AlongRoad): number {
  const mesh = divide === 1 ? meshOf(a) : divided(a, divide);
  // a frame without hold falls over under nothing
  if (!mesh.factor) return 0;
  return smallestPositiveFactor(mesh.factor, geometricOf(mesh, sectionForces(a, loads, upright, along)), along ? SETTLED_PUSHED : undefined);
}

/**
 * Stiffness and geometric stiffness of the divided arm as it is held in the car, under these loads.
 * @internal for the tests
 */
export function bucklingMatrices(a: Arm3d, loads: ArmLoads): { stiffness: Banded; geometric: Banded } {
  const mesh = meshOf(a);
  return { stiffness: assembleStiffness(mesh.layout), geometric: geometricOf(mesh, sectionForces(a, loads)) };
}

/** The arm divided into elements; depends on the design alone. */
interface Mesh {
  layout: FrameLayout;
  /** factored stiffness, null for a frame without hold */
  factor: Banded | null;
  parts: { piece: ArmPiece; from: number; to: number }[];
}

const meshes = new WeakMap<Arm3d, Mesh>();

function meshOf(a: Arm3d): Mesh {
  let mesh = meshes.get(a);
  if (!mesh) {
    mesh = divided(a, 1);
    meshes.set(a, mesh);
  }
  return mesh;
}

function geometricOf(mesh: Mesh, carried: SectionForces): Banded {
  const forces = new Float64Array(mesh.parts.length * 12);
  mesh.parts.forEach(({ piece, from, to }, i) => {
    partForces(carried, piece, from, to, forces, i * 12);
  });
  return assembleGeometric(mesh.layout, forces);
}

/** freedoms held at a node that stands for the bulge of a member's twist */
const TWIST_ONLY = [true, true, true, false, true, true];

/** The arm's frame with its pieces divided, nodes of both legs numbered side by side so that the matrix stays narrow. */
function divided(a: Arm3d, divide: number): Mesh {
  const { pieces, solved, plan } = a;
  const old = solved.frame;
  const nodes: FrameNode[] = [];
  const renamed = new Map<number, number>();
  const pinSpring = a.pivotNmmPerRad / plan.legs;
  const place = (node: number): number => {
    const known = renamed.get(node);
    if (known !== undefined) return known;
    const { at, fixed } = old.nodes[node]!;
    const copy: FrameNode = { at };
    if (node === a.ballNode) copy.fixed = [true, false, true, false, fixed?.[4] ?? false, false];
    else if (fixed?.[0]) {
      copy.fixed = [true, true, true, false, fixed[4]!, true];
      copy.springs = [0, 0, 0, pinSpring, 0, 0];
    }
    renamed.set(node, nodes.push(copy) - 1);
    return nodes.length - 1;
  };
  const members: FrameMember[] = [];
  const parts: Mesh["parts"] = [];
  const total = plan.legs === 1 ? BEAM_ELEMENTS : LEG_ELEMENTS;
  const done = new Set<number>();
  for (const first of pieces) {
    if (done.has(first.member)) continue;
    // the other leg's piece at the same place, if any
    const pair = pieces.filter((p) => p.from === first.from && p.to === first.to && (p.leg === "stem") === (first.leg === "stem"));
    const span = first.to - first.from;
    const share = first.leg === "stem" ? span / (1 - plan.legEnd / a.lengthMm) : (span * a.lengthMm) / plan.legEnd;
    const count = divide * Math.max(share > 0.999 ? 1 : 2, Math.round(share * (first.leg === "stem" ? STEM_ELEMENTS : total)));
    let ends = pair.map((p) => place(old.members[p.member]!.a));
    for (let i = 1; i <= count; i++) {
      const bulges = pair.map(() => nodes.push({ at: [0, 0, 0], fixed: TWIST_ONLY }) - 1);
      const next = pair.map((p, j) => {
        const m = old.members[p.member]!;
        const b = i === count ? place(m.b) : nodes.push({ at: along(old, m, i / count) }) - 1;
        const part: FrameMember = { a: ends[j]!, b, props: m.props, up: m.up, bulge: bulges[j]! };
        if (i === count && m.offsetB) part.offsetB = m.offsetB;
        members.push(part);
        parts.push({ piece: p, from: p.from + (span * (i - 1)) / count, to: i === count ? p.to : p.from + (span * i) / count });
        return b;
      });
      ends = next;
    }
    for (const p of pair) done.add(p.member);
  }
  const layout = numberFreedoms({ nodes, members });
  const factor = assembleStiffness(layout);
  return { layout, factor: choleskyFactor(factor) >= 0 ? null : factor, parts };
}

/** Point at a share of a member, from its start to its (offset) end. */
function along(frame: Frame, m: FrameMember, share: number): V3 {
  const p = frame.nodes[m.a]!.at;
  const q = frame.nodes[m.b]!.at;
  const o = m.offsetB ?? [0, 0, 0];
  return [0, 1, 2].map((c) => p[c]! + share * (q[c]! + o[c]! - p[c]!)) as V3;
}
