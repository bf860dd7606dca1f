import type { V3 } from "../vec.ts";
import type { Arm3d } from "./arm-frame.ts";
import { type Banded, choleskyFactor } from "./banded.ts";
import { smallestPositiveFactor } from "./eigen.ts";
import { assembleGeometric, assembleStiffness, type Frame, type FrameMember, type FrameNode, numberFreedoms } from "./frame.ts";
import { type ArmLoads, armEndForces } from "./stress.ts";

/** Elements along a lone beam, along each leg and along the stem; a seat in between keeps its node. */
const BEAM_ELEMENTS = 8;
const LEG_ELEMENTS = 5;
const STEM_ELEMENTS = 3;

/**
 * Smallest positive factor by which all these loads together may grow before the arm buckles, sideways or upwards or
 * by twisting over under bending (spatial frame with geometric stiffness); Infinity when it cannot.
 *
 * As the arm is held in the car: inner pivots held but for their pin (free, or sprung, both sharing the stiffness; free
 * about the arm too if loose), the ball joint free to move along the arm only and free to turn, the seat not held.
 * The member forces are those of the straight arm and follow the loads in proportion.
 */
export function armBucklingFactor(a: Arm3d, loads: ArmLoads): number {
  const { stiffness, geometric } = bucklingMatrices(a, loads);
  // a frame without hold falls over under nothing
  if (choleskyFactor(stiffness) >= 0) return 0;
  return smallestPositiveFactor(stiffness, geometric);
}

/** Stiffness and geometric stiffness of the divided arm as it is held in the car, under these loads. */
export function bucklingMatrices(a: Arm3d, loads: ArmLoads): { stiffness: Banded; geometric: Banded } {
  const { frame, forces } = refine(a, armEndForces(a, loads));
  const layout = numberFreedoms(frame);
  return { stiffness: assembleStiffness(layout), geometric: assembleGeometric(layout, forces) };
}

/** The arm's frame with its pieces divided, nodes of both legs numbered side by side so that the matrix stays narrow. */
function refine(a: Arm3d, coarse: Float64Array): { frame: Frame; forces: Float64Array } {
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
  const forces: number[] = [];
  const total = plan.legs === 1 ? BEAM_ELEMENTS : LEG_ELEMENTS;
  const done = new Set<number>();
  for (const first of pieces) {
    if (done.has(first.member)) continue;
    // the other leg's piece at the same place, if any
    const pair = pieces.filter((p) => p.from === first.from && p.to === first.to && (p.leg === "stem") === (first.leg === "stem"));
    const share = first.leg === "stem" ? (first.to - first.from) / (1 - plan.legEnd / a.lengthMm) : ((first.to - first.from) * a.lengthMm) / plan.legEnd;
    const parts = Math.max(share > 0.999 ? 1 : 2, Math.round(share * (first.leg === "stem" ? STEM_ELEMENTS : total)));
    let ends = pair.map((p) => place(old.members[p.member]!.a));
    for (let i = 1; i <= parts; i++) {
      const next = pair.map((p, j) => {
        const m = old.members[p.member]!;
        const b = i === parts ? place(m.b) : nodes.push({ at: along(old, m, i / parts) }) - 1;
        const part: FrameMember = { a: ends[j]!, b, props: m.props, up: m.up };
        if (i === parts && m.offsetB) part.offsetB = m.offsetB;
        members.push(part);
        cut(coarse, p.member * 12, (i - 1) / parts, i / parts, forces);
        return b;
      });
      ends = next;
    }
    for (const p of pair) done.add(p.member);
  }
  return { frame: { nodes, members }, forces: Float64Array.from(forces) };
}

/** Point at a share of a member, from its start to its (offset) end. */
function along(frame: Frame, m: FrameMember, share: number): V3 {
  const p = frame.nodes[m.a]!.at;
  const q = frame.nodes[m.b]!.at;
  const o = m.offsetB ?? [0, 0, 0];
  return [0, 1, 2].map((c) => p[c]! + share * (q[c]! + o[c]! - p[c]!)) as V3;
}

/** End forces of the part of a member between two shares of its length: forces constant, moments linear. */
function cut(f: Float64Array, at: number, from: number, to: number, out: number[]): void {
  const moment = (c: number, s: number) => f[at + 3 + c]! * (1 - s) - f[at + 9 + c]! * s;
  out.push(f[at]!, f[at + 1]!, f[at + 2]!, moment(0, from), moment(1, from), moment(2, from));
  out.push(f[at + 6]!, f[at + 7]!, f[at + 8]!, -moment(0, to), -moment(1, to), -moment(2, to));
}
